"""How long it takes: the three-point estimate of one task or of several in a row."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from compiler.reckon.answer import Answer, Result, Step, Unclear
from compiler.reckon.units import significant, symbol
from compiler.reckon.written import number_in, one_text, shown
from compiler.trade.units import find_unit

EXAMPLE = "witnessmark estimate 3 10 20"
SOURCE = "three-point (PERT) estimate"

CAUTIONS = (
    "An estimate is as good as its three numbers: ask the people who have done the job.",
    "The last two lines take the total as normally distributed.",
    (
        "Several tasks count as one after the other, each on its own; what delays one must not "
        "delay the others."
    ),
)


@dataclass(frozen=True, slots=True)
class ThreePoint:
    """The shortest, likeliest and longest time of a task, in one unit."""

    short: Fraction
    likely: Fraction
    long: Fraction

    @property
    def expected(self) -> Fraction:
        """Return E = (O + 4M + P) / 6."""
        return (self.short + 4 * self.likely + self.long) / 6

    @property
    def spread(self) -> Fraction:
        """Return s = (P − O) / 6."""
        return (self.long - self.short) / 6


def estimate(words: Sequence[str]) -> Answer:
    """Return the expected time and its spread; tasks are parted by `+`. Raises Unclear."""
    text = one_text(list(words), "three times: the shortest, the likeliest, the longest", EXAMPLE)
    text, unit = _unit(text)
    tasks = [_task(part) for part in text.split("+")]
    expected = float(sum(task.expected for task in tasks))
    spread = sqrt(sum(task.spread**2 for task in tasks))
    results = tuple(
        Result(name, label, _in(value, unit), value, unit, source=SOURCE)
        for name, label, value in (
            ("expected", "expected", expected),
            ("spread", "spread, one s", spread),
            ("likely-most", "most, in about 5 of 6 cases", expected + spread),
            ("plan", "most, in about 49 of 50 cases", expected + 2 * spread),
        )
    )
    return Answer(
        "estimate",
        " + ".join(_said(task) for task in tasks) + (f" {unit}" if unit else ""),
        {"tasks": " + ".join(_said(task) for task in tasks), "unit": unit},
        results,
        steps=_steps(tasks, unit, spread),
        cautions=CAUTIONS,
    )


def _unit(text: str) -> tuple[str, str]:
    """Take the unit off: `3 10 20 min`, or one behind each number."""
    units = {symbol(word) for word in re.findall(r"[^\W\d_]+", text)}
    if not units:
        return text, ""
    unit = units.pop()
    found = find_unit(unit)
    if units or found is None or found.dimension != "time":
        reason = f"{shown(text)!r} is not three times in one unit."
        raise Unclear(reason, "For example: witnessmark estimate 3 10 20 min")
    return re.sub(r"[^\W\d_]+", " ", text), unit


def _task(text: str) -> ThreePoint:
    numbers = [word for word in re.split(r"[\s/;]+|\.\.|(?<=\d)[-–](?=\d)", text.strip()) if word]
    if len(numbers) != 3:
        are = "is" if len(numbers) == 1 else "are"
        raise Unclear(
            f"Three numbers are meant, and {len(numbers)} {are} here.",
            f"The shortest, the likeliest, the longest: {EXAMPLE}",
        )
    short, likely, long = (number_in(n, "time", EXAMPLE, 0, 10**6) for n in numbers)
    if not short <= likely <= long:
        ordered = " ".join(f"{float(n):g}" for n in sorted((short, likely, long)))
        raise Unclear(
            "The likeliest time lies between the shortest and the longest.",
            f"witnessmark estimate {ordered}",
        )
    return ThreePoint(short, likely, long)


def _said(task: ThreePoint) -> str:
    return " ".join(f"{float(n):g}" for n in (task.short, task.likely, task.long))


def _in(value: float, unit: str) -> str:
    return f"{significant(value)} {unit}".strip()


def _steps(tasks: Sequence[ThreePoint], unit: str, spread: float) -> tuple[Step, ...]:
    steps = []
    for task in tasks:
        short, likely, long = (f"{float(n):g}" for n in (task.short, task.likely, task.long))
        expected, own = (_in(float(value), unit) for value in (task.expected, task.spread))
        steps += [
            Step(f"E = (O + 4M + P) / 6 = ({short} + 4 × {likely} + {long}) / 6 = {expected}"),
            Step(f"s = (P − O) / 6 = ({long} − {short}) / 6 = {own}"),
        ]
    if len(tasks) > 1:
        steps.append(
            Step(
                f"together: E is the sum; s is the root of the sum of squares = {_in(spread, unit)}"
            )
        )
    return (Step(steps[0].text, SOURCE), *steps[1:])
