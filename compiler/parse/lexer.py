"""Cuts a line into words, numbers, text and signs, asking the parser what could come next.

A word is a key word only where the grammar can go on with it; elsewhere it is a name. That is why
words are cut one at a time, in step with the parser.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from compiler.parse.machine import Machine
from compiler.parse.table import Table, load_table
from compiler.source import Span
from compiler.trade.verbs import VERBS

ODD = "ODD"
"""The kind of a character that has no meaning anywhere; no rule of the grammar takes it."""

OPEN_TEXT = "OPEN_TEXT"
"""The kind of a text whose closing quote is missing."""

_PATTERNED = ("TEXT", "DATE", "TIME", "NUMBER")
_COMMENT = r"#(?![0-9])[^\r\n]*"
_SKIP = re.compile(rf"(?:\s+|{_COMMENT})+")
_COUNT = re.compile(r"[0-9]+\s*[×✕*xX](?=\s|[^\W\d_]|\Z)")
_PASSES = re.compile(r"in\s+[0-9.,]+\s*%")
_SIGNED = re.compile(r"[+\u2212-][0-9]")


@dataclass(frozen=True, slots=True)
class Lexeme:
    """One word, sign or mark of structure: its kind (a terminal of the grammar), place and text."""

    kind: str
    span: Span
    text: str


class Lexer:
    """Cuts lines. One serves any number of files; it keeps nothing of them."""

    def __init__(self, table: Table) -> None:
        fixed = {text: kind for kind, (is_text, text) in table.terminals.items() if is_text}
        patterns = {kind: text for kind, (is_text, text) in table.terminals.items() if not is_text}
        self._words = {text: kind for text, kind in fixed.items() if text[0].isalpha()}
        self._signs = {text: kind for text, kind in fixed.items() if not text[0].isalpha()}
        self._phrases = _phrases(self._words)
        self._unit = re.compile(patterns["UNIT"])
        self._cross = re.compile(patterns["CROSS"])
        self._bounds = re.compile(rf"{patterns['NAME']}|[\"“„]|{_COMMENT}")
        self._amount = _amount_pattern(patterns)
        signs = "|".join(re.escape(sign) for sign in self._signs)
        others = [f"(?P<{kind}>{patterns[kind]})" for kind in _PATTERNED]
        self._main = re.compile(
            f"{'|'.join(others)}|(?P<WORD>{patterns['NAME']})|(?P<DOTS>{patterns['DOTS']})"
            f"|(?P<PLUS_MINUS>{patterns['PLUS_MINUS']})|(?P<CROSS>{patterns['CROSS']})"
            f'|(?P<SIGN>{signs})|(?P<OPEN_TEXT>["“„][^\\r\\n]*)|(?P<ODD>.)',
            re.DOTALL,
        )

    def skip(self, text: str, at: int, end: int) -> int:
        """Return where the next word begins, past blanks, comments and continued line ends."""
        found = _SKIP.match(text, at, end)
        return found.end() if found else at

    def cut(
        self, text: str, at: int, end: int, machine: Machine, after_number: bool
    ) -> tuple[str, int, int]:
        """Return kind, start and end of the word at `at` (where one begins, see `skip`)."""
        look = self._after_number if after_number else self._raw
        found = look(text, at, end, machine)
        if found:
            return found
        choices = machine.choices
        any_word = self._main.match(text, at, end)
        assert any_word, "the last alternative matches any character"
        kind, stop = any_word.lastgroup or ODD, any_word.end()
        if kind == "WORD":
            return self._word(text, at, stop, end, machine)
        if kind == "SIGN":
            kind = self._signs[text[at:stop]]
        if kind not in choices and "NUMBER" in choices and _SIGNED.match(text, at, end):
            number = self._main.match(text, at + 1, end)
            if number and number.lastgroup == "NUMBER":
                return "NUMBER", at, number.end()
        return kind, at, stop

    def _raw(self, text: str, at: int, end: int, machine: Machine) -> tuple[str, int, int] | None:
        """Return what is not cut into words: a unit in a list of units, a designation."""
        choices = machine.choices
        if "UNIT" in choices and "NAME" not in choices and "NUMBER" not in choices:
            unit = self._unit.match(text, at, end)
            return ("UNIT", at, unit.end()) if unit else None
        if "DESIGNATION" in choices and text[at] not in '"“„[':
            stop = self._designation_end(text, at, end, machine)
            if stop > at and not ("NUMBER" in choices and _COUNT.match(text, at, end)):
                return "DESIGNATION", at, stop
        if "THREAD_AND_CLASS" in choices:
            stop = self._thread_end(text, at, end)
            return ("THREAD_AND_CLASS", at, stop) if stop > at else None
        return None

    def _after_number(
        self, text: str, at: int, end: int, machine: Machine
    ) -> tuple[str, int, int] | None:
        choices = machine.choices
        if "CROSS" in choices:
            cross = self._cross.match(text, at, end)
            if cross:
                return "CROSS", at, cross.end()
        if "UNIT" in choices:
            unit = self._unit.match(text, at, end)
            # After a number `in` is the inch; every other word of the language stays one.
            if unit and (unit[0] == "in" or not self._key_word(text, at, unit.end(), end, machine)):
                return "UNIT", at, unit.end()
        return None

    def _word(
        self, text: str, at: int, stop: int, end: int, machine: Machine
    ) -> tuple[str, int, int]:
        choices = machine.choices
        key = self._key_word(text, at, stop, end, machine)
        if key:
            return key[0], at, key[1]
        word = text[at:stop]
        # A word of the language is a verb only if it is one of the verbs: `otherwise` is none.
        own = self._words.get(word, "") if word not in VERBS else ""
        if "VERB" in choices and ("NAME" not in choices or machine.can_take("VERB")):
            return own or "VERB", at, stop
        if "NAME" in choices and (not own or machine.can_take("NAME")):
            return "NAME", at, stop
        return own or "NAME", at, stop

    def _key_word(
        self, text: str, at: int, stop: int, end: int, machine: Machine
    ) -> tuple[str, int] | None:
        """Return kind and end of the key word here, or None when it is none in this place."""
        word = text[at:stop]
        for pattern, kind in self._phrases.get(word, ()):
            if kind in machine.choices:
                found = pattern.match(text, at, end)
                if found and self._fits(kind, machine):
                    return kind, found.end()
        kind = self._words.get(word, "")
        return (kind, stop) if kind in machine.choices and self._fits(kind, machine) else None

    def _fits(self, kind: str, machine: Machine) -> bool:
        # Where a name could stand as well it must be certain that the key word can.
        choices = machine.choices
        return not ("NAME" in choices or "VERB" in choices) or machine.can_take(kind)

    def _designation_end(self, text: str, at: int, end: int, machine: Machine) -> int:
        """Return where a fastener's designation ends: at a clause, text, comment or line end."""
        for found in self._bounds.finditer(text, at, end):
            start = found.start()
            if not found[0][0].isalpha():
                end = start
                break
            if start > at and not text[start - 1].isspace():
                continue
            if found[0] == "in" and not _PASSES.match(text, start, end):
                continue
            if self._key_word(text, start, found.end(), end, machine):
                end = start
                break
        return at + len(text[at:end].rstrip())

    def _thread_end(self, text: str, at: int, end: int) -> int:
        """Return where thread and class end in `M6 8.8  9 N·m`: before the last plain amount."""
        last = at
        for found in self._amount.finditer(text, at, end):
            last = found.start()
        return at + len(text[at:last].rstrip())


def _phrases(words: dict[str, str]) -> dict[str, list[tuple[re.Pattern[str], str]]]:
    """Return the key words of several words by their first one, the longest first."""
    phrases: dict[str, list[tuple[re.Pattern[str], str]]] = {}
    for text, kind in sorted(words.items(), key=lambda item: (-len(item[0]), item[0])):
        if " " in text:
            pattern = re.compile(r"[^\S\r\n]+".join(text.split()) + r"(?![\w-])")
            phrases.setdefault(text.split()[0], []).append((pattern, kind))
    return phrases


def _amount_pattern(patterns: dict[str, str]) -> re.Pattern[str]:
    number = rf"(?:{patterns['NUMBER']})"
    dots = rf"(?:{patterns['DOTS']})"
    # Not after a sign or bracket: `±10 %` and `(6 lbf·ft)` belong to the amount before them.
    unit = rf"(?:{patterns['UNIT']})"
    return re.compile(rf"(?<![^\s])(?<!± )(?<!- ){number}(?:\s*{dots}\s*{number})?\s*{unit}")


@lru_cache(maxsize=1)
def load_lexer() -> Lexer:
    """Return the lexer of the shipped grammar."""
    return Lexer(load_table())
