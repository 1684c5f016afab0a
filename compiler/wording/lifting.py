"""What one person may lift, in words."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.trade.lifting import RAREST, SOURCE, Lift, WeightLimit


def lift_text(found: WeightLimit, people: int = 1) -> str:
    """Return `one person lifts at most 9.8 kg so (RWL, NIOSH 94-110; LI 1.43)`.

    LI is the mass against the limit: above 1 it is too much. Several `people` have even shares.
    """
    if not found.limit:
        return "nobody may lift anything so (RWL 0 kg, NIOSH 94-110)"
    shared = f", shared by {people}" if people > 1 else ""
    index = f"; LI {found.index:.2f}{shared}" if found.index is not None else ""
    return f"one person lifts at most {found.limit:.1f} kg so (RWL, NIOSH 94-110{index})"


def lift_workings(found: WeightLimit, people: int = 1) -> Iterator[tuple[str, str, str]]:
    """Yield each number of a weight limit: what it is, how it comes about, and its source.

    Lengths in cm, masses in kg. Three places, so that the product comes out again by hand. Of
    several `people` each is taken to carry an even share, which `found` has as its load.
    """
    formulas = dict(_formulas(found.lift))
    for name, value in found.multipliers:
        yield f"{name}, {_WHAT[name]}", f"{formulas[name]} = {value:.3f}", SOURCE
    most, unit = found.lift.constants.most, found.lift.constants.load
    product = " × ".join(f"{value:.3f}" for _, value in found.multipliers)
    limit = f"{most:g} {unit} × {product} = {found.limit:.1f} {unit}"
    yield "RWL, weight limit", limit, SOURCE
    if found.index is not None and found.lift.load is not None:
        load, limit = f"{found.lift.load:.3g} kg", f"{found.limit:.1f} kg"
        if people > 1:
            share = f"{found.lift.load * people:.3g} kg / {people} people = {load}; {_EVEN_SHARE}"
            yield "Share of each", share, SOURCE
        index = f"{load} / {limit} = {found.index:.2f}; at most 1 is as it should be"
        yield "LI, lifting index", index, SOURCE


_EVEN_SHARE = "even shares are a guide only, as the equation is about one person"


_WHAT = {
    "HM": "how far out",
    "VM": "how high",
    "DM": "how far up or down",
    "AM": "how far turned",
    "FM": "how often and how long",
    "CM": "how it is held",
}


def _formulas(lift: Lift) -> Iterator[tuple[str, str]]:
    known = lift.constants
    out, travel = f"{lift.out:g} cm", f"{lift.travel:g} cm"
    if lift.out > known.far:
        yield "HM", f"{out} is beyond {known.far:g} cm"
    elif lift.out < known.near:
        yield "HM", f"{out} is less than {known.near:g} cm"
    else:
        yield "HM", f"{known.near:g} cm / {out}"
    high = f"1 − {known.height_slope:g} × |{lift.height:g} − {known.waist:g}|"
    yield "VM", high if lift.height <= known.highest else f"beyond {known.highest:g} cm"
    if lift.travel < known.shortest:
        yield "DM", f"{travel} is less than {known.shortest:g} cm"
    elif lift.travel > known.longest:
        yield "DM", f"{travel} is beyond {known.longest:g} cm"
    else:
        yield "DM", f"0.82 + {known.travel_slope:g} / {lift.travel:g}"
    yield "AM", f"1 − 0.0032 × {lift.turned:g}"
    often = "now and then" if lift.per_minute <= RAREST else f"{lift.per_minute:g} a minute"
    yield "FM", f"{often}, {lift.duration}"
    yield "CM", f"{lift.coupling} grasp, hands at {lift.height:g} cm"
