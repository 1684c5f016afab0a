"""The way back: what has to be undone, in reverse order, and the acts that undo it.

Worked out from the trail (what was done) and two states (now, and at the start of what is undone),
so that nothing is put back twice and nothing is put back that was not there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from compiler.model import Energy, Extras, Selection, Step, StillSo
from compiler.source import Span
from compiler.walk.assembly import Assembly, Unit, Units
from compiler.walk.deeds import Done
from compiler.walk.nodes import NO_EXTRAS, Deed
from compiler.walk.state import (
    AidState,
    ConditionState,
    EnergyState,
    FastenerState,
    FluidState,
    LineState,
    PartState,
    State,
    Status,
)
from compiler.walk.stored import stays_out


@dataclass(frozen=True, slots=True)
class Entry:
    """One act of the trail and the step it belongs to.

    `base` is the id of the step without the prefix of what it was followed from, `local` the same
    with the round of a repeat. `conditional` tells that it is done on some paths only.
    """

    done: Done
    node_id: str
    base: str
    local: str
    step: Step
    extras: Extras
    by: str = ""
    conditional: bool = False


@dataclass(frozen=True, slots=True)
class Record:
    """A section or procedure that was walked: the state before it, and what was done in it.

    While a procedure is still being walked, `since` is where its part of the trail begins.
    """

    title: str
    span: Span
    start: State
    trail: tuple[Entry, ...] = ()
    since: int = -1
    extras: Extras = NO_EXTRAS


@dataclass(frozen=True, slots=True)
class Job:
    """One job of the way back: units of one thing, and the entry that is undone."""

    units: Units
    entry: Entry
    when: StillSo | None
    name: str = ""


_REFITTED = frozenset(
    {
        Deed.REMOVE,
        Deed.UNDO,
        Deed.SLACKEN,
        Deed.UNLOCK,
        Deed.DISCONNECT,
        Deed.ASIDE,
        Deed.MOVE,
        Deed.OPEN,
        Deed.SUPPORT,
    }
)
"""What `refit` undoes: what was taken off, loosened, moved, opened or held up."""

_LETS_OUT = frozenset({Deed.DISCHARGE, Deed.BLEED})
UNDONE = _REFITTED | _LETS_OUT | {Deed.ISOLATE, Deed.BRING, Deed.PUT_AID, Deed.DRAIN}
"""What the way back of a whole procedure undoes."""


def plan(
    assembly: Assembly, start: State, now: State, trail: Sequence[Entry], *, whole: bool
) -> list[Job]:
    """Return the steps of the way back, in the order they are done.

    `trail` is what was done since `start`. `whole` also brings back energies, conditions, aids and
    fluids. A fastener goes with the part it holds, what locks it goes with the fastener.
    """
    undone = _last_undoings(trail, UNDONE if whole else _REFITTED)
    need = {u: e for u, e in undone.items() if _needed(assembly, start, now, u)}
    order = {unit: at for at, unit in enumerate(need)}
    jobs = [
        _job(assembly, start, now, unit, need[unit])
        for unit in reversed(need)
        if not _goes_with_other(assembly, start, now, unit, order)
    ]
    return _named(assembly, _merged(assembly, jobs))


def undoes_anything(trail: Iterable[Entry], *, whole: bool) -> bool:
    """Return whether there is anything in the trail that a way back could undo."""
    deeds = UNDONE if whole else _REFITTED
    return any(entry.done.act.deed in deeds and entry.done.units for entry in trail)


def _last_undoings(trail: Sequence[Entry], deeds: frozenset[Deed]) -> dict[Unit, Entry]:
    """Return the last entry that undid each unit, in the order of the trail.

    What was isolated before it was let out once more comes back where it was isolated.
    """
    found: dict[Unit, Entry] = {}
    for entry in trail:
        if entry.done.act.deed in deeds:
            for unit in entry.done.units:
                if entry.done.act.deed in _LETS_OUT and unit in found:
                    continue
                found.pop(unit, None)
                found[unit] = entry
    return found


def _needed(assembly: Assembly, start: State, now: State, unit: Unit) -> bool:
    target = start.status(unit, assembly)
    possible = [now.status(unit, assembly), now.maybe.get(unit)]
    return target is not None and any(
        status is not None and _differs(assembly, unit, status, target) for status in possible
    )


def needs_undoing(assembly: Assembly, start: State, now: State, units: Iterable[Unit]) -> bool:
    """Return whether any of the units has to be brought back to what it was at the start."""
    return any(_needed(assembly, start, now, unit) for unit in units)


def _differs(assembly: Assembly, unit: Unit, status: Status, target: Status) -> bool:
    """Return whether the unit has to be brought from `status` to `target`."""
    match status, target:
        case PartState(), PartState():
            return (
                _must_be_seated(status, target)
                or moved_from(assembly, unit, status, target)
                or (status.opened and not target.opened)
                or (status.supported and not target.supported)
            )
        case FastenerState(), FastenerState():
            return _RANK[status.hold] < _RANK[target.hold]
        case LineState(), LineState():
            return (target.connected and not status.connected) or (
                status.aside and not target.aside
            )
        case EnergyState(), EnergyState():
            return _kept_away(assembly, unit, status) and not _kept_away(assembly, unit, target)
        case AidState(), AidState():
            return status.inside and not target.inside
        case FluidState(), FluidState():
            return target.filled and not status.filled
        case ConditionState(), ConditionState():
            return status.state != target.state
        case _:
            return False


def _kept_away(assembly: Assembly, unit: Unit, status: EnergyState) -> bool:
    """Return whether an energy is isolated, or let out and does not come back by itself."""
    thing = assembly.things.get(unit[0])
    slack = status.discharged and isinstance(thing, Energy) and stays_out(thing)
    return status.isolated or slack


_RANK: Mapping[str, int] = {"out": 0, "hand": 1, "slackened": 1, "tight": 2}


def _must_be_seated(status: PartState, target: PartState) -> bool:
    return status.seat != "fitted" and target.seat == "fitted"


def moved_from(assembly: Assembly, unit: Unit, status: PartState, target: PartState) -> bool:
    """Return whether a part that is fitted at the start is at another place."""
    return target.seat == "fitted" and place_of(assembly, unit, status) != place_of(
        assembly, unit, target
    )


def place_of(assembly: Assembly, unit: Unit, status: PartState) -> Unit | None:
    """Return the place a part is at, the normal one if nothing else is known."""
    if status.place is not None:
        return status.place
    part = assembly.part(unit)
    if part is None or part.at is None:
        return None
    members = [m for m in part.at.members if isinstance(m, str)]
    places = assembly.units(part.at.key, members)
    at = part.members.index(unit[1]) if unit[1] in part.members else 0
    return places[at] if len(places) == len(part.members) > 1 else (places or (None,))[0]


def _goes_with_other(
    assembly: Assembly, start: State, now: State, unit: Unit, order: Mapping[Unit, int]
) -> bool:
    """Return whether a fastener is put back in the step of what it holds or secures."""
    held = [u for u in assembly.held.get(unit, ()) if u in order]
    if any(_is_seat_job(assembly, start, now, u) for u in held):
        return True
    return any(locked in order for locked in assembly.locked.get(unit, ()))


def _is_seat_job(assembly: Assembly, start: State, now: State, unit: Unit) -> bool:
    """Return whether the unit itself is put back, not only let go or closed."""
    possible = [now.status(unit, assembly), now.maybe.get(unit)]
    target = start.status(unit, assembly)
    if isinstance(target, PartState):
        return any(isinstance(s, PartState) and _must_be_seated(s, target) for s in possible)
    if isinstance(target, LineState):
        return any(isinstance(s, LineState) and not s.connected for s in possible)
    return isinstance(target, FastenerState)


def _job(assembly: Assembly, start: State, now: State, unit: Unit, entry: Entry) -> Job:
    target = start.status(unit, assembly)
    possible = [s for s in (now.status(unit, assembly), now.maybe.get(unit)) if s is not None]
    differing = [s for s in possible if target and _differs(assembly, unit, s, target)]
    if not differing or (not entry.conditional and len(differing) == len(possible)):
        return Job((unit,), entry, None)
    span = entry.done.act.span
    members = (unit[1],) if unit[1] else ()
    words = [word for status in differing for word in still(status)]
    # A part that is off on one path is put back, whatever else is so on another.
    word = next((word for word in words if word in ("off", "aside")), words[0])
    return Job((unit,), entry, StillSo(span, Selection(span, unit[0], members), word))


def still(status: Status) -> tuple[str, ...]:
    """Return the words for how a thing is: `off`, `slackened`, `isolated`; more for a part."""
    match status:
        case PartState():
            return _part_still(status)
        case FastenerState():
            return ("slackened" if status.hold in ("hand", "slackened") else status.hold,)
        case LineState():
            return ("aside" if status.connected else "disconnected",)
        case EnergyState():
            let_out = "let out" if status.discharged else "live"
            return ("isolated" if status.isolated else let_out,)
        case AidState():
            return ("in" if status.inside else "out",)
        case FluidState():
            return ("filled" if status.filled else "drained",)
        case ConditionState():
            return (status.state.replace("-", " "),)


def _part_still(status: PartState) -> tuple[str, ...]:
    so = {
        status.seat: status.seat != "fitted",
        "open": status.opened,
        "supported": status.supported,
        "away": status.place is not None,
    }
    return tuple(word for word, is_so in so.items() if is_so) or ("fitted",)


def _merged(assembly: Assembly, jobs: Iterable[Job]) -> list[Job]:
    """Put units of one thing that come one after the other into one step.

    So do the energies that one step isolated: they are given back together.
    """
    found: list[Job] = []
    for job in jobs:
        last = found[-1] if found else None
        if last is None or not _together(assembly, last, job):
            found.append(job)
            continue
        found[-1] = replace(last, units=(*last.units, *job.units), when=_both(last, job))
    return found


def _together(assembly: Assembly, one: Job, other: Job) -> bool:
    if bool(one.when) != bool(other.when):
        return False
    if one.units[0][0] == other.units[0][0]:
        return True
    things = (assembly.things[job.units[0][0]] for job in (one, other))
    return one.entry.step is other.entry.step and all(isinstance(t, Energy) for t in things)


def _both(one: Job, other: Job) -> StillSo | None:
    if one.when is None or other.when is None:
        return None
    members = (*one.when.subject.members, *other.when.subject.members)
    return replace(one.when, subject=replace(one.when.subject, members=members))


def _named(assembly: Assembly, jobs: list[Job]) -> list[Job]:
    """Name the jobs after the steps they undo; after the thing too where one step undid several."""
    bases = Counter(job.entry.base for job in jobs)
    locals_ = Counter(job.entry.local for job in jobs)

    def name(job: Job) -> str:
        if bases[job.entry.base] == 1:
            return job.entry.base
        if locals_[job.entry.local] == 1:
            return job.entry.local
        return f"{job.entry.local}.{assembly.things[job.units[0][0]].name}"

    return [replace(job, name=name(job)) for job in jobs]
