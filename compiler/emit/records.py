"""What many records say together: as a table for a spreadsheet, as JSON, as a page to look at."""

from __future__ import annotations

import json
from collections.abc import Sequence

from compiler.emit.data import Json, to_json
from compiler.emit.lists import table
from compiler.emit.templating import render_alone
from compiler.records.model import Fault, Read
from compiler.records.plots import HEIGHT, WIDTH, plot
from compiler.records.summary import ENOUGH, Summary
from compiler.wording.phrases import LABELS

_HEAD = (
    "file", "procedure", "revision", "machine", "serial", "model", "job", "begun", "ended", "step",
    "label", "entered", "value", "unit", "low", "high", "verdict", "at", "by",
)  # fmt: skip


def records_csv(reads: Sequence[Read]) -> str:
    """Return one line an entry, with what a spreadsheet needs to sort by."""
    rows: list[tuple[str, ...]] = []
    for read in reads:
        record = read.record
        if record is None:
            continue
        numbers = {step.step: step.number for step in record.steps}
        rows += [
            (
                read.file, record.procedure, record.revision, record.machine, record.serial,
                record.model, record.job, record.begun, record.ended, numbers.get(entry.step, ""),
                entry.label, entry.entered, entry.value, entry.unit, entry.low, entry.high,
                entry.verdict, entry.at, entry.by,
            )
            for entry in record.entries
        ]  # fmt: skip
    return table(_HEAD, rows)


def records_json(reads: Sequence[Read], faults: Sequence[Fault], summary: Summary) -> str:
    """Return files, faults and the summary as JSON; each group names its `type`."""
    body: dict[str, Json] = {
        "files": [read.file for read in reads],
        "faults": to_json(tuple(faults)),
        "summary": to_json(summary),
    }
    return json.dumps(body, ensure_ascii=True, indent=1)


def records_page(reads: Sequence[Read], faults: Sequence[Fault], summary: Summary) -> str:
    """Return one page that stands alone: no script, and nothing beside it."""
    return render_alone(
        "records",
        "summary.html",
        "summary.css",
        LABELS.records_title,
        reads=reads,
        faults=faults,
        summary=summary,
        plots=[(series, plot(series)) for series in summary.series],
        width=WIDTH,
        height=HEIGHT,
        enough=ENOUGH,
    )
