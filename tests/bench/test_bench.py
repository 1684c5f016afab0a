"""The benchmark runs, its arithmetic is right, and the report has the rows that it makes."""

from __future__ import annotations

import math
import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from sheets.support import Sheet

from bench.measure import Row, exponent, row_of
from bench.naive import as_pdf
from bench.report import report
from bench.rows import SMALL, demo_sheets, measure
from bench.texts import nested, plain
from compiler.pipeline import compile_sources

HERE = Path(__file__).resolve().parent


@cache
def _rows() -> list[Row]:
    return measure(SMALL)


def test_each_row_is_measured_and_stands_in_the_table() -> None:
    text = report(_rows())
    for row in _rows():
        # No figure is judged here: on a busy machine even the power of growth may be negative.
        assert math.isfinite(row.ratio)
        assert f"| {row.what} | {row.baseline} |" in text
        assert row.spread[0] <= row.ratio <= row.spread[1]


def test_the_report_has_the_rows_of_today_with_their_verdicts() -> None:
    text = (HERE / "REPORT.md").read_text(encoding="utf-8")
    found = re.findall(
        r"^\| (.+?) \| (.+?) \| ([\d.]+) \| [\d.]+ ?\.\.[\d. ]+ \| ([\d.]+) \| (yes|no) \|$",
        text,
        re.MULTILINE,
    )
    # Sizes differ between the two, so numbers in the names do not count.
    assert [_plain(row[0]) for row in found] == [_plain(row.what) for row in _rows()]
    assert [float(row[3]) for row in found] == [row.bar for row in _rows()]
    for row in found:
        assert (row[4] == "yes") is (float(row[2]) <= float(row[3]) + 0.005)


def _plain(text: str) -> str:
    return re.sub(r"\d+", "0", text)


def test_the_careless_sheet_says_and_shows_the_same() -> None:
    """The baseline is the same sheet: each letter, on as many pages."""
    (ours,), (page,), pictures = demo_sheets(1)
    first, second = Sheet(ours.make()), Sheet(as_pdf(page, pictures))
    assert Counter(first.flow) == Counter(second.flow)
    assert len(first.pages) == len(second.pages)
    assert first.data != second.data


@pytest.mark.parametrize(("power", "factor"), [(1, 3.0), (2, 0.5), (0.5, 7.0)])
def test_the_exponent_is_the_power_of_the_size(power: float, factor: float) -> None:
    sizes = [10, 20, 40, 80]
    assert exponent(sizes, [factor * s**power for s in sizes]) == pytest.approx(power)


def test_a_row_is_met_up_to_its_bar() -> None:
    assert row_of("a", "b", [1, 3, 2], 2).is_met
    assert not row_of("a", "b", [1, 3, 2], 1.9).is_met
    assert row_of("a", "b", [1, 3, 2], 2).spread == (1.5, 2.5)


@pytest.mark.parametrize("lines", [20, 175])
def test_what_is_measured_is_clean_and_of_the_size_that_is_said(lines: int) -> None:
    sources = plain(lines, 2)
    compiled = compile_sources(sources, lambda path: pytest.fail(path))
    assert compiled.findings == ()
    procedures = [s for s in sources if s.path.startswith("p")]
    assert all(lines - 5 < len(s.text.splitlines()) <= lines for s in procedures)


def test_the_growing_case_has_five_models_and_grows_by_its_steps() -> None:
    small, large = (
        compile_sources(nested(steps), lambda path: pytest.fail(path)) for steps in (8, 16)
    )
    assert len(small.walks) == len(large.walks) == 5
    assert small.findings == large.findings == ()
