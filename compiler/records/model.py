"""A record as a page saves it, field for field, and what can be wrong with one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

FORMAT = "witnessmark-record"
VERSION = 2
FIRST_VERSION = 1
"""Version 1 knew neither a second unit nor rounds; it is still read."""

JournalRow: TypeAlias = tuple[str, str, str, str, str | bool, str]
"""When, who, what (`tick`, `entry`, `remark` …), its name, the value, what the reader saw there."""


@dataclass(frozen=True, slots=True)
class StepDone:
    """A step of the job as it was shown: ticked or not, when and by whom.

    An `optional` one is done only if the reader finds that it has to be.
    """

    step: str
    number: str
    text: str
    optional: bool
    done: bool
    at: str
    by: str


@dataclass(frozen=True, slots=True)
class RoundDone:
    """One round of a repeat that is shown once: `foot nut 2`, ticked or not, when and by whom.

    An `optional` one is done only if the reader finds that it has to be.
    """

    name: str
    text: str
    optional: bool
    done: bool
    at: str
    by: str


@dataclass(frozen=True, slots=True)
class Entry:
    """A reading, answer or signature as it was typed, with its limits as decimal texts.

    A reading in another unit than `unit` was typed with that unit: `entered` is then `0.002 in`.
    `value` is what was measured as a decimal text in `unit`, rounded to nine places, '' for none.
    `low` and `high` are inclusive unless `low_open`/`high_open`. `verdict` is what the page said:
    `in`, `out`, `below`, `above`, `unread`, or '' where there is nothing to judge.
    """

    step: str
    field: str
    name: str
    label: str
    kind: str
    told: str
    entered: str
    value: str
    unit: str
    low: str
    high: str
    low_open: bool
    high_open: bool
    limit: str
    verdict: str
    at: str
    by: str


@dataclass(frozen=True, slots=True)
class LaidOut:
    """A line of the lists before the start, ticked or not."""

    name: str
    ticked: bool


@dataclass(frozen=True, slots=True)
class Remark:
    """What somebody wrote to a step; `unclear` when they marked it so."""

    step: str
    number: str
    text: str
    unclear: bool
    at: str
    by: str


@dataclass(frozen=True, slots=True)
class Record:
    """One job as it was done. Times are ISO 8601 with their offset; '' when there is none.

    `content` is the content digest of the procedure that the page was made from. `seal` is the
    SHA-256 of the record without it, as JSON without spaces: it shows a change, not who made it.
    """

    record: str
    version: int
    procedure: str
    title: str
    revision: str
    content: str
    machine: str
    machine_title: str
    serial: str
    job: str
    begun: str
    ended: str
    people: tuple[str, ...]
    model: str
    complete: bool
    steps: tuple[StepDone, ...]
    rounds: tuple[RoundDone, ...]
    entries: tuple[Entry, ...]
    laid_out: tuple[LaidOut, ...]
    remarks: tuple[Remark, ...]
    journal: tuple[JournalRow, ...]
    seal: str


FaultKind: TypeAlias = Literal[
    "not-a-record",
    "cut-off",
    "changed",
    "unknown-procedure",
    "older-content",
    "does-not-fit",
    "journal-differs",
    "wrong-verdict",
    "out-of-limits",
    "not-entered",
    "not-signed",
    "own-hand",
    "not-ticked",
    "not-finished",
    "wrench-overdue",
    "odd-times",
    "saved-twice",
    "copied",
    "ticked-at-once",
]


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with a record, where, and what to do. `line` and `column` count from 1."""

    kind: FaultKind
    file: str
    message: str
    hint: str
    is_error: bool = True
    line: int = 1
    column: int = 1


@dataclass(frozen=True, slots=True)
class Read:
    """A file that was read: the record, or None and why not."""

    file: str
    record: Record | None
    faults: tuple[Fault, ...]
