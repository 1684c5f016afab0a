"""Writes out one job of the way back: the acts that undo it, and what hangs on it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from compiler.model import AnyThing, Energy, Extras, Handling, Part, Safety
from compiler.walk.assembly import Assembly, Unit, Units
from compiler.walk.deeds import Deeds, Meant, Phrases
from compiler.walk.isolate import restore
from compiler.walk.nodes import Deed, Target, WalkPhrase
from compiler.walk.state import (
    AidState,
    ConditionState,
    FastenerState,
    FluidState,
    LineState,
    PartState,
    State,
)
from compiler.walk.wayback import UNDONE, Entry, Job, moved_from, place_of


def write_job(deeds: Deeds, job: Job, start: State, trail: Sequence[Entry]) -> None:
    """Write out the acts of one job of the way back."""
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
        if now.seat == "off" and moved_from(deeds.assembly, unit, now, before):
            deeds.do(Deed.MOVE, [plain], _to_place(deeds, unit, before))
        if now.seat == "off":
            deeds.do(Deed.FIT, [meant], new=deeds.assembly.things[unit[0]].renew)
        else:
            deeds.do(Deed.MOVE, [plain], (WalkPhrase("back"),))
    elif moved_from(deeds.assembly, unit, now, before):
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


def fitting_extras(steps: Iterable[Extras]) -> Extras:
    """Return what of the attachments of some steps still holds when these are undone.

    Safety messages about handling the thing, protective equipment, the number of people and how it
    is lifted, up or down; not notes, pictures and times, which tell how it comes off.
    """
    safety: dict[Safety, None] = {}
    wear: dict[str, None] = {}
    handling: dict[Handling, None] = {}
    people = 0
    for given in steps:
        safety.update(
            (one, None)
            for one in given.safety
            if one.signal != "notice" and one.hazard not in _GONE
        )
        wear.update(dict.fromkeys(given.wear))
        handling.update(dict.fromkeys(given.handling))
        people = max(people, given.people)
    return Extras(safety=tuple(safety), wear=tuple(wear), people=people, handling=tuple(handling))


def extras_of_job(assembly: Assembly, job: Job, trail: Iterable[Entry]) -> Extras:
    """Return what hangs on a step of the way back: that of all steps that took its things off."""
    about = set(job.units)
    for unit in job.units:
        for holder in assembly.holders.get(unit, ()):
            about |= {holder, *assembly.lockers.get(holder, ())}
        about.update(assembly.lockers.get(unit, ()))
    steps = {
        entry.node_id: entry.extras
        for entry in trail
        if entry.done.act.deed in UNDONE and about.intersection(entry.done.units)
    }
    return fitting_extras(steps.values())
