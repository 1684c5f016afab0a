"""A value in another unit, rounded so that it means the same: NIST SP 811, Appendix B.7.

A plain value is rounded to nearest. A limit is rounded inwards, the lower end up and the upper end
down, so that the second unit never lets through what the first one forbids (B.7.2: limits that must
be respected). A tolerance is cut to what both units allow.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from compiler.trade.units import (
    Quantity,
    convert,
    find_unit,
    format_number,
    format_quantity,
    rounded,
    written_step,
)

Sense = Literal["value", "at most", "at least"]

_SLACK = 2
"""How much coarser than the written last place the converted one may be: 1 N·m is 0.7 lbf·ft, and
whole numbers answer whole numbers."""
_LOST = {"length": Fraction(4, 100)}
_LOST_ELSE = Fraction(2, 100)
"""How much of a single limit the rounding may take away; of a length more: 0.05 mm is 0.0019 in."""
_LOST_OF_RANGE = Fraction(1, 10)
_LOST_OF_END = Fraction(5, 100)
"""How much of the width of a range, and of its own value, each end may give up."""
_TEN_TO_ONE = Fraction(1, 10)
"""How much of a stated tolerance a rounding may use up (common practice, no source)."""
_FINEST = 9


@dataclass(frozen=True, slots=True)
class Converted:
    """A quantity in another unit: rounded, exact, and why it has these digits, in words."""

    quantity: Quantity
    exact: Quantity
    reason: str


@dataclass(frozen=True, slots=True)
class ConvertedTolerance:
    """A value with both sides of its tolerance, without sign, in another unit."""

    quantity: Quantity
    plus: Quantity
    minus: Quantity


def converted(
    quantity: Quantity,
    unit: str,
    sense: Sense = "value",
    room: Quantity | None = None,
    difference: bool = False,
) -> Converted:
    """Return `quantity` in `unit`, rounded as NIST SP 811 B.7 says, and the reason in words.

    `sense` tells a plain value from a limit, which is rounded inwards. `room` is how far a value
    may be off (in its own unit or per cent); `difference` is a step between two temperatures, which
    has no zero to convert from. Raises ValueError when the dimensions differ.
    """
    exact = _exact(quantity, unit, difference)
    if sense == "value":
        found = _nearest(exact, quantity, room, difference)
    else:
        found = _inwards(exact, quantity, sense, difference)
    return Converted(found, exact, _reason(quantity, exact, found, sense, room))


def converted_range(
    low: Quantity, high: Quantity, unit: str, difference: bool = False
) -> tuple[Quantity, Quantity]:
    """Return both ends of a range in `unit`, to the same place: the lower up, the higher down.

    The range never widens, and no end gives up more than a tenth of its width.
    """
    ends = _exact(low, unit, difference), _exact(high, unit, difference)
    width = abs(ends[1].value - ends[0].value)
    step = min(_step_in(low, unit, difference), _step_in(high, unit, difference))
    for places in _places_from(step * _SLACK):
        up = _up(ends[0].value, places)
        down = _down(ends[1].value, places)
        lost = (up - ends[0].value, down - ends[1].value)
        if up <= down and all(
            abs(one) <= width * _LOST_OF_RANGE and _is_small(one, end, _LOST_OF_END)
            for one, end in zip(lost, ends, strict=True)
        ):
            return _printed(up, places, unit), _printed(down, places, unit)
    # Two ends that are one and the same value have no inside.
    return (
        converted(low, unit, difference=difference).quantity,
        converted(high, unit, difference=difference).quantity,
    )


def converted_tolerance(
    quantity: Quantity, plus: Quantity, minus: Quantity, unit: str
) -> ConvertedTolerance:
    """Return a value and its tolerance in `unit`: together they allow nothing that is not allowed.

    A tolerance in per cent becomes one in `unit`: of a rounded value it would be another window.
    """
    exact = _exact(quantity, unit, False)
    most, least = (_exact(_side(one, quantity), unit, True).value for one in (plus, minus))
    start = _nearest(exact, quantity, None, False)
    for places in range(_decimals(start), _FINEST + 1):
        value = _towards(exact.value, places, up=most > 0, down=least > 0)
        up = _down(exact.value + most - value, places)
        down = _down(value - exact.value + least, places)
        if most == least:
            up = down = min(up, down)
        if up >= most * (1 - _TEN_TO_ONE) and down >= least * (1 - _TEN_TO_ONE):
            sides = (_printed(side, places, unit) for side in (up, down))
            return ConvertedTolerance(_printed(value, places, unit), *sides)
    return ConvertedTolerance(start, Quantity(most, unit), Quantity(least, unit))


def _side(side: Quantity, of: Quantity) -> Quantity:
    """Return one side of a tolerance in a unit, where it is given in per cent of the value."""
    return Quantity(abs(of.value) * side.si, of.unit) if _is_share(side, of) else side


def narrower(plus: Quantity, minus: Quantity) -> Quantity | None:
    """Return the smaller side of a tolerance, None when one side is shut."""
    if not plus.value or not minus.value:
        return None
    return min(plus, minus, key=lambda side: abs(side.value))


def _towards(value: Fraction, places: int, *, up: bool, down: bool) -> Fraction:
    """Return a value rounded to where its tolerance has room: to one side where there is one."""
    if up and not down:
        return _up(value, places)
    if down and not up:
        return _down(value, places)
    return Fraction(round(value, places))


def other_unit(quantity: Quantity, units: Sequence[str], second_units: Sequence[str]) -> str | None:
    """Return the unit of the shop that a quantity is given in besides its own, None for none."""
    own = find_unit(quantity.unit) if quantity.unit else None
    if own is None:
        return None
    preferred = _of_dimension(own.dimension, units)
    second = _of_dimension(own.dimension, second_units)
    is_preferred = preferred is None or find_unit(preferred) == own
    wanted = second if is_preferred else preferred
    return None if wanted is None or find_unit(wanted) == own else wanted


def _of_dimension(dimension: str, units: Sequence[str]) -> str | None:
    for unit in units:
        found = find_unit(unit)
        if found is not None and found.dimension == dimension:
            return unit
    return None


def _exact(quantity: Quantity, unit: str, difference: bool) -> Quantity:
    if not difference:
        return convert(quantity, unit)
    zero = convert(Quantity(Fraction(0), quantity.unit), unit).value
    return Quantity(convert(quantity, unit).value - zero, unit)


def _step_in(quantity: Quantity, unit: str, difference: bool) -> Fraction:
    """Return the last written place of a quantity, in `unit`."""
    step = Quantity(written_step(quantity), quantity.unit)
    return _exact(step, unit, difference or quantity.dimension == "temperature").value


def _nearest(
    exact: Quantity, written: Quantity, room: Quantity | None, difference: bool
) -> Quantity:
    if exact.dimension == "temperature" and not difference:
        places = max(0, _decimals(written))
        found = _printed(Fraction(round(exact.value, places)), places, exact.unit)
    else:
        found = rounded(exact, written)
    allowed = _room_in(room, written, exact)
    if allowed is None:
        return found
    for places in range(_decimals(found), _FINEST + 1):
        value = Fraction(round(exact.value, places))
        if abs(value - exact.value) <= allowed * _TEN_TO_ONE:
            return _printed(value, places, exact.unit)
    return found


def _room_in(room: Quantity | None, written: Quantity, exact: Quantity) -> Fraction | None:
    if room is None or not room.value:
        return None
    if _is_share(room, written):
        return abs(exact.value) * room.si
    return abs(_exact(room, exact.unit, True).value)


def _is_share(side: Quantity, of: Quantity) -> bool:
    return side.dimension == "ratio" and of.dimension != "ratio"


def _inwards(exact: Quantity, written: Quantity, sense: Sense, difference: bool) -> Quantity:
    shifted = exact.dimension == "temperature" and not difference
    turn = _up if sense == "at least" else _down
    step = _step_in(written, exact.unit, difference)
    for places in _places_from(step * _SLACK):
        value = turn(exact.value, places)
        # Whole degrees are read as they are: their zero is not where nothing begins.
        near = shifted or _is_small(
            value - exact.value, exact, _LOST.get(exact.dimension, _LOST_ELSE)
        )
        if near:
            return _printed(value, places, exact.unit)
    return Quantity(exact.value, exact.unit)


def _is_small(lost: Fraction, of: Quantity, share: Fraction) -> bool:
    return of.dimension == "temperature" or abs(lost) <= abs(of.value) * share


def _places_from(step: Fraction) -> range:
    """Return numbers of decimals to try, beginning with the coarsest that is within `step`."""
    places = -6
    while places < _FINEST and Fraction(10) ** -places > step:
        places += 1
    return range(places, _FINEST + 1)


def _up(value: Fraction, places: int) -> Fraction:
    step = Fraction(10) ** -places
    return math.ceil(value / step) * step


def _down(value: Fraction, places: int) -> Fraction:
    step = Fraction(10) ** -places
    return math.floor(value / step) * step


def _printed(value: Fraction, places: int, unit: str) -> Quantity:
    # Fractions are printed without passing through floats: the last digit must be the rounded one.
    shown = max(0, places) if value else 0
    whole = round(value * 10**shown)
    digits = str(abs(whole)).rjust(shown + 1, "0")
    text = f"{digits[:-shown]}.{digits[-shown:]}" if shown else digits
    return Quantity(value, unit, f"-{text}" if whole < 0 else text)


def _decimals(quantity: Quantity) -> int:
    return len(quantity.text.split(".")[1]) if "." in quantity.text else 0


def _reason(
    written: Quantity, exact: Quantity, found: Quantity, sense: Sense, room: Quantity | None
) -> str:
    full = format_number(Fraction(f"{float(exact.value):.7g}"))
    says = f"{format_quantity(written)} is {format_quantity(replace(exact, text=full))}"
    if found.value == exact.value:
        return f"{says}, exactly."
    if sense == "at most":
        return f"{says}. Rounded down to {found.text}, so that the limit does not grow."
    if sense == "at least":
        return f"{says}. Rounded up to {found.text}, so that the limit does not sink."
    if room is not None and room.value:
        return (
            f"{says}. Rounded to {found.text}: as exact as the number that was written, and off by "
            "less than a tenth of the tolerance."
        )
    return f"{says}. Rounded to {found.text}: as exact as the number that was written."
