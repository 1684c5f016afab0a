"""Two torques for one fastener: in two procedures, or in a step and on its own line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from compiler.checks.subject import Subject
from compiler.checks.torque import given_in, says_why, tightened
from compiler.derive.tightening import ends_of, stages_of, target_of
from compiler.findings.model import Finding, Label
from compiler.model import Amount, Fastener
from compiler.source import Span
from compiler.trade.units import format_quantity
from compiler.walk.flat import FlatAct

_Place: TypeAlias = tuple[Span, Amount, bool]
"""Where a fastener is brought to a torque, to which, and whether the step itself says it."""


def two_torques(subject: Subject) -> Iterator[Finding]:
    """Find a fastener that is brought to one torque in one procedure, to another in another, or to
    more than its own line says."""
    more = list(_more_than_said(subject))
    yield from more
    told = {finding.span for finding in more}
    found: dict[tuple[str, str], dict[str, list[_Place]]] = {}
    for job in subject.jobs:
        for flat in job.acts:
            for fastener in tightened(job, flat):
                place = _place(fastener, flat)
                if place is not None:
                    by_job = found.setdefault((fastener.key, job.model), {})
                    by_job.setdefault(job.procedure.key, []).append(place)
    for (key, _), by_job in found.items():
        jobs = [(subject.world.procedures[name].title, places) for name, places in by_job.items()]
        for at, (title, places) in enumerate(jobs):
            for other, others in jobs[at + 1 :]:
                differing = _differing(_name(key), (title, places), (other, others))
                yield from (finding for finding in differing if finding.span not in told)


def _name(key: str) -> str:
    return key.rpartition("/")[2]


def _place(fastener: Fastener, flat: FlatAct) -> _Place | None:
    """Return the torque that an act ends with; None where a step says why it is another one."""
    stages = stages_of(fastener, flat.act)
    amounts = [s.amount for s in stages if s.kind == "torque" and s.amount is not None]
    if not amounts or says_why(flat):
        return None
    given = given_in(flat)
    return (given.span if given else flat.act.span, amounts[-1], given is not None)


def _differing(
    name: str, first: tuple[str, list[_Place]], second: tuple[str, list[_Place]]
) -> Iterator[Finding]:
    """Tell of two procedures that have no torque in common; what a step says itself is told."""
    (title, places), (other, others) = first, second
    if any(_same(one[1], two[1]) for one in places for two in others):
        return
    here = next((place for place in places if place[2]), None)
    if here is None:
        here, places, others = next((p for p in others if p[2]), None), others, places
        title, other = other, title
    if here is None:
        return
    there = others[-1]
    yield Finding(
        "two-torques",
        here[0],
        f"{name} is tightened to {_words(here[1])} here, but to {_words(there[1])} in “{other}”.",
        labels=(Label(there[1].span, f"“{other}” takes it from here"),),
        hint="Write the torque once, on the fastener, and leave it out of the steps (`for MODEL` "
        'where models differ). If this job needs another one, say why below the step: `why "…"`.',
    )


def _words(amount: Amount) -> str:
    high = f" to {format_quantity(amount.high)}" if amount.high is not None else ""
    return format_quantity(amount.low) + high


_ROUNDING = 0.02
"""Two torques that differ by no more are one, converted and rounded."""


def _same(one: Amount, two: Amount) -> bool:
    """Return whether two torques can both be met."""
    low, high = _window(one)
    other_low, other_high = _window(two)
    return low <= other_high and other_low <= high


def _window(amount: Amount) -> tuple[float, float]:
    low, high = float(amount.low.si), float((amount.high or amount.low).si)
    return low * (1 - _ROUNDING / 2), high * (1 + _ROUNDING / 2)


def _more_than_said(subject: Subject) -> Iterator[Finding]:
    """Find steps that tighten a fastener for good to more than its own line says.

    Less than that is told as `left-loose`; a higher torque that seats something is followed by
    another one.
    """
    told: set[Span] = set()
    for job in subject.jobs:
        last: dict[str, tuple[Fastener, FlatAct]] = {}
        for flat in job.acts:
            last.update((fastener.key, (fastener, flat)) for fastener in tightened(job, flat))
        for fastener, flat in last.values():
            given, own = given_in(flat), fastener.tightening
            said = target_of(own.stages) if own is not None and not own.from_house else None
            if given is None or said is None or given.span in told or says_why(flat):
                continue
            if float(given.low.si) > _most(said):
                told.add(given.span)
                yield _told(fastener, given, said)


def _told(fastener: Fastener, given: Amount, said: Amount) -> Finding:
    return Finding(
        "two-torques",
        given.span,
        f"{fastener.name} is tightened to {_words(given)} here, but its own line says "
        f"{_words(said)}.",
        labels=(Label(said.span, "its own line"),),
        hint="Leave the torque out of the step: the one of the fastener is printed. If this job "
        'needs another one, say why below the step: `why "…"`.',
    )


_UNSAID = 0.2
"""So much over a line without a tolerance may still be meant by it."""


def _most(said: Amount) -> float:
    """Return the most that a line allows, in N·m."""
    ends = ends_of(said)
    if ends is None:
        return float(said.low.si) * (1 + _UNSAID)
    return float(ends[1].si) * (1 + _ROUNDING)
