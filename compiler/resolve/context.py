"""What the code that resolves one place of a file needs to know about its surroundings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from compiler import model
from compiler.resolve.elsewhere import Folder
from compiler.resolve.pictures import PictureProbe
from compiler.resolve.report import Report
from compiler.resolve.scope import Kind, Scope, Usage
from compiler.source import Span

Binding: TypeAlias = "str | model.Selection | tuple[tuple[str, str | model.Amount], ...]"


@dataclass(frozen=True, slots=True)
class Loop:
    """A variable of a repeat: what it stands for, one value for each time.

    `columns` are given when it stands for a row, `kinds` when it stands for things.
    """

    variable: str
    span: Span
    bindings: tuple[Binding, ...]
    columns: tuple[str, ...] = ()
    kinds: frozenset[Kind] = frozenset()


@dataclass(frozen=True, slots=True)
class Context:
    """Names, loops and models at one place. `user` is the thing on whose behalf names are used.

    `models` are the models that the place is for; () when there are none to tell apart.
    """

    report: Report
    pictures: PictureProbe
    scope: Scope = field(default_factory=Scope)
    usage: Usage = field(default_factory=Usage)
    user: str = ""
    models: tuple[str, ...] = ()
    loops: Mapping[str, Loop] = field(default_factory=dict)
    folder: Folder = field(default_factory=Folder)

    def for_thing(self, key: str) -> Context:
        """Return the surroundings of a thing's own lines."""
        return replace(self, user=key)

    def for_models(self, models: tuple[str, ...]) -> Context:
        """Return the surroundings narrowed to some models."""
        kept = tuple(m for m in self.models if m in models)
        return replace(self, models=kept or self.models)

    def inside(self, loop: Loop) -> Context:
        """Return the surroundings in the body of a repeat."""
        return replace(self, loops={**self.loops, loop.variable: loop})
