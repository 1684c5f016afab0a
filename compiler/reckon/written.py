"""Reads what a technician types in a hurry: values, threads, numbers, with the usual slips.

More is taken here than in a file, where a slip is told: an answer shows how it was understood.
"""

from __future__ import annotations

import re
from fractions import Fraction

from compiler import model
from compiler.reckon.answer import Unclear
from compiler.resolve.report import Report
from compiler.resolve.values import ANYTHING, Expected, amount
from compiler.syntax import AmountLit, NumberLit
from compiler.trade.designation import Designation, parse_designation

_LONGEST = 120

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
_QUOTE = re.compile(r'(?<=\d)\s*(?:"|″|\'\')')


def shown(text: str) -> str:
    """Return what was typed, safe to print and no longer than a message can bear."""
    plain = "".join(c if c.isprintable() else "?" for c in text)
    return plain if len(plain) <= 60 else plain[:57] + "…"


def one_text(words: list[str] | str, what: str, example: str) -> str:
    """Return the words of a question as one text without idle blanks."""
    text = " ".join([words] if isinstance(words, str) else words or []).strip()
    if not text:
        raise Unclear(f"Say {what}.", f"For example: {example}")
    if len(text) > _LONGEST:
        raise Unclear(f"That is too long for {what}.", f"For example: {example}")
    if not all(c.isprintable() or c == "\t" for c in text):
        reason = f"{shown(text)!r} holds characters that cannot be read."
        raise Unclear(reason, f"Type it anew, for example: {example}")
    return re.sub(r"\s+", " ", text)


def value_in(text: str, expected: Expected = ANYTHING, example: str = "") -> model.Amount:
    """Return a value of the language: a quantity or range, with tolerance and printed pair.

    Taken besides: a decimal comma, units in the words of the trade ("ft lbs"), `.5`. Raises
    Unclear, with a value to try.
    """
    example = example or expected.example
    tidy = tidied(one_text(text, expected.words, example), example)
    from compiler.parse import parse_fragment

    found = parse_fragment(tidy, "", 0)
    if isinstance(found, NumberLit):
        raise Unclear(f"{shown(text)} has no unit.", f"For example: {example}")
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
    text = _QUOTE.sub(" in", text)
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


def number_in(text: str, what: str, example: str, least: float, most: float) -> Fraction:
    """Return a bare number between two limits."""
    plain = one_text(text, what, example)
    bare = re.sub(r"(?<=\d),(?=\d)", ".", plain)
    bare = re.sub(r"^\.(?=\d)", "0.", bare)
    if not re.fullmatch(r"[0-9]{1,9}(?:\.[0-9]{1,9})?", bare):
        raise Unclear(f"{shown(plain)!r} is no number.", f"For example: {example}")
    number = Fraction(bare)
    if not least <= number <= most:
        reason = f"{shown(plain)} is no sensible {what}; it lies between {least:g} and {most:g}."
        raise Unclear(reason, f"For example: {example}")
    return number


_SMALL_M = re.compile(r"\bm(?=\d)")
_DASHED = re.compile(r"\b(M\d+(?:\.\d+)?)\s*-\s*(?=\d+(?:\.\d+)?\b)")
_GRADE = re.compile(r"\b(?:SAE\s+)?gr(?:ade)?[\s.-]*(?=[258]\b)", re.IGNORECASE)
_ONE_NUMBER = re.compile(r"\b(ISO|DIN|EN|ASME)[\s-]*(?=\d)", re.IGNORECASE)


def designation_in(text: str, example: str) -> Designation:
    """Return a fastener or thread; `m8`, `M8-1.25`, `gr. 8` and `M8,10.9` are taken too."""
    tidy = re.sub(r"(?<=\d),(?=\d(?!\d*\.))", ".", text)
    tidy = re.sub(r"[,;]", " ", tidy)
    tidy = _SMALL_M.sub("M", tidy)
    tidy = _DASHED.sub(r"\1×", tidy)
    tidy = _GRADE.sub("grade ", tidy)
    tidy = re.sub(r"(?<=\d)\s*X\s*(?=\d)", "×", tidy)
    tidy = _ONE_NUMBER.sub(lambda found: found[1].upper() + " ", tidy)
    found, problems = parse_designation(re.sub(r"\s+", " ", tidy).strip())
    for problem in problems:
        raise Unclear(problem.message, problem.hint or f"For example: {example}")
    return found
