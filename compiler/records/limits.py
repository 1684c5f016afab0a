"""The verdict on what was typed, worked out anew: the same as the page's, from the limits alone."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Protocol

from compiler.document.exchange import exchange
from compiler.trade.units import UNITS

MEASURED = frozenset({"number", "torque"})
MOST_DIGITS = 40
"""No reading and no limit has more; far longer ones would be no number to a computer either."""
PLACES = 9
"""Behind the point of a value in the unit of its limits; no gauge of a shop reads finer."""

_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)"
_READING = re.compile(rf"({_NUMBER})(?:[ \u00a0]*([^\d\s.,+-]\S*))?", re.ASCII)


class Limits(Protocol):
    """What a field of a document and an entry of a record have in common."""

    @property
    def kind(self) -> str: ...
    @property
    def unit(self) -> str: ...
    @property
    def low(self) -> str: ...
    @property
    def high(self) -> str: ...
    @property
    def low_open(self) -> bool: ...
    @property
    def high_open(self) -> bool: ...


def number(text: str) -> Fraction | None:
    """Return a bare number that was typed, with a point or a comma; None when it is none."""
    return reading(text, "", "")


def reading(text: str, unit: str, second: str | None = None) -> Fraction | None:
    """Return what was typed as a number of `unit`; None when it is none.

    Behind the number may stand a unit: `unit` itself, or `second`; with None any of the table.
    """
    clean = text.strip().replace(",", ".", 1)
    found = _READING.fullmatch(clean) if len(clean) <= MOST_DIGITS else None
    if found is None:
        return None
    value, typed = Fraction(found[1]), found[2]
    if typed is None or typed == unit:
        return value
    known = typed in UNITS if second is None else typed == second
    rate = exchange(unit, typed) if unit and known else None
    return rate.of(value) if rate is not None else None


def decimal(value: Fraction | None) -> str:
    """Return a value as the page writes it into a record: at most `PLACES` places, '' for none.

    What lies half way goes away from zero.
    """
    if value is None:
        return ""
    whole = (abs(value.numerator) * 10**PLACES * 2 + value.denominator) // (2 * value.denominator)
    digits = str(whole).zfill(PLACES + 1)
    text = f"{digits[:-PLACES]}.{digits[-PLACES:]}".rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 and whole else text


def verdict(
    limits: Limits, entered: str, good: tuple[str, ...] = (), second: str | None = None
) -> str:
    """Return `in`, `out`, `below`, `above`, `unread`, or '' where there is nothing to judge.

    `good` are the choices that pass, for what is chosen and not measured; `second` as in `reading`.
    """
    if not entered.strip():
        return ""
    if limits.kind not in MEASURED:
        return ("in" if entered in good else "out") if good else ""
    value = reading(entered, limits.unit, second)
    if value is None:
        return "unread"
    if limits.low and _past(Fraction(limits.low) - value, limits.low_open):
        return "below"
    if limits.high and _past(value - Fraction(limits.high), limits.high_open):
        return "above"
    return "in" if limits.low or limits.high else ""


def _past(by: Fraction, is_open: bool) -> bool:
    return by > 0 or (is_open and by == 0)
