"""What many records say together, held against the standard library and a worked example."""

from __future__ import annotations

import re
import statistics
from typing import Any

import pytest

from compiler.document.model import Document
from compiler.emit.records import records_csv, records_json, records_page
from compiler.records import Read, judge_record, read_record, summarize
from compiler.records.plots import HEIGHT, WIDTH, plot
from compiler.records.summary import ENOUGH, capability
from records.records_support import document_in, entry, record_of, sealed


@pytest.fixture(scope="module")
def document(tmp_path_factory: pytest.TempPathFactory) -> Document:
    return document_in(tmp_path_factory.mktemp("reseal"))


def reads_of(document: Document, values: list[str], **changed: Any) -> list[Read]:
    reads = []
    for number, value in enumerate(values):
        day = f"2026-11-{number % 28 + 1:02}T08:00:00+01:00"
        said = "above" if float(value) > 0.05 else "in"
        reading = entry(document, "measure-runout", value, at=day, verdict=said)
        record = record_of(
            document, job=f"job-{number:03}", entries=[reading], begun=day, journal=[], **changed
        )
        read = read_record(f"{number}.json", sealed(record))
        assert read.record is not None
        reads.append(read)
    return reads


def records(reads: list[Read]) -> list[Any]:
    return [read.record for read in reads]


def test_readings_in_the_order_of_time(document: Document) -> None:
    values = ["0.03", "0.06", "0.04"]
    (series,) = summarize(reversed(records(reads_of(document, values)))).series
    assert [one.value for one in series.values] == [0.03, 0.06, 0.04]
    assert [one.verdict for one in series.values] == ["in", "above", "in"]
    assert series.mean == pytest.approx(statistics.fmean([0.03, 0.06, 0.04]))
    assert series.capability is None


def test_capability() -> None:
    """Cpk = min(USL − mean, mean − LSL) / 3 s (formula from memory; common practice, no source)."""
    numbers = [9.0, 10.0, 11.0] * 10
    spread = statistics.stdev(numbers)
    assert capability(numbers, "7", "12") == pytest.approx(2 / (3 * spread))
    assert capability(numbers, "8.5", "14") == pytest.approx(1.5 / (3 * spread))
    assert capability(numbers, "", "12") == pytest.approx(2 / (3 * spread))
    assert capability(numbers, "7", "") == pytest.approx(3 / (3 * spread))
    assert capability(numbers, "", "") is None
    assert capability(numbers[: ENOUGH - 1], "7", "12") is None
    assert capability([10.0] * 30, "7", "12") is None


def test_every_point_lies_in_the_plot(document: Document) -> None:
    for values in (["0.04"], ["0", "0"], ["-5", "100", "0.05"], ["0.04"] * 60):
        (series,) = summarize(records(reads_of(document, values))).series
        drawn = plot(series)
        assert len(drawn.dots) == len(values)
        assert all(0 < dot.x < WIDTH and 0 < dot.y < HEIGHT for dot in drawn.dots)
        assert all(0 < level.y < HEIGHT for level in drawn.levels)


def test_remarks_come_by_step(document: Document) -> None:
    remark = {
        "step": "remove-guard", "number": "1", "text": "It sticks.", "unclear": True,
        "at": "2026-11-26T08:00:00+01:00", "by": "A. Smith",
    }  # fmt: skip
    (one,) = summarize(records(reads_of(document, ["0", "0"], remarks=[remark]))).remarks
    assert one.unclear == 2
    assert one.texts == (("It sticks.", "A. Smith", "2026-11-26T08:00:00+01:00"),) * 2


def test_the_outputs_hold_what_was_typed_as_text(document: Document) -> None:
    evil = '<script>alert(1)</script>=1+1"'
    remark = {"step": "x", "number": "1", "text": evil, "unclear": False, "at": "", "by": evil}
    reads = reads_of(document, ["0.06"] * ENOUGH, remarks=[remark], serial=evil, title=evil)
    faults = [f for r in reads if r.record for f in judge_record(r.file, r.record, document, {})]
    summary = summarize(records(reads))
    page = records_page(reads, faults, summary)
    assert "<script" not in page
    assert page.count("<circle") + page.count('class="cross"') == ENOUGH
    assert "&lt;script&gt;" in page
    table = records_csv(reads)
    assert len(table.splitlines()) == ENOUGH + 1
    assert not re.search(r"(^|,)=", table)
    assert '"out-of-limits"' in records_json(reads, faults, summary)
