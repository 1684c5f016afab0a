"""The state of the machine: immutable, and only what is not normal is kept in it.

`change.apply(state, act, assembly)` gives the state after one elementary act. Normal is: parts
fitted, fasteners as tight as they belong, energies live, fluids filled, lines connected, aids out,
conditions in their first state.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
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
from compiler.walk.assembly import Assembly, Unit

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
