"""Standard designations of fasteners: from `M6×16 ISO 4762 8.8` to its parts, and back to words.

What each standard describes (ISO, DIN, ASME titles): from memory, cross-checked against the size
tables of reference libraries in the tests where they have the standard.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction


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
    `diameter` the nominal one, `size` the size of what has no thread ("6×30", "35").
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


STANDARDS: Mapping[str, str] = {
    "ISO 4762": "socket-head screw",
    "DIN 912": "socket-head screw",
    "DIN 7984": "low-head socket screw",
    "DIN 6912": "low-head socket screw",
    "ISO 7380-1": "button-head screw",
    "ISO 7380-2": "flanged button-head screw",
    "ISO 7380": "button-head screw",
    "ISO 10642": "countersunk socket screw",
    "DIN 7991": "countersunk socket screw",
    "ISO 4014": "hexagon bolt",
    "ISO 4017": "hexagon screw",
    "ISO 8765": "hexagon bolt",
    "ISO 8676": "hexagon screw",
    "DIN 931": "hexagon bolt",
    "DIN 933": "hexagon screw",
    "ISO 4162": "hexagon flange bolt",
    "ISO 15071": "hexagon flange bolt",
    "ISO 4032": "hexagon nut",
    "ISO 4033": "hexagon nut",
    "ISO 8673": "hexagon nut",
    "DIN 934": "hexagon nut",
    "ISO 4035": "thin hexagon nut",
    "ISO 8675": "thin hexagon nut",
    "DIN 439": "thin hexagon nut",
    "ISO 4161": "hexagon flange nut",
    "ISO 7040": "self-locking nut",
    "ISO 10511": "thin self-locking nut",
    "ISO 7042": "self-locking nut",
    "DIN 985": "self-locking nut",
    "DIN 935": "castle nut",
    "DIN 937": "thin castle nut",
    "ISO 7035": "castle nut",
    "DIN 1587": "cap nut",
    "DIN 981": "slotted round nut",
    "DIN 1804": "slotted round nut",
    "ISO 4026": "set screw",
    "ISO 4027": "set screw",
    "ISO 4028": "set screw",
    "ISO 4029": "set screw",
    "DIN 913": "set screw",
    "DIN 914": "set screw",
    "DIN 915": "set screw",
    "DIN 916": "set screw",
    "ISO 1207": "slotted cheese-head screw",
    "ISO 1580": "slotted pan-head screw",
    "ISO 2009": "slotted countersunk screw",
    "ISO 7045": "cross-recessed pan-head screw",
    "ISO 7046": "cross-recessed countersunk screw",
    "ISO 7046-1": "cross-recessed countersunk screw",
    "DIN 603": "carriage bolt",
    "DIN 464": "knurled screw",
    "DIN 580": "lifting eye bolt",
    "DIN 938": "stud",
    "DIN 939": "stud",
    "DIN 976": "threaded rod",
    "DIN 910": "hexagon-head plug",
    "DIN 908": "socket plug",
    "DIN 906": "socket plug",
    "DIN 471": "external retaining ring",
    "DIN 472": "internal retaining ring",
    "DIN 6799": "retaining washer",
    "ISO 1234": "cotter pin",
    "DIN 94": "cotter pin",
    "ISO 8752": "spring pin",
    "DIN 1481": "spring pin",
    "ISO 8734": "dowel pin",
    "ISO 2338": "dowel pin",
    "DIN 6325": "dowel pin",
    "DIN 7": "dowel pin",
    "DIN 1": "taper pin",
    "ISO 2339": "taper pin",
    "ISO 2341": "clevis pin",
    "ISO 2340": "clevis pin",
    "DIN 6885": "parallel key",
    "DIN 6888": "woodruff key",
    "DIN 3017": "hose clamp",
    "DIN 5406": "tab washer",
    "DIN 93": "tab washer",
    "DIN 432": "tab washer",
    "DIN 463": "tab washer",
    "DIN 11024": "spring cotter",
    "ASME B18.3": "socket-head screw",
    "ASME B18.2.1": "hexagon screw",
    "ASME B18.2.2": "hexagon nut",
}
"""What each standard describes, in the words of the shop."""

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
    "cotter-pin": False,
    "spring-pin": False,
    "dowel-pin": False,
    "taper-pin": False,
    "clevis-pin": False,
    "pin": False,
    "retaining-ring": False,
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
_PIPE = re.compile(r"(?:G|R|Rp|Rc|NPT)\s?(\d+(?:/\d+)?|\d+-\d+/\d+)$")
_GRADE = re.compile(r"(?:\d{1,2}\.\d|A[1245]-\d{2,3}|0?[45689]|10|12|\d{2,3}H|\d{3}HV|CuZn|Ms)$")
_CLASSES_TEXT = """
    3.6 4.6 4.8 5.6 5.8 6.8 8.8 9.8 10.9 12.9 04 05 4 5 6 8 9 10 12
