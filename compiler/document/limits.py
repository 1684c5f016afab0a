"""Limits of measurements as plain decimal bounds in one unit."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from compiler.document.model import Bounds
from compiler.model import Amount, Limit
from compiler.trade.units import Quantity, convert, format_number


def bounds_of(limits: Sequence[Limit], scopes: Sequence[str], unit: str) -> Bounds | None:
    """Return the tightest bounds of the limits with one of `scopes`, in `unit`; None for none."""
    low: tuple[Fraction, bool] | None = None
    high: tuple[Fraction, bool] | None = None
    for limit in limits:
        if limit.scope not in scopes:
            continue
        one_low, one_high = _ends(limit, unit)
        if one_low is not None and (low is None or _is_tighter(one_low, low)):
            low = one_low
        if one_high is not None and (high is None or _is_tighter(high, one_high)):
            high = one_high
    if low is None and high is None:
        return None
    return Bounds(
        low=format_number(low[0]) if low is not None else "",
        high=format_number(high[0]) if high is not None else "",
        low_open=low is not None and low[1],
        high_open=high is not None and high[1],
    )


def _is_tighter(one: tuple[Fraction, bool], other: tuple[Fraction, bool]) -> bool:
    """Return whether a lower bound lets less through than another one."""
    return one[0] > other[0] or (one[0] == other[0] and one[1])


_End = tuple[Fraction, bool] | None


def _ends(limit: Limit, unit: str) -> tuple[_End, _End]:
    """Return the lower and upper end of a limit, each with whether the end itself is out."""
    low, high = window(limit.low, unit)
    if limit.relation == "at most":
        return None, (high, False)
    if limit.relation == "at least":
        return (low, False), None
    if limit.relation == "above":
        return (low, True), None
    if limit.relation == "below":
        return None, (high, True)
    if limit.relation == "between" and limit.high is not None:
        return (low, False), (window(limit.high, unit)[1], False)
    return (low, False), (high, False)


def window(amount: Amount, unit: str) -> tuple[Fraction, Fraction]:
    """Return the lowest and the highest value an amount allows, in `unit`."""
    low = value_in(amount.low, unit)
    high = value_in(amount.high, unit) if amount.high is not None else low
    if amount.tolerance is None:
        return low, high
    minus = _side(amount.tolerance.minus, amount.low, unit)
    plus = _side(amount.tolerance.plus, amount.high or amount.low, unit)
    return low - minus, high + plus


def has_window(amount: Amount) -> bool:
    """Return whether an amount says how far it may be off."""
    return amount.tolerance is not None or amount.high is not None


def _side(side: Quantity, value: Quantity, unit: str) -> Fraction:
    """Return one side of a tolerance in `unit`; a share is a share of the value."""
    if side.dimension == "ratio" and value.dimension != "ratio":
        return abs(value_in(value, unit)) * side.si
    # A difference has no offset: two temperatures apart by 1 °C are apart by 1.8 °F.
    zero = value_in(Quantity(Fraction(0), side.unit), unit)
    return abs(value_in(side, unit) - zero)


def value_in(quantity: Quantity, unit: str) -> Fraction:
    """Return the number of a quantity in `unit`; as it is when it has no unit of its own."""
    if quantity.unit == unit or not quantity.unit or not unit:
        return quantity.value
    return convert(quantity, unit).value
