"""Plain numbers: exact values, counts, and the members between brackets."""

from __future__ import annotations

from fractions import Fraction

from compiler import syntax
from compiler.resolve.report import Report

MOST_MEMBERS = 200
_LONGEST = 40


def number_of(report: Report, lit: syntax.NumberLit) -> Fraction | None:
    """Return the exact value of a number; None, with a finding, for `1/0` and endless digits."""
    if len(lit.text) > _LONGEST:
        problem = "This number has more digits than anyone can read."
    else:
        try:
            return lit.value
        except ZeroDivisionError:
            problem = f"{lit.text} divides by nothing."
    report.add("quantity-sanity", lit.span, problem, hint="Look at the digits.")
    return None


def whole(
    report: Report,
    lit: syntax.NumberLit | None,
    what: str,
    least: int = 1,
    most: int = 10_000,
) -> int | None:
    """Return a whole number from `least` to `most`; None for none, and with a finding.

    One that is not whole was reported when the file was read.
    """
    if lit is None or not lit.text.isdecimal():
        return None
    value = number_of(report, lit)
    if value is None:
        return None
    if value < least:
        problem = f"{what} is at least {least}, not {lit.text}."
    elif value > most:
        problem = f"{what} is at most {most}, not {lit.text}."
    else:
        return int(value)
    right = f"from {least} to {most}" if value > most else f"from {least} up"
    report.add("count-sanity", lit.span, problem, hint=f"Write a whole number {right}.")
    return None


def index_members(
    report: Report, part: syntax.Word | syntax.NumberLit | syntax.IndexRange
) -> list[str]:
    """Return the members that one piece between brackets names: `left`, `2`, or `1..4`."""
    if isinstance(part, syntax.Word):
        return [part.text]
    if isinstance(part, syntax.NumberLit):
        number = whole(report, part, "The number of a member", least=0)
        return [str(number)] if number is not None else []
    first = whole(report, part.first, "The number of a member", least=0)
    last = whole(report, part.last, "The number of a member", least=0)
    if first is None or last is None:
        return []
    if last < first:
        report.add(
            "count-sanity",
            part.span,
            f"{first} to {last} runs backwards.",
            hint=f"Write {last}..{first}.",
        )
        first, last = last, first
    if last - first >= MOST_MEMBERS:
        report.add(
            "count-sanity",
            part.span,
            f"{last - first + 1} of a kind are too many: {MOST_MEMBERS} at most.",
            hint="Look at the numbers.",
        )
        return []
    return [str(number) for number in range(first, last + 1)]