"""
_CLASSES = frozenset(_CLASSES_TEXT.split())
_STANDARD_BODY = frozenset(("ISO", "DIN", "EN", "ASME", "SAE", "ANSI", "BS", "JIS"))
_SIZE = re.compile(rf"{_NUMBER}(?:/\d+)?(?:(?:[×x*]|\.\.)\s?{_NUMBER})*$")
_SERIES = frozenset(("UNC", "UNF", "UNEF", "BSW", "BSF", "BSP"))
_ISO_SIZES_TEXT = """
    1 1.2 1.4 1.6 1.8 2 2.5 3 3.5 4 5 6 7 8 10 12 14 16 18 20 22 24 27 30 33 36 39 42 45
    48 52 56 60 64 68 72 76 80 85 90 95 100 105 110 115 120 125 130
"""
_ISO_SIZES = frozenset(_ISO_SIZES_TEXT.split())
"""Nominal diameters of ISO 261, first and second choice and the usual third ones (from memory)."""
_COARSE = {
    "1": "0.25", "1.2": "0.25", "1.4": "0.3", "1.6": "0.35", "1.8": "0.35", "2": "0.4",
    "2.5": "0.45", "3": "0.5", "3.5": "0.6", "4": "0.7", "5": "0.8", "6": "1", "7": "1",
    "8": "1.25", "10": "1.5", "12": "1.75", "14": "2", "16": "2", "18": "2.5", "20": "2.5",
    "22": "2.5", "24": "3", "27": "3", "30": "3.5", "33": "3.5", "36": "4", "39": "4",
    "42": "4.5", "45": "4.5", "48": "5", "52": "5", "56": "5.5", "60": "5.5", "64": "6",
    "68": "6",
}  # fmt: skip
_FINE_TEXT = """
    0.2 0.25 0.35 0.5 0.75 1 1.25 1.5 2 3 4 6
