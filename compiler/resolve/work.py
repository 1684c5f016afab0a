"""What the steps of one procedure share while they are resolved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from compiler import syntax
from compiler.resolve.context import Context, Loop
from compiler.resolve.ids import Ids
from compiler.resolve.labels import Labels
from compiler.source import Span
from compiler.trade.verbs import Verb


@dataclass(frozen=True, slots=True)
class Follows:
    """A procedure or block that can be followed: its key, where it is, its models (() for all)."""

    key: str
    name: str
    span: Span
    models: tuple[str, ...] = ()
    machine: str = ""


@dataclass(frozen=True, slots=True)
class Work:
    """Names, ids and verbs of one procedure. `can_follow` maps what may be written to what it is.

    `machine` is the name of the machine it is for, '' for none.
    """

    ctx: Context
    labels: Labels
    ids: Ids
    verbs: Mapping[str, Verb]
    can_follow: Mapping[str, Follows]
    machine: str = ""

    def inside(self, loop: Loop) -> Work:
        """Return the same in the body of a repeat."""
        return replace(self, ctx=self.ctx.inside(loop))

    def for_models(self, models: tuple[str, ...]) -> Work:
        """Return the same, narrowed to some models."""
        return replace(self, ctx=self.ctx.for_models(models)) if models else self


def step_id(work: Work, trailer: syntax.Trailer, base: str) -> str:
    """Return the id of a step: the name it was given, or one made from what it does."""
    if trailer.name is not None:
        return work.ids.given(trailer.name.text)
    return work.ids.made(base)
