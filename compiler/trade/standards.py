"""Standards of fasteners and what each describes, in the words of the shop.

The list itself is in `trade/standards_list.py`. A standard that is not on it need be no mistake: no
such list is whole.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from compiler.trade.standards_list import NUMBERS_OF, STRENGTH_ONLY

STANDARDS: Mapping[str, str] = {
    number: kind for kind, numbers in NUMBERS_OF.items() for number in numbers.split(", ")
}
"""What each standard describes, by its number."""

_BODIES_TEXT = """
    ISO ISO/R DIN EN ASME ANSI ANSI/ASME ASME/ANSI ASTM SAE BS JIS GOST GB GB/T UNI NF
"""
BODIES = frozenset(_BODIES_TEXT.split())
"""Who issues standards. Several before a number (DIN EN ISO) mean that one took over another's."""

_SAME_BODY: Mapping[str, str] = {
    "ANSI": "ASME",
    "ANSI/ASME": "ASME",
    "ASME/ANSI": "ASME",
    "GB": "GB/T",
    "ISO/R": "ISO",
}
"""Old and double names of who issues, with the one that the list has."""

_NUMBER = re.compile(r"[A-Z]{0,2}/?\d{1,5}(?:\.\d{1,3})*M?(?:-\d{1,5})*$")
_LETTERED = frozenset(("JIS", "NF", "ASME", "ASTM"))
"""Whose numbers begin with a letter, which may stand apart: `JIS B 1176`."""

_BY_FINGERS = ("pin", "key", "ring", "washer", "cotter", "collar", "clamp", "rivet", "spring")
"""What ends the name of a thing that has no thread, though a thread may give its size: a flat
washer M8 goes with a bolt M8."""

_FAMILY: Mapping[str, str] = {
    "nut": "nut",
    "screw": "screw",
    "bolt": "screw",
    "stud": "screw",
}


def kind_of(standard: str) -> str:
    """Return what a standard describes, '' when it is not listed; a part stands for the whole."""
    return STANDARDS.get(standard) or STANDARDS.get(standard.rpartition("-")[0], "")


def is_listed(standard: str) -> bool:
    """Return whether a standard is known here, if only as one of strength: `SAE J429`."""
    whole = standard.rpartition("-")[0] or standard
    return bool(kind_of(standard)) or not STRENGTH_ONLY.isdisjoint((standard, whole))


def one_body(body: str) -> str:
    """Return who issues a standard under the name that the list has: ASME for ANSI."""
    return _SAME_BODY.get(body, body)


def takes_letter(body: str, word: str) -> bool:
    """Return whether a word is a letter that belongs to the number behind it: `JIS B 1176`."""
    return body in _LETTERED and len(word) == 1 and word.isupper()


def is_number(text: str) -> bool:
    """Return whether this can be the number of a standard: `4762`, `7380-1`, `B18.3`, `J429`."""
    return bool(_NUMBER.match(text))


def nearest(standard: str, most: int = 3) -> tuple[str, ...]:
    """Return the listed standards that a mistyped one may stand for, the likeliest first.

    Those that are one slip of the fingers away: a sign too many, too few, wrong, or two that
    changed places; those of the same body before the others.
    """
    body, _, number = standard.partition(" ")
    rank = {name: _slip(number, name, body) for name in STANDARDS}
    near = sorted((place, name) for name, place in rank.items() if place)
    return tuple(name for _, name in near[:most])


def _slip(number: str, name: str, body: str) -> int:
    """Return how likely a slip leads from `name` to `number`: 1 the likeliest, 0 for none."""
    other_body, _, other = name.partition(" ")
    if number == other:
        return 2 if body != other_body else 0
    if body != other_body or min(len(number), len(other)) < 3:
        return 0
    if sorted(number) == sorted(other):
        return 1 if _swapped(number, other) else 0
    if len(number) == len(other):
        return 4 if sum(a != b for a, b in zip(number, other, strict=True)) == 1 else 0
    shorter, longer = sorted((number, other), key=len)
    if len(longer) - len(shorter) != 1:
        return 0
    one_more = any(longer[:i] + longer[i + 1 :] == shorter for i in range(len(longer)))
    return 3 if one_more else 0


def _swapped(one: str, other: str) -> bool:
    """Return whether two neighbours changed places."""
    differ = [i for i, (a, b) in enumerate(zip(one, other, strict=True)) if a != b]
    return len(differ) == 2 and differ[1] == differ[0] + 1


def has_thread(kind: str) -> bool:
    """Return whether a thing of this kind is one with a thread, as far as its name tells."""
    return not kind.endswith(_BY_FINGERS)


def contradict(said: str, described: str) -> bool:
    """Return whether a kind that an author says cannot be what a standard describes.

    Only a nut and a screw are held against each other; the rest has too many names.
    """
    one, other = _family(said), _family(described)
    return bool(one and other and one != other)


def family_of(kind: str) -> str:
    """Return which family a kind belongs to: "nut", "screw", "set screw", '' for the rest."""
    if kind.replace("-", " ").endswith("set screw"):
        return "set screw"
    return _family(kind)


def _family(kind: str) -> str:
    return _FAMILY.get(kind.replace("-", " ").rpartition(" ")[2], "")
