"""Values in words: quantities with their second unit, limits, times, turns."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from compiler.model import Amount, Duration, Limit, Tolerance
from compiler.trade.units import Quantity, dual, format_quantity
from compiler.wording.english import listed, number
from compiler.wording.text import Line, Measure, Piece, line
from compiler.wording.voice import Voice

_NEVER_DUAL = frozenset({"time", "angle", "ratio", ""})
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
    # Kelvin is written for a rise: as a temperature it would come out far below zero.
    if quantity.dimension in _NEVER_DUAL or quantity.unit == "K":
        return ""
    other = dual(quantity, voice.units, voice.second_units)
    return format_quantity(other) if other is not None else ""


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


def measure(voice: Voice, amount: Amount) -> Measure:
    """Return an amount with its second unit: the author's own pair if there is one."""
    text = amount_text(amount)
    if amount.twin is not None:
        return Measure(text, amount_text(amount.twin))
    low = second_text(voice, amount.low)
    if not low:
        return Measure(text)
    high = second_text(voice, amount.high) if amount.high is not None else ""
    second = from_to(low, high) if high else low
    if amount.tolerance is not None:
        second += _second_tolerance(voice, amount.tolerance)
    return Measure(text, f"{amount.qualifier} {second}".strip())


def _second_tolerance(voice: Voice, tolerance: Tolerance) -> str:
    """Return the tolerance beside a value in the second unit; '' for one of temperatures."""
    if tolerance.plus.dimension == tolerance.minus.dimension == "ratio":
        return f" {tolerance_text(tolerance)}"
    if "temperature" in (tolerance.plus.dimension, tolerance.minus.dimension):
        return ""
    plus = dual(tolerance.plus, voice.units, voice.second_units)
    minus = dual(tolerance.minus, voice.units, voice.second_units)
    if plus is None or minus is None:
        return ""
    return f" {tolerance_text(Tolerance(plus, minus))}"


def measured(voice: Voice, quantity: Quantity) -> Measure:
    """Return one quantity with its second unit."""
    return Measure(quantity_text(quantity), second_text(voice, quantity))


def limit_line(voice: Voice, limit: Limit) -> Line:
    """Return a limit as it follows `must be`: `at most 0.05 mm`, `between 1 mm and 2 mm`."""
    low = _limit_measure(voice, limit, limit.low)
    if limit.relation == "between" and limit.high is not None:
        return line("between ", low, " and ", _limit_measure(voice, limit, limit.high))
    if limit.relation == "about":
        return line(low)
    return line(f"{limit.relation} ", low)


def _limit_measure(voice: Voice, limit: Limit, amount: Amount) -> Measure:
    """Return an end of a limit. A difference of temperatures has no zero to convert from."""
    if limit.scope == "spread" and amount.low.dimension == "temperature":
        return Measure(amount_text(amount))
    return measure(voice, amount)


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
        plain = f"{minutes:g}" if minutes < 10 and minutes != whole else str(whole)
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