"""
_FINE = frozenset(_FINE_TEXT.split())
"""Pitches of ISO 261 other than coarse ones (from memory)."""


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


def parse_designation(text: str) -> tuple[Designation, tuple[Problem, ...]]:
    """Take a designation apart. Never raises; what cannot be read is told with its place."""
    words = [(m.group(), m.start()) for m in re.finditer(r"\S+", text)]
    found, problems = _Found(), list[Problem]()
    at = 0
    while at < len(words):
        at += _read(words, at, found, problems)
    named = KINDS.get(found.kind)
    kind = STANDARDS.get(found.standard, "") or found.kind.replace("-", " ")
    if found.kind == "retaining-ring" and found.standard not in ("DIN 471", "DIN 472"):
        kind = "retaining ring"
    threaded = bool(found.thread) if named is None else named
    designation = Designation(
        text=text,
        kind=kind or ("screw" if found.thread and found.length else "fastener"),
        thread=found.thread,
        diameter=found.diameter,
        pitch=found.pitch,
        length=found.length,
        standard=found.standard,
        grade=found.grade,
        threaded=threaded or bool(found.thread),
        size=found.size,
    )
    return designation, tuple(problems)


def _read(words: list[tuple[str, int]], at: int, found: _Found, problems: list[Problem]) -> int:
    """Read from word `at` on and return how many words that took."""
    word, start = words[at]
    after = words[at + 1][0] if at + 1 < len(words) else ""
    if word in KINDS and at == 0:
        found.kind = word
        return 1
    if after and _pair(word, after, start, found, problems):
        return 2
    if word in _SERIES or word in ("×", "x", "*") or _thread(word, start, found, problems):
        return 1
    return _rest(word, start, at, after, found, problems)


def _pair(word: str, after: str, start: int, found: _Found, problems: list[Problem]) -> bool:
    """Read two words that belong together: `ISO 4762`, `grade 5`, `G 1/2`."""
    if word in _STANDARD_BODY:
        found.standard = f"{word} {after}"
        if found.standard not in STANDARDS:
            problems.append(_unknown_standard(found.standard, start))
        return True
    if word.lower() in ("grade", "class"):
        found.grade = f"grade {after}" if word.lower() == "grade" else after
        return True
    if word in ("G", "R", "Rp", "Rc", "NPT") and _PIPE.match(f"{word}{after}"):
        found.thread = f"{word}{after}"
        return True
    return False


def _rest(
    word: str, start: int, at: int, after: str, found: _Found, problems: list[Problem]
) -> int:
    """Read a strength class, a length or a size."""
    if _GRADE.match(word) and (found.thread or found.standard):
        found.grade = word
        if "." in word and word not in _CLASSES:
            hint = "Classes of screws are 4.6, 5.8, 8.8, 10.9, 12.9; of nuts 5, 8, 10, 12."
            message = f"{word} is no strength class of ISO 898."
            problems.append(Problem(start, start + len(word), message, hint))
        return 1
    if found.thread and found.length is None and _length(word) is not None:
        found.length = _length(word)
        return 1
    if _SIZE.match(word) and not found.thread:
        found.size = word.replace("x", "×").replace("*", "×")
        return 2 if after in ("mm", "in") else 1
    if word in ("mm", "in"):
        return 1
    problems.append(_strange(word, start, at))
    return 1


def _thread(word: str, start: int, found: _Found, problems: list[Problem]) -> bool:
    """Read a thread with its pitch and length; return whether the word is one."""
    pipe = _PIPE.match(word)
    if pipe:
        found.thread = word
        return True
    inches = _INCHES.match(word)
    if inches:
        found.thread = f"{inches[1]}-{inches[2]}"
        found.diameter = _inch_diameter(inches[1])
        found.pitch = _INCH / int(inches[2]) if int(inches[2]) else None
        found.length = _inches(inches[3]) if inches[3] else None
        return True
    metric = _METRIC.match(word)
    if not metric:
        return False
    _metric(metric, word, start, found, problems)
    return True


def _metric(
    metric: re.Match[str], word: str, start: int, found: _Found, problems: list[Problem]
) -> None:
    """Read `M6`, `M6×16` (a length), `M10×1.25` (a pitch) or `M10×1.25×40` (both)."""
    size, second, third = metric.groups()
    found.diameter = Fraction(size)
    pitch, length = (second, third) if third else (None, second)
    if second and not third and Fraction(second) < Fraction(size) and second in _FINE:
        pitch, length = second, None
    if size not in _ISO_SIZES:
        near = min(_ISO_SIZES, key=lambda s: (abs(Fraction(s) - Fraction(size)), Fraction(s)))
        end = start + 1 + len(size)
        message = f"M{size} is no thread of ISO 261."
        problems.append(Problem(start, end, message, f"The nearest is M{near}."))
    if pitch is not None and pitch not in _FINE and pitch != _COARSE.get(size):
        message = f"M{size} is not made with a pitch of {pitch} mm."
        hint = f"The coarse pitch is {_COARSE.get(size, '?')} mm."
        problems.append(Problem(start, start + len(word), message, hint))
    coarse = _COARSE.get(size)
    known = pitch or coarse
    found.pitch = Fraction(known) if known else None
    found.thread = f"M{size}" if pitch is None or pitch == coarse else f"M{size}×{pitch}"
    found.length = Fraction(length) if length else None


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


def _unknown_standard(standard: str, start: int) -> Problem:
    import difflib

    near = difflib.get_close_matches(standard, list(STANDARDS), n=1, cutoff=0.7)
    hint = (
        f"Did you mean {near[0]} ({STANDARDS[near[0]]})?" if near else "Leave it out, or say more."
    )
    message = f"{standard} is no fastener standard that is known here."
    return Problem(start, start + len(standard), message, hint)


def _strange(word: str, start: int, at: int) -> Problem:
    import difflib

    end = start + len(word)
    if at == 0:
        near = difflib.get_close_matches(word, list(KINDS), n=1, cutoff=0.6)
        hint = (
            f"Did you mean {near[0]}?" if near else "For example: M6×16 ISO 4762 8.8, or: plug G1/2"
        )
        return Problem(start, end, f"{word} is neither a thread nor a kind of fastener.", hint)
    hint = "A designation is thread and length, standard, strength class: M6×16 ISO 4762 8.8"
    return Problem(start, end, f"{word} does not belong into a designation.", hint)


def describe(designation: Designation) -> tuple[str, str]:
    """Return the size and what it is: (`M6 × 16`, `socket-head screw`); size '' for a bare kind."""
    return _size_text(designation), designation.kind


def _size_text(designation: Designation) -> str:
    if not designation.thread:
        return designation.size.replace("×", " × ").replace("..", " to ")
    size = designation.thread.replace("×", " × ")
    if designation.length is None:
        return size
    if designation.thread.startswith("M"):
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
