"""Looks ahead in the author's lines, so that nothing is implied that is written further down."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from compiler.model import ActionStep, Block, OnlyForBlock, Selection, Step
from compiler.trade.verbs import Effect
from compiler.walk.assembly import Unit
from compiler.walk.things import bodies_of

_FAR = 120
"""So many steps ahead are looked at; a joint is not left open for longer."""

_UNDOES = frozenset({Effect.REMOVE, Effect.SLACKEN, Effect.REPLACE})


@dataclass(frozen=True, slots=True)
class Ahead:
    """The rest of a body after one block of it, and what comes after that body.

    `key` is that of the procedure that the body belongs to.
    """

    body: tuple[Block, ...] = ()
    at: int = 0
    then: Ahead | None = None
    model: str = ""
    key: str = ""

    def steps(self) -> Iterator[Step]:
        """Yield the next steps in the order of the file."""
        left = _FAR
        here: Ahead | None = self
        while here is not None:
            for step in _flat(here.body, here.model, here.at):
                if left == 0:
                    return
                left -= 1
                yield step
            here = here.then

    def locks(self, locker: str, locked: Iterable[Unit]) -> bool:
        """Return whether the author secures this before it is undone again."""
        keys = {locker, *(unit[0] for unit in locked)}
        for step in self.steps():
            if not isinstance(step, ActionStep) or not keys & set(keys_of(step)):
                continue
            if step.verb.effect is Effect.LOCK:
                return True
            if step.verb.effect in _UNDOES or step.verb.effect is Effect.UNLOCK:
                return False
            if step.verb.effect in (Effect.FIT, Effect.TIGHTEN) and locker in keys_of(step):
                return True
        return False

    def fits(self, fastener: str) -> bool:
        """Return whether the author puts this fastener in before it is tightened or undone."""
        for step in self.steps():
            if not isinstance(step, ActionStep) or fastener not in keys_of(step):
                continue
            if step.verb.effect is Effect.FIT:
                return True
            if step.verb.effect in _UNDOES or step.verb.effect is Effect.TIGHTEN:
                return False
        return False


def keys_of(step: ActionStep) -> tuple[str, ...]:
    """Return the keys of the things a step names; loop variables name none here."""
    return tuple(t.key for t in step.targets if isinstance(t, Selection))


def _flat(body: tuple[Block, ...], model: str, start: int = 0) -> Iterator[Step]:
    for at in range(start, len(body)):
        block = body[at]
        inner = bodies_of(block)
        if inner:
            if not isinstance(block, OnlyForBlock) or not block.models or model in block.models:
                for each in inner:
                    yield from _flat(each, model)
        elif isinstance(block, Step) and (not block.only_for or model in block.only_for):
            yield block
