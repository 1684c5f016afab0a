"""What the wording must know to speak of things: the things themselves and the shop's units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from compiler.model import AnyThing, LoopUse
from compiler.walk.nodes import Target


@dataclass(frozen=True, slots=True)
class Voice:
    """The things on one model, the shop's units, and what the links lead to.

    `machine` is the name of the machine whose page the links lead to ('' for none). `loops` gives
    the words for loop variables inside author's text, `(variable, column)` to words.
    """

    things: Mapping[str, AnyThing]
    units: tuple[str, ...] = ()
    second_units: tuple[str, ...] = ()
    machine: str = ""
    loops: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def thing(self, key: str) -> AnyThing | None:
        """Return a thing, None for one that is not there on this model."""
        return self.things.get(key)

    def anchor(self, thing: AnyThing) -> str:
        """Return the id of a thing on the machine's page; '' for what has none there."""
        on_page = thing.owner == self.machine and self.machine
        return thing.key if on_page else ""

    def loop_words(self, use: LoopUse) -> str:
        """Return what is said for a loop variable in text."""
        known = self.loops.get((use.variable, use.column))
        if known is not None:
            return known
        column = use.column.replace("-", " ")
        return f"the {column} listed" if column else "the one in turn"


def members_meant(thing: AnyThing, target: Target) -> tuple[str, ...]:
    """Return the members meant, in the order of the set; empty for all, for `each`, for no set."""
    if target.each:
        return ()
    if not target.members or set(target.members) == set(thing.members):
        return () if len(thing.members) != 1 else thing.members
    order = {member: at for at, member in enumerate(thing.members)}
    return tuple(sorted(target.members, key=lambda m: order.get(m, len(order))))


def count_meant(thing: AnyThing, target: Target) -> int:
    """Return how many are meant in all; for `each`, how many each time."""
    if target.each:
        return thing.count
    return thing.count * (len(target.members) or len(thing.members) or 1)
