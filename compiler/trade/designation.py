"""Standard designations of fasteners: from `M6×16 ISO 4762 8.8` to its parts, and back to words.

What each standard describes is in `trade/standards.py`, which threads there are in
`trade/iso_threads.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from compiler.trade.drives import Drive
from compiler.trade.iso_threads import (
    COARSE,
    DIAMETERS,
    LOCK_NUTS,
    is_made,
    largest_pitch,
    nearest_diameter,
    too_small_for_a_length,
)
from compiler.trade.standards import BODIES, contradict, has_thread, is_number, kind_of


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in a designation: a range of its text, the reason, and what to try."""

    start: int
    end: int
    message: str
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Designation:
    """A designation taken apart. Lengths in mm, exact; '' and None where nothing was said.

    `kind` is what it is in words ("socket-head screw"), `thread` its name ("M10×1.25", "1/4-20"),
    `diameter` the nominal one, `size` the size of what has no thread ("6×30", "35"). `drive` is
    what the author says it is turned by, for heads that no table has.
    """

    text: str
    kind: str = ""
    thread: str = ""
    diameter: Fraction | None = None
    pitch: Fraction | None = None
    length: Fraction | None = None
    standard: str = ""
    grade: str = ""
    threaded: bool = False
    size: str = ""
    drive: Drive | None = None


KINDS: Mapping[str, bool] = {
    "screw": True,
    "bolt": True,
    "nut": True,
    "stud": True,
    "set-screw": True,
    "lock-nut": True,
    "castle-nut": True,
    "cap-nut": True,
    "wing-nut": True,
    "thumb-screw": True,
    "knob": True,
    "plug": True,
    "grease-nipple": True,
    "eye-bolt": True,
    "union-nut": True,
    "long-nut": True,
    "eye-nut": True,
    "knurled-nut": True,
    "knurled-screw": True,
    "wing-screw": True,
    "threaded-rod": True,
    "u-bolt": True,
    "cotter-pin": False,
    "split-pin": False,
    "grooved-pin": False,
    "spring-pin": False,
    "dowel-pin": False,
    "taper-pin": False,
    "clevis-pin": False,
    "pin": False,
    "retaining-ring": False,
    "snap-ring": False,
    "shaft-collar": False,
    "washer": False,
    "key": False,
    "clip": False,
    "tab-washer": False,
    "lock-plate": False,
    "lock-wire": False,
    "hose-clamp": False,
    "clamp": False,
    "wedge": False,
    "latch": False,
    "rivet": False,
    "strap": False,
    "cable-tie": False,
    "spring": False,
    "bayonet": False,
    "magnet": False,
    "press-fit": False,
}
"""What a designation may start with, and whether such a thing has a thread."""

_INCH = Fraction(254, 10)
_NUMBER = r"\d+(?:\.\d+)?"
_METRIC = re.compile(rf"M({_NUMBER})(?:[×x*]({_NUMBER}))?(?:[×x*]({_NUMBER}))?(?:-\d[gGhH])?$")
_INCHES = re.compile(
    r"(#\d+|\d+/\d+|\d+(?:-\d+/\d+)?)-(\d+)"
    r"(?:[×x*](\d+(?:/\d+)?|\d+-\d+/\d+))?$"
)
_SHEET = re.compile(rf"ST({_NUMBER})(?:[×x*]({_NUMBER}))?$")
_CLOSE = re.compile(r"(ISO|DIN|EN)(\d\S*)$")
_EXAMPLES = {"DIN": "935", "EN": "1661", "ASME": "B18.3", "SAE": "J429"}
_PIPE = re.compile(r"(?:G|R|Rp|Rc|NPT)\s?(\d+(?:/\d+)?|\d+-\d+/\d+)$")
_GRADE = re.compile(r"(?:\d{1,2}\.\d|A[1245]-\d{2,3}|0?[45689]|10|12|\d{2,3}H|\d{3}HV|CuZn|Ms)$")
_CLASSES_TEXT = """
    3.6 4.6 4.8 5.6 5.8 6.8 8.8 9.8 10.9 12.9 04 05 4 5 6 8 9 10 12
"""
_CLASSES = frozenset(_CLASSES_TEXT.split())
_SIZE = re.compile(rf"{_NUMBER}(?:/\d+)?(?:(?:[×x*]|\.\.)\s?{_NUMBER})*$")
_SERIES = frozenset(("UNC", "UNF", "UNEF", "BSW", "BSF", "BSP"))


