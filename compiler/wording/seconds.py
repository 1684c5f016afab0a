"""The shop's second unit beside a value, rounded so that it allows no more than the first one."""

from __future__ import annotations

from compiler.model import Amount, Tolerance
from compiler.trade.rounding import (
    Sense,
    converted,
    converted_range,
    converted_tolerance,
    narrower,
    other_unit,
)
from compiler.trade.units import Quantity, format_quantity
from compiler.wording.voice import Voice

_NEVER = frozenset({"time", "angle", "ratio", ""})
_SENSES: dict[str, Sense] = {
    "at most": "at most",
    "below": "at most",
    "at least": "at least",
    "above": "at least",
    # These tell a fact, which must stay true: what is over 99.2 lb is over 99 lb, not over 100.
    "over": "at most",
    "under": "at least",
}
"""Which way a value may be rounded after a word: a limit to the side that allows no more."""


def sense_of(word: str) -> Sense:
    """Return which way a value after `word` may be rounded."""
    return _SENSES.get(word, "value")


def second_unit(voice: Voice, quantity: Quantity, *, difference: bool = False) -> str:
    """Return the unit a value is given in besides its own, '' for none."""
    # Kelvin is written for a rise: as a temperature it would come out far below zero.
    if quantity.dimension in _NEVER or (quantity.unit == "K" and not difference):
        return ""
    return other_unit(quantity, voice.units, voice.second_units) or ""


def second_of(
    voice: Voice,
    quantity: Quantity,
    sense: Sense = "value",
    *,
    tolerance: Tolerance | None = None,
    difference: bool = False,
) -> str:
    """Return one quantity in the second unit, '' when it has none; well within its tolerance."""
    unit = second_unit(voice, quantity, difference=difference)
    if not unit:
        return ""
    room = narrower(tolerance.plus, tolerance.minus) if tolerance is not None else None
    return format_quantity(converted(quantity, unit, sense, room, difference).quantity)


def second_range(
    voice: Voice, low: Quantity, high: Quantity, *, difference: bool = False
) -> tuple[str, str]:
    """Return both ends of a range in the second unit, ('', '') when there is none."""
    unit = second_unit(voice, low, difference=difference)
    if not unit:
        return "", ""
    ends = converted_range(low, high, unit, difference=difference)
    return format_quantity(ends[0]), format_quantity(ends[1])


def second_toleranced(voice: Voice, amount: Amount) -> tuple[str, Tolerance | None]:
    """Return a value in the second unit and its tolerance, ('', None) when there is none."""
    unit = second_unit(voice, amount.low)
    if not unit or amount.tolerance is None:
        return "", None
    found = converted_tolerance(amount.low, amount.tolerance.plus, amount.tolerance.minus, unit)
    return format_quantity(found.quantity), Tolerance(found.plus, found.minus)
