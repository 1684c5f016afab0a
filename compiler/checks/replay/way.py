"""One way through the work: the state it leads to, who touched what last, what was decided."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from compiler.checks.replay.facts import Facts
from compiler.model import When
from compiler.walk.assembly import Assembly, Unit
from compiler.walk.nodes import Act, StepNode
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
    normal,
)

Core: TypeAlias = frozenset[tuple[Unit, tuple[object, ...]]]
"""What is not normal, by unit, without what is only remembered."""


@dataclass(frozen=True, slots=True)
class Doing:
    """An act and the step it belongs to."""

    act: Act
    step: StepNode


@dataclass(frozen=True, slots=True)
class Choice:
    """A decision on the way: `taken` is False where the condition did not hold."""

    when: When
    taken: bool


@dataclass(frozen=True, slots=True)
class Way:
    """One way as far as it has come.

    `last` tells which act changed a unit last. `choices` are the decisions that still make a
    difference. `blurred` are units whose past differs between ways that have met again.
    """

    state: State
    last: Mapping[Unit, Doing] = field(default_factory=dict)
    choices: tuple[Choice, ...] = ()
    facts: Facts = field(default_factory=Facts)
    blurred: frozenset[Unit] = frozenset()

    def choosing(self, when: When, taken: bool) -> Way:
        """Return this way after a decision that could have gone either way."""
        choices = (*self.choices, Choice(when, taken))
        return replace(self, choices=choices, facts=self.facts.told(when, taken))


@dataclass(frozen=True, slots=True)
class Moment:
    """One act on one way: the way before it and after it."""

    doing: Doing
    before: Way
    after: Way


@dataclass(frozen=True, slots=True)
class Ending:
    """The end of one way; `stopped` where a line ends the work or hands it over."""

    way: Way
    stopped: bool = False


@dataclass(frozen=True, slots=True)
class Replay:
    """All ways through a walk. `unreached` are steps that no way comes to."""

    start: State
    assembly: Assembly
    moments: tuple[Moment, ...]
    endings: tuple[Ending, ...]
    unreached: tuple[StepNode, ...] = ()


def core_of(status: Status) -> tuple[object, ...]:
    """Return what of a status is the case now, without what is remembered."""
    match status:
        case PartState():
            return (status.seat, status.place, status.supported, status.opened)
        case FastenerState():
            return (status.hold, status.to, status.how)
        case EnergyState():
            return (status.isolated, status.locked, status.discharged, status.verified)
        case FluidState():
            return (status.filled,)
        case LineState():
            return (status.connected, status.aside)
        case AidState():
            return (status.inside,)
        case ConditionState():
            return (status.state,)


def at_home(unit: Unit, status: Status, assembly: Assembly) -> Status:
    """Return a status in which a part that was moved back to its own place was never away."""
    if isinstance(status, PartState) and status.place is not None:
        return replace(status, place=None) if status.place == assembly.home(unit) else status
    return status


def core(state: State, assembly: Assembly) -> Core:
    """Return what is not normal in a state."""
    found: list[tuple[Unit, tuple[object, ...]]] = []
    for unit, status in state.units.items():
        thing = assembly.things.get(unit[0])
        usual = normal(thing) if thing is not None else None
        now = core_of(at_home(unit, status, assembly))
        if usual is None or core_of(usual) != now:
            found.append((unit, now))
    return frozenset(found)


def merged(ways: Iterable[Way], assembly: Assembly, most: int) -> tuple[Way, ...]:
    """Return the ways, those that have come to the same state as one; never more than `most`.

    Only what is the case counts: two ways on which the machine stands alike go on alike.
    """
    by_core: dict[Core, Way] = {}
    for way in ways:
        key = core(way.state, assembly)
        known = by_core.get(key)
        by_core[key] = way if known is None else _met(known, way)
    return tuple(by_core.values())[:most]


def _met(one: Way, other: Way) -> Way:
    if one is other:
        return one
    changed = {
        unit
        for unit in (*one.state.units, *other.state.units)
        if one.state.units.get(unit) != other.state.units.get(unit)
    }
    shared = tuple(choice for choice in one.choices if choice in other.choices)
    return Way(
        one.state,
        one.last,
        shared,
        one.facts.shared(other.facts),
        one.blurred | other.blurred | changed,
    )
