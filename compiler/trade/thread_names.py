"""Reads the thread of a designation: `M10×1.25×40`, `1/4-20`, `G1/2`, `ST4.2×13`, `KM4`."""

from __future__ import annotations

import re
from fractions import Fraction

from compiler.trade.iso_threads import (
    COARSE,
    DIAMETERS,
    LOCK_NUTS,
    is_made,
    largest_pitch,
    nearest_diameter,
    too_small_for_a_length,
)
from compiler.trade.reading import Found, Problem, Word
from compiler.trade.standards import kind_of

INCH = Fraction(254, 10)
NUMBER = r"\d+(?:\.\d+)?"
_METRIC = re.compile(rf"M({NUMBER})(?:[×x*]({NUMBER}))?(?:[×x*]({NUMBER}))?(?:-\d[gGhH])?$")
_INCHES = re.compile(
    r"(#\d+|\d+/\d+|\d+(?:-\d+/\d+)?)-(\d+)"
    r"(?:[×x*](\d+(?:/\d+)?|\d+-\d+/\d+))?$"
)
_SHEET = re.compile(rf"ST({NUMBER})(?:[×x*]({NUMBER}))?$")
_PIPE = re.compile(r"(?:G|R|Rp|Rc|NPT)\s?(\d+(?:/\d+)?|\d+-\d+/\d+)$")
_TWO_SIZES = ("long hexagon nut", "long-nut", "T-slot nut", "T-slot bolt")
"""What has a second size behind the thread that is no pitch: a length, the width of a slot."""


def read_thread(word: Word, found: Found, problems: list[Problem]) -> bool:
    """Read a thread with its pitch and length; return whether the word is one."""
    text = word.text
    if text in LOCK_NUTS and not found.thread:
        found.sign = text
        text = LOCK_NUTS[text]
    if _PIPE.match(text):
        found.thread = text
        return True
    inches = _INCHES.match(text)
    if inches:
        found.thread = f"{inches[1]}-{inches[2]}"
        found.diameter = _inch_diameter(inches[1])
        found.pitch = INCH / int(inches[2]) if int(inches[2]) else None
        found.length = _inches(inches[3]) if inches[3] else None
        return True
    sheet = _SHEET.match(text)
    if sheet:
        found.thread = f"ST{sheet[1]}"
        found.length = Fraction(sheet[2]) if sheet[2] else None
        return True
    metric = _METRIC.match(text)
    if not metric:
        return False
    _metric(metric, word, found, problems)
    return True


def is_pipe(text: str) -> bool:
    """Return whether this is a pipe thread: `G1/2`, `Rp3/4`, `NPT1/4`."""
    return bool(_PIPE.match(text))


def _metric(metric: re.Match[str], word: Word, found: Found, problems: list[Problem]) -> None:
    """Read `M6`, `M6×16` (a length), `M10×1.25` (a pitch) or `M10×1.25×40` (both)."""
    size = metric[1]
    found.diameter = Fraction(size)
    pitch, length = _pitch_and_length(metric, kind_of(found.standard) or found.kind)
    if size not in DIAMETERS:
        end = word.start + 1 + len(size)
        message, hint = (
            f"M{size} is no thread of ISO 261.",
            f"The nearest is M{nearest_diameter(size)}.",
        )
        problems.append(Problem(word.start, end, message, hint))
    elif pitch is not None and not is_made(size, pitch):
        hint = _other_pitch(size, pitch, alone=length is None)
        message = f"M{size} is not made with a pitch of {pitch} mm."
        problems.append(word.problem(message, hint))
    coarse = COARSE.get(size)
    known = pitch or coarse
    found.pitch = Fraction(known) if known else None
    is_coarse = pitch is None or (coarse is not None and Fraction(pitch) == Fraction(coarse))
    found.thread = f"M{size}" if is_coarse else f"M{size}×{pitch}"
    found.length = Fraction(length) if length else None


def _other_pitch(size: str, pitch: str, *, alone: bool) -> str:
    """Return what to write instead of a pitch that is not made; `alone` without a length."""
    largest = plain(largest_pitch(size) or Fraction(0))
    if alone and not too_small_for_a_length(size, pitch):
        return f"A nut has no length: write M{size}, or M{size} and a pitch below {largest} mm."
    return f"The {'coarse' if size in COARSE else 'largest'} pitch is {largest} mm."


def _pitch_and_length(metric: re.Match[str], kind: str) -> tuple[str | None, str | None]:
    """Return which of the numbers behind a diameter is the pitch and which the length.

    A nut has no length, so behind its thread only a pitch can stand.
    """
    size, second, third = metric.groups()
    if second is None:
        return None, None
    if kind in _TWO_SIZES and not too_small_for_a_length(size, second):
        return None, third or second
    if third is not None:
        return second, third
    if kind.endswith("nut") or too_small_for_a_length(size, second):
        return second, None
    return None, second


def _inch_diameter(text: str) -> Fraction:
    if text.startswith("#"):
        # Numbered sizes: 0.060 in + 0.013 in for each number (ASME B1.1, from memory).
        return (Fraction(60, 1000) + Fraction(13, 1000) * int(text[1:])) * INCH
    return _inches(text)


def _inches(text: str) -> Fraction:
    whole, _, part = text.rpartition("-")
    return (Fraction(whole or 0) + _share(part)) * INCH


def _share(text: str) -> Fraction:
    over, _, under = text.partition("/")
    return Fraction(int(over), int(under)) if under and int(under) else Fraction(int(over))


def length_of(word: str) -> Fraction | None:
    """Return a length that stands apart: `16`, `3/4` or `1-1/4` (inches)."""
    word = word.lstrip("×x*")
    if re.fullmatch(r"\d+/\d+|\d+-\d+/\d+", word):
        return _inches(word)
    return Fraction(word) if re.fullmatch(NUMBER, word) else None


def plain(value: Fraction) -> str:
    """Return a length or pitch as it is written: `1.25`, `16`."""
    return f"{float(value):g}"


def inch_text(value: Fraction) -> str:
    """Return a size in inches as it is written: `3/4`, `1 1/8`."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    part = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {part}" if whole else part
