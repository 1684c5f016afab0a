"""Reads a value with its unit, as the language does and with the slips of a hurry besides."""

from __future__ import annotations

import re
from fractions import Fraction

from compiler.model import Amount
from compiler.reckon.answer import Unclear
from compiler.reckon.written import one_text, shown
from compiler.resolve.report import Report
from compiler.resolve.values import ANGLE, ANYTHING, LENGTH, MASS, TORQUE, Expected, amount
from compiler.syntax import AmountLit, NumberLit
from compiler.trade.units import Quantity

__all__ = ["ANGLE", "ANYTHING", "FORCE", "LENGTH", "MASS", "TORQUE", "Expected"]

FORCE = Expected(frozenset(("force",)), "a force", "20 kN", most=Fraction(10**8))

_FEET = r"(?:ft|foot|feet|')"
_INCHES = r"(?:in|inch|inches)"
_POUNDS = r"(?:lb|lbs|lbf|pound|pounds|pound-force)"
_JOIN = r"[\s.·*/-]*"
_SLIPS: tuple[tuple[str, str], ...] = (
    (rf"{_FEET}{_JOIN}{_POUNDS}", "lbf·ft"),
    (rf"{_POUNDS}{_JOIN}{_FEET}", "lbf·ft"),
    (rf"{_INCHES}{_JOIN}{_POUNDS}", "lbf·in"),
    (rf"{_POUNDS}{_JOIN}{_INCHES}", "lbf·in"),
    (rf"{_INCHES}{_JOIN}(?:oz|ozf|ounces?)", "ozf·in"),
    (rf"(?:oz|ozf|ounces?){_JOIN}{_INCHES}", "ozf·in"),
    (r"(?:kg|kgf|kp)[\s.·*/-]*m(?:etres?|eters?)?", "kgf·m"),
    (r"(?:kg|kgf|kp)[\s.·*/-]*cm", "kgf·cm"),
    (r"newton[\s.·*-]*met(?:re|er)s?", "N·m"),
    (r"(?:deg(?:rees?)?|°)[\s.]*(?:celsius|centigrade|c)", "°C"),
    (r"(?:celsius|centigrade)", "°C"),
    (r"(?:deg(?:rees?)?|°)[\s.]*(?:fahrenheit|f)", "°F"),
    (r"fahrenheit", "°F"),
    (r"kelvin", "K"),
    (r"(?:kilos?|kgs|kilograms?)", "kg"),
    (r"grams?", "g"),
    (r"pounds?", "lb"),
    (r"ounces?", "oz"),
    (r"(?:mms|millimet(?:re|er)s?)", "mm"),
    (r"centimet(?:re|er)s?", "cm"),
    (r"met(?:re|er)s?", "m"),
    (r"kilonewtons?", "kN"),
    (r"newtons?", "N"),
    (r"bars", "bar"),
    (r"(?:us\s*)?gallons?", "gal"),
)
_SLIP = tuple((re.compile(rf"{slip}(?![^\W_])", re.IGNORECASE), unit) for slip, unit in _SLIPS)
_AFTER_NUMBER = re.compile(r"(?<=[0-9¼½¾])\s*(?=[^\W\d]|[°'])")
_NEWTON_METRE = re.compile(r"(?<=[0-9 ])(?:n[\s.·*-]?m|N\s+m|NM|N[\s.*-]M)(?![^\W_])")
_COMMA = re.compile(r"(?<![\d,.])(\d+),(\d+)(?![\d,.])")
_BARE_POINT = re.compile(r"(?<![\d.])\.(?=\d)")
_HYPHENED = re.compile(r"(?<![\d./])(\d+)-(?=\d+/\d)")
_QUOTE = re.compile(r'(?<=\d)\s*(?:"|″|\'\')')


def value_in(text: str, expected: Expected = ANYTHING, example: str = "") -> Amount:
    """Return a value of the language: a quantity or range, with tolerance and printed pair.

    Taken besides: a decimal comma, units in the words of the trade ("ft lbs"), `.5`. Raises
    Unclear, with a value to try.
    """
    example = example or expected.example
    tidy = tidied(one_text(text, expected.words, example), example)
    from compiler.parse import parse_fragment

    if re.search(r"\d{13}", tidy):
        raise Unclear("That is a longer number than anything here has.", f"For example: {example}")
    found = parse_fragment(tidy, "", 0)
    if isinstance(found, NumberLit):
        # The example says the unit; the number that was typed stands in it.
        any_unit = expected is ANYTHING
        own = example if any_unit else re.sub(r"\d+(?:\.\d+)?", found.text, example, count=1)
        raise Unclear(f"{shown(text)} has no unit.", f"For example: {own}")
    if not isinstance(found, AmountLit):
        raise Unclear(f"{shown(text)!r} cannot be read as a value.", f"For example: {example}")
    if found.low.unit is None and (found.high is None or found.high.unit is None):
        raise Unclear(f"{shown(text)} has no unit.", f"For example: {example}")
    report = Report()
    value = amount(report, found, expected)
    for finding in report.findings():
        raise Unclear(finding.message, finding.hint)
    if value is None:  # pragma: no cover - nothing is refused without a finding
        raise Unclear(f"{shown(text)!r} cannot be read as a value.", f"For example: {example}")
    return value


def tidied(text: str, example: str) -> str:
    """Return a value as the language writes it, the slips of a hurry mended."""
    for comma in _COMMA.finditer(text):
        whole, rest = comma.groups()
        if len(rest) == 3 and whole.strip("0"):
            reason = f"{whole},{rest} can be read in two ways: {whole}.{rest} or {whole}{rest}."
            raise Unclear(reason, f"Write a decimal point, or no sign: {example}")
    text = _COMMA.sub(r"\1.\2", text)
    text = _BARE_POINT.sub("0.", text).replace("\N{MINUS SIGN}", "-")
    text = _QUOTE.sub(" in", _HYPHENED.sub(r"\1 ", text))
    text = _AFTER_NUMBER.sub(" ", text)
    text = _NEWTON_METRE.sub("N·m", text)
    return re.sub(r"(?<=[0-9¼½¾] )[^\d()±+]+", _unit_said, text)


def _unit_said(found: re.Match[str]) -> str:
    said = found.group()
    for slip, unit in _SLIP:
        matched = slip.match(said)
        if matched:
            return unit + said[matched.end() :]
    return said


def one_value(text: str, expected: Expected, example: str = "") -> Quantity:
    """Return a value that is no range. Raises Unclear."""
    found = value_in(text, expected, example)
    if found.high is not None:
        reason = f"{expected.words.capitalize()} is meant here, not a range."
        raise Unclear(reason, f"For example: {example or expected.example}")
    return found.low
