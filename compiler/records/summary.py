"""What many records say together: values over time, times, and remarks by step."""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from compiler.records.judge import measured
from compiler.records.model import Entry, Record

_NONE: Mapping[str, str] = MappingProxyType({})

ENOUGH = 25
"""Below so many values a capability says little. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Value:
    """One reading: when, of which machine, how much, and the verdict."""

    at: str
    serial: str
    value: float
    verdict: str
    by: str


@dataclass(frozen=True, slots=True)
class Series:
    """All readings of one field, in the order of time.

    `capability` is Cpk = min(high − mean, mean − low) / 3 s, with s the standard deviation of the
    sample and only the limits that there are; None with fewer than `ENOUGH` values, without a
    limit, or when all values are one (formula from memory).
    """

    procedure: str
    title: str
    field: str
    label: str
    unit: str
    low: str
    high: str
    values: tuple[Value, ...]
    mean: float
    spread: float
    capability: float | None


@dataclass(frozen=True, slots=True)
class Took:
    """How long one job took from its first tap to its end, in minutes, breaks included.

    `estimate` is the time that the procedure gives, in words; '' when it gives none.
    """

    procedure: str
    title: str
    serial: str
    begun: str
    minutes: float
    estimate: str


@dataclass(frozen=True, slots=True)
class StepRemarks:
    """What was remarked on one step, by whom; `unclear` counts those who marked it so."""

    procedure: str
    title: str
    step: str
    number: str
    unclear: int
    texts: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class Summary:
    """All of it, each in a fixed order."""

    series: tuple[Series, ...]
    times: tuple[Took, ...]
    remarks: tuple[StepRemarks, ...]


def summarize(records: Iterable[Record], estimates: Mapping[str, str] = _NONE) -> Summary:
    """Return what the records say together; `estimates` are the times of procedures, in words."""
    ordered = sorted(records, key=lambda record: (record.procedure, record.begun, record.job))
    return Summary(_series(ordered), _times(ordered, estimates), _remarks(ordered))


def _series(records: Sequence[Record]) -> tuple[Series, ...]:
    found: dict[tuple[str, str, str], list[tuple[Record, Entry, float]]] = {}
    for record in records:
        for entry in record.entries:
            value = measured(entry)
            if value is not None:
                key = (record.procedure, entry.field, entry.unit)
                found.setdefault(key, []).append((record, entry, value))
    return tuple(_one_series(rows) for rows in found.values())


def _one_series(rows: Sequence[tuple[Record, Entry, float]]) -> Series:
    rows = sorted(rows, key=lambda row: (row[1].at, row[0].job, row[1].name))
    record, last, _ = rows[-1]
    numbers = [value for _, _, value in rows]
    mean = statistics.fmean(numbers)
    spread = statistics.stdev(numbers) if len(numbers) > 1 else 0.0
    return Series(
        record.procedure,
        record.title,
        last.field,
        last.label,
        last.unit,
        last.low,
        last.high,
        tuple(Value(e.at, r.serial, value, e.verdict, e.by) for r, e, value in rows),
        mean,
        spread,
        capability(numbers, last.low, last.high),
    )


def capability(numbers: Sequence[float], low: str, high: str) -> float | None:
    """Return Cpk of the values for limits as decimal texts ('' for none)."""
    if len(numbers) < ENOUGH or not (low or high):
        return None
    mean, spread = statistics.fmean(numbers), statistics.stdev(numbers)
    if spread == 0:
        return None
    above = float(high) - mean if high else math.inf
    below = mean - float(low) if low else math.inf
    return min(above, below) / (3 * spread)


def _times(records: Sequence[Record], estimates: Mapping[str, str]) -> tuple[Took, ...]:
    made = []
    for record in records:
        minutes = _minutes(record.begun, record.ended)
        given = estimates.get(record.procedure, "")
        if minutes is not None:
            made.append(
                Took(record.procedure, record.title, record.serial, record.begun, minutes, given)
            )
    return tuple(made)


def _minutes(begun: str, ended: str) -> float | None:
    try:
        passed = datetime.fromisoformat(ended) - datetime.fromisoformat(begun)
    except (ValueError, TypeError):
        return None
    minutes = passed.total_seconds() / 60
    return minutes if minutes >= 0 else None


def _remarks(records: Sequence[Record]) -> tuple[StepRemarks, ...]:
    found: dict[tuple[str, str], list[tuple[Record, int]]] = {}
    for record in records:
        for place, remark in enumerate(record.remarks):
            found.setdefault((record.procedure, remark.step), []).append((record, place))
    made = []
    for (procedure, step), rows in found.items():
        remarks = [record.remarks[place] for record, place in rows]
        made.append(
            StepRemarks(
                procedure,
                rows[-1][0].title,
                step,
                remarks[-1].number,
                sum(remark.unclear for remark in remarks),
                tuple((r.text, r.by, r.at) for r in remarks if r.text),
            )
        )
    return tuple(sorted(made, key=lambda one: (one.procedure, -one.unclear, one.step)))