@dataclass(slots=True)
class _Found:
    """What has been read so far."""

    kind: str = ""
    thread: str = ""
    diameter: Fraction | None = None
    pitch: Fraction | None = None
    length: Fraction | None = None
    standard: str = ""
    grade: str = ""
    size: str = ""
    sign: str = ""


_WORD = re.compile(r"\S+(?:\s*[×x*]\s*\d[^\s×x*]*)*")
_CROSS = re.compile(r"\s*([×x*])\s*")
_TWO_SIZES = ("long hexagon nut", "long-nut", "T-slot nut", "T-slot bolt")
"""What has a second size behind the thread that is no pitch: a length, the width of a slot."""


@dataclass(frozen=True, slots=True)
class _Word:
    """A word of a designation, without blanks inside, and where it stands."""

    text: str
    start: int
    end: int

    def problem(self, message: str, hint: str = "") -> Problem:
        return Problem(self.start, self.end, message, hint)


_MANY_DIGITS = re.compile(r"\d{9}")


def parse_designation(text: str) -> tuple[Designation, tuple[Problem, ...]]:
    """Take a designation apart. Never raises; what cannot be read is told with its place."""
    words = [
        _Word(_CROSS.sub(r"\1", found.group()), found.start(), found.end())
        for found in _WORD.finditer(text)
    ]
    endless = next((word for word in words if _MANY_DIGITS.search(word.text)), None)
    if endless is not None:
        hint = "Look at the digits."
        problem = endless.problem("This number has more digits than any size has.", hint)
        return Designation(text=text, kind="fastener"), (problem,)
    found, problems = _Found(), list[Problem]()
    rest = _standard(words, found, problems)
    at = 0
    while at < len(rest):
        at += _read(rest, at, found, problems)
    listed, said = kind_of(found.standard), found.kind.replace("-", " ")
    kind = listed or said or ("slotted round nut" if found.sign else "")
    kind = kind or ("screw" if found.thread and found.length else "fastener")
    threaded = bool(found.thread) if has_thread(kind) else False
    designation = Designation(
        text=text,
        kind=kind,
        thread=found.thread,
        diameter=found.diameter,
        pitch=found.pitch,
        length=found.length,
        standard=found.standard,
        grade=found.grade,
        threaded=threaded or KINDS.get(found.kind, False),
        size=found.size,
    )
    return designation, tuple(sorted(problems, key=lambda problem: problem.start))


def _standard(words: list[_Word], found: _Found, problems: list[Problem]) -> list[_Word]:
    """Read the standard, wherever it stands, and return the other words.

    What it describes tells how the others are meant. Of `DIN EN ISO 4762` the last name counts:
    the others took that standard over.
    """
    rest: list[_Word] = []
    at = 0
    while at < len(words):
        first = last = words[at]
        at += 1
        close = _CLOSE.match(first.text)
        if first.text not in BODIES and not close:
            rest.append(first)
            continue
        while not close and at < len(words) and words[at].text in BODIES:
            last = words[at]
            at += 1
        if close:
            body, number, end = close[1], close[2], first.end
        elif at < len(words):
            body, number, end = last.text, words[at].text, words[at].end
            at += 1
        else:
            hint = f"Write the whole number: {last.text} {_EXAMPLES.get(last.text, '4762')}"
            message = f"{last.text} has no number behind it."
            problems.append(Problem(first.start, last.end, message, hint))
            continue
        found.standard = f"{body} {number}"
        if not is_number(number):
            hint = f"A standard has a number, such as {body} {_EXAMPLES.get(body, '4762')}."
            message = f"{number} is no number of a standard."
            problems.append(Problem(first.start, end, message, hint))
    return rest


def _read(words: list[_Word], at: int, found: _Found, problems: list[Problem]) -> int:
    """Read from word `at` on and return how many words that took."""
    word = words[at]
    after = words[at + 1].text if at + 1 < len(words) else ""
    if word.text in KINDS and at == 0:
        found.kind = word.text
        listed = kind_of(found.standard)
        if contradict(found.kind, listed):
            said = found.kind.replace("-", " ")
            message = f"{found.standard} is a {listed}, not a {said}."
            problems.append(word.problem(message, "Leave out the word, or put the standard right."))
        return 1
    if after and _pair(word.text, after, found):
        return 2
    if word.text in _SERIES or word.text in ("×", "x", "*") or _thread(word, found, problems):
        return 1
    return _rest(word, at, after, found, problems)


