"""Values in words: quantities with their second unit, limits, times, turns."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from compiler.model import Amount, Duration, Limit, Tolerance
from compiler.trade.rounding import Sense
from compiler.trade.units import Quantity, convert, format_quantity, three_digits
from compiler.wording.english import listed, number
from compiler.wording.seconds import (
    second_of,
    second_range,
    second_toleranced,
    second_unit,
    sense_of,
)
from compiler.wording.text import Line, Measure, Piece, line
from compiler.wording.voice import Voice

_TURNS = frozenset({"turn", "turns"})
_SPACE = "\N{NO-BREAK SPACE}"
_TURN_WORDS = {
    Fraction(1, 4): "a quarter turn",
    Fraction(1, 2): "half a turn",
    Fraction(3, 4): "three quarters of a turn",
    Fraction(1): "one turn",
    Fraction(3, 2): "one and a half turns",
}


def quantity_text(quantity: Quantity) -> str:
    """Return a quantity as it is printed: `9 N·m`; turns in words."""
    if quantity.unit in _TURNS:
        return turns(quantity.value)
    return format_quantity(quantity)


def sizes_text(sizes: Sequence[Quantity]) -> str:
    """Return sizes any of which may be wanted: `0.1, 0.2 or 0.5 mm`."""
    units = {size.unit for size in sizes}
    said = [quantity_text(size) for size in sizes]
    if len(units) == 1:
        said = [*(one.rpartition(_SPACE)[0] or one for one in said[:-1]), said[-1]]
    return listed(said, "or")


def turns(value: Fraction) -> str:
    """Return `two turns`, `half a turn`."""
    if value in _TURN_WORDS:
        return _TURN_WORDS[value]
    if value.denominator == 1:
        return f"{number(int(value))} turns"
    return f"{value.numerator}/{value.denominator} turn{'s' if value > 1 else ''}"


def second_text(voice: Voice, quantity: Quantity) -> str:
    """Return the quantity in the shop's second unit, '' when it has none."""
    return second_of(voice, quantity)


def amount_text(amount: Amount) -> str:
    """Return an amount without its second unit: `8 to 10 N·m`, `9 N·m ±10 %`, `over 45 kg`."""
    return _ranged(quantity_text(amount.low), _high_text(amount), amount)


def _high_text(amount: Amount) -> str:
    return quantity_text(amount.high) if amount.high is not None else ""


def _ranged(low: str, high: str, amount: Amount) -> str:
    text = low
    if high:
        text = from_to(low, high)
    if amount.tolerance is not None:
        text += f" {tolerance_text(amount.tolerance)}"
    return f"{amount.qualifier} {text}" if amount.qualifier else text


def from_to(low: str, high: str) -> str:
    """Return a range, its unit once when both ends have the same: `8 to 10 N·m`."""
    return f"{_without_unit(low, high)} to {high}"


def _without_unit(low: str, high: str) -> str:
    """Return the low end of a range without the unit that the high end has as well."""
    low_parts, high_parts = low.split(), high.split()
    same = len(low_parts) == len(high_parts) == 2 and low_parts[1] == high_parts[1]
    return low_parts[0] if same else low


def tolerance_text(tolerance: Tolerance) -> str:
    """Return `±10 %`, or `+0.2 −0.1 mm` when the sides differ."""
    plus, minus = quantity_text(tolerance.plus), quantity_text(tolerance.minus)
    if plus == minus:
        return f"±{plus}"
    return f"+{_without_unit(plus, minus)} −{minus}"


def measure(
    voice: Voice, amount: Amount, sense: Sense | None = None, *, difference: bool = False
) -> Measure:
    """Return an amount with its second unit: the author's own pair if there is one.

    `sense` tells that it is a limit; without it the word before the amount does. `difference` is
    one of temperatures, which has no zero to convert from.
    """
    text = amount_text(amount)
    if amount.twin is not None:
        return Measure(text, amount_text(amount.twin))
    second = _second(voice, amount, sense or sense_of(amount.qualifier), difference)
    return Measure(text, f"{amount.qualifier} {second}".strip() if second else "")


def nominal(voice: Voice, amount: Amount) -> Measure:
    """Return a value without its tolerance, which the second unit is rounded to keep."""
    text = quantity_text(amount.low)
    if amount.twin is not None:
        return Measure(text, quantity_text(amount.twin.low))
    return Measure(text, second_of(voice, amount.low, tolerance=amount.tolerance))


