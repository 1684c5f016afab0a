"""Slips of values: numbers, units, days, limits."""

from __future__ import annotations

from collections.abc import Sequence

from compiler.parse.mistakes.form import Mistake, slip

NUMBER_WORDS = (
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
)  # fmt: skip


def _iso(groups: Sequence[str]) -> str:
    day, month, year = groups[1:4]
    return f"{year}-{int(month):02}-{int(day):02}"


def _iso_from_year(groups: Sequence[str]) -> str:
    year, month, day = groups[1:4]
    return f"{year}-{int(month):02}-{int(day):02}"


def _foot_pounds(groups: Sequence[str]) -> str:
    return "in-lb" if groups[1].startswith("in") else "ft-lb"


VALUES: tuple[Mistake, ...] = (
    # --- Values -----------------------------------------------------------------------------------
    slip(
        "decimal-comma",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 9,5 N·m",
        r"(?<![\d.])(?P<one>[0-9]+),(?P<two>[0-9]+)",
        "A decimal is written with a point.",
        "Write: {1}.{2}",
        "{1}.{2}",
    ),
    slip(
        "gap-in-number",
        "head",
        "every 2 000 h",
        r"(?<!\d)(?P<one>[0-9]{1,3})[ '](?P<two>[0-9]{3})(?!\d)",
        "A number is written without gaps.",
        "Write: {1}{2}",
        "{1}{2}",
    ),
    slip(
        "number-without-zero",
        "measure",
        'measure gap "Gap" at most .05 mm',
        r"(?<![\d.])\.(?P<one>[0-9]+)",
        "A decimal has a digit before its point.",
        "Write: 0.{1}",
        "0.{1}",
    ),
    slip(
        "range-with-hyphen",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 8-10 N·m",
        r"(?<![\w.-])(?P<one>[0-9][0-9.]*) *- *(?P<two>[0-9][0-9.]*)(?![\w/-])",
        "A range is written with two points.",
        "Write: {1}..{2}",
        "{1}..{2}",
    ),
    slip(
        "range-with-to",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 8 to 10 N·m",
        r"(?P<one>[0-9][0-9.]*)(?: *[^\W\d_][\w·]*)? +to +(?P<two>[0-9][0-9.]*)",
        "A range is written with two points.",
        "Write: {1}..{2}",
        "{1}..{2}",
    ),
    slip(
        "unit-missing-before-passes",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 110 in 50 %, 100 %",
        r"(?<=torque )(?P<one>[0-9][0-9.]*)(?= +in +[0-9.]+ *%)",
        "Of what? The unit is missing behind the torque.",
        "Write: {1} N·m",
        "{1} N·m",
        anywhere=True,
    ),
    slip(
        "unit-missing-before-passes-in-a-step",
        "step",
        "tighten cap to 90 in 50 %, 100 %",
        r"(?<= to )(?P<one>[0-9][0-9.]*) +in +[0-9.]+ *%(?:, *[0-9.]+ *%)*",
        "The unit is missing behind the torque, and passes are not said in a step.",
        "Write: {1} N·m; the passes stand on the line of the fastener: in 50 %, 100 %",
        "{1} N·m",
        anywhere=True,
    ),
    slip(
        "pounds-and-feet-in-two-words",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 80 ft lbs",
        r"(?<=[0-9] )(?P<one>ft|feet|foot|in|inch)\.?(?: +|[-·*])(?P<two>lbs|lb|lbf|pounds?)\.?"
        r"(?![\w·])",
        "A unit is one word.",
        "Write: {new}",
        _foot_pounds,
    ),
    slip(
        "pounds-first-in-two-words",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 80 lbs ft",
        r"(?<=[0-9] )(?P<two>lbs|lb|lbf|pounds?)\.? +(?P<one>ft|feet|foot|in|inch)\.?(?![\w·])",
        "A unit is one word.",
        "Write: {new}",
        _foot_pounds,
    ),
    slip(
        "unit-in-two-words",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 9 N m",
        r"(?<![\w·])(?P<one>N|kN|lbf?|kgf?|ft|in) +(?P<two>c?m|ft|in|lbf?)(?![\w·])",
        "A unit is one word.",
        "Write: {1}·{2}",
        "{1}·{2}",
    ),
    slip(
        "day-with-points",
        "head",
        "revision C 20.11.2026",
        r"(?P<one>[0-9]{1,2})\.(?P<two>[0-9]{1,2})\.(?P<three>[0-9]{4})",
        "Days are written year-month-day.",
        "As in: 2026-11-20",
        _iso,
        anywhere=True,
    ),
    slip(
        "day-from-year",
        "head",
        "revision C 2026/11/20",
        r"(?P<one>[0-9]{4})[/.](?P<two>[0-9]{1,2})[/.](?P<three>[0-9]{1,2})",
        "Days are written year-month-day.",
        "As in: 2026-11-20",
        _iso_from_year,
        anywhere=True,
    ),
    slip(
        "day-with-slashes",
        "head",
        "revision C 11/12/2026",
        r"[0-9]{1,2}/[0-9]{1,2}/[0-9]{2,4}",
        "Days are written year-month-day, so that nobody takes the month for the day.",
        "As in: 2026-11-20",
        anywhere=True,
    ),
    slip(
        "number-in-words",
        "head",
        "people two",
        rf"(?<![\w-])(?P<one>{'|'.join(NUMBER_WORDS)})(?![\w-])",
        "A number is written in figures.",
        "Write it in figures.",
        lambda groups: str(NUMBER_WORDS.index(groups[1]) + 1),
    ),
    slip(
        "at-most-in-other-words",
        "measure",
        'measure gap "Gap" max. 0.05 mm',
        r"(?:(?<![\w-])(?:max\.?|maximum|up to|no more than|not more than)|<=|≤|<) *(?=[0-9])",
        "A limit upwards is written `at most`.",
        "Write: at most …",
        "at most ",
        anywhere=True,
    ),
    slip(
        "at-least-in-other-words",
        "measure",
        'measure level "Level" min 20 mm',
        r"(?:(?<![\w-])(?:min\.?|minimum|no less than|not less than|not under)|>=|≥) *(?=[0-9])",
        "A limit downwards is written `at least`.",
        "Write: at least …",
        "at least ",
        anywhere=True,
    ),
    slip(
        "about-in-other-words",
        "part",
        'cap "vent cap" ca. 2 kg',
        r"(?:(?<![\w-])(?:ca\.?|approx\.?|circa|approximately|around|roughly)|~|≈) *(?=[0-9])",
        "What is not exact is written `about`.",
        "Write: about …",
        "about ",
        anywhere=True,
    ),
    slip(
        "over-as-sign",
        "part",
        'cap "vent cap" > 45 kg',
        r"> *(?=[0-9])",
        "More than a value is written `over`.",
        "Write: over …",
        "over ",
    ),
)