def _pair(word: str, after: str, found: _Found) -> bool:
    """Read two words that belong together: `grade 5`, `G 1/2`, `form A`."""
    if word.lower() in ("grade", "class"):
        found.grade = f"grade {after}" if word.lower() == "grade" else after
        return True
    if word.lower() in ("form", "type") and re.fullmatch(r"[A-Z]{1,2}\d?", after):
        return True
    if word in ("G", "R", "Rp", "Rc", "NPT") and _PIPE.match(f"{word}{after}"):
        found.thread = f"{word}{after}"
        return True
    return False


def _rest(word: _Word, at: int, after: str, found: _Found, problems: list[Problem]) -> int:
    """Read a strength class, a length or a size."""
    text = word.text
    if _GRADE.match(text) and (found.thread or found.standard) and not _is_size(text, found):
        found.grade = text
        if "." in text and text not in _CLASSES:
            hint = "Classes of screws are 4.6, 5.8, 8.8, 10.9, 12.9; of nuts 5, 8, 10, 12."
            problems.append(word.problem(f"{text} is no strength class of ISO 898.", hint))
        return 1
    if found.thread and found.length is None and _length(text) is not None:
        found.length = _length(text)
        return 1
    if _SIZE.match(text) and not found.thread:
        found.size = text.replace("x", "×").replace("*", "×")
        return 2 if after in ("mm", "in") else 1
    if text in ("mm", "in"):
        return 1
    problems.append(_strange(word, at))
    return 1


def _is_size(text: str, found: _Found) -> bool:
    """Return whether a number is the size of what has no thread: `DIN 6799 8`, `8 DIN 127`."""
    bare = not found.thread and not found.size and re.fullmatch(_NUMBER, text)
    return bool(bare) and not has_thread(kind_of(found.standard) or found.kind or "screw")


def _thread(word: _Word, found: _Found, problems: list[Problem]) -> bool:
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
        found.pitch = _INCH / int(inches[2]) if int(inches[2]) else None
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


def _metric(metric: re.Match[str], word: _Word, found: _Found, problems: list[Problem]) -> None:
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
    largest = _plain(largest_pitch(size) or Fraction(0))
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
        return (Fraction(60, 1000) + Fraction(13, 1000) * int(text[1:])) * _INCH
    return _inches(text)


def _inches(text: str) -> Fraction:
    whole, _, part = text.rpartition("-")
    return (Fraction(whole or 0) + _share(part)) * _INCH


def _share(text: str) -> Fraction:
    over, _, under = text.partition("/")
    return Fraction(int(over), int(under)) if under and int(under) else Fraction(int(over))


def _length(word: str) -> Fraction | None:
    """Return a length that stands apart: `16`, `3/4` or `1-1/4` (inches)."""
    word = word.lstrip("×x*")
    if re.fullmatch(r"\d+/\d+|\d+-\d+/\d+", word):
        return _inches(word)
    return Fraction(word) if re.fullmatch(_NUMBER, word) else None


def _strange(word: _Word, at: int) -> Problem:
    import difflib

    if at == 0:
        near = difflib.get_close_matches(word.text, list(KINDS), n=1, cutoff=0.6)
        hint = (
            f"Did you mean {near[0]}?" if near else "For example: M6×16 ISO 4762 8.8, or: plug G1/2"
        )
        return word.problem(f"{word.text} is neither a thread nor a kind of fastener.", hint)
    hint = "A designation is thread and length, standard, strength class: M6×16 ISO 4762 8.8"
    return word.problem(f"{word.text} does not belong into a designation.", hint)


def describe(designation: Designation) -> tuple[str, str]:
    """Return the size and what it is: (`M6 × 16`, `socket-head screw`); size '' for a bare kind."""
    return _size_text(designation), designation.kind


def _size_text(designation: Designation) -> str:
    if not designation.thread:
        return designation.size.replace("×", " × ").replace("..", " to ")
    size = designation.thread.replace("×", " × ")
    if designation.length is None:
        return size
    if designation.thread.startswith(("M", "ST")):
        return f"{size} × {_plain(designation.length)}"
    return f"{size} × {_inch_text(designation.length / _INCH)}"


def _plain(value: Fraction) -> str:
    return f"{float(value):g}"


def _inch_text(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    part = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {part}" if whole else part
