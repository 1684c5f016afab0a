"""The way back: what has to be undone, in reverse order, and the acts that undo it.

Worked out from the trail (what was done) and two states (now, and at the start of what is undone),
so that nothing is put back twice and nothing is put back that was not there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from compiler.model import AnyThing, Energy, Extras, Part, Selection, Step, WasDone
from compiler.walk.assembly import Assembly, Unit, Units
from compiler.walk.deeds import Deeds, Done, Meant, Phrases
from compiler.walk.isolate import restore
from compiler.walk.nodes import Deed, Target, WalkPhrase
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
class Job:
    """One step of the way back: units of one thing, and the entry that is undone."""

    units: Units
    entry: Entry
    when: WasDone | None
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

_ALL = _REFITTED | {Deed.ISOLATE, Deed.BRING, Deed.PUT_AID, Deed.DRAIN}
"""What the way back of a whole procedure undoes."""


def plan(
    assembly: Assembly, start: State, now: State, trail: Sequence[Entry], *, whole: bool
) -> list[Job]:
    """Return the steps of the way back, in the order they are done.

    `trail` is what was done since `start`. `whole` also brings back energies, conditions, aids and
    fluids. A fastener goes with the part it holds, what locks it goes with the fastener.
    """
    undone = _last_undoings(trail, _ALL if whole else _REFITTED)
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
    deeds = _ALL if whole else _REFITTED
    return any(entry.done.act.deed in deeds and entry.done.units for entry in trail)


def _last_undoings(trail: Sequence[Entry], deeds: frozenset[Deed]) -> dict[Unit, Entry]:
    """Return the last entry that undid each unit, in the order of the trail."""
    found: dict[Unit, Entry] = {}
    for entry in trail:
        if entry.done.act.deed in deeds:
            for unit in entry.done.units:
                found.pop(unit, None)
                found[unit] = entry
    return found


def _needed(assembly: Assembly, start: State, now: State, unit: Unit) -> bool:
    target = start.status(unit, assembly)
    possible = [now.status(unit, assembly), now.maybe.get(unit)]
    return target is not None and any(
        status is not None and _differs(assembly, unit, status, target) for status in possible
    )


def _differs(assembly: Assembly, unit: Unit, status: Status, target: Status) -> bool:
    """Return whether the unit has to be brought from `status` to `target`."""
    match status, target:
        case PartState(), PartState():
            return (
                _must_be_seated(status, target)
                or _moved_from(assembly, unit, status, target)
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
            return status.isolated and not target.isolated
        case AidState(), AidState():
            return status.inside and not target.inside
        case FluidState(), FluidState():
            return target.filled and not status.filled
        case ConditionState(), ConditionState():
            return status.state != target.state
        case _:
            return False


_RANK: Mapping[str, int] = {"out": 0, "hand": 1, "slackened": 1, "tight": 2}


def _must_be_seated(status: PartState, target: PartState) -> bool:
    return status.seat != "fitted" and target.seat == "fitted"


def _moved_from(assembly: Assembly, unit: Unit, status: PartState, target: PartState) -> bool:
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
    status, target = now.status(unit, assembly), start.status(unit, assembly)
    here = status is not None and target is not None
    settled = here and not _differs(assembly, unit, status, target)  # type: ignore[arg-type]
    if not entry.conditional and not settled:
        return Job((unit,), entry, None)
    span = entry.done.act.span
    members = (unit[1],) if unit[1] else ()
    return Job((unit,), entry, WasDone(span, Selection(span, unit[0], members), "removed"))


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


def _both(one: Job, other: Job) -> WasDone | None:
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


# --- Writing a step of the way back -----------------------------------------------------------


def write_job(deeds: Deeds, job: Job, start: State, trail: Sequence[Entry]) -> None:
    """Write out the acts of one step of the way back."""
    thing = deeds.assembly.things[job.units[0][0]]
    if isinstance(thing, Energy):
        restore(deeds, deeds.implied(job.units), ())
        return
    meant = Meant(_target(deeds, job.units, thing), job.units)
    current = start.status(job.units[0], deeds.assembly)
    _WRITERS[type(current)](deeds, meant, start, trail)


def _target(deeds: Deeds, units: Units, thing: AnyThing) -> Target:
    target = deeds.assembly.targets(units)[0]
    return replace(target, age="new") if isinstance(thing, Part) and thing.renew else target


def _write_part(deeds: Deeds, meant: Meant, start: State, trail: Sequence[Entry]) -> None:
    unit = meant.units[0]
    now, before = deeds.state.part(unit), start.part(unit)
    plain = Meant(deeds.assembly.targets(meant.units)[0], meant.units)
    if now.seat != "fitted" and before.seat == "fitted":
        _hold_up(deeds, plain, trail)
        if now.seat == "off" and _moved_from(deeds.assembly, unit, now, before):
            deeds.do(Deed.MOVE, [plain], _to_place(deeds, unit, before))
        if now.seat == "off":
            deeds.do(Deed.FIT, [meant], new=deeds.assembly.things[unit[0]].renew)
        else:
            deeds.do(Deed.MOVE, [plain], (WalkPhrase("back"),))
    elif _moved_from(deeds.assembly, unit, now, before):
        deeds.do(Deed.MOVE, [plain], _to_place(deeds, unit, before))
    _fasten(deeds, deeds.holders(meant.units), start, trail)
    if any(deeds.state.part(u).opened and not start.part(u).opened for u in meant.units):
        deeds.do(Deed.CLOSE, [plain])
    held_up = [u for u in meant.units if deeds.state.part(u).supported]
    if held_up and not before.supported:
        deeds.do(Deed.LET_GO, deeds.implied(held_up))


def _hold_up(deeds: Deeds, meant: Meant, trail: Sequence[Entry]) -> None:
    """Take the weight of what was held up when it came off, in the same way."""
    for entry in reversed(trail):
        if entry.done.act.deed is Deed.REMOVE and meant.units[0] in entry.done.units:
            status = entry.done.before[entry.done.units.index(meant.units[0])]
            was_held = isinstance(status, PartState) and status.supported
            if was_held and not deeds.state.part(meant.units[0]).supported:
                phrases = _phrases_of(trail, Deed.SUPPORT, meant.units[0])
                deeds.do(Deed.SUPPORT, [meant], phrases, why="was held up when it came off")
            return


def _phrases_of(trail: Sequence[Entry], deed: Deed, unit: Unit) -> Phrases:
    for entry in reversed(trail):
        if entry.done.act.deed is deed and unit in entry.done.units:
            return entry.done.act.phrases
    return ()


def _to_place(deeds: Deeds, unit: Unit, status: PartState) -> Phrases:
    place = place_of(deeds.assembly, unit, status)
    if place is None:
        return (WalkPhrase("back"),)
    return (WalkPhrase("to", (Target(place[0], (place[1],) if place[1] else ()),)),)


def _fasten(deeds: Deeds, fasteners: Iterable[Unit], start: State, trail: Sequence[Entry]) -> None:
    """Put fasteners in, tighten and lock them, as far as they were at the start."""
    wanted = [f for f in fasteners if start.fastener(f).hold != "out"]
    out = [f for f in wanted if deeds.state.fastener(f).hold == "out" and deeds.may_go_in(f)]
    for meant in deeds.implied(out):
        deeds.do(
            Deed.START,
            [meant],
            new=deeds.is_renewed(meant.units[0]),
            why=_why(deeds, meant, "was taken out"),
        )
    deeds.lock([f for f in out if not deeds.turns(f)], ask=False)
    slack = [
        f
        for f in wanted
        if deeds.state.fastener(f).hold in ("hand", "slackened")
        and start.fastener(f).hold == "tight"
    ]
    for meant in deeds.implied(slack):
        deeds.do(Deed.TIGHTEN, [meant], _held(trail, meant.units[0]), why="was tight before")
        deeds.lock(meant.units, ask=False)


def _why(deeds: Deeds, meant: Meant, otherwise: str) -> str:
    held = deeds.assembly.held.get(meant.units[0], ())
    return f"holds the {deeds.label(held[0])}" if held else otherwise


def _held(trail: Sequence[Entry], unit: Unit) -> Phrases:
    """Return what was held, and with what, when the fastener was undone."""
    for deed in (Deed.SLACKEN, Deed.UNDO):
        phrases = _phrases_of(trail, deed, unit)
        at = next((n for n, p in enumerate(phrases) if p.word == "holding"), None)
        if at is not None:
            return tuple(p for p in phrases[at:] if p.word in ("holding", "with"))
    return ()


def _write_fastener(deeds: Deeds, meant: Meant, start: State, trail: Sequence[Entry]) -> None:
    unit = meant.units[0]
    if deeds.assembly.locked.get(unit):
        if deeds.state.fastener(unit).hold != "tight":
            deeds.do(Deed.LOCK, [meant], new=deeds.is_renewed(unit))
        return
    _fasten(deeds, meant.units, start, trail)
    deeds.lock([u for u in meant.units if deeds.state.fastener(u).hold == "tight"], ask=False)


def _write_line(deeds: Deeds, meant: Meant, start: State, trail: Sequence[Entry]) -> None:
    unit = meant.units[0]
    if deeds.state.line(unit).connected:
        deeds.do(Deed.MOVE, [meant], (WalkPhrase("back"),))
        return
    deeds.do(Deed.CONNECT, [meant], new=deeds.assembly.things[unit[0]].renew)
    _fasten(deeds, deeds.holders(meant.units), start, trail)


def _write_aid(deeds: Deeds, meant: Meant, start: State, trail: Sequence[Entry]) -> None:
    deeds.do(Deed.TAKE_AID, [meant])


def _write_fluid(deeds: Deeds, meant: Meant, start: State, trail: Sequence[Entry]) -> None:
    deeds.do(Deed.FILL, [meant], new=deeds.assembly.things[meant.units[0][0]].renew)


def _write_condition(deeds: Deeds, meant: Meant, start: State, trail: Sequence[Entry]) -> None:
    target = start.status(meant.units[0], deeds.assembly)
    if isinstance(target, ConditionState):
        deeds.do(Deed.BRING, [meant], state=target.state)


_Writer = Callable[[Deeds, Meant, State, Sequence[Entry]], None]
_WRITERS: Mapping[type, _Writer] = {
    PartState: _write_part,
    FastenerState: _write_fastener,
    LineState: _write_line,
    AidState: _write_aid,
    FluidState: _write_fluid,
    ConditionState: _write_condition,
}


# --- What hangs on a step of the way back -----------------------------------------------------

_GONE = frozenset({"pressure", "shock", "fire", "start-up"})
"""Hazards of what is let out or switched off on the way in; on the way back it is not there."""


def fitting_extras(given: Extras) -> Extras:
    """Return what of a step's attachments still holds when it is undone.

    Safety messages about handling the thing, protective equipment and the number of people; not its
    notes, pictures and times, which tell how it comes off.
    """
    safety = tuple(
        one for one in given.safety if one.signal != "notice" and one.hazard not in _GONE
    )
    return Extras(safety=safety, wear=given.wear, people=given.people)
