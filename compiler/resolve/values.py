"""Values as written become exact quantities: units looked up, dimensions and ranges checked."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from compiler import model, syntax
from compiler.findings.model import Fix
from compiler.findings.near import suggest
from compiler.resolve.numbers import number_of
from compiler.resolve.report import Report
from compiler.source import Span
from compiler.trade.rounding import Sense
from compiler.trade.units import Quantity, find_unit, nearest_units


@dataclass(frozen=True, slots=True)
class Expected:
    """What a value must be: one of some dimensions (none: any), above zero if `positive`.

    `words` names it, `example` shows one. `most` is the biggest value that is not absurd, in the
    base unit of the dimension.
    """

    dimensions: frozenset[str]
    words: str
    example: str
    positive: bool = True
    most: Fraction | None = None


def _one(dimension: str, words: str, example: str, most: float | None = None) -> Expected:
    limit = Fraction(most) if most is not None else None
    return Expected(frozenset((dimension,)), words, example, most=limit)


ANYTHING = Expected(frozenset(), "a value", "5 mm", positive=False)
TORQUE = _one("torque", "a torque", "9 N·m", 1e6)
ANGLE = _one("angle", "an angle", "90 deg", 1e4)
MASS = _one("mass", "a mass", "2.5 kg", 1e6)
LENGTH = _one("length", "a length", "280 mm", 1e5)
HEIGHT = replace(LENGTH, words="a height", positive=False)
WRENCH_SIZE = _one("length", "a size", "13 mm", 0.25)
TIME = _one("time", "a time", "10 min", 3.2e9)
PLACE = Expected(frozenset(("length", "ratio")), "a length or a share", "60 mm", positive=False)
RATIO = Expected(frozenset(("ratio",)), "a share", "30 %", positive=False)
ACCURACY = replace(RATIO, positive=True, most=Fraction(1), words="a share", example="4 %")
VOLUME_OR_MASS = Expected(frozenset(("volume", "mass")), "a volume or a mass", "2.4 L")
TIGHTNESS = Expected(frozenset(("torque", "angle")), "a torque or an angle", "9 N·m")


def amount(
    report: Report,
    lit: syntax.AmountLit,
    expected: Expected,
    *,
    sense: Sense = "value",
    difference: bool = False,
) -> model.Amount | None:
    """Return a value or range with its tolerance and twin; None, with a finding, for nonsense."""
    unit = lit.low.unit or (lit.high.unit if lit.high is not None else None)
    high = quantity(report, lit.high, expected, unit) if lit.high is not None else None
    if lit.high is not None and high is None and lit.low.unit is None:
        return None  # the other end has the same unit, and the same fault: once is enough
    low = quantity(report, lit.low, expected, unit)
    tolerance = None
    if lit.tolerance is not None and low is not None:
        tolerance = _tolerance(report, lit.tolerance, low, unit)
    twin = None
    if lit.twin is not None:
        twin = amount(report, lit.twin, replace(expected, most=None))
    if low is None or (lit.high is not None and high is None):
        return None
    if high is not None:
        _check_range(report, lit, low, high)
    found = model.Amount(lit.span, low, high, tolerance, lit.qualifier, twin)
    if lit.twin is not None and twin is not None:
        from compiler.resolve.twins import check_twin

        check_twin(report, lit, found, sense, difference=difference)
    return found


def quantity(
    report: Report,
    lit: syntax.QuantityLit,
    expected: Expected,
    unit: syntax.Word | None = None,
) -> Quantity | None:
    """Return one quantity; `unit` is that of the other end of a range, for an end without one.

    A unit that is missing altogether was reported when the file was read.
    """
    number = number_of(report, lit.number)
    word = lit.unit or unit
    if number is None:
        return None
    if word is None or not known_unit(report, word):
        return None
    found = Quantity(number, word.text, lit.number.text)
    return found if _fits(report, lit.span, found, expected) else None


def missing_unit(report: Report, lit: syntax.NumberLit, expected: Expected) -> None:
    """Report a number that stands where a value with a unit is meant."""
    report.add(
        "unknown-unit",
        lit.span,
        f"{lit.text} has no unit; {expected.words} is meant here.",
        hint=f"For example: {expected.example}.",
    )


def known_unit(report: Report, word: syntax.Word) -> bool:
    """Return whether there is such a unit; report the nearest ones when there is none."""
    if find_unit(word.text) is not None:
        return True
    near = nearest_units(word.text)[:3]
    sure = bool(near) and (len(near) == 1 or suggest(word.text, near) == near[0])
    near = near[:1] if sure else near
    report.add(
        "unknown-unit",
        word.span,
        f"{word.text} is no unit that is known here.",
        hint=f"Did you mean {' or '.join(near)}?" if near else _UNITS,
        fix=Fix(word.span, near[0]) if sure else None,
    )
    return False


_UNITS = "Write it as the trade does: N·m, mm, kg, bar, degC, min."


def _fits(report: Report, span: Span, found: Quantity, expected: Expected) -> bool:
    """Return whether a quantity is of the dimension that is meant; report other faults as well."""
    if expected.dimensions and found.dimension not in expected.dimensions:
        report.add(
            "wrong-dimension",
            span,
            f"{expected.words.capitalize()} is meant here, but {_said(found)} is "
            f"{_with_article(found.dimension)}.",
            hint=_meant(found, expected),
        )
        return False
    if expected.positive and found.value <= 0:
        report.add(
            "quantity-sanity",
            span,
            f"{_said(found)} makes no sense as {expected.words}.",
            hint=f"For example: {expected.example}.",
        )
        return False
    if expected.most is not None and abs(found.si) > expected.most:
        report.add(
            "quantity-sanity",
            span,
            f"{_said(found)} is more than any {expected.words.split()[-1]} here can be.",
            hint="Look at the unit and at the decimal point.",
        )
    return True


_ARMS = {
    "N": "N·m",
    "kN": "kN·m",
    "kg": "N·m or kgf·m",
    "kgf": "kgf·m",
    "lb": "lbf·ft or lbf·in",
    "lbf": "lbf·ft or lbf·in",
}
"""Units of a torque whose arm was left out, and which could be meant."""


def _meant(found: Quantity, expected: Expected) -> str:
    """Return what to try where a value is of another kind than is meant."""
    if "torque" in expected.dimensions and found.unit in _ARMS:
        return f"A torque is a force times an arm: write {_ARMS[found.unit]}."
    if "torque" in expected.dimensions and found.unit == "in":
        return (
            f"`in` was read as inches. Write the unit behind the number: {found.text} N·m; passes "
            "stand on the line of the fastener: in 30 %, 70 %, 100 %."
        )
    return f"For example: {expected.example}."


def _said(found: Quantity) -> str:
    return f"{found.text} {found.unit}".strip()


def _with_article(dimension: str) -> str:
    article = "an" if dimension[:1] in "aeiou" else "a"
    return f"{article} {dimension}"


def _tolerance(
    report: Report, lit: syntax.ToleranceLit, value: Quantity, unit: syntax.Word | None
) -> model.Tolerance | None:
    """Return a tolerance: a share of the value, or in its dimension."""
    allowed = Expected(
        frozenset((value.dimension, "ratio")), "a tolerance", "±10 %", positive=False
    )
    plus = quantity(report, lit.plus, allowed, lit.minus.unit or unit)
    minus = quantity(report, lit.minus, allowed, unit)
    if plus is None or minus is None:
        return None
    for side, found in ((lit.minus, minus), (lit.plus, plus)):
        share = found.dimension == "ratio" and value.dimension != "ratio"
        too_much = found.si >= 1 if share else found.si >= abs(value.si)
        sure = value.dimension in ("torque", "mass", "volume")
        if found.value < 0 or (too_much and (share or sure)):
            report.add(
                "quantity-sanity",
                side.span,
                f"A tolerance of {_said(found)} leaves nothing of {_said(value)}.",
                hint="Look at the number and at its unit.",
            )
            return None
    return model.Tolerance(plus, minus)


def _check_range(report: Report, lit: syntax.AmountLit, low: Quantity, high: Quantity) -> None:
    """Report a range that runs backwards or mixes dimensions."""
    assert lit.high is not None, "a range has two ends"
    if low.dimension != high.dimension:
        report.add(
            "wrong-dimension",
            lit.high.span,
            f"A range from {_with_article(low.dimension)} to {_with_article(high.dimension)} "
            f"means nothing.",
            (lit.low.span, f"{_said(low)} is {_with_article(low.dimension)}"),
            hint="Give both ends in units of one kind.",
        )
    elif low.si > high.si:
        span = lit.low.span.to(lit.high.span)
        turned = f"{high.text}..{low.text} {high.unit}".strip()
        same = lit.low.unit is None or lit.low.unit.text == high.unit
        report.add(
            "quantity-sanity",
            span,
            f"{low.text} to {high.text} runs backwards.",
            hint=f"Write: {turned}.",
            fix=Fix(span, turned) if same else None,
        )


def duration(report: Report, line: syntax.TakesLine) -> model.Duration | None:
    """Return a time in minutes; the middle of a range is the likely time when none is given."""
    found = amount(report, line.amount, TIME)
    likely = amount(report, line.likely, TIME) if line.likely is not None else None
    if found is None:
        return None
    if found.high is None:
        return model.Duration(line.span, _minutes(found.low))
    low, high = _minutes(found.low), _minutes(found.high)
    middle = _minutes(likely.low) if likely is not None else (low + high) / 2
    if not low <= middle <= high and line.likely is not None:
        report.add(
            "quantity-sanity",
            line.likely.span,
            "The likely time lies outside of the range.",
            (line.amount.span, "the range"),
            hint="Give a time between the two ends.",
        )
    return model.Duration(line.span, middle, low, high)


def _minutes(found: Quantity) -> float:
    return float(found.si / 60)


_SENSES: dict[str, Sense] = {
    "at most": "at most",
    "below": "at most",
    "at least": "at least",
    "above": "at least",
    "between": "at least",
}
"""Which end of what is allowed the first value after a relation is."""


def limit(report: Report, lit: syntax.LimitLit) -> model.Limit | None:
    """Return a limit of a measurement."""
    apart = lit.scope == "spread"
    sense = _SENSES.get(lit.relation, "value")
    low = amount(report, lit.low, ANYTHING, sense=sense, difference=apart)
    high = None
    if lit.high is not None:
        high = amount(report, lit.high, ANYTHING, sense="at most", difference=apart)
    if low is None or (lit.high is not None and high is None):
        return None
    if high is not None and low.low.dimension != high.low.dimension:
        report.add(
            "wrong-dimension",
            lit.span,
            f"Between {_with_article(low.low.dimension)} and {_with_article(high.low.dimension)} "
            f"lies nothing.",
            hint="Give both ends in units of one kind.",
        )
        return None
    if high is not None and low.low.si > high.low.si:
        report.add(
            "quantity-sanity",
            lit.span,
            f"Between {_said(low.low)} and {_said(high.low)} runs backwards.",
            hint=f"Write: between {_said(high.low)} and {_said(low.low)}.",
        )
    return model.Limit(lit.span, lit.relation, low, high, lit.scope)
