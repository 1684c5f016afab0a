"""The state at the start: everything normal, but for what `starts with` and `needs` say."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from compiler.model import EndState, Selection
from compiler.walk.assembly import Assembly, Unit, locates, turns
from compiler.walk.state import (
    ISOLATED,
    AidState,
    ConditionState,
    EnergyState,
    FastenerState,
    FluidState,
    LineState,
    PartState,
    State,
    Status,
    normal,
)

_HOLDS: Mapping[str, FastenerState] = {
    "torqued": FastenerState("tight"),
    "hand-tight": FastenerState("tight", how="hand-tight"),
    "slackened": FastenerState("slackened"),
    "out": FastenerState("out"),
}


def initial_state(assembly: Assembly, ends: Iterable[EndState]) -> State:
    """Return the state a procedure starts in. Without a part, what holds it is out as well."""
    units: dict[Unit, Status] = {}
    said: set[Unit] = set()
    for end in ends:
        if end.kind == "leaves":
            continue
        for unit in _units(assembly, end.subject):
            status = _status(assembly, end, unit, units.get(unit))
            if status is not None:
                units[unit] = status
                said.add(unit)
    state = State(units)
    for unit in list(units):
        state = _without(assembly, state, unit, said)
    return state


def _units(assembly: Assembly, selection: Selection) -> tuple[Unit, ...]:
    return assembly.units(selection.key, [m for m in selection.members if isinstance(m, str)])


def _status(assembly: Assembly, end: EndState, unit: Unit, before: Status | None) -> Status | None:
    """Return the state of one unit that an end line names; None when it makes no sense for it."""
    current = before if before is not None else normal(assembly.things[unit[0]])
    word = end.state
    match current:
        case PartState():
            if word == "at" and end.place is not None:
                place = _units(assembly, end.place)
                return PartState(current.seat, place[0]) if place else current
            seats: Mapping[str, PartState] = {
                "fitted": PartState("fitted", current.place),
                "off": PartState("off", current.place),
                "aside": PartState("aside", current.place),
                "open": PartState("fitted", current.place, opened=True),
            }
            return seats.get(word)
        case FastenerState():
            fastener = assembly.fastener(unit)
            if word == "fitted" and fastener is not None:
                return FastenerState("hand" if turns(fastener) else "tight")
            return _HOLDS.get(word)
        case EnergyState():
            return ISOLATED if word == "isolated" else EnergyState()
        case FluidState():
            return FluidState(filled=word == "filled")
        case LineState():
            return LineState(connected=word == "connected")
        case AidState():
            return AidState(inside=word == "in")
        case ConditionState():
            return ConditionState(word)
        case _:
            return None


def _without(assembly: Assembly, state: State, unit: Unit, said: set[Unit]) -> State:
    """Return the state with what holds or locks the unit out, unless a line says otherwise."""
    status = state.units[unit]
    off = isinstance(status, PartState) and status.seat == "off"
    if off or (isinstance(status, LineState) and not status.connected):
        loose = assembly.holders.get(unit, ())
    elif isinstance(status, FastenerState) and status.hold in ("slackened", "hand", "out"):
        loose = assembly.lockers.get(unit, ())
    else:
        return state
    for other in loose:
        fastener = assembly.fastener(other)
        if fastener is None or other in said or locates(fastener):
            continue
        said.add(other)
        turned_back = isinstance(status, FastenerState) and turns(fastener)
        state = state.with_statuses({other: FastenerState("slackened" if turned_back else "out")})
        state = _without(assembly, state, other, said)
    return state
