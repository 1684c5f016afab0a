"""Parts a text into lines and works out, from their indentation, which line belongs to which.

Comments, blank lines and line ends of every system are dealt with here. What is wrong with the
indentation is reported with its place; the lines are given a level all the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

MAX_LEVEL = 40
"""How deep lines may be nested: far more than a reader can follow, far less than hurts us."""

TAB = 4
"""How wide a tab counts, so that a file that has them can still be read to its end."""

BOM = "\ufeff"

Slip: TypeAlias = Literal["tab", "odd-space", "first", "flush", "uneven", "deep", "second-file"]


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the language, which may be several lines of the file.

    `start` and `end` are the places of its first and past its last word or sign; comments at the
    end are left out. Level 0 is the first line of the file; a line belongs to the last one before
    it with a smaller level.
    """

    level: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is wrong with the indentation from `start` to `end`; `lines` is how many have it."""

    slip: Slip
    start: int
    end: int
    lines: int = 1


@dataclass(frozen=True, slots=True)
class _Row:
    """One line of the file that is not blank."""

    margin: int
    start: int
    end: int
    goes_on: bool


_ROW = re.compile(r"([^\S\r\n]*)([^\r\n]*)(?:\r\n|\r|\n|\Z)")
_STRAIGHT = r'"(?:[^"\\]|\\.)*'
_CURLY = r'[\u201c\u201e](?:[^\u201c\u201d"\\]|\\.)*'
_CODE = re.compile(rf'(?:[^"\u201c\u201e#]+|{_STRAIGHT}"?|{_CURLY}["\u201c\u201d]?|#(?=[0-9]))*')
_TEXTS = re.compile(rf'{_STRAIGHT}("?)|{_CURLY}(["\u201c\u201d]?)')
_SECOND_FILE = re.compile(
    r'(?:machine|procedure|shop|visit)[^\S\r\n]+[^\s"]+[^\S\r\n]+["\u201c\u201e]'
)


def read_lines(text: str) -> tuple[tuple[Line, ...], tuple[Trouble, ...]]:
    """Return the lines of a text with their levels, and what is wrong with the indentation."""
    rows = tuple(_rows(text))
    levels = _Levels(text)
    lines: list[Line] = []
    number = 0
    while number < len(rows):
        first = last = rows[number]
        number += 1
        # A line that ends in a comma goes on, if the next one stands further in: else the comma is
        # a slip, and the next line is not to blame for it.
        width = levels.width(first)
        while last.goes_on and number < len(rows) and levels.width(rows[number]) > width:
            last = rows[number]
            number += 1
        level = levels.level(first)
        if level is None:
            break
        lines.append(Line(level, first.start, last.end))
    return tuple(lines), levels.troubles()


def _rows(text: str) -> Iterator[_Row]:
    at = len(BOM) if text.startswith(BOM) else 0
    while at < len(text):
        found = _ROW.match(text, at)
        assert found, "the pattern matches any line"
        start = found.start(2)
        content = found[2]
        if "#" in content:
            code = _CODE.match(content)
            assert code, "the pattern matches the empty text"
            content = content[: code.end()]
        content = content.rstrip()
        goes_on = content.endswith(",") and not _is_open(content)
        if content:
            yield _Row(found.start(1), start, start + len(content), goes_on)
        if found.end() == at:
            break
        at = found.end()


def _is_open(code: str) -> bool:
    """Tell whether a text in quotes is still open at the end of a line."""
    return any(not (found[1] or found[2]) for found in _TEXTS.finditer(code))


class _Levels:
    """Keeps the margins of the lines that are open, and what was wrong with any of them."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._margins: list[int] = []
        self._found: list[Trouble] = []
        self._tabs: Trouble | None = None
        self._base: int | None = None
        self._flush = False
        self._deep = False

    def width(self, row: _Row) -> int:
        """Return how wide the margin of a row is."""
        margin = self._text[row.margin : row.start]
        return len(margin.expandtabs(TAB)) if "\t" in margin else len(margin)

    def level(self, row: _Row) -> int | None:
        """Return the level of a row; None for the first line of what should be a second file."""
        self._look_at(row)
        width = self.width(row)
        if not self._margins:
            if width:
                self._note("first", row.margin, row.start)
            self._margins.append(-1)
            return 0
        if self._base is None:
            self._base = width
        if width == 0:
            if _SECOND_FILE.match(self._text, row.start):
                self._note("second-file", row.start, row.end)
                return None
            if not self._flush:
                self._flush = True
                self._note("flush", row.start, row.end)
            # Read as if it stood in line with the others, so that they do not become its block.
            width = self._base
        margins = self._margins
        popped = len(margins) > 1 and margins[-1] >= width
        while margins[-1] >= width:
            last = margins.pop()
        if popped and last != width:
            self._note("uneven", row.start, row.end)
        margins.append(width)
        level = len(margins) - 1
        if level > MAX_LEVEL and not self._deep:
            self._note("deep", row.start, row.end)
        self._deep = level > MAX_LEVEL
        return level

    def troubles(self) -> tuple[Trouble, ...]:
        """Return all that was wrong, in the order of the file."""
        tabs = (self._tabs,) if self._tabs else ()
        return tuple(sorted((*tabs, *self._found), key=lambda trouble: trouble.start))

    def _look_at(self, row: _Row) -> None:
        margin = self._text[row.margin : row.start]
        if "\t" in margin:
            # One message for the file: a file has either one stray tab or nothing else.
            first = self._tabs or Trouble("tab", row.margin, row.start, 0)
            self._tabs = Trouble("tab", first.start, first.end, first.lines + 1)
        elif margin.strip(" "):
            self._note("odd-space", row.margin, row.start)

    def _note(self, slip: Slip, start: int, end: int) -> None:
        self._found.append(Trouble(slip, start, end))
