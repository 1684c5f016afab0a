"""Printed pairs, `20 N·m (15 lbf·ft)`: one must be a rounding of the other."""

from __future__ import annotations

from fractions import Fraction

from compiler import model, syntax
from compiler.findings.model import Fix
from compiler.resolve.report import Report
from compiler.trade.rounding import Sense
from compiler.trade.units import Quantity, convert


def check_twin(
    report: Report,
    lit: syntax.AmountLit,
    found: model.Amount,
    sense: Sense = "value",
    *,
    difference: bool = False,
) -> None:
    """Report a twin that is no rounding of the value before it, and offer the right one.

    `sense` tells that the value is a limit, which may be rounded to its safe side; `difference`
    that it is one of temperatures.
    """
    twin, written = found.twin, lit.twin
    assert twin is not None, "called for pairs only"
    assert written is not None, "called for pairs only"
    if found.low.dimension != twin.low.dimension:
        report.add(
            "wrong-dimension",
            written.span,
            f"A {found.low.dimension} and a {twin.low.dimension} cannot be the same value.",
            (lit.low.span, f"this is a {found.low.dimension}"),
            hint="Give the same value in another unit.",
        )
        return
    if (found.high is None) != (twin.high is None):
        report.add(
            "printed-pair",
            written.span,
            "One of the two is a range and the other is not.",
            (lit.low.span, "the value"),
            hint="Give both ends in both units.",
        )
        return
    is_range = found.high is not None
    pairs = [(found.low, twin.low, written.low, "at least" if is_range else sense)]
    if found.high is not None and twin.high is not None and written.high is not None:
        pairs.append((found.high, twin.high, written.high, "at most"))
    for first, second, place, end in pairs:
        if not agree(first, second, end, difference=difference):
            _disagree(report, lit, (first, second), place, difference=difference)
    if twin.tolerance is not None and written.tolerance is not None:
        _check_tolerance(report, lit, found, twin.tolerance, written.tolerance)


def agree(
    first: Quantity, second: Quantity, sense: Sense = "value", *, difference: bool = False
) -> bool:
    """Return whether one is a rounding of the other, to as many places as it is printed with.

    A limit may also be rounded to its safe side, by less than one of its last place.
    """
    if _rounds_to(first, second, difference) or _rounds_to(second, first, difference):
        return True
    over = second.value - _in(first, second.unit, difference)
    safe = -over if sense == "at most" else over if sense == "at least" else Fraction(-1)
    return 0 <= safe < _step(second)


def _check_tolerance(
    report: Report,
    lit: syntax.AmountLit,
    found: model.Amount,
    second: model.Tolerance,
    place: syntax.ToleranceLit,
) -> None:
    """Report a tolerance of the twin that is not that of the value; one for both is given once."""
    first = found.tolerance
    if first is None:
        report.add(
            "printed-pair",
            place.span,
            "Only the second of the two has a tolerance.",
            (lit.low.span, "the value"),
            hint="Give the tolerance in both units, or in per cent after the pair.",
        )
        return
    assert found.twin is not None, "called for pairs only"
    for one, other in ((first.plus, second.plus), (first.minus, second.minus)):
        if one.dimension == other.dimension == "ratio":
            same = one.si == other.si
        else:
            plain = _side(one, found.low), _side(other, found.twin.low)
            same = agree(*plain, "at most", difference=True)
        if not same:
            right = _side(one, found.low)
            if other.dimension == "ratio":
                hint = f"The value before has {_said(one)}: give the same after the pair."
            else:
                exact = _in(right, other.unit, True)
                hint = f"{_said(one)} is {_printed(exact, other)} {other.unit}."
            report.add(
                "printed-pair",
                place.span,
                f"A tolerance of {_said(other)} is not one of {_said(one)}.",
                (lit.low.span, "the value before the pair"),
                hint=hint,
            )
            return


def _side(side: Quantity, of: Quantity) -> Quantity:
    """Return a side of a tolerance in the unit of its value; a share is taken of the value."""
    if side.dimension != "ratio" or of.dimension == "ratio":
        return side
    # A share gives exact numbers: only the places of the other side may round.
    exact = abs(of.value) * side.si
    return Quantity(exact, of.unit, str(float(exact)) if exact.denominator != 1 else f"{exact}.0")


def _in(quantity: Quantity, unit: str, difference: bool) -> Fraction:
    value = convert(quantity, unit).value
    if difference:
        value -= convert(Quantity(Fraction(0), quantity.unit), unit).value
    return value


def _said(quantity: Quantity) -> str:
    return f"{quantity.text} {quantity.unit}"


def _rounds_to(exact: Quantity, rounded: Quantity, difference: bool) -> bool:
    return abs(_in(exact, rounded.unit, difference) - rounded.value) <= _step(rounded) / 2


def _step(quantity: Quantity) -> Fraction:
    """Return the last place that a printed number claims to know.

    Zeros at the end of a whole number may only fill up: 1500 is good to 100, 150 to 10, 20 to 1.
    The first two digits always count.
    """
    text = quantity.text
    if "." in text:
        return Fraction(1, 10 ** len(text.split(".")[1]))
    if not text.isdecimal():
        return Fraction(0)
    digits = text.lstrip("0")
    zeros = len(digits) - len(digits.rstrip("0"))
    return Fraction(10 ** max(0, min(zeros, len(digits) - 2)))


def _disagree(
    report: Report,
    lit: syntax.AmountLit,
    pair: tuple[Quantity, Quantity],
    place: syntax.QuantityLit,
    *,
    difference: bool,
) -> None:
    first, second = pair
    right = _printed(_in(first, second.unit, difference), second)
    report.add(
        "printed-pair",
        place.span,
        f"{second.text} {second.unit} is not {first.text} {first.unit}.",
        (lit.low.span.to((lit.high or lit.low).span), "the value before the pair"),
        hint=f"{first.text} {first.unit} is {right} {second.unit}.",
        fix=Fix(place.number.span, right),
    )


def _printed(value: Fraction, like: Quantity) -> str:
    """Return a number with as many places as another one, two digits at least."""
    places = len(like.text.split(".")[1]) if "." in like.text else 0
    while places < 4 and abs(value) < Fraction(10) ** (1 - places):
        places += 1
    return f"{float(round(value, places)):.{places}f}"
