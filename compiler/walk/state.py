"""The state of the machine: immutable, and only what is not normal is kept in it.

`apply(state, act, assembly)` gives the state after one elementary act. Normal is: parts fitted,
fasteners as tight as they belong, energies live, fluids filled, lines connected, aids out,
conditions in their first state.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

from compiler.model import (
    Aid,
    Amount,
    AnyThing,
    Condition,
    Connection,
    Energy,
    Fastener,
    Fluid,
    Part,
)
from compiler.walk.assembly import Assembly, Unit, turns
from compiler.walk.nodes import Act, Deed, Target

Past: TypeAlias = Literal["removed", "fitted", "renewed"]
Hold: TypeAlias = Literal["tight", "slackened", "hand", "out"]
Seat: TypeAlias = Literal["fitted", "off", "aside"]


@dataclass(frozen=True, slots=True)
class PartState:
    """`fitted` means on its carrier or on the machine. `place` is None for the normal place."""

    seat: Seat = "fitted"
    place: Unit | None = None
    supported: bool = False
    opened: bool = False
    new: bool = False
    past: frozenset[Past] = frozenset()


@dataclass(frozen=True, slots=True)
class FastenerState:
    """`tight` is as it belongs; what does not turn is tight when it is in.

    `to` and `how` say to what, when the line that tightened it says something else than the thing.
    """

    hold: Hold = "tight"
    to: Amount | None = None
    how: Literal["", "hand-tight", "snug"] = ""
    new: bool = False
    past: frozenset[Past] = frozenset()


@dataclass(frozen=True, slots=True)
class EnergyState:
    """How far an energy is isolated; all False is live."""

    stopped: bool = False
    isolated: bool = False
    locked: bool = False
    discharged: bool = False
    verified: bool = False


@dataclass(frozen=True, slots=True)
class FluidState:
    """Whether it is in, and what was done since the system was last opened."""

    filled: bool = True
    new: bool = False
    bled: bool = False
    tested: bool = False
    past: frozenset[Past] = frozenset()


@dataclass(frozen=True, slots=True)
class LineState:
    """A cable, hose or pipe."""

    connected: bool = True
    aside: bool = False
    new: bool = False
    past: frozenset[Past] = frozenset()


@dataclass(frozen=True, slots=True)
class AidState:
    """Whether an aid is in."""

    inside: bool = False
    past: frozenset[Past] = frozenset()


@dataclass(frozen=True, slots=True)
class ConditionState:
    """The state a condition is in, by its word."""

    state: str


Status: TypeAlias = (
    PartState | FastenerState | EnergyState | FluidState | LineState | AidState | ConditionState
)

_NORMAL_PART, _NORMAL_FASTENER = PartState(), FastenerState()
_NORMAL_ENERGY, _NORMAL_FLUID = EnergyState(), FluidState()
_NORMAL_LINE, _NORMAL_AID = LineState(), AidState()
ISOLATED = EnergyState(True, True, True, True, True)


def normal(thing: AnyThing) -> Status | None:
    """Return the normal state of a thing; None for what has no state (a tool, a place)."""
    match thing:
        case Part():
            return _NORMAL_PART
        case Fastener():
            return _NORMAL_FASTENER
        case Energy():
            return _NORMAL_ENERGY
        case Fluid():
            return _NORMAL_FLUID
        case Connection():
            return _NORMAL_LINE
        case Aid():
            return _NORMAL_AID
        case Condition():
            return ConditionState(thing.states[0][0] if thing.states else "")
        case _:
            return None


@dataclass(frozen=True, slots=True)
class State:
    """What is not normal, by unit.

    `maybe` holds another state a unit may be in, where a branch was taken or not.
    """

    units: Mapping[Unit, Status] = field(default_factory=dict)
    maybe: Mapping[Unit, Status] = field(default_factory=dict)

    def status(self, unit: Unit, assembly: Assembly) -> Status | None:
        """Return the state of any unit; None for what has none."""
        found = self.units.get(unit)
        if found is not None:
            return found
        thing = assembly.things.get(unit[0])
        return normal(thing) if thing is not None else None

    def part(self, unit: Unit) -> PartState:
        """Return the state of a part."""
        found = self.units.get(unit, _NORMAL_PART)
        return found if isinstance(found, PartState) else _NORMAL_PART

    def fastener(self, unit: Unit) -> FastenerState:
        """Return the state of a fastener."""
        found = self.units.get(unit, _NORMAL_FASTENER)
        return found if isinstance(found, FastenerState) else _NORMAL_FASTENER

    def energy(self, unit: Unit) -> EnergyState:
        """Return the state of an energy."""
        found = self.units.get(unit, _NORMAL_ENERGY)
        return found if isinstance(found, EnergyState) else _NORMAL_ENERGY

    def fluid(self, unit: Unit) -> FluidState:
        """Return the state of a fluid."""
        found = self.units.get(unit, _NORMAL_FLUID)
        return found if isinstance(found, FluidState) else _NORMAL_FLUID

    def line(self, unit: Unit) -> LineState:
        """Return the state of a cable, hose or pipe."""
        found = self.units.get(unit, _NORMAL_LINE)
        return found if isinstance(found, LineState) else _NORMAL_LINE

    def aid(self, unit: Unit) -> AidState:
        """Return the state of an aid."""
        found = self.units.get(unit, _NORMAL_AID)
        return found if isinstance(found, AidState) else _NORMAL_AID

    def with_statuses(self, changed: Mapping[Unit, Status]) -> State:
        """Return the state with some units in another state, now the only possible one for them."""
        if not changed:
            return self
        maybe = {u: s for u, s in self.maybe.items() if u not in changed} if self.maybe else {}
        return State({**self.units, **changed}, maybe)

    def away(self, unit: Unit, assembly: Assembly) -> bool:
        """Return whether a part is out of the way, or a line disconnected."""
        if isinstance(assembly.things.get(unit[0]), Connection):
            line = self.line(unit)
            return not line.connected or line.aside
        return self.part(unit).seat != "fitted"

    def gone(self, unit: Unit, assembly: Assembly) -> bool:
        """Return whether it, or something that carries it, is out of the way."""
        return any(self.away(each, assembly) for each in assembly.chain(unit))


def joined(first: State, others: Iterable[State], assembly: Assembly) -> State:
    """Return `first`, and where the other states differ from it, what else may be the case."""
    maybe: dict[Unit, Status] = dict(first.maybe)
    for other in others:
        for unit in (*first.units, *other.units):
            status = other.status(unit, assembly)
            if status is not None and status != first.status(unit, assembly):
                maybe.setdefault(unit, status)
        for unit, status in other.maybe.items():
            if status != first.status(unit, assembly):
                maybe.setdefault(unit, status)
    return State(first.units, maybe)


# --- What each deed does ----------------------------------------------------------------------

_Change: TypeAlias = Callable[[Status, Act], Status]


def _part(change: Callable[[PartState, Act], PartState]) -> _Change:
    return lambda status, act: change(status, act) if isinstance(status, PartState) else status


def _fastener(change: Callable[[FastenerState, Act], FastenerState]) -> _Change:
    return lambda s, act: change(s, act) if isinstance(s, FastenerState) else s


def _energy(**fields: bool) -> _Change:
    return lambda s, act: replace(s, **fields) if isinstance(s, EnergyState) else s


def _is_new(act: Act) -> bool:
    return act.new_part or any(isinstance(t, Target) and t.age == "new" for t in act.targets)


def _past(past: frozenset[Past], *deeds: Past, new: bool = False) -> frozenset[Past]:
    return past.union(deeds, ("renewed",) if new else ())


def _fit(s: PartState, act: Act) -> PartState:
    new = _is_new(act)
    return replace(s, seat="fitted", new=new or s.new, past=_past(s.past, "fitted", new=new))


def _remove(s: PartState, act: Act) -> PartState:
    return replace(s, seat="off", opened=False, new=False, past=_past(s.past, "removed"))


def _undo(s: FastenerState, act: Act) -> FastenerState:
    return FastenerState("out", past=_past(s.past, "removed"))


def _tighten(s: FastenerState, act: Act) -> FastenerState:
    to: Amount | None = None
    how: Literal["", "hand-tight", "snug"] = ""
    for phrase in act.phrases:
        if phrase.word == "to":
            to = next((o for o in phrase.operands if isinstance(o, Amount)), to)
        elif phrase.word == "hand-tight":
            how = "hand-tight"
        elif phrase.word == "snug":
            how = "snug"
    return replace(s, hold="tight", to=to, how=how)


def _put(hold: Hold) -> _Change:
    def change(s: FastenerState, act: Act) -> FastenerState:
        new = _is_new(act)
        return FastenerState(hold, new=new or s.new, past=_past(s.past, "fitted", new=new))

    return _fastener(change)


def _line(s: Status, act: Act, connected: bool) -> Status:
    if not isinstance(s, LineState):
        return s
    new = connected and _is_new(act)
    past = _past(s.past, "fitted" if connected else "removed", new=new)
    return LineState(connected, False, new or (s.new and connected), past)


def _fluid(s: Status, act: Act, filled: bool) -> Status:
    if not isinstance(s, FluidState):
        return s
    new = filled and _is_new(act)
    past = _past(s.past, "fitted" if filled else "removed", new=new)
    return FluidState(filled, new, past=past)


def _opened(s: Status, opened: bool) -> Status:
    return replace(s, opened=opened) if isinstance(s, PartState) else s


def _aside(s: Status, act: Act) -> Status:
    if isinstance(s, PartState):
        return replace(s, seat="aside")
    return replace(s, aside=True) if isinstance(s, LineState) else s


def _aid(s: Status, inside: bool) -> Status:
    if not isinstance(s, AidState):
        return s
    return AidState(inside, _past(s.past, "fitted" if inside else "removed"))


def _moved(s: Status, act: Act) -> Status:
    """Moved to a place, or from aside back to where it belongs."""
    if any(p.word == "back" and not p.operands for p in act.phrases):
        if isinstance(s, LineState):
            return replace(s, aside=False)
        return replace(s, seat="fitted") if isinstance(s, PartState) else s
    places = [
        (o.key, o.members[0] if o.members else "")
        for p in act.phrases
        if p.word == "to"
        for o in p.operands
        if isinstance(o, Target)
    ]
    if not places or not isinstance(s, PartState):
        return s
    return replace(s, place=places[0])


def _checked(s: Status, *, bled: bool) -> Status:
    if not isinstance(s, FluidState):
        return s
    return replace(s, bled=True) if bled else replace(s, tested=True)


_CHANGES: Mapping[Deed, _Change] = {
    Deed.SLACKEN: _fastener(lambda s, act: replace(s, hold="slackened", to=None, how="")),
    Deed.UNDO: _fastener(_undo),
    Deed.TIGHTEN: _fastener(_tighten),
    Deed.REMOVE: _part(_remove),
    Deed.FIT: _part(_fit),
    Deed.TRANSFER: _part(lambda s, act: replace(s, seat="fitted", past=_past(s.past, "fitted"))),
    Deed.SUPPORT: _part(lambda s, act: replace(s, supported=True)),
    Deed.LET_GO: _part(lambda s, act: replace(s, supported=False)),
    Deed.OPEN: lambda s, act: _opened(s, True),
    Deed.CLOSE: lambda s, act: _opened(s, False),
    Deed.ASIDE: _aside,
    Deed.MOVE: _moved,
    Deed.SHUT_DOWN: _energy(stopped=True),
    Deed.ISOLATE: _energy(isolated=True),
    Deed.LOCK_OUT: _energy(locked=True),
    Deed.DISCHARGE: _energy(discharged=True),
    Deed.VERIFY: _energy(verified=True),
    Deed.UNLOCK_OUT: _energy(locked=False),
    Deed.ENERGIZE: lambda s, act: EnergyState() if isinstance(s, EnergyState) else s,
    Deed.PUT_AID: lambda s, act: _aid(s, True),
    Deed.TAKE_AID: lambda s, act: _aid(s, False),
    Deed.DRAIN: lambda s, act: _fluid(s, act, False),
    Deed.FILL: lambda s, act: _fluid(s, act, True),
    Deed.BLEED: lambda s, act: _checked(s, bled=True),
    Deed.LEAK_TEST: lambda s, act: _checked(s, bled=False),
    Deed.CONNECT: lambda s, act: _line(s, act, True),
    Deed.DISCONNECT: lambda s, act: _line(s, act, False),
    Deed.BRING: lambda s, act: (
        ConditionState(act.state) if isinstance(s, ConditionState) and act.state else s
    ),
}


def _change_of(act: Act, thing: AnyThing) -> _Change | None:
    """Return what the deed does to this thing; putting in and locking hang on whether it turns."""
    if act.deed in (Deed.START, Deed.LOCK, Deed.UNLOCK) and isinstance(thing, Fastener):
        if act.deed is Deed.START:
            return _put("hand" if turns(thing) else "tight")
        if act.deed is Deed.LOCK:
            return _put("tight")
        return _CHANGES[Deed.SLACKEN if turns(thing) else Deed.UNDO]
    return _CHANGES.get(act.deed)


def apply(state: State, act: Act, assembly: Assembly) -> State:
    """Return the state after an act. What is not known or has no state is passed over."""
    changed: dict[Unit, Status] = {}
    for target in act.targets:
        if not isinstance(target, Target):
            continue
        thing = assembly.things.get(target.key)
        change = _change_of(act, thing) if thing is not None else None
        if change is None:
            continue
        for unit in assembly.units_of(target):
            before = state.status(unit, assembly)
            if before is not None:
                changed[unit] = change(before, act)
    return state.with_statuses(changed)
