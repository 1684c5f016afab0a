"""A part that is lifted by hand, by the lifting equation: what is said of it, and what follows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from compiler.model import Amount, Handling, Part
from compiler.trade.lifting import Lift, WeightLimit, weight_limit
from compiler.trade.units import Quantity

_DEGREE = Quantity(Fraction(1), "deg").si


def hand_lift(
    part: Part,
    people: int = 1,
    load: Amount | None = None,
    handling: Sequence[Handling] = (),
) -> WeightLimit | None:
    """Return the worse of both ends of the lift of a part; None where it is not said how.

    The load is put down with care, so its end counts like its beginning. It is lifted now and then
    for less than an hour. The publication is about one person: several share the load evenly here,
    so for them the answer is only a guide. Lengths in cm, masses in kg, NIOSH publication 94-110;
    `load` is the mass where it is another than the one written, as with something on it. What the
    step says in `handling` counts in the place of what the part says; of several, the worst one.
    """
    ways = [lifted_so(part, one) for one in handling] or [part]
    found = [limit for way in ways if (limit := _lift_of(way, people, load)) is not None]
    return min(found, key=lambda limit: limit.limit, default=None)


def half_said(part: Part, handling: Sequence[Handling] = ()) -> str:
    """Return which of the two lengths is missing where only a piece of the lift is said; else ''.

    Without the heights and how far the hands are out there is no weight limit.
    """
    for way in [lifted_so(part, one) for one in handling] or [part]:
        said = (way.lifted, way.hands_out, way.turned, way.grasp != "poor" or None)
        if any(one is not None for one in said) and None in said[:2]:
            return "lifted" if way.lifted is None else "hands out"
    return ""


def lifted_so(part: Part, step: Handling) -> Part:
    """Return a part with what a step says of how it is lifted there."""
    return replace(
        part,
        lifted=step.lifted or part.lifted,
        hands_out=step.hands_out or part.hands_out,
        turned=step.turned or part.turned,
        grasp=step.grasp or part.grasp,
    )


def _lift_of(part: Part, people: int, load: Amount | None) -> WeightLimit | None:
    lifted, out, mass = part.lifted, part.hands_out, load or part.mass
    if lifted is None or out is None:
        return None
    low, high = _cm(lifted.low), _cm(lifted.high or lifted.low)
    share = float(_most(mass)) / max(1, people) if mass is not None else None
    turned = float(_most(part.turned) / _DEGREE) if part.turned is not None else 0.0
    reach = float(_most(out) * 100)
    if min(low, high - low, turned, reach, share or 0.0) < 0:
        return None  # The equation begins at the floor; the rest is told where it is written.
    ends = [
        weight_limit(Lift(reach, at, high - low, turned, coupling=part.grasp, load=share))
        for at in (low, high)
    ]
    return min(ends, key=lambda found: found.limit)


def _most(amount: Amount) -> Fraction:
    return (amount.high or amount.low).si


def _cm(quantity: Quantity) -> float:
    return float(quantity.si * 100)
