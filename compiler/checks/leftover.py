"""What is not as it was when the work ends: left off, loose, isolated, in, open, moved.

At the end everything must be as it belongs, unless `leaves …` says otherwise; that must be so then.
What the work `needs` stays as it was. Followed on every way through the branches.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from compiler.checks.left_words import left, state_words
from compiler.checks.remedies import tighten_behind
from compiler.checks.replay import Doing, Way
from compiler.checks.replay.way import ASPECTS, at_home, core_of
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.derive.tightening import middle, target_of, window_of
from compiler.findings.model import Finding, Label
from compiler.model import EndState, Energy, StepBase, Tightening
from compiler.source import Span
from compiler.walk.assembly import Assembly, Unit
from compiler.walk.start import initial_state
from compiler.walk.state import (
    EnergyState,
    FastenerState,
    LineState,
    PartState,
    Status,
    normal,
)
from compiler.walk.stored import stays_out


def left_over(subject: Subject) -> Iterator[Finding]:
    """Find everything that the end of a procedure leaves otherwise than its start."""
    yield from tell(told for job in subject.jobs for told in _of_job(job))


def _of_job(job: Job) -> Iterator[Told]:
    """Blocks are looked at where they are followed: alone they need not come to an end."""
    if job.procedure.is_block:
        return
    promises = _promises(job)
    ends = tuple(ending.way for ending in job.replay.endings if not ending.stopped)
    for way in ends:
        for told in _at_end(job, way, promises):
            yield replace(told, among=ends)


@dataclass(frozen=True, slots=True)
class _Promise:
    """What a `leaves` line says of a unit; `span` is None for what only follows from it."""

    status: Status
    span: Span | None


def _promises(job: Job) -> Mapping[Unit, _Promise]:
    """Return what `leaves` lines say of the end, with what follows from them (a cover's screws)."""
    ends: list[EndState] = [
        replace(end, kind="starts") for end in job.procedure.ends if end.kind == "leaves"
    ]
    spans: dict[Unit, Span] = {}
    for end in ends:
        members = [m for m in end.subject.members if isinstance(m, str)]
        for unit in job.assembly.units(end.subject.key, members):
            spans[unit] = end.span
    stated = initial_state(job.assembly, ends).units
    return {unit: _Promise(status, spans.get(unit)) for unit, status in stated.items()}


def _at_end(job: Job, way: Way, promises: Mapping[Unit, _Promise]) -> Iterator[Told]:
    assembly = job.assembly
    for unit in dict.fromkeys((*way.state.units, *promises)):
        now = way.state.status(unit, assembly)
        if now is None or _cannot_be_otherwise(assembly, way, unit, now):
            continue
        now = at_home(unit, now, assembly)
        promise = promises.get(unit)
        if promise is not None and promise.span is not None:
            if not _alike(assembly, unit, now, promise.status):
                yield _not_so(job, way, unit, now, promise.status, promise.span)
        elif promise is None or not _alike(assembly, unit, now, promise.status):
            yield from _left(job, way, unit, now)


def _cannot_be_otherwise(assembly: Assembly, way: Way, unit: Unit, now: Status) -> bool:
    """Return whether it is not as it belongs only because something else is not.

    The screws of a cover that is off, the pin of a nut that is loose, the cable of a motor that
    is away: that one is spoken of, or is so on purpose.
    """
    if isinstance(now, FastenerState) and now.hold != "tight":
        held = assembly.held.get(unit, ())
        loose = (way.state.fastener(nut).hold != "tight" for nut in assembly.locked.get(unit, ()))
        return any(way.state.gone(part, assembly) for part in held) or any(loose)
    if isinstance(now, LineState) and not (now.connected and not now.aside):
        return any(way.state.gone(part, assembly) for part in assembly.joins.get(unit, ()))
    return False


def _fine(job: Job, unit: Unit) -> Iterator[Status]:
    """Yield the states in which a thing may be left: as it belongs, or as the work needs it.

    What it only `starts with` is put right by the work, or the head says that it stays.
    """
    usual = normal(job.things[unit[0]])
    if usual is not None:
        yield usual
    needed = job.needed.get(unit)
    if needed is not None:
        yield needed


def _alike(assembly: Assembly, unit: Unit, one: Status, other: Status) -> bool:
    """Return whether two states come to the same for whoever finds the machine."""
    return core_of(_as_declared(assembly, unit, one)) == core_of(
        _as_declared(assembly, unit, at_home(unit, other, assembly))
    )


def _as_declared(assembly: Assembly, unit: Unit, status: Status) -> Status:
    """Return a status without what says no more than the declaration, or than how it came about."""
    match status:
        case EnergyState():
            thing = assembly.things.get(unit[0])
            out = status.discharged and isinstance(thing, Energy) and stays_out(thing)
            return EnergyState(isolated=status.isolated or out)
        case PartState(seat="off" | "aside"):
            # What hangs or stands open while it is off is spoken of as off.
            return PartState(status.seat, status.place)
        case FastenerState(hold="hand"):
            return replace(status, hold="slackened")
        case FastenerState(hold="tight"):
            fastener = assembly.fastener(unit)
            return _as_asked(status, fastener.tightening if fastener is not None else None)
        case _:
            return status


def _as_asked(status: FastenerState, asked: Tightening | None) -> FastenerState:
    """Return a tight fastener without what is no less than what is asked for."""
    if asked is None or asked.how != "torque":
        return replace(status, to=None, how="")
    return replace(status, to=None) if status.to and _is_enough(status, asked) else status


def _is_enough(status: FastenerState, asked: Tightening) -> bool:
    """Return whether a torque that the line gives is at least the least that is asked for.

    Half a per cent for the rounding of another unit. What is no torque cannot be compared.
    """
    target, (low, _) = target_of(asked.stages), window_of(asked.stages)
    if status.to is None or target is None or status.to.low.dimension != "torque":
        return True
    least = low if low is not None else middle(target)
    return middle(status.to).si * 1000 >= least.si * 995


def _not_so(job: Job, way: Way, unit: Unit, now: Status, said: Status, span: Span) -> Told:
    doing = way.last.get(unit)
    labels = (Label(doing.step.step.span, "last changed here"),) if doing else ()
    words, promised = state_words(now), state_words(said)
    but = f"not {promised}" if words != promised else "but not"
    return Told(
        "not-left-so",
        unit,
        span,
        f"{{what}} is {words} when the work ends, {but} as this line says",
        "Change this line when the steps are right, or the steps when the line is.",
        job,
        way,
        labels,
    )


def _left(job: Job, way: Way, unit: Unit, now: Status) -> Iterator[Told]:
    """Tell what is not as it may be; of a part each aspect on its own, if it is on."""
    for aspect, status in _aspects(now):
        if any(_alike(job.assembly, unit, status, ok) for ok in _fine(job, unit)):
            continue
        doing = way.since.get((unit, aspect)) if aspect else way.last.get(unit)
        yield _told(job, way, unit, status, doing)


def _aspects(now: Status) -> Iterator[tuple[str, Status]]:
    if not isinstance(now, PartState):
        yield "", now
    elif now.seat != "fitted":
        yield "seat", now
    else:
        for aspect in ASPECTS:
            yield aspect, replace(PartState(), **{aspect: getattr(now, aspect)})


def _told(job: Job, way: Way, unit: Unit, now: Status, doing: Doing | None) -> Told:
    thing = job.things[unit[0]]
    rule, sentence, remedy = left(thing, now)
    span, labels = _place(job, unit, doing)
    by_hand = isinstance(now, FastenerState) and now.hold == "hand"
    fix = tighten_behind(job, doing, unit) if by_hand else None
    return Told(rule, unit, span, f"{{what}} {sentence}", remedy, job, way, labels, fix=fix)


def _place(job: Job, unit: Unit, doing: Doing | None) -> tuple[Span, tuple[Label, ...]]:
    """Return where it was done, in the procedure itself, and what else to look at.

    What nobody touched is so since the start: the place is the line that says so.
    """
    span, labels = _said_at(job, unit), list[Label]()
    if doing is not None:
        span = step = doing.step.step.span
        follow = next((o.span for o in doing.step.origin if o.kind == "follow"), None)
        if follow is not None:
            span = follow
            labels.append(Label(step, "it is done here"))
    last = job.procedure.body[-1] if job.procedure.body else None
    if last is not None and last.span != span:
        here = "here" if isinstance(last, StepBase) else "with this"
        labels.append(Label(last.span, f"the work ends {here}"))
    return span, tuple(labels)


def _said_at(job: Job, unit: Unit) -> Span:
    """Return the `starts with` line that speaks of a thing, or of what it holds."""
    about = (unit, *job.assembly.held.get(unit, ()), *job.assembly.locked.get(unit, ()))
    for end in job.procedure.ends:
        members = [member for member in end.subject.members if isinstance(member, str)]
        if end.kind == "starts" and set(job.assembly.units(end.subject.key, members)) & set(about):
            return end.span
    return job.procedure.span
