"""The clauses of a declared thing on one model.

Which clause may stand on what, how often, and what it takes, was checked when the file was read.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from compiler import syntax
from compiler.resolve.report import Report

T = TypeVar("T")

_TIGHTNESS = frozenset(("torque", "hand-tight", "snug"))
_PATTERN = frozenset(("star", "from-the-middle", "circular", "order"))
_LAYOUT = frozenset(("circle", "rectangle", "positions"))
_VALUE = frozenset(("sizes", "range"))
_TURNED_BY = frozenset(("across-flats", "hex-key"))
_GRASP = frozenset(("good-grasp", "fair-grasp"))
_GROUPS = (_TIGHTNESS, _PATTERN, _LAYOUT, _VALUE, _TURNED_BY, _GRASP)


def group_of(key: str) -> frozenset[str]:
    """Return the clauses of which one replaces another: `snug` replaces `torque …`."""
    return next((group for group in _GROUPS if key in group), frozenset((key,)))


@dataclass(frozen=True, slots=True)
class Clauses:
    """The clauses of one thing, in the order of the file."""

    items: tuple[syntax.Clause, ...]

    def get(self, *keys: str) -> syntax.Clause | None:
        """Return the first clause with one of these keys."""
        return next((clause for clause in self.items if clause.key in keys), None)

    def has(self, key: str) -> bool:
        """Return whether there is such a clause."""
        return self.get(key) is not None

    def args(self, key: str, kind: type[T]) -> tuple[T, ...]:
        """Return the arguments of a type of all clauses with this key."""
        found = (arg for clause in self.items if clause.key == key for arg in clause.args)
        return tuple(arg for arg in found if isinstance(arg, kind))

    def arg(self, key: str, kind: type[T]) -> T | None:
        """Return the first argument of a type of the clauses with this key."""
        return next(iter(self.args(key, kind)), None)

    def texts(self, key: str) -> tuple[str, ...]:
        """Return the texts of a clause as they stand."""
        return tuple(text.value for text in self.args(key, syntax.Text))

    def text(self, key: str) -> str:
        """Return the first text of a clause, '' when there is none."""
        return next(iter(self.texts(key)), "")

    def with_others(self, others: Iterable[syntax.Clause]) -> Clauses:
        """Return the clauses with others put in the place of those they replace."""
        added = tuple(others)
        replaced = frozenset[str]().union(*(group_of(clause.key) for clause in added))
        kept = tuple(clause for clause in self.items if clause.key not in replaced)
        return Clauses((*kept, *added))


def checked(report: Report, clauses: Sequence[syntax.Clause], *, once: bool = False) -> Clauses:
    """Return the clauses without those that contradict an earlier one, which are reported.

    `once`: none may stand twice, either; on a thing that is told when the file is read.
    """
    kept: list[syntax.Clause] = []
    for clause in clauses:
        first = _against(kept, clause, once)
        if first is None:
            kept.append(clause)
            continue
        again = first.key == clause.key
        report.add(
            "duplicate-name",
            clause.span,
            f"`{words(clause)}` stands twice here."
            if again
            else f"`{words(clause)}` contradicts `{words(first)}`.",
            (first.span, "said here"),
            hint="Keep one of them.",
        )
    return Clauses(tuple(kept))


def _against(
    kept: Sequence[syntax.Clause], clause: syntax.Clause, once: bool
) -> syntax.Clause | None:
    others = group_of(clause.key) - (frozenset() if once else {clause.key})
    return next((other for other in kept if other.key in others), None)


def words(clause: syntax.Clause) -> str:
    """Return the key of a clause as the author writes it."""
    hyphened = ("hand-tight", "left-hand", "counter-hold")
    return clause.key if clause.key in hyphened else clause.key.replace("-", " ")
