"""The plain lines at the head of a file: `machine`, `models`, `author`, `lift limit` and so on.

Which line may stand in which file, and what it takes, was checked when the file was read.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from compiler import syntax

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Head:
    """The lines of one head by their key."""

    lines: Mapping[str, syntax.HeadLine]

    def args(self, key: str, kind: type[T]) -> tuple[T, ...]:
        """Return the arguments of a type on the line with this key, () when there is none."""
        line = self.lines.get(key)
        return tuple(arg for arg in line.args if isinstance(arg, kind)) if line else ()

    def arg(self, key: str, kind: type[T]) -> T | None:
        """Return the first argument of a type."""
        return next(iter(self.args(key, kind)), None)

    def text(self, key: str) -> str:
        """Return the text on the line with this key, '' when there is none."""
        found = self.arg(key, syntax.Text)
        return found.value if found is not None else ""

    def names(self, key: str) -> tuple[syntax.Word | syntax.Text, ...]:
        """Return the words and texts on the line with this key: names of models."""
        line = self.lines.get(key)
        args = line.args if line else ()
        return tuple(arg for arg in args if isinstance(arg, syntax.Word | syntax.Text))


def head(lines: Sequence[syntax.HeadLine]) -> Head:
    """Return the head; of two lines with one key the first counts."""
    kept: dict[str, syntax.HeadLine] = {}
    for line in lines:
        kept.setdefault(line.key, line)
    return Head(kept)
