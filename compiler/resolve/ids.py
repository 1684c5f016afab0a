"""Step ids that stay the same when other steps are inserted before them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

_WORDS_OF_PROSE = 5
_LONGEST = 48


class Ids:
    """Hands out the ids of one procedure, each once.

    A name the author gave is an id as it stands. A made id never takes such a name, wherever it
    stands, so that naming a step changes no other step's id.
    """

    def __init__(self, given: Iterable[str] = ()) -> None:
        self._given = frozenset(given)
        self._taken: set[str] = set(self._given)
        self._last: dict[str, int] = {}

    def given(self, name: str) -> str:
        """Return the id of a step with a name of its own."""
        return name if name in self._given else self.made(name)

    def made(self, base: str) -> str:
        """Return `base`, or `base-2`, `base-3` … when it was made before."""
        base = base or "step"
        number = self._last.get(base, 1)
        candidate = base if number == 1 else f"{base}-{number}"
        while candidate in self._taken:
            number += 1
            candidate = f"{base}-{number}"
        self._last[base] = number
        self._taken.add(candidate)
        return candidate


def slug(text: str, words: int = _WORDS_OF_PROSE) -> str:
    """Return the first words of a text as one lower-case word with hyphens; '' for none."""
    plain = unicodedata.normalize("NFKC", text).casefold()
    found = re.findall(r"[^\W_]+", plain)[:words]
    return "-".join(found)[:_LONGEST].strip("-")


def join(*words: str) -> str:
    """Return the words that are not empty, joined by hyphens and cut to a bearable length."""
    return "-".join(word for word in words if word)[:_LONGEST].strip("-")
