"""What in a designation contradicts itself: a class that such a thing is not made in, a key's size.

Only what is certain: a shop may have made what no standard has.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction

from compiler.trade.reading import Found, Problem, Word
from compiler.trade.standards import family_of

_SCREW_CLASSES = frozenset(("3.6", "4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"))
_SET_SCREW_CLASSES = frozenset(("14H", "22H", "33H", "45H"))
_PATTERN: Mapping[str, re.Pattern[str]] = {
    "screw": re.compile(r"\d+\.\d$"),
    "nut": re.compile(r"\d+$"),
    "set screw": re.compile(r"\d+H$"),
}
"""How the classes of each family are written: ISO 898-1, ISO 898-2, ISO 898-5."""

_MATES: Mapping[str, str] = {
    "4.6": "5", "4.8": "5", "5.6": "5", "5.8": "5", "6.8": "6", "8.8": "8", "9.8": "9",
    "10.9": "10", "12.9": "12",
}  # fmt: skip
"""The class of the nut that goes with a screw's class, ISO 898-2; from memory."""

SCREW_CLASS_OF: Mapping[str, str] = {
    "5": "5.8", "6": "6.8", "8": "8.8", "9": "9.8", "10": "10.9", "12": "12.9",
}  # fmt: skip
"""The class of the strongest screw that a nut's class is made for, ISO 898-2; from memory."""

_FULL_HEIGHT = frozenset(
    ("ISO 4032", "ISO 4033", "ISO 8673", "ISO 8674", "ISO 7040", "ISO 7042", "ISO 4161", "DIN 934")
)
"""Nuts that are no thin ones: 04 and 05 are classes of thin nuts only (ISO 898-2)."""

_KEY_HEIGHTS: Mapping[int, tuple[int, ...]] = {
    2: (2,), 3: (3,), 4: (4,), 5: (5, 3), 6: (6, 4), 8: (7, 5), 10: (8, 6), 12: (8, 6), 14: (9, 6),
    16: (10, 7), 18: (11, 7), 20: (12, 8), 22: (14, 9), 25: (14, 9), 28: (16, 10), 32: (18, 11),
    36: (20, 12), 40: (22,), 45: (25,), 50: (28,), 56: (32,), 63: (32,), 70: (36,), 80: (40,),
    90: (45,), 100: (50,),
}  # fmt: skip
"""Heights of parallel keys by their width in mm, DIN 6885-1 and the low ones of DIN 6885-3. The
high ones up to a width of 14 mm read in library data, the rest from memory."""


def contradictions(found: Found, kind: str) -> Iterator[Problem]:
    """Yield what cannot be, with its place."""
    if found.grade_word is not None:
        yield from _class(found, found.grade_word, family_of(kind))
    if found.size_word is not None and found.standard.partition("-")[0] == "DIN 6885":
        yield from _key(found.size_word)
    if found.size_word is not None:
        yield from _span(found.size_word)


def _class(found: Found, word: Word, family: str) -> Iterator[Problem]:
    grade = found.grade
    if _PATTERN["screw"].match(grade) and grade not in _SCREW_CLASSES:
        hint = "Classes of screws are 4.6, 5.8, 8.8, 10.9, 12.9; of nuts 5, 8, 10, 12."
        yield word.problem(f"{grade} is no strength class of ISO 898.", hint)
    elif family and not _PATTERN[family].match(grade):
        other = next((name for name, how in _PATTERN.items() if how.match(grade)), "")
        if other:
            message = f"{grade} is a class of {other}s, and this is a {family}."
            yield word.problem(message, _right_class(grade, family))
    elif family == "set screw" and grade not in _SET_SCREW_CLASSES:
        yield word.problem(f"{grade} is no class of set screws.", _right_class(grade, family))
    elif grade in ("04", "05") and found.standard in _FULL_HEIGHT:
        message = f"{grade} is a class of thin nuts, and {found.standard} is of full height."
        yield word.problem(message, "Write 8 or 10, or the standard of the thin nut, ISO 4035.")


def _right_class(grade: str, family: str) -> str:
    if family == "set screw":
        return "Set screws are 14H, 22H, 33H or 45H."
    mate = (_MATES if family == "nut" else SCREW_CLASS_OF).get(grade, "")
    if mate:
        return f"Write {mate}."
    return "Nuts are 5, 6, 8, 10 or 12." if family == "nut" else "Screws are 8.8, 10.9 or 12.9."


_KEY = re.compile(r"(\d+)[×x*](\d+)(?:[×x*]|$)")


def _key(word: Word) -> Iterator[Problem]:
    """Yield a parallel key whose width or height is not made."""
    sides = _KEY.match(word.text)
    if sides is None:
        return
    width, height = int(sides[1]), int(sides[2])
    heights = _KEY_HEIGHTS.get(width)
    if heights is None:
        near = min(_KEY_HEIGHTS, key=lambda known: (abs(known - width), known))
        hint = f"The nearest width is {near} mm: {near}×{_KEY_HEIGHTS[near][0]}."
        yield word.problem(f"DIN 6885 has no key {width} mm wide.", hint)
    elif height not in heights:
        message = f"A key {width} mm wide is not {height} mm high in DIN 6885."
        yield word.problem(message, f"It is {width}×{heights[0]}.")


_SPAN = re.compile(r"(\d+(?:\.\d+)?)\.\.(\d+(?:\.\d+)?)$")


def _span(word: Word) -> Iterator[Problem]:
    """Yield a span of sizes, as of a hose clamp, that does not begin with the smaller one."""
    ends = _SPAN.match(word.text)
    if ends is not None and Fraction(ends[1]) >= Fraction(ends[2]):
        same = Fraction(ends[1]) == Fraction(ends[2])
        hint = f"Write {ends[1]} by itself." if same else f"Write {ends[2]}..{ends[1]}."
        yield word.problem(f"{word.text} does not go from a smaller size to a larger one.", hint)
