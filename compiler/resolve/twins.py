"""Printed pairs, `20 N·m (15 lbf·ft)`: one must be a rounding of the other."""

from __future__ import annotations

from fractions import Fraction

from compiler import model, syntax
from compiler.findings.model import Fix
from compiler.resolve.report import Report
from compiler.trade.units import Quantity, convert


def check_twin(report: Report, lit: syntax.AmountLit, found: model.Amount) -> None:
    """Report a twin that is no rounding of the value before it, and offer the right one."""
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
    pairs = [(found.low, twin.low, written.low)]
    if found.high is not None and twin.high is not None and written.high is not None:
        pairs.append((found.high, twin.high, written.high))
    for first, second, place in pairs:
        if not agree(first, second):
            _disagree(report, lit, first, second, place)


def agree(first: Quantity, second: Quantity) -> bool:
    """Return whether one is a rounding of the other, to as many places as it is printed with."""
    return _rounds_to(first, second) or _rounds_to(second, first)


def _rounds_to(exact: Quantity, rounded: Quantity) -> bool:
    return abs(convert(exact, rounded.unit).value - rounded.value) <= _step(rounded) / 2


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
    first: Quantity,
    second: Quantity,
    place: syntax.QuantityLit,
) -> None:
    right = _printed(convert(first, second.unit).value, second)
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
