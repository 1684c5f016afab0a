"""What is not as it was when the work ends: left off, loose, isolated, in, open, moved.

At the end everything must be as it was at the start or as it belongs, unless `leaves …` says
otherwise; what that promises must be so. Followed on every way through the branches.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from compiler.checks.replay import Ending
from compiler.checks.replay.way import at_home, core_of
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.derive.tightening import middle, target_of, window_of
from compiler.findings.model import Finding, Label
from compiler.model import EndState, Tightening
from compiler.source import Span
from compiler.walk.assembly import Assembly, Unit
from compiler.walk.start import initial_state
from compiler.walk.state import (
    AidState,
    ConditionState,
    EnergyState,
    FastenerState,
    FluidState,
    LineState,
    PartState,
    Status,
    normal,
)


def left_over(subject: Subject) -> Iterator[Finding]:
    """Find everything that the end of a procedure leaves otherwise than its start."""
    yield from tell(told for job in subject.jobs for told in _of_job(job))


def _of_job(job: Job) -> Iterator[Told]:
    """Blocks are looked at where they are followed: alone they need not come to an end."""
    if job.procedure.is_block:
        return
    promised = _promised(job)
    for ending in job.replay.endings:
        if not ending.stopped:
            yield from _at_end(job, ending, promised)


@dataclass(frozen=True, slots=True)
class _Promise:
    status: Status
    span: Span


def _promised(job: Job) -> Mapping[Unit, _Promise]:
    """Return what `leaves` lines say of the end, with what follows from them (a cover's screws)."""
    found: dict[Unit, _Promise] = {}
    for end in job.procedure.ends:
        if end.kind == "leaves":
            start: EndState = replace(end, kind="starts")
            for unit, status in initial_state(job.assembly, [start]).units.items():
                found.setdefault(unit, _Promise(status, end.span))
    return found


def _at_end(job: Job, ending: Ending, promised: Mapping[Unit, _Promise]) -> Iterator[Told]:
    way, assembly = ending.way, job.assembly
    for unit in dict.fromkeys((*way.state.units, *promised)):
        now = way.state.status(unit, assembly)
        if now is None:
            continue
        now = at_home(unit, now, assembly)
        promise = promised.get(unit)
        if promise is not None:
            if not _alike(assembly, unit, now, promise.status):
                yield _not_so(job, ending, unit, now, promise)
        elif not any(_alike(assembly, unit, now, ok) for ok in _fine(job, unit)):
            told = _left(job, ending, unit, now)
            if told is not None:
                yield told


def _fine(job: Job, unit: Unit) -> Iterator[Status]:
    """Yield the states in which a thing may be left: as it belongs, or as it was found."""
    usual = normal(job.things[unit[0]])
    if usual is not None:
        yield usual
    found = job.replay.start.units.get(unit)
    if found is not None:
        yield found


def _alike(assembly: Assembly, unit: Unit, one: Status, other: Status) -> bool:
    """Return whether two states come to the same for whoever finds the machine."""
    return core_of(_as_declared(assembly, unit, one)) == core_of(
        _as_declared(assembly, unit, at_home(unit, other, assembly))
    )


def _as_declared(assembly: Assembly, unit: Unit, status: Status) -> Status:
    """Return a status without what says no more than the declaration, or than how it came about."""
    if isinstance(status, EnergyState):
        return EnergyState(isolated=status.isolated)
    fastener = assembly.fastener(unit)
    if fastener is None or not isinstance(status, FastenerState) or status.hold != "tight":
        return status
    asked = fastener.tightening
    if asked is None or asked.how != "torque":
        # Nothing is asked for, so whatever was done is as it belongs.
        return replace(status, to=None, how="")
    return replace(status, to=None) if status.to and _is_enough(status, asked) else status


def _is_enough(status: FastenerState, asked: Tightening) -> bool:
    """Return whether a torque that the line gives is at least the least that is asked for.

    Half a per cent for the rounding of another unit.
    """
    target, (low, _) = target_of(asked.stages), window_of(asked.stages)
    if status.to is None or target is None:
        return status.to is None
    least = low if low is not None else middle(target)
    return middle(status.to).si * 1000 >= least.si * 995


def _not_so(job: Job, ending: Ending, unit: Unit, now: Status, promise: _Promise) -> Told:
    doing = ending.way.last.get(unit)
    labels = (
        (Label(doing.step.step.span, "this is the last step that touches it"),) if doing else ()
    )
    return Told(
        "not-left-so",
        unit,
        promise.span,
        f"{{what}} is {_state_words(now)} when the work ends, and not as this line says",
        "Change the line, or the steps before the end.",
        job,
        ending.way,
        labels,
    )


def _left(job: Job, ending: Ending, unit: Unit, now: Status) -> Told | None:
    found = _kind(now)
    doing = ending.way.last.get(unit)
    if found is None:
        return None
    rule, remedy = found
    name, state = job.things[unit[0]].name, _state_words(now)
    span = doing.step.step.span if doing is not None else job.procedure.span
    end = _last_step(job)
    labels = (Label(end, "the work ends here"),) if end is not None and end != span else ()
    return Told(
        rule,
        unit,
        span,
        f"{{what}} is still {state} when the work ends",
        remedy.format(name=name, state=_leaves_word(now)),
        job,
        ending.way,
        labels,
    )


def _last_step(job: Job) -> Span | None:
    """Return where the last step of the procedure itself is written."""
    body = job.procedure.body
    return body[-1].span if body else None


def _kind(now: Status) -> tuple[str, str] | None:
    """Return the rule for a state that is not as it belongs, and what to do about it."""
    match now:
        case PartState(seat="off" | "aside"):
            return "left-off", (
                "Put it back (`fit {name}`, or `refit` the section that took it off), or say that "
                "it stays so: `leaves {name} {state}` in the head."
            )
        case PartState(supported=True):
            return "left-supported", "Let it go once it is held again: `release {name}`."
        case PartState(opened=True):
            return "left-open", "Close it: `close {name}`."
        case PartState():
            return "left-moved", (
                "Move it back, or say in the head where it stays: `leaves {name} at PLACE`."
            )
        case FastenerState():
            return "left-loose", (
                "Tighten it after it is put in: `tighten {name}`; or say in the head that it stays "
                "so: `leaves {name} {state}`."
            )
        case EnergyState():
            return "left-isolated", (
                "Give it back with `restore {name}`, or say that it stays isolated: "
                "`leaves {name} isolated` in the head."
            )
        case FluidState():
            return "left-drained", "Fill it again: `fill {name}`; or `leaves {name} drained`."
        case LineState():
            return "left-disconnected", (
                "Connect it again: `connect {name}`; or `leaves {name} disconnected`."
            )
        case AidState():
            return "left-in", "Take it out again: `remove {name}`; or `leaves {name} in`."
        case ConditionState():
            return "left-changed", (
                "Bring it back, or say in the head how it stays: `leaves {name} {state}`."
            )


def _state_words(now: Status) -> str:
    match now:
        case PartState():
            return _part_words(now)
        case FastenerState():
            return _fastener_words(now)
        case EnergyState():
            return "isolated" if now.isolated else "live"
        case FluidState():
            return "filled" if now.filled else "drained"
        case LineState():
            return "connected" if now.connected and not now.aside else "disconnected"
        case AidState():
            return "in" if now.inside else "out"
        case ConditionState():
            return now.state


def _part_words(now: PartState) -> str:
    if now.seat != "fitted":
        return now.seat
    if now.supported:
        return "on its support"
    if now.opened:
        return "open"
    return f"at {_place(now.place)}" if now.place else "fitted"


def _fastener_words(now: FastenerState) -> str:
    if now.hold == "hand":
        return "only put in by hand"
    if now.hold != "tight":
        return now.hold
    return f"only {now.how}" if now.how else "not at its torque" if now.to else "tight"


def _place(place: Unit) -> str:
    name = place[0].rpartition("/")[2]
    return f"{name}[{place[1]}]" if place[1] else name


def _leaves_word(now: Status) -> str:
    """Return the word for a state in a `leaves` line."""
    if isinstance(now, FastenerState):
        words = {"hand": "fitted", "slackened": "slackened", "out": "out", "tight": "hand-tight"}
        return words[now.hold]
    return _state_words(now)
