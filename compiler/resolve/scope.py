"""The names that can be used somewhere, and what they stand for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from compiler import syntax
from compiler.resolve.report import Report
from compiler.source import Span

Kind: TypeAlias = Literal[
    "energy",
    "condition",
    "place",
    "part",
    "fastener",
    "fluid",
    "connection",
    "tool",
    "consumable",
    "aid",
    "role",
    "table",
]

EVERY_KIND: frozenset[Kind] = frozenset(
    (
        "energy",
        "condition",
        "place",
        "part",
        "fastener",
        "fluid",
        "connection",
        "tool",
        "consumable",
        "aid",
        "role",
    )
)
"""All kinds of things; a table is none."""

_WITH_ARTICLE: Mapping[Kind, str] = {
    "energy": "an energy",
    "condition": "a condition",
    "place": "a place",
    "part": "a part",
    "fastener": "a fastener",
    "fluid": "a fluid",
    "connection": "a connection",
    "tool": "a tool",
    "consumable": "a consumable",
    "aid": "an aid",
    "role": "a role",
    "table": "a table",
}

SHARED_KINDS: frozenset[Kind] = frozenset(("tool", "consumable", "aid", "role"))
"""What a shop file lists and a procedure may list again without harm."""


def with_article(kind: Kind) -> str:
    """Return `a part`, `an aid`."""
    return _WITH_ARTICLE[kind]


def one_of(kinds: Iterable[Kind]) -> str:
    """Return `a part or a fastener`, in the order in which kinds are declared."""
    wanted = set(kinds)
    words = [text for kind, text in _WITH_ARTICLE.items() if kind in wanted]
    return " or ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


@dataclass(frozen=True, slots=True)
class Named:
    """What a name stands for. `models` are those that have it; () when all have."""

    key: str
    name: str
    kind: Kind
    span: Span
    owner: str
    members: tuple[str, ...] = ()
    models: tuple[str, ...] = ()
    thing: syntax.Thing | None = None
    columns: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Scope:
    """Names by text. `lost` are words on lines nobody could read: silence about those."""

    names: Mapping[str, Named] = field(default_factory=dict)
    lost: frozenset[str] = frozenset()

    def get(self, name: str) -> Named | None:
        """Return what the name stands for, or None."""
        return self.names.get(name)

    def of(self, kinds: frozenset[Kind]) -> list[str]:
        """Return the names of things of these kinds, sorted."""
        return sorted(name for name, named in self.names.items() if named.kind in kinds)


def layered(layers: Sequence[Scope], report: Report) -> Scope:
    """Put scopes on top of each other, the nearest first, and report names with two meanings.

    A tool, consumable, aid or role of the shop may be listed again: the nearer one counts.
    """
    names: dict[str, Named] = {}
    for layer in layers:
        for name, named in layer.names.items():
            nearer = names.setdefault(name, named)
            if nearer is not named and not _may_repeat(nearer, named):
                duplicate(report, nearer, named)
    return Scope(names, frozenset().union(*(layer.lost for layer in layers)))


def _may_repeat(nearer: Named, farther: Named) -> bool:
    return nearer.kind == farther.kind and nearer.kind in SHARED_KINDS


def duplicate(report: Report, named: Named, other: Named) -> None:
    """Report that `named` uses a name that `other` has already."""
    report.add(
        "duplicate-name",
        named.span,
        f"{named.name} is the name of {with_article(other.kind)} already.",
        (other.span, f"{with_article(other.kind)} is called {named.name} here"),
        hint="Give one of the two another name.",
    )


@dataclass(slots=True)
class Usage:
    """Who uses what: a step (`user` is '') or a thing (`user` is its key)."""

    by_steps: set[str] = field(default_factory=set)
    by_things: dict[str, set[str]] = field(default_factory=dict)

    def note(self, user: str, key: str) -> None:
        """Remember that `user` uses the thing `key`."""
        if not user:
            self.by_steps.add(key)
        elif user != key:
            self.by_things.setdefault(key, set()).add(user)
