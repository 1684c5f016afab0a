"""Finds what belongs together in two lists: by name, by place, by likeness; and what moved."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Callable, Hashable, Sequence
from difflib import SequenceMatcher
from typing import TypeAlias, TypeVar

_T = TypeVar("_T")
Pair: TypeAlias = tuple[_T | None, _T | None]
_TIMES = re.compile(r"\s*×\s*")
Key: TypeAlias = Callable[[_T], Hashable]


def paired(old: Sequence[_T], new: Sequence[_T], *keys: Key[_T]) -> list[Pair[_T]]:
    """Return pairs (old, new): in the order of the new list, then what is gone.

    The keys are tried one after the other, the strictest first; each takes in order what has the
    same key. What finds nobody has None on the other side.
    """
    partner: dict[int, int] = {}
    rest = list(range(len(old)))
    for key in keys:
        waiting: dict[Hashable, list[int]] = {}
        for at in rest:
            waiting.setdefault(key(old[at]), []).append(at)
        for at, item in enumerate(new):
            found = waiting.get(key(item)) if at not in partner else None
            if found:
                partner[at] = found.pop(0)
        taken = set(partner.values())
        rest = [at for at in rest if at not in taken]
    pairs: list[Pair[_T]] = [
        (old[partner[at]] if at in partner else None, item) for at, item in enumerate(new)
    ]
    return pairs + [(old[at], None) for at in rest]


def moved(places: Sequence[int]) -> frozenset[int]:
    """Return the indexes of what has to be moved so that `places` rises: as few as can be."""
    ends: list[int] = []
    last_of: list[int] = []
    before: list[int] = []
    for at, place in enumerate(places):
        length = bisect_left(ends, place)
        before.append(last_of[length - 1] if length else -1)
        if length == len(ends):
            ends.append(place)
            last_of.append(at)
        else:
            ends[length], last_of[length] = place, at
    stays: set[int] = set()
    at = last_of[-1] if last_of else -1
    while at >= 0:
        stays.add(at)
        at = before[at]
    return frozenset(range(len(places))) - stays


def alike(one: str, other: str) -> float:
    """Return how alike two texts are, word by word: 0 not at all, 1 the same."""
    return SequenceMatcher(None, words_of(one), words_of(other), autojunk=False).ratio()


def words_of(text: str) -> list[str]:
    """Return the words; a number stays with its unit, as no-break spaces hold them together."""
    return [word.strip(".,;:“”()") for word in _TIMES.sub("×", text).split(" ")]


def explained(before: str, after: str, told: Sequence[tuple[str, str]]) -> bool:
    """Return whether each word that differs is one that differs in what is told already."""
    old, new = words_of(before), words_of(after)
    pairs = [(frozenset(words_of(one)), frozenset(words_of(other))) for one, other in told]
    for tag, low, high, start, end in SequenceMatcher(None, old, new, False).get_opcodes():
        was, now = old[low:high], new[start:end]
        if tag != "equal" and not any(o.issuperset(was) and n.issuperset(now) for o, n in pairs):
            return False
    return True
