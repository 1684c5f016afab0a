"""Source text and exact places in it. All else builds on this; it imports nothing of ours."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass, field

MOST_BYTES = 2 * 1024 * 1024
"""A file of steps bigger than this is a mistake; a long one has some 50 000 bytes."""

LEDGER = "issued.txt"
"""The list of what was issued (`issued/`), at the top of the folder that is compiled."""

KEPT = "issued-steps.txt"
"""What is kept of the latest issues beside the list, for the bars at the margin."""


@dataclass(frozen=True, slots=True)
class Span:
    """A half-open range of characters, `start <= i < end`, in the file named `file`.

    Offsets count characters (code points) of the decoded text, not bytes. `file` is the path as the
    reader knows it, with forward slashes, relative to the folder that is compiled.
    """

    file: str
    start: int
    end: int

    def to(self, other: Span) -> Span:
        """Return the span from the start of this one to the end of `other` (same file)."""
        return Span(self.file, min(self.start, other.start), max(self.end, other.end))


NOWHERE = Span("", 0, 0)
"""The place of things that no line of any file declares (a built-in verb, a derived default)."""


_LINE_END = re.compile(r"\r\n|\r|\n")
"""The line ends of every system, as the parser counts them too."""


@dataclass(frozen=True, slots=True)
class Position:
    """A line and column, both counted from 1, as people and editors say them."""

    line: int
    column: int


@dataclass(frozen=True, slots=True)
class SourceFile:
    """One decoded file: its path and text. Lines are worked out only when something is printed."""

    path: str
    text: str
    _starts: tuple[int, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        starts = [0, *(found.end() for found in _LINE_END.finditer(self.text))]
        object.__setattr__(self, "_starts", tuple(starts))

    def position(self, offset: int) -> Position:
        """Return the line and column of `offset`; an offset past the end gives the end."""
        offset = max(0, min(offset, len(self.text)))
        line = bisect_right(self._starts, offset)
        return Position(line, offset - self._starts[line - 1] + 1)

    def line_text(self, line: int) -> str:
        """Return the text of line number `line` (from 1) without its line ending; '' outside."""
        if not 1 <= line <= len(self._starts):
            return ""
        start = self._starts[line - 1]
        end = self._starts[line] - 1 if line < len(self._starts) else len(self.text)
        return self.text[start:end].removesuffix("\r")

    @property
    def line_count(self) -> int:
        """Return how many lines the text has; the empty text has one."""
        return len(self._starts)
