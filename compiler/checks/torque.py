"""A torque against what the thread bears: too high, or suspiciously low."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from compiler.checks.subject import Job, Subject
from compiler.derive.threads import ThreadState, house_state, thread_state
from compiler.derive.tightening import ends_of, given_amount, is_torque, own_phrases
from compiler.findings.model import Finding, Label
from compiler.model import Amount, AnyThing, Fastener, Stage
from compiler.source import Span
from compiler.trade.torque import (
    LEAST_SHARE,
    LEAST_SHARE_SMALL_UNIT,
    Bearing,
    bearing_of,
    least_torque,
    meant_instead,
    most_torque,
    preloads,
    too_much,
)
from compiler.trade.units import Quantity, convert, format_quantity
from compiler.walk.flat import FlatAct
from compiler.walk.nodes import Deed, Target


@dataclass(frozen=True, slots=True)
class _Said:
    """A torque somewhere in the text, the joint it is for, and whether it is all there is.

    `at` is where it is told; `label` the other place, when the value stands elsewhere; `torque` is
    the amount, or its lower end, in N·m.
    """

    amount: Amount
    torque: float
    bearing: Bearing
    state: ThreadState
    name: str
    at: Span
    final: bool
    label: Label | None = None


def torque_out_of_reason(subject: Subject) -> Iterator[Finding]:
    """Find torques over what the thread bears, and such as hold next to nothing, whatever the K."""
    told: set[Span] = set()
    for said in (*_house(subject), *_declared(subject), *_in_steps(subject)):
        if said.label is None or said.label.span not in told:
            high = _highest_wrong(said)
            if high is not None:
                told.add(said.at)
                yield high
        low = _too_little(said)
        if low is not None:
            yield low


def _highest_wrong(said: _Said) -> Finding | None:
    """Return the first end of a torque whose least preload is over what the thread bears."""
    for value in _ends(said.amount):
        torque = said.torque if value is said.amount.low else float(value.si)
        if too_much(torque, said.state.factors, said.bearing):
            return _too_high(said, value)
    return None


def _too_little(said: _Said) -> Finding | None:
    """Return a torque that holds next to nothing: probably another unit was meant."""
    value, factors, bearing = said.amount.low, said.state.factors, said.bearing
    if not said.final or not bearing.known or said.label is not None:
        return None
    torque = said.torque
    if torque >= least_torque(factors, bearing, LEAST_SHARE_SMALL_UNIT):
        return None
    meant = meant_instead(value, factors, bearing)
    slip = meant is not None and meant.si > value.si
    share = LEAST_SHARE_SMALL_UNIT if slip and _is_small(value) else LEAST_SHARE
    if torque >= least_torque(factors, bearing, share):
        return None
    return _too_low(said, value, meant if slip else None)


def _is_small(value: Quantity) -> bool:
    """Return whether a unit is smaller than those that most torques are given in."""
    return float(Quantity(value.value, value.unit).si) < float(value.value)


# --- What is said where -----------------------------------------------------------------------


def _house(subject: Subject) -> Iterator[_Said]:
    """Yield the lines of the house table."""
    shop = subject.world.shop
    for designation, amount in shop.torques if shop is not None else ():
        bearing = bearing_of(designation)
        if bearing is not None:
            state, name = house_state(shop), designation.text
            torque = float(amount.low.si)
            yield _Said(amount, torque, bearing, state, name, amount.span, final=True)


def _declared(subject: Subject) -> Iterator[_Said]:
    """Yield the torques of all fasteners, stage by stage; each place in the text once a state."""
    seen: set[tuple[Span, Span, ThreadState]] = set()
    for things in _all_things(subject):
        for fastener in things.values():
            if not isinstance(fastener, Fastener) or fastener.tightening is None:
                continue
            state = thread_state(fastener, things, subject.world.shop)
            key = (fastener.span, fastener.tightening.span, state)
            if key not in seen:
                seen.add(key)
                yield from _stages(fastener, state)


def _all_things(subject: Subject) -> Iterator[Mapping[str, AnyThing]]:
    for machine in subject.world.machines.values():
        yield from (variant.things for variant in machine.variants)
    for procedure in subject.world.procedures.values():
        yield from (variant.things for variant in procedure.variants)


def _stages(fastener: Fastener, state: ThreadState) -> Iterator[_Said]:
    bearing, how = bearing_of(fastener.designation), fastener.tightening
    if bearing is None or how is None:
        return
    amounts = [s.amount for s in how.stages if s.kind in ("torque", "next-hole") and s.amount]
    torques = [float(amount.low.si) for amount in amounts]
    plain = _is_plain(fastener, how.stages)
    for amount, torque in zip(amounts, torques, strict=True):
        final = plain and torque == max(torques)
        if how.from_house:
            label = Label(amount.span, "the house table says so here")
            yield _Said(amount, torque, bearing, state, fastener.name, fastener.span, final, label)
        else:
            yield _Said(amount, torque, bearing, state, fastener.name, amount.span, final)


_LIGHT = ("castle", "slotted round", "thin", "set screw", "cap nut")
"""What is often done up lightly on purpose: bearings, lock nuts, set screws, covers (common
practice, no source)."""


def _is_plain(fastener: Fastener, stages: tuple[Stage, ...]) -> bool:
    """Return whether a torque is all that clamps, so that little of it means little preload.

    Not where an angle follows, where it is backed off again, where nothing is clamped, or where the
    author says why.
    """
    light = any(word in fastener.designation.kind.replace("-", " ") for word in _LIGHT)
    only = all(stage.kind in ("torque", "slacken") for stage in stages)
    return only and not light and bool(fastener.holds) and not fastener.extras.whys


def _in_steps(subject: Subject) -> Iterator[_Said]:
    """Yield the torques that steps give themselves."""
    for job in subject.jobs:
        acts = [
            (flat, fastener, given)
            for flat in job.acts
            if flat.act.deed is Deed.TIGHTEN and (given := given_in(flat)) is not None
            for fastener in tightened(job, flat)
        ]
        highest: dict[str, float] = {}
        for _, fastener, given in acts:
            at_most = max(highest.get(fastener.key, 0.0), float(given.low.si))
            highest[fastener.key] = at_most
        for flat, fastener, given in acts:
            bearing = bearing_of(fastener.designation)
            if bearing is None:
                continue
            state = thread_state(fastener, job.things, subject.world.shop)
            torque = float(given.low.si)
            last = torque >= highest[fastener.key]
            plain = _is_plain(fastener, ()) and not says_why(flat)
            yield _Said(given, torque, bearing, state, fastener.name, given.span, last and plain)


def given_in(flat: FlatAct) -> Amount | None:
    """Return the torque that a step itself gives."""
    given = given_amount(own_phrases(flat.act))
    return given if given is not None and is_torque(given) else None


def says_why(flat: FlatAct) -> bool:
    """Return whether a reason stands below a step."""
    return bool(flat.step.node.step.extras.whys)


def tightened(job: Job, flat: FlatAct) -> Iterator[Fastener]:
    """Yield the fasteners that an act tightens."""
    if flat.act.deed is Deed.TIGHTEN:
        for target in flat.act.targets:
            thing = job.things.get(target.key) if isinstance(target, Target) else None
            if isinstance(thing, Fastener):
                yield thing


def _ends(amount: Amount) -> tuple[Quantity, ...]:
    """Return what the text allows: the value or the ends of its range, then what a tolerance adds.

    `9 N·m ±1 N·m` lets through what `8..10 N·m` lets through, so both are judged by their 10 N·m.
    """
    if amount.high is not None:
        return (amount.high, amount.low)
    ends = ends_of(amount)
    return (amount.low,) if ends is None else (amount.low, ends[1])


# --- In words ---------------------------------------------------------------------------------


def _too_high(said: _Said, value: Quantity) -> Finding:
    bearing, factors = said.bearing, said.state.factors
    least = preloads(float(value.si), factors, bearing)[0]
    meant = meant_instead(value, factors, bearing)
    most = most_torque(factors, bearing)
    whose = class_words(bearing.grade) if bearing.known else "even the strongest class, 12.9,"
    within = value not in (said.amount.low, said.amount.high)
    end = ", the upper end of its tolerance," if within else ""
    area, stress = f"{bearing.area_mm2:.3g} mm²", f"{bearing.stress_mpa:.4g} MPa"
    less = "Take less, or allow less upwards (`+0 -10 %`). " if within else _meant(value, meant)
    return Finding(
        "torque-too-high",
        said.at,
        f"{both(value)}{end} is more than {bearing.thread} of {whose} bears: at K "
        f"{factors.high:.2f} and D {bearing.diameter_mm:g} mm it pulls {_kn(least)}, over the "
        f"{bearing.kind} of {_kn(bearing.load_n)} ({area} × {stress}, "
        f"{bearing.source}). {_state_words(said.state)}",
        labels=(said.label,) if said.label is not None else (),
        hint=less
        + f"Above {most:.3g} N·m {said.name} is stretched or stripped. Look at the value, its unit "
        "and the class of the fastener.",
    )


def _too_low(said: _Said, value: Quantity, meant: Quantity | None) -> Finding:
    bearing, factors = said.bearing, said.state.factors
    most = preloads(float(value.si), factors, bearing)[1]
    return Finding(
        "torque-too-low",
        said.at,
        f"{both(value)} is very little for {bearing.thread} of "
        f"{class_words(bearing.grade)}: even at K {factors.low:.2f} and "
        f"D {bearing.diameter_mm:g} mm it pulls only {_kn(most)}, "
        f"{most / bearing.load_n:.0%} of the {bearing.kind} of {_kn(bearing.load_n)} "
        f"({bearing.source}). {_state_words(said.state)}".replace("%", "\N{NO-BREAK SPACE}%"),
        hint=_meant(value, meant)
        + 'If it is meant to be so light, say why below it (`why "…"`), or write `snug` or '
        "`hand-tight`.",
    )


def _meant(value: Quantity, meant: Quantity | None) -> str:
    if meant is None:
        return ""
    metric = "" if value.unit and _symbol(value) == "N·m" else f" is {_newton_metres(value)}"
    first = f"{format_quantity(value)}{metric}; did you" if metric else "Did you"
    other = "" if _symbol(meant) == "N·m" else f" = {_newton_metres(meant)}"
    return f"{first} mean {format_quantity(meant)}{other}? "


def _symbol(value: Quantity) -> str:
    return format_quantity(value).rpartition("\N{NO-BREAK SPACE}")[2]


def both(value: Quantity) -> str:
    """Return a torque as written, and in N·m where that is another unit."""
    text = format_quantity(value)
    return text if _symbol(value) == "N·m" else f"{text} ({_newton_metres(value)})"


def _newton_metres(value: Quantity) -> str:
    return f"{float(convert(value, 'N·m').value):.3g}\N{NO-BREAK SPACE}N·m"


def class_words(grade: str) -> str:
    """Return a class with the word for it: `class 8.8`, `grade 5`."""
    return grade if grade.startswith("grade") else f"class {grade}"


def _kn(load: float) -> str:
    return f"{load / 1000:.3g}\N{NO-BREAK SPACE}kN"


def _state_words(state: ThreadState) -> str:
    if not state.said_by:
        return (
            f"The state of the thread is not stated: judged over K {state.factors.text} "
            f"({state.factors.source})."
        )
    by = "the house" if state.said_by == "house" else "the fastener"
    return f"Thread as {by} says, {state.factors.words} ({state.factors.source})."
