"""One way through the work: the state it leads to, who touched what last, what was decided."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from compiler.checks.replay.facts import Facts
from compiler.model import When
from compiler.source import Span
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
    Past,
    State,
    Status,
    normal,
)

Core: TypeAlias = frozenset[tuple[Unit, tuple[object, ...]]]
"""What is not normal, by unit, without what is only remembered."""


Aspect: TypeAlias = tuple[Unit, str]

ASPECTS = ("seat", "place", "supported", "opened")
"""What of a part can be otherwise than it belongs, each on its own."""

MOST_WAYS = 12
"""Ways that are followed side by side; beyond them, some go unchecked rather than all slowly."""


@dataclass(frozen=True, slots=True)
class Doing:
    """An act and the step it belongs to."""

    act: Act
    step: StepNode


@dataclass(frozen=True, slots=True)
class Choice:
    """A decision on the way: `taken` is False where the condition did not hold.

    `where` is the prefix of the procedure that decides.
    """

    when: When
    taken: bool
    where: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """One way as far as it has come.

    `last` tells which act changed a unit last, `since` the same for each aspect of a part (its
    `seat`, `place`, whether it is `supported`, `opened`). `choices` are the decisions that still
    make a difference. `blurred` tells what was done to a unit on some of the ways that have met
    in this one, and not on others; the pasts in `state` hold what was done on all of them. `back`
    is the line that the work came back from last.
    """

    state: State
    last: Mapping[Unit, Doing] = field(default_factory=dict)
    since: Mapping[Aspect, Doing] = field(default_factory=dict)
    choices: tuple[Choice, ...] = ()
    facts: Facts = field(default_factory=Facts)
    blurred: frozenset[tuple[Unit, Past]] = frozenset()
    back: Span | None = None

    def choosing(self, when: When, taken: bool, where: str) -> Way:
        """Return this way after a decision that could have gone either way."""
        choices = (*self.choices, Choice(when, taken, where))
        return replace(self, choices=choices, facts=self.facts.told(when, taken, where))


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
    """All ways through a walk. `unreached` are steps that certainly no way comes to."""

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


_USUAL: Mapping[type[Status], tuple[object, ...]] = {
    type(status): core_of(status)
    for status in (
        PartState(),
        FastenerState(),
        EnergyState(),
        FluidState(),
        LineState(),
        AidState(),
    )
}
"""What is normal for all things of a kind; of a condition, its own first state."""


def at_home(unit: Unit, status: Status, assembly: Assembly) -> Status:
    """Return a status in which a part that was moved back to its own place was never away."""
    if isinstance(status, PartState) and status.place is not None:
        return replace(status, place=None) if status.place == assembly.home(unit) else status
    return status


def core(state: State, assembly: Assembly) -> Core:
    """Return what is not normal in a state."""
    found: list[tuple[Unit, tuple[object, ...]]] = []
    for unit, status in state.units.items():
        usual = _USUAL.get(type(status))
        if usual is None:
            thing = assembly.things.get(unit[0])
            expected = normal(thing) if thing is not None else None
            usual = core_of(expected) if expected is not None else ()
        now = core_of(at_home(unit, status, assembly))
        if usual != now:
            found.append((unit, now))
    return frozenset(found)


_AS_BUILT = PartState()


def changed(before: State, after: State, units: Iterable[Unit]) -> Iterator[Aspect]:
    """Yield what of some parts is otherwise in one state than in another."""
    for unit in units:
        one, other = before.units.get(unit, _AS_BUILT), after.units.get(unit)
        if isinstance(one, PartState) and isinstance(other, PartState):
            for aspect in ASPECTS:
                if getattr(one, aspect) != getattr(other, aspect):
                    yield unit, aspect


def merged(ways: Iterable[Way], assembly: Assembly) -> tuple[Way, ...]:
    """Return the ways, those that have come to the same state as one; at most `MOST_WAYS`.

    Only what is the case counts: two ways on which the machine stands alike go on alike.
    """
    by_core: dict[Core, Way] = {}
    for way in ways:
        key = core(way.state, assembly)
        known = by_core.get(key)
        by_core[key] = way if known is None else _met(known, way)
    if len(by_core) <= MOST_WAYS:
        return tuple(by_core.values())
    return tuple(by_core[key] for key in _most_telling(by_core))


def _most_telling(cores: Iterable[Core]) -> list[Core]:
    """Return the states that together show each thing in each of its states, then the first."""
    waiting = list(cores)
    everything = frozenset[tuple[Unit, tuple[object, ...]]]().union(*waiting)
    kept: list[Core] = []
    seen: set[tuple[bool, tuple[Unit, tuple[object, ...]]]] = set()
    while waiting and len(kept) < MOST_WAYS:
        shown = [{(pair in each, pair) for pair in everything} - seen for each in waiting]
        best = max(range(len(waiting)), key=lambda n: len(shown[n]))
        seen |= shown[best]
        kept.append(waiting.pop(best))
    return [each for each in cores if each in kept]


def past_of(status: Status | None) -> frozenset[Past]:
    """Return what was done to a thing; nothing for what keeps no such memory."""
    if isinstance(status, EnergyState | ConditionState | None):
        return frozenset()
    return status.past


def _met(one: Way, other: Way) -> Way:
    if one is other:
        return one
    state, blurred = one.state, one.blurred | other.blurred
    for unit in dict.fromkeys((*one.state.units, *other.state.units)):
        pasts = past_of(one.state.units.get(unit)), past_of(other.state.units.get(unit))
        if pasts[0] != pasts[1]:
            blurred |= {(unit, deed) for deed in pasts[0] ^ pasts[1]}
            state = _with_past(state, unit, pasts[0] & pasts[1])
    return replace(
        one,
        state=state,
        choices=tuple(choice for choice in one.choices if choice in other.choices),
        facts=one.facts.shared(other.facts),
        blurred=blurred,
        back=one.back if one.back == other.back else None,
    )


def _with_past(state: State, unit: Unit, past: frozenset[Past]) -> State:
    status = state.units.get(unit)
    if isinstance(status, EnergyState | ConditionState | None):
        return state
    return state.with_statuses({unit: replace(status, past=past)})
