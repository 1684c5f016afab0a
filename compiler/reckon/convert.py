"""A value in the trade's other units: rounded for use, and with all its digits."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from compiler.model import Amount
from compiler.reckon.answer import Answer, Result, Step, Table, Unclear
from compiler.reckon.house import House
from compiler.reckon.units import other_units, said, significant, symbol
from compiler.reckon.values import tidied, value_in
from compiler.reckon.written import one_text, shown
from compiler.trade.rounding import converted, converted_range, converted_tolerance
from compiler.trade.units import (
    UNITS,
    Quantity,
    convert,
    find_unit,
    format_number,
    format_quantity,
    nearest_units,
)
from compiler.wording.values import amount_text, from_to

EXAMPLE = 'witnessmark convert "88 in-lb"'
_IN = re.compile(r"(.*\d.*[^\W\d].*) in ([^\W\d]\S*)\??$")
SOURCE = "NIST SP 811, Appendix B.8"


def conversion(words: Sequence[str], to: str, house: House) -> Answer:
    """Return a quantity in other units; with a tolerance or a range, its ends too.

    `to` is one unit that is wanted, '' for all that are usual. Raises Unclear.
    """
    text = one_text(list(words), "a value with its unit", EXAMPLE)
    text, wanted = _split(text, to)
    value = value_in(text, example=EXAMPLE)
    units = (_wanted(wanted, value.low),) if wanted else other_units(value.low, house.all_units)
    if not units:
        reason = f"There is no other usual unit for {said(value.low)}."
        raise Unclear(reason, f"Name one with --to. {EXAMPLE}")
    ends = _ends(value)
    results = tuple(_result(value, ends, unit) for unit in units)
    return Answer(
        "convert",
        f"{_plain(amount_text(value))} ({_dimension(value.low)})",
        {"value": _plain(amount_text(value)), "dimension": value.low.dimension},
        results,
        steps=tuple(_step(value.low, unit) for unit in units),
        cautions=_cautions(value),
        table=_table(value, results),
        more={"limits": [float(end.value) for end in ends]} if ends else {},
    )


def _split(text: str, to: str) -> tuple[str, str]:
    """Take `88 in-lb in N·m` and `88 in-lb to N·m` apart."""
    for sign in (" to ", " into ", " as ", " -> ", " → ", " = "):
        before, found, after = text.rpartition(sign)
        if found and not to and not after[:1].isdigit():
            return before.strip(), after.strip().rstrip("?").strip()
    asked = _IN.match(text)
    if asked and not to:
        return asked[1], asked[2]
    return text, to.strip()


def _wanted(unit: str, value: Quantity) -> str:
    name = one_text(unit, "a unit", "--to N·m")
    tidy = tidied(f"1 {name}", "--to N·m").removeprefix("1 ").strip()
    found = find_unit(tidy)
    if found is None:
        near = " or ".join(nearest_units(tidy)[:3]) if len(tidy) < 24 else ""
        hint = f"Did you mean {near}?" if near else "For example: --to N·m"
        raise Unclear(f"{shown(name)} is no unit that is known here.", hint)
    if found.dimension != value.dimension:
        near = ", ".join(other_units(value)[:4])
        raise Unclear(
            f"{said(value)} is {_article(value.dimension)}, and {found.symbol} is a unit of "
            f"{found.dimension}.",
            f"It can be given in: {near}." if near else "",
        )
    return tidy


def _dimension(value: Quantity) -> str:
    return value.dimension


def _article(dimension: str) -> str:
    return f"an {dimension}" if dimension[:1] in "aeiou" else f"a {dimension}"


def _ends(value: Amount) -> tuple[Quantity, ...]:
    """Return the least and the most that a range or tolerance allows; () without one."""
    low, high = value.low, value.high or value.low
    if value.tolerance is not None:
        minus, plus = value.tolerance.minus, value.tolerance.plus
        low = _moved(low, minus, -1)
        high = _moved(high, plus, 1)
    elif value.high is None:
        return ()
    return low, convert(high, low.unit) if high.unit != low.unit else high


def _moved(value: Quantity, by: Quantity, sign: int) -> Quantity:
    if by.dimension == "ratio" and value.dimension != "ratio":
        moved = value.value + sign * abs(value.value) * by.si
    else:
        # A tolerance is a difference: that of a temperature has no zero to count from.
        theirs, own = find_unit(by.unit), find_unit(value.unit)
        assert theirs is not None, "read quantities have known units"
        assert own is not None, "read quantities have known units"
        moved = value.value + sign * by.value * theirs.factor / own.factor
    return Quantity(moved, value.unit)


def _result(value: Amount, ends: Sequence[Quantity], unit: str) -> Result:
    """Return the value in a unit; its `note` is what a tolerance allows, rounded to the inside."""
    exact = convert(value.low, unit)
    if value.high is not None:
        text = from_to(*map(format_quantity, converted_range(value.low, value.high, unit)))
    elif value.tolerance is not None:
        sides = (value.tolerance.plus, value.tolerance.minus)
        text = format_quantity(converted_tolerance(value.low, *sides, unit).quantity)
    else:
        text = format_quantity(_plenty(converted(value.low, unit).quantity, exact))
    note = ""
    if value.tolerance is not None:
        note = _plain(from_to(*map(format_quantity, converted_range(*_printed(ends), unit))))
    return Result(
        symbol(unit),
        symbol(unit),
        _plain(text),
        float(exact.value),
        symbol(unit),
        source=SOURCE,
        note=note,
    )


_DIGITS = 3
_EXACT = 4
"""Who asks what 2 lb are wants to set a scale: a whole number says little of how exact it is meant,
and `all digits` stands beside it. So at least three digits, and four where that is all there are:
3/8 in is 9.525 mm."""


def _plenty(found: Quantity, exact: Quantity) -> Quantity:
    """Return a rounded value with three digits at least; temperatures keep their places."""
    if exact.dimension == "temperature" or not exact.value:
        return found
    full = f"{float(exact.value):.{_EXACT}g}"
    if Fraction(full) == exact.value:
        return Quantity(exact.value, exact.unit, format_number(exact.value))
    text = significant(float(exact.value), _DIGITS)
    finer = Quantity(Fraction(text), exact.unit, text)
    return min(finer, found, key=lambda one: abs(one.value - exact.value))


def _printed(ends: Sequence[Quantity]) -> tuple[Quantity, Quantity]:
    low, high = (replace(end, text=format_number(end.value)) for end in ends)
    return low, high


def _table(value: Amount, results: Sequence[Result]) -> Table:
    full = [_full(value, result.unit) for result in results]
    if value.tolerance is not None:
        rows = [(r.text, r.note, f) for r, f in zip(results, full, strict=True)]
        return Table(("", "allowed", "all digits"), tuple(rows))
    return Table(("", "all digits"), tuple((r.text, f) for r, f in zip(results, full, strict=True)))


def _full(value: Amount, unit: str) -> str:
    numbers = [f"{float(convert(value.low, unit).value):.10g}"]
    if value.high is not None:
        numbers.append(f"{float(convert(value.high, unit).value):.10g}")
    return " to ".join(numbers)


def _step(value: Quantity, unit: str) -> Step:
    own, other = find_unit(value.unit), find_unit(unit)
    assert own is not None, "read quantities have known units"
    assert other is not None, "units were looked up before"
    if own.offset or other.offset:
        return Step(_temperature(own.symbol, other.symbol), SOURCE)
    source = SOURCE if {value.unit, unit} <= UNITS.keys() else "definitions of the library pint"
    factor = float(own.factor / other.factor)
    return Step(f"1 {own.symbol} = {factor:.10g} {other.symbol}", source)


def _temperature(own: str, other: str) -> str:
    formulas = {
        ("°C", "°F"): "°F = °C × 9/5 + 32",
        ("°F", "°C"): "°C = (°F − 32) × 5/9",
        ("°C", "K"): "K = °C + 273.15",
        ("K", "°C"): "°C = K − 273.15",
        ("°F", "K"): "K = (°F + 459.67) × 5/9",
        ("K", "°F"): "°F = K × 9/5 − 459.67",
    }
    return formulas.get((own, other), f"{own} to {other}")


def _cautions(value: Amount) -> tuple[str, ...]:
    said_so = [f"Rounded to {_DIGITS} digits, or to as many as were written (NIST SP 811, B.7)."]
    if value.tolerance is not None or value.high is not None:
        said_so.append("Ends are rounded to the inside, so that no rounding allows more.")
    if value.low.dimension == "torque":
        said_so.append("A torque is no energy: N·m here is not J, and lbf·ft is no ft·lbf of work.")
    if value.low.dimension == "temperature":
        said_so.append("This is a temperature, not a rise: 10 °C more is 18 °F more.")
    return tuple(said_so)


def _plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")
