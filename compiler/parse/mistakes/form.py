"""What one slip is made of."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

Place: TypeAlias = Literal["step", "under", "fastener", "part", "head", "first", "measure", "table"]
"""Where the example of a slip stands; the tests put it into a whole file."""

_NAME = r"[^\W\d_](?:[^\W_]|-(?=[^\W_]))*"


@dataclass(frozen=True, slots=True)
class Mistake:
    """One slip.

    `pattern` is sought in the line, whose texts in quotes have been blanked; what it calls `at`, or
    all it matches, is marked and replaced. `anywhere` is for those that need not touch the word
    where reading stopped, `names` for those that need two names there, `could` names what might
    have stood there instead. In `hint` and `replacement` `{1}` stands for a group, in `hint`
    `{new}` for the replacement; `replacement` is None when only the author knows what is meant.
    """

    name: str
    place: Place
    example: str
    pattern: re.Pattern[str]
    message: str
    hint: str
    replacement: str | Callable[[Sequence[str]], str] | None = None
    anywhere: bool = False
    names: bool = False
    could: str = ""


def slip(
    name: str,
    place: Place,
    example: str,
    pattern: str,
    message: str,
    hint: str,
    replacement: str | Callable[[Sequence[str]], str] | None = None,
    anywhere: bool = False,
    names: bool = False,
    could: str = "",
) -> Mistake:
    """Return a slip; `NAME` in the pattern stands for a name of the language."""
    pattern = pattern.replace("NAME", _NAME)
    compiled = re.compile(pattern)
    return Mistake(
        name, place, example, compiled, message, hint, replacement, anywhere, names, could
    )
