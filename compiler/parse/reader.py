"""Takes a file line by line through the parser; a line that cannot be read is left out and told.

A slip costs its own line and what is indented below it, no more: the parser steps back to where
the line began, a LOST mark takes the line's place, and reading goes on with the next one. So the
work grows with the size of the file only, whatever is in it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

from compiler import syntax as s
from compiler.parse.build import Builder, value_of
from compiler.parse.examples import BLOCK_WORDS
from compiler.parse.indent import MAX_LEVEL, Line
from compiler.parse.lexer import OPEN_TEXT, Lexeme, load_lexer
from compiler.parse.machine import Build, Machine
from compiler.parse.remarks import Remark
from compiler.parse.table import load_table
from compiler.source import Span
from compiler.trade.verbs import VERBS

MAX_SLIPS = 50
"""After so many lines that cannot be read the rest is not looked at."""

_WORD = re.compile(r"[^\W\d_](?:[^\W_]|-(?=[^\W_]))*")
_ORPHAN = re.compile(r"otherwise(?![\w-])")
_BRANCH = re.compile(r"(?:if|otherwise)(?![\w-])")
_KIND = re.compile(r"(machine|procedure|shop|visit)[^\S\r\n]+([^\W\d_](?:[^\W_]|-(?=[^\W_]))*)")


@dataclass(frozen=True, slots=True)
class Slip:
    """A line that could not be read: `met` is the word at which it stopped making sense.

    `before` are the words of the line up to there; `could` the terminals that might have stood
    there; `parent` is the line it stands under. `kind` tells an end that came too early, a line
    that is indented under one that takes nothing below it (`nested`), and a line that was read as
    an action but has a block of something else below it (`parent`).
    """

    kind: Literal["word", "end", "nested", "parent", "first", "too-many"]
    line: Line
    met: Lexeme
    before: tuple[Lexeme, ...] = ()
    could: frozenset[str] = frozenset()
    parent: Line | None = None


@dataclass(slots=True)
class Reading:
    """What came of a file; `file` is None when not even its first line could be read."""

    file: s.File | None = None
    slips: list[Slip] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)
    open_texts: list[Span] = field(default_factory=list)
    lost_words: set[str] = field(default_factory=set)


class Reader:
    """Reads one text. `offset` is added to every place, for a text cut from a longer one."""

    def __init__(self, text: str, path: str, start: str, offset: int = 0) -> None:
        self._text = text
        self._path = path
        self._offset = offset
        self.out = Reading()
        self._lexer = load_lexer()
        builder = Builder(self._remark)
        table = load_table()
        self._machine = Machine(table, start, _builds(builder))
        self._seen: list[Lexeme] = []
        # What is needed to take back the last line: place, number of remarks, level, words.
        self._last = (self._machine.mark(), 0, 0, self._seen)

    def read(self, lines: Sequence[Line]) -> Reading:
        """Read a whole file."""
        if not lines:
            return self.out
        readable = self._header(lines[0])
        level, number = 0, 1
        while number < len(lines):
            if len(self.out.slips) >= MAX_SLIPS:
                self._give_up(lines, number)
                break
            number, level = self._one(lines, number, level)
        for _ in range(level):
            self._mark_of_structure("BACK", len(self._text))
        file = self._machine.finish()
        if readable and isinstance(file, s.File):
            self.out.file = file
        return self.out

    def read_fragment(self) -> s.Ref | s.AmountLit | s.NumberLit | None:
        """Read a name or a value that stands alone; None when it is neither."""
        line = Line(0, self._lexer.skip(self._text, 0, len(self._text)), len(self._text))
        if self._words(line, whole_line=False) is not None or self.out.open_texts:
            return None
        value = self._machine.finish()
        return value if isinstance(value, (s.Ref, s.AmountLit, s.NumberLit)) else None

    def _one(self, lines: Sequence[Line], number: int, level: int) -> tuple[int, int]:
        """Read one line; return the number of the next one and the level the parser is at."""
        line = lines[number]
        if line.level > MAX_LEVEL:
            return self._drop(lines, number, line.level), level
        place = self._machine.mark()
        remarks, texts = len(self.out.remarks), len(self.out.open_texts)
        if not self._structure(line, level):
            self._machine.reset(place)
            parent = _parent(lines, number)
            self._slip("nested", line, self._lexeme_at(line), (), parent)
            return self._drop(lines, number, line.level), level
        slip = self._words(line)
        if slip is None:
            self._last = (place, remarks, level, self._seen)
            return number + 1, line.level
        self._machine.reset(place)
        del self.out.remarks[remarks:]
        if line.level > level and _is_no_verb(self._last[3]):
            return self._blame_parent(lines, number - 1)
        self._structure(line, level)
        if len(self.out.open_texts) == texts:
            kind, met = slip
            self._slip(kind, line, met, tuple(self._seen), _parent(lines, number))
        self._mark_of_structure("LOST", line.start)
        after = self._drop(lines, number, line.level + 1, 1)
        if _BRANCH.match(self._text, line.start):
            # What depended on this `if` makes no sense without it, and would be told as well.
            while after < len(lines) and lines[after].level == line.level:
                if not _ORPHAN.match(self._text, lines[after].start):
                    break
                after = self._drop(lines, after, line.level + 1, 1)
        return after, line.level

    def _blame_parent(self, lines: Sequence[Line], number: int) -> tuple[int, int]:
        """Take back the line above: any word may be a verb, but its block shows it is none."""
        line = lines[number]
        place, remarks, level, _ = self._last
        self._machine.reset(place)
        del self.out.remarks[remarks:]
        self._structure(line, level)
        self._slip("parent", line, self._lexeme_at(line), (), _parent(lines, number))
        self._mark_of_structure("LOST", line.start)
        return self._drop(lines, number, line.level + 1, 1), line.level

    def _header(self, line: Line) -> bool:
        """Read the first line; after a slip, go on as if it were sound as far as it could be."""
        place = self._machine.mark()
        slip = self._words(line)
        if slip is None:
            return True
        self._machine.reset(place)
        if not self.out.open_texts:
            self._slip("first", line, slip[1], tuple(self._seen), None)
        found = _KIND.match(self._text, line.start, line.end)
        kind, name = (found[1], found[2]) if found else ("procedure", "unnamed")
        at = found.start(2) if found else line.start
        start = self._offset + line.start
        self._machine.take(kind.upper(), Lexeme(kind.upper(), self._span(start, start), kind))
        where = self._span(self._offset + at, self._offset + at + (len(name) if found else 0))
        self._machine.take("NAME", s.Word(where, name))
        self._mark_of_structure("LINE_END", line.end)
        return found is not None

    def _structure(self, line: Line, level: int) -> bool:
        if line.level > level:
            return self._mark_of_structure("DEEPER", line.start)
        return all(self._mark_of_structure("BACK", line.start) for _ in range(level - line.level))

    def _mark_of_structure(self, kind: str, at: int) -> bool:
        place = self._offset + at
        return self._machine.take(kind, Lexeme(kind, self._span(place, place), ""))

    def _words(
        self, line: Line, whole_line: bool = True
    ) -> tuple[Literal["word", "end"], Lexeme] | None:
        """Feed the words of a line; return where it stopped making sense, or None."""
        self._seen = seen = []
        text, machine, lexer = self._text, self._machine, self._lexer
        path, offset = self._path, self._offset
        at, end = line.start, line.end
        after_number = False
        while at < end:
            kind, start, stop = lexer.cut(text, at, end, machine, after_number)
            lexeme = Lexeme(kind, Span(path, offset + start, offset + stop), text[start:stop])
            if kind == OPEN_TEXT:
                self.out.open_texts.append(lexeme.span)
                kind = "TEXT"
            if not machine.take(kind, value_of(lexeme)):
                return "word", lexeme
            seen.append(lexeme)
            after_number = kind == "NUMBER"
            at = lexer.skip(text, stop, end)
        place = Span(path, offset + end, offset + end)
        last = Lexeme("LINE_END", place, "")
        if whole_line and not machine.take("LINE_END", last):
            return "end", last
        return None

    def _drop(self, lines: Sequence[Line], number: int, level: int, skip: int = 0) -> int:
        """Leave out `skip` lines and all that follow with this level or more; keep their words."""
        first = number
        number += skip
        while number < len(lines) and lines[number].level >= level:
            number += 1
        for line in lines[first:number]:
            self.out.lost_words.update(_WORD.findall(self._text, line.start, line.end))
        return number

    def _give_up(self, lines: Sequence[Line], number: int) -> None:
        line = lines[number]
        self.out.slips.append(Slip("too-many", line, self._lexeme_at(line)))
        self._drop(lines, number, 0)

    def _slip(
        self,
        kind: Literal["word", "end", "nested", "parent", "first"],
        line: Line,
        met: Lexeme,
        before: tuple[Lexeme, ...],
        parent: Line | None,
    ) -> None:
        machine = self._machine
        place, remarks = machine.mark(), len(self.out.remarks)
        if kind in ("word", "end", "first"):
            # The parser may have closed some rules before it noticed; ask it as it was before.
            for lexeme in before:
                machine.take("TEXT" if lexeme.kind == OPEN_TEXT else lexeme.kind, value_of(lexeme))
        could = machine.could_follow()
        machine.reset(place)
        del self.out.remarks[remarks:]
        self.out.slips.append(Slip(kind, line, met, before, could, parent))

    def _lexeme_at(self, line: Line) -> Lexeme:
        found = _WORD.match(self._text, line.start, line.end)
        stop = found.end() if found else line.start + 1
        span = self._span(self._offset + line.start, self._offset + stop)
        return Lexeme("NAME", span, self._text[line.start : stop])

    def _span(self, start: int, end: int) -> Span:
        return Span(self._path, start, end)

    def _remark(
        self,
        span: Span,
        message: str,
        hint: str,
        replacement: str | None = None,
        first: Span | None = None,
        rule: str = "not-understood",
    ) -> None:
        self.out.remarks.append(Remark(span, message, hint, replacement, first, rule))


def _is_no_verb(seen: Sequence[Lexeme]) -> bool:
    """Tell whether a line was read as an action though its first word is no verb."""
    if not seen:
        return False
    first = seen[0]
    alone = len(seen) == 1 and first.text in BLOCK_WORDS
    return first.kind == "VERB" and (alone or first.text not in VERBS)


def _builds(builder: Builder) -> Mapping[str, Build]:
    return {name: getattr(builder, name) for name in _build_names()}


@lru_cache(maxsize=1)
def _build_names() -> tuple[str, ...]:
    rules = load_table().rules
    return tuple(sorted({r.build for r in rules if not (r.gathers or r.stands_for_itself)}))


def _parent(lines: Sequence[Line], number: int) -> Line | None:
    """Return the line that a line stands under."""
    level = lines[number].level
    while number > 0:
        number -= 1
        if lines[number].level < level:
            return lines[number]
    return None
