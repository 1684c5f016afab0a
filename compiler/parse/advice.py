"""Looks for the common slips of `mistakes` in a line that could not be read."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from compiler.parse.mistakes import MISTAKES, Mistake

MOST_OF_A_LINE = 400
"""How much of a line is searched for known slips, so that a hostile one costs no more."""


@dataclass(frozen=True, slots=True)
class Advice:
    """A slip found in a line: from `start` to `end` of it stands what `replacement` mends."""

    start: int
    end: int
    message: str
    hint: str
    replacement: str | None


def advise(
    line: str,
    at: int,
    end: int,
    place: str = "",
    could: frozenset[str] = frozenset(),
    names: bool = False,
) -> Advice | None:
    """Return the first known slip in a line whose reading stopped at the word from `at` to `end`.

    `place` is `first` for the first line of a file and `table` for a row of a table; `could` are
    the terminals that might have stood there. With `names` only those slips are looked for that
    need two names side by side.
    """
    if len(line) > MOST_OF_A_LINE and at > MOST_OF_A_LINE // 2:
        return None
    line = line[:MOST_OF_A_LINE]
    blanked = _blanked(line)
    for mistake in MISTAKES:
        if mistake.place != place and (place == "first" or mistake.place in ("first", "table")):
            continue
        if mistake.names != names or (mistake.could and mistake.could not in could):
            continue
        for found in _all_matches(mistake.pattern, blanked):
            if names and found.start("two") != at:
                continue
            if mistake.anywhere or (found.start() <= end and found.end() >= at - 1):
                return _advice(mistake, found, line)
    return None


def _all_matches(pattern: re.Pattern[str], line: str) -> Iterator[re.Match[str]]:
    """Yield all matches, overlapping ones too."""
    at = 0
    while (found := pattern.search(line, at)) and at <= len(line):
        yield found
        at = found.start() + 1


def _blanked(line: str) -> str:
    """Return a line with what stands between quotes blanked, its length unchanged."""
    out: list[str] = []
    inside = False
    for number, char in enumerate(line):
        quote = char in '"\u201c\u201d\u201e' and (number == 0 or line[number - 1] != "\\")
        if quote:
            inside = not inside
        out.append("\0" if inside and not quote else char)
    return "".join(out)


def _advice(mistake: Mistake, found: re.Match[str], line: str) -> Advice:
    def raw(group: str | int) -> str:
        start, end = found.span(group)
        return line[start:end]

    names = [n for n in ("one", "two", "three") if n in mistake.pattern.groupindex]
    start, end = found.span("at" if "at" in mistake.pattern.groupindex else 0)
    groups = [line[start:end], *(raw(name) for name in names)]
    if len(groups) == 1:
        groups.append(groups[0])
    replacement = mistake.replacement
    if callable(replacement):
        replacement = replacement(groups)
    elif replacement is not None:
        replacement = replacement.format(*groups)
    hint = mistake.hint.format(*groups, new=replacement or "")
    return Advice(start, end, mistake.message, hint, replacement)
