"""Which known name a wrong one was probably meant to be."""

from __future__ import annotations

import difflib
from bisect import bisect
from collections.abc import Iterable

_MANY = 200
"""Names that are looked at one by one; of more, only neighbours in the order of the alphabet."""


def suggest(name: str, candidates: Iterable[str]) -> str | None:
    """Return the candidate that `name` was probably meant to be, None if nothing is near.

    Slips of case, hyphen and underscore count as nothing.
    """
    known = sorted(set(candidates))
    plain = _plain(name)
    same = [word for word in known if _plain(word) == plain and word != name]
    if same:
        return same[0]
    if len(known) > _MANY:
        # With as many slips as names, looking at all of them would take minutes.
        at = bisect(known, name)
        known = known[max(0, at - _MANY // 2) : at + _MANY // 2]
    by_plain = {_plain(word): word for word in reversed(known)}
    near = difflib.get_close_matches(plain, list(by_plain), n=1, cutoff=0.7)
    return by_plain[near[0]] if near and by_plain[near[0]] != name else None


def _plain(word: str) -> str:
    return word.casefold().replace("_", "").replace("-", "").replace(" ", "")