def _second(voice: Voice, amount: Amount, sense: Sense, difference: bool) -> str:
    if amount.high is not None:
        low, high = second_range(voice, amount.low, amount.high, difference=difference)
        return from_to(low, high) + _share_text(amount.tolerance) if low else ""
    if amount.tolerance is not None and not difference:
        value, tolerance = second_toleranced(voice, amount)
        return f"{value} {tolerance_text(tolerance)}" if tolerance is not None else ""
    return second_of(voice, amount.low, sense, difference=difference)


def _share_text(tolerance: Tolerance | None) -> str:
    """Return a tolerance in per cent, which is the same in every unit."""
    if tolerance is None or not tolerance.plus.dimension == tolerance.minus.dimension == "ratio":
        return ""
    return f" {tolerance_text(tolerance)}"


def measured(voice: Voice, quantity: Quantity) -> Measure:
    """Return one quantity with its second unit."""
    return Measure(quantity_text(quantity), second_text(voice, quantity))


def measured_setting(voice: Voice, setting: Quantity) -> Measure:
    """Return what a wrench is set to, with its second unit: three digits are enough for both."""
    unit = second_unit(voice, setting)
    second = format_quantity(three_digits(convert(setting, unit))) if unit else ""
    return Measure(quantity_text(setting), second)


def measured_range(voice: Voice, low: Quantity, high: Quantity) -> Measure:
    """Return a window with its second unit, which lets through no more: `18 to 22 N·m`."""
    text = from_to(quantity_text(low), quantity_text(high))
    second = second_range(voice, low, high)
    return Measure(text, from_to(*second) if second[0] else "")


def limit_line(voice: Voice, limit: Limit) -> Line:
    """Return a limit as it follows `must be`: `at most 0.05 mm`, `between 1 mm and 2 mm`."""
    apart = limit.scope == "spread"
    if limit.relation == "between" and limit.high is not None:
        ends = _between(voice, limit.low, limit.high, apart)
        return line("between ", ends[0], " and ", ends[1])
    low = measure(voice, limit.low, sense_of(limit.relation), difference=apart)
    if limit.relation == "about":
        return line(low)
    return line(f"{limit.relation} ", low)


def _between(voice: Voice, low: Amount, high: Amount, apart: bool) -> tuple[Measure, Measure]:
    """Return both ends of a range; those that the author gave no pair are rounded together."""
    if low.twin is None and high.twin is None:
        second = second_range(voice, low.low, high.low, difference=apart)
        return Measure(amount_text(low), second[0]), Measure(amount_text(high), second[1])
    return (
        measure(voice, low, "at least", difference=apart),
        measure(voice, high, "at most", difference=apart),
    )


def limit_text(limit: Limit) -> str:
    """Return a limit in one unit, for a table or a field: `at most 0.05 mm`, `1 to 2 mm`."""
    low = amount_text(limit.low)
    if limit.relation == "between" and limit.high is not None:
        high = amount_text(limit.high)
        return from_to(low, high)
    return low if limit.relation == "about" else f"{limit.relation} {low}"


def minutes_text(minutes: float) -> str:
    """Return minutes as people say them: `40 s`, `15 min`, `1 h 30 min`, `4 h`."""
    if minutes < 1:
        return f"{round(minutes * 60)} s"
    whole = round(minutes)
    if whole < 60:
        plain = f"{minutes:.1f}".removesuffix(".0") if minutes < 10 else str(whole)
        return f"{plain} min"
    hours, rest = divmod(whole, 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def duration_text(duration: Duration) -> str:
    """Return `10 min`, or `5 to 20 min, likely 10 min`."""
    likely = minutes_text(duration.likely)
    if duration.low is None or duration.high is None or duration.low == duration.high:
        return likely
    low, high = minutes_text(duration.low), minutes_text(duration.high)
    both = (
        f"{_without_unit(low, high)} to {high}" if " h " not in low + high else f"{low} to {high}"
    )
    middle = (duration.low + duration.high) / 2
    return f"{both}, likely {likely}" if duration.likely != middle else both


def listed_lines(lines: Sequence[Line]) -> Line:
    """Return lines one after the other, parted by semicolons."""
    pieces: list[Piece] = []
    for at, given in enumerate(lines):
        pieces += ["; " if at else "", given]
    return line(pieces)
