"""What holds what: the relations of the things on one model, member by member.

A `Unit` is the smallest thing with a state of its own: one member of a set, or a single thing. Two
sets with the same members belong together member by member (`cap-screw[1..3] holds cap` with
`cap[1..3]`); otherwise the whole set is meant.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from compiler.model import AnyThing, Connection, Fastener, Part, Selection
from compiler.walk.nodes import Target

Unit: TypeAlias = tuple[str, str]
"""The key of a thing and one of its members, '' for a single thing."""

Units: TypeAlias = tuple[Unit, ...]
_Relation: TypeAlias = dict[Unit, Units]

LOCATING = frozenset({"dowel pin"})
"""What only locates: it stays where it is when the part is lifted off it (common practice)."""


@dataclass(frozen=True, slots=True)
class Assembly:
    """Relations between units, each from a unit to others in the order of their declaration.

    `holders`: what holds it. `held`: what a fastener holds. `lockers`: what secures a fastener.
    `locked`: what a fastener secures. `carriers`: what carries it. `carried`: what it carries.
    `behind`: what must be out of the way first. `connections`: what is joined to it. `whole`: all
    units of a thing, by its key.
    """

    things: Mapping[str, AnyThing]
    holders: _Relation = field(default_factory=dict)
    held: _Relation = field(default_factory=dict)
    lockers: _Relation = field(default_factory=dict)
    locked: _Relation = field(default_factory=dict)
    carriers: _Relation = field(default_factory=dict)
    carried: _Relation = field(default_factory=dict)
    behind: _Relation = field(default_factory=dict)
    connections: _Relation = field(default_factory=dict)
    joins: _Relation = field(default_factory=dict)
    order: Mapping[str, int] = field(default_factory=dict)
    whole: Mapping[str, Units] = field(default_factory=dict)

    def units(self, key: str, members: Sequence[str] = ()) -> Units:
        """Return the units meant: those members, or all there are; () for an unknown thing."""
        whole = self.whole.get(key, ())
        if not members:
            return whole
        return tuple((key, m) for m in members if (key, m) in whole) or whole

    def units_of(self, target: Target) -> Units:
        """Return the units of a target."""
        return self.units(target.key, target.members)

    def fastener(self, unit: Unit) -> Fastener | None:
        """Return the fastener a unit belongs to, None for anything else."""
        thing = self.things.get(unit[0])
        return thing if isinstance(thing, Fastener) else None

    def part(self, unit: Unit) -> Part | None:
        """Return the part a unit belongs to, None for anything else."""
        thing = self.things.get(unit[0])
        return thing if isinstance(thing, Part) else None

    def home(self, unit: Unit) -> Unit | None:
        """Return the place a part is at normally; None when none is declared."""
        part = self.part(unit)
        if part is None or part.at is None:
            return None
        places = _counterparts(self, unit, part.at)
        return places[0] if len(places) == 1 else None

    def chain(self, unit: Unit) -> Units:
        """Return the unit and all that carries it, from the inside out."""
        found: dict[Unit, None] = {unit: None}
        waiting = [unit]
        while waiting:
            for carrier in self.carriers.get(waiting.pop(0), ()):
                if carrier not in found:
                    found[carrier] = None
                    waiting.append(carrier)
        return tuple(found)

    def load(self, unit: Unit) -> Units:
        """Return the unit and all that it carries."""
        found: dict[Unit, None] = {unit: None}
        waiting = [unit]
        while waiting:
            for carried in self.carried.get(waiting.pop(0), ()):
                if carried not in found:
                    found[carried] = None
                    waiting.append(carried)
        return tuple(found)

    def targets(self, units: Iterable[Unit]) -> tuple[Target, ...]:
        """Return units as targets, those of one thing together; all members is no members."""
        groups: dict[str, list[str]] = {}
        for key, member in units:
            groups.setdefault(key, []).append(member)
        return tuple(self._target(key, members) for key, members in groups.items())

    def _target(self, key: str, members: list[str]) -> Target:
        thing = self.things[key]
        chosen = tuple(m for m in thing.members if m in members)
        return Target(key, () if chosen == thing.members else chosen)


def turns(fastener: Fastener) -> bool:
    """Return whether it is brought home by turning, so that putting it in is not the end of it."""
    what = fastener.designation
    return fastener.tightening is not None or what.threaded or what.kind == "hose clamp"


def locates(fastener: Fastener) -> bool:
    """Return whether it only locates what it is said to hold."""
    return fastener.designation.kind in LOCATING


def build_assembly(things: Mapping[str, AnyThing]) -> Assembly:
    """Return the relations between the units of these things."""
    made = Assembly(
        things,
        order={key: at for at, key in enumerate(things)},
        whole={
            key: tuple((key, member) for member in thing.members or ("",))
            for key, thing in things.items()
        },
    )
    for thing in things.values():
        for unit in made.units(thing.key):
            _relate(made, thing, unit)
    return made


def _relate(made: Assembly, thing: AnyThing, unit: Unit) -> None:
    if isinstance(thing, Fastener):
        _add(made.held, unit, _meant(made, unit, thing.holds))
        for held in made.held.get(unit, ()):
            _add(made.holders, held, (unit,))
        if thing.locks is not None:
            _add(made.locked, unit, _meant(made, unit, (thing.locks,)))
        for locked in made.locked.get(unit, ()):
            _add(made.lockers, locked, (unit,))
    if isinstance(thing, Part) and thing.on is not None:
        _add(made.carriers, unit, _meant(made, unit, (thing.on,)))
        for carrier in made.carriers.get(unit, ()):
            _add(made.carried, carrier, (unit,))
    if isinstance(thing, Connection):
        _add(made.joins, unit, _meant(made, unit, thing.joins))
        for joined in made.joins.get(unit, ()):
            _add(made.connections, joined, (unit,))
    if isinstance(thing, Part | Fastener | Connection):
        _add(made.behind, unit, _meant(made, unit, thing.behind))


def _add(relation: _Relation, unit: Unit, others: Units) -> None:
    fresh = tuple(o for o in others if o != unit and o not in relation.get(unit, ()))
    if fresh:
        relation[unit] = (*relation.get(unit, ()), *fresh)


def _meant(made: Assembly, unit: Unit, selections: Iterable[Selection]) -> Units:
    found: dict[Unit, None] = {}
    for selection in selections:
        found.update(dict.fromkeys(_counterparts(made, unit, selection)))
    return tuple(found)


def _counterparts(made: Assembly, unit: Unit, selection: Selection) -> Units:
    """Return the units of a selection that belong to `unit`."""
    members = tuple(m for m in selection.members if isinstance(m, str))
    source, other = made.things.get(unit[0]), made.things.get(selection.key)
    same = source is not None and other is not None and set(source.members) == set(other.members)
    if same and unit[1] and not members:
        return ((selection.key, unit[1]),)
    return made.units(selection.key, members)
