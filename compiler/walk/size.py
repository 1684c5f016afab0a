"""Counts the steps a procedure would come to, without writing them out."""

from __future__ import annotations

from compiler.model import (
    Block,
    FollowStep,
    OnlyForBlock,
    Procedure,
    RepeatBlock,
    SectionBlock,
    World,
)
from compiler.walk.things import blocks_within, bodies_of

MOST_STEPS = 20_000
DEEPEST = 40


class Sizes:
    """Sizes of bodies on one model. Each procedure is counted once, whoever follows it.

    A way back that is worked out counts as long as the way in: it cannot be longer.
    """

    def __init__(self, world: World, model: str) -> None:
        self._world = world
        self._model = model
        self._known: dict[tuple[str, str], int] = {}

    def steps(self, block: Block) -> int:
        """Return how many steps one block comes to; what is nested too deep counts as nothing."""
        for key, half in self._unknown((block,)):
            self._count(key, half)
        return self._block(block, 0)

    def half(self, procedure: Procedure, half: str = "") -> int:
        """Return how many steps the whole of a procedure, or half of it, comes to."""
        self._count(procedure.key, half)
        return self._known[procedure.key, half]

    def _count(self, key: str, half: str) -> None:
        """Count a procedure after what it follows; without recursion, for a chain may be long.

        What leads back to itself counts as nothing there: it is reported elsewhere.
        """
        waiting = [(key, half)]
        seen: set[tuple[str, str]] = set()
        while waiting:
            current = waiting[-1]
            body = _body_to_count(self._world.procedures[current[0]], current[1])
            missing = [] if current in seen else self._unknown(body)
            if current not in seen and missing:
                seen.add(current)
                waiting += [one for one in missing if one not in seen]
                continue
            self._known.setdefault(current, self._body(body, 0))
            waiting.pop()

    def _unknown(self, body: tuple[Block, ...]) -> list[tuple[str, str]]:
        """Return the halves that a body follows and that are not counted yet."""
        found = [(b.target, b.half) for b in blocks_within(body) if isinstance(b, FollowStep)]
        return [one for one in found if one not in self._known and one[0] in self._world.procedures]

    def _body(self, body: tuple[Block, ...], depth: int) -> int:
        return sum(self._block(block, depth) for block in body)

    def _block(self, block: Block, depth: int) -> int:
        if isinstance(block, FollowStep):
            return self._known.get((block.target, block.half), 0)
        if depth > DEEPEST:
            return 0
        if isinstance(block, RepeatBlock):
            return len(block.bindings) * self._body(block.body, depth + 1)
        if isinstance(block, OnlyForBlock) and self._model not in block.models:
            return 0
        if not isinstance(block, SectionBlock) and not bodies_of(block):
            return 1
        return sum(self._body(each, depth + 1) for each in bodies_of(block))


def _body_to_count(procedure: Procedure, half: str) -> tuple[Block, ...]:
    """Return the body of a half; a way back that is worked out counts like the way in."""
    return half_of(procedure, half) or (half_of(procedure, "way in") if half else ())


def half_of(procedure: Procedure, half: str) -> tuple[Block, ...]:
    """Return the body of a procedure, or of its way in or its way back alone."""
    if not half:
        return procedure.body
    back = tuple(b for b in procedure.body if isinstance(b, SectionBlock) and b.way_back)
    if half == "way in":
        return tuple(b for b in procedure.body if not any(b is one for one in back))
    return tuple(inner for block in back for inner in block.body)
