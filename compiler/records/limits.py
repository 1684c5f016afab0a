"""The verdict on what was typed, worked out anew: the same as the page's, from the limits alone."""

from __future__ import annotations

import re
from typing import Protocol

MEASURED = frozenset({"number", "torque"})
MOST_DIGITS = 40
"""No reading and no limit has more; far longer ones would be no number to a computer either."""

_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)", re.ASCII)


class Limits(Protocol):
    """What a field of a document and an entry of a record have in common."""

    @property
    def kind(self) -> str: ...
    @property
    def low(self) -> str: ...
    @property
    def high(self) -> str: ...
    @property
    def low_open(self) -> bool: ...
    @property
    def high_open(self) -> bool: ...


def number(text: str) -> float | None:
    """Return the number that was typed, with a point or a comma; None when it is none."""
    clean = text.strip().replace(",", ".", 1)
    if len(clean) > MOST_DIGITS:
        return None
    return float(clean) if _NUMBER.fullmatch(clean) else None


def verdict(limits: Limits, entered: str, good: tuple[str, ...] = ()) -> str:
    """Return `in`, `out`, `below`, `above`, `unread`, or '' where there is nothing to judge.

    `good` are the choices that pass, for what is chosen and not measured.
    """
    if not entered.strip():
        return ""
    if limits.kind not in MEASURED:
        return ("in" if entered in good else "out") if good else ""
    value = number(entered)
    if value is None:
        return "unread"
    if limits.low and _past(float(limits.low) - value, limits.low_open):
        return "below"
    if limits.high and _past(value - float(limits.high), limits.high_open):
        return "above"
    return "in" if limits.low or limits.high else ""


def _past(by: float, is_open: bool) -> bool:
    return by > 0 or (is_open and by == 0)
