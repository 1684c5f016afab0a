"""How much one person may lift with two hands: the revised NIOSH lifting equation."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from compiler.reckon.answer import Answer, Result, Step, Unclear
from compiler.reckon.house import House
from compiler.reckon.units import said, significant, worked_out
from compiler.reckon.values import LENGTH, MASS, one_value
from compiler.reckon.written import number_in, one_text
from compiler.trade.lifting import (
    COUPLINGS,
    METRIC,
    SOURCE,
    US,
    Constants,
    Lift,
    WeightLimit,
    duration_of,
    weight_limit,
)
from compiler.trade.units import Quantity, convert, find_unit

EXAMPLE = 'witnessmark lift "14 kg" --out "40 cm" --height "75 cm" --travel "50 cm"'

CAUTIONS = (
    "Never above the limit of the site; whoever lifts decides, and may call for help.",
    (
        "For two hands, a steady load, good footing, room to stand, up to 8 h; not for anyone who "
        "is pregnant or has a bad back. Ask again for where it is set down: that end is often the "
        "worse one."
    ),
)

_WORST: Mapping[str, str] = {
    "HM": "how far out the hands are: bring the load nearer to the body",
    "VM": "the height: raise or lower where it is picked up to about 75 cm (30 in)",
    "DM": "the way up or down: shorten it, or rest half-way",
    "AM": "the turned body: step round instead",
    "FM": "how often: lift less often, or let people take turns",
    "CM": "how it is held: give it handles, or a box that has some",
}


@dataclass(frozen=True, slots=True)
class Handling:
    """How it is lifted, as typed; '' for what is not said."""

    out: str = ""
    height: str = ""
    travel: str = ""
    turned: str = ""
    often: str = ""
    hours: str = ""
    hold: str = ""
    conditions: tuple[str, ...] = ()


def lift(words: Sequence[str], how: Handling, house: House) -> Answer:
    """Return the weight limit, and with a load the lifting index. Raises Unclear."""
    load = one_value(one_text(list(words), "the load", EXAMPLE), MASS) if words else None
    lengths = {
        "--out": _length(how.out, "--out", "how far the hands are out from the ankles"),
        "--height": _length(how.height, "--height", "how high the hands are above the floor"),
        "--travel": _length(how.travel, "--travel", "how far up or down it goes"),
    }
    known = _constants(load, lengths["--out"])
    asked = _asked(load, lengths, how, known)
    found = weight_limit(asked)
    return Answer(
        "lift",
        _title(load, lengths, asked),
        {
            "load": said(load) if load is not None else "",
            **{name.strip("-"): said(length) for name, length in lengths.items()},
            "turned": f"{asked.turned:g} deg",
            "often": f"{asked.per_minute:g} a minute",
            "duration": asked.duration,
            "hold": asked.coupling,
            "conditions": ", ".join(asked.conditions),
        },
        _results(found),
        steps=_steps(found),
        cautions=CAUTIONS,
        remarks=_remarks(found, load, house),
    )


def _length(text: str, option: str, what: str) -> Quantity:
    example = f'{option} "40 cm"'
    if not text:
        raise Unclear(f"Say {what}.", f"For example: {example}")
    found = one_value(text, replace(LENGTH, positive=False), example)
    if found.value < 0:
        raise Unclear("A length is 0 or more.", f"For example: {example}")
    return found


def _constants(load: Quantity | None, out: Quantity) -> Constants:
    """Return the equation in the units of the question: inches and pounds, or metric."""
    given = find_unit(load.unit if load is not None else out.unit)
    return US if given is not None and given.symbol in ("lb", "oz", "in", "ft") else METRIC


def _asked(
    load: Quantity | None, lengths: Mapping[str, Quantity], how: Handling, known: Constants
) -> Lift:
    out, height, travel = (float(convert(one, known.length).value) for one in lengths.values())
    hours = float(number_in(how.hours or "1", "hours", "--hours 1", 0, 24))
    duration = duration_of(hours)
    if duration is None:
        reason = "The equation ends at 8 h of lifting a day."
        raise Unclear(reason, "Let people take turns, and ask for up to 8 h: --hours 8")
    if how.hold and how.hold not in COUPLINGS:
        raise Unclear(f"{how.hold} is no hold of the table.", f"--hold {'|'.join(COUPLINGS)}")
    return Lift(
        out,
        height,
        travel,
        float(number_in(how.turned or "0", "angle", "--turned 30", 0, 180)),
        float(number_in(how.often or "0.2", "lifts a minute", "--often 0.2", 0, 100)),
        duration,
        how.hold or "fair",
        float(convert(load, known.load).value) if load is not None else None,
        known,
        how.conditions,
    )


def _title(load: Quantity | None, lengths: Mapping[str, Quantity], asked: Lift) -> str:
    out, height, travel = (said(one) for one in lengths.values())
    what = f"Lifting {said(load)}" if load is not None else "Lifting"
    turned = f", turned {asked.turned:g}°" if asked.turned else ""
    return f"{what}: hands {out} out and {height} high, {travel} up or down{turned}"


def _results(found: WeightLimit) -> tuple[Result, ...]:
    unit = found.lift.constants.load
    other = "lb" if unit == "kg" else "kg"
    exact, _ = worked_out(found.limit, unit)
    second = convert(exact, other)
    others = (
        Result("limit", "", f"{float(second.value):.1f} {other}", float(second.value), other),
    )
    limit = Result(
        "limit", "weight limit", f"{found.limit:.1f} {unit}", found.limit, unit, others,
        source=SOURCE,
    )  # fmt: skip
    multipliers = tuple(
        Result(name, _NAMES[name], f"{value:.2f}", value, source=SOURCE)
        for name, value in found.multipliers
    )
    if found.index is None:
        return (limit, *multipliers)
    verdict = "at most 1, as it should be" if found.index <= 1 else "above 1: change the lift"
    index = Result(
        "index", "lifting index", significant(found.index), found.index, note=verdict, source=SOURCE
    )
    return (limit, index, *multipliers)


_NAMES: Mapping[str, str] = {
    "HM": "HM, how far out",
    "VM": "VM, how high",
    "DM": "DM, how far up or down",
    "AM": "AM, how far turned",
    "FM": "FM, how often and how long",
    "CM": "CM, how it is held",
}


def _steps(found: WeightLimit) -> tuple[Step, ...]:
    steps = [Step(found.formula, SOURCE)]
    if found.index is not None:
        unit = found.lift.constants.load
        load = f"{found.lift.load:g} {unit}"
        text = f"LI = L / RWL = {load} / {found.limit:.1f} {unit} = {significant(found.index)}"
        steps.append(Step(text))
    return tuple(steps)


def _remarks(found: WeightLimit, load: Quantity | None, house: House) -> tuple[str, ...]:
    asked = found.lift
    remarks = [
        f"Taken: {asked.coupling} hold, {asked.per_minute:g} lifts a minute, {asked.duration}."
    ]
    remarks += [f"The equation says nothing about this: {why}." for why in found.unfit]
    remarks += [f"Nobody should lift anything so: {why}." for why in found.beyond]
    worst = min(found.multipliers, key=lambda pair: pair[1])
    if not found.beyond and worst[1] < 1 and (found.index is None or found.index > 1):
        remarks.append(f"What costs most is {_WORST[worst[0]]}.")
    limit = house.lift_limit
    if limit is not None:
        over = load is not None and load.si > limit.si
        remarks.append(
            f"The limit of the house is {said(limit)} ({house.file})"
            + (": this is over it, so use a hoist or more people." if over else ".")
        )
    return tuple(remarks)
