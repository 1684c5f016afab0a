"""The answer of `witnessmark records`: every record of a folder, held against the procedures."""

from __future__ import annotations

import os
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from compiler.model import Tool
from compiler.pipeline import Compiled
from compiler.records import (
    Calibration,
    Fault,
    Read,
    Record,
    Summary,
    judge_record,
    read_record,
    summarize,
)
from compiler.records.read import MOST_BYTES

_ENOUGH = 3
"""Fewer taps may fall on the same seconds by chance, on two devices."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What was read, what is wrong with it, and what it says together."""

    reads: tuple[Read, ...]
    faults: tuple[Fault, ...]
    summary: Summary


def record_files(folder: Path) -> tuple[Path, ...]:
    """Return the JSON files below a folder, or the one file that was named."""
    if folder.is_file():
        return (folder,)
    found = [
        Path(place) / name
        for place, folders, names in os.walk(folder)
        for name in names
        if name.lower().endswith(".json")
        and not name.startswith(".")
        # What waits for a writer, or never ends, is no record.
        and (Path(place) / name).is_file()
    ]
    return tuple(sorted(found))


def records_answer(files: Sequence[Path], compiled: Compiled) -> Answer:
    """Read the files and hold each record against its procedure."""
    documents = {document.id: document for document in compiled.library().documents}
    crib = _crib(compiled)
    estimates = {name: document.time_text for name, document in documents.items()}
    reads = tuple(_read(path) for path in files)
    faults: list[Fault] = []
    for read in reads:
        faults += read.faults
        if read.record is not None:
            document = documents.get(read.record.procedure)
            faults += judge_record(read.file, read.record, document, crib)
    faults += [*_twice(reads), *_copied(reads)]
    # Of several records of one job the longest counts: the others were saved on the way.
    ordered = sorted((r.record for r in reads if r.record), key=lambda one: len(one.journal))
    whole = {record.job: record for record in ordered}
    return Answer(reads, tuple(faults), summarize(whole.values(), estimates))


def _read(path: Path) -> Read:
    name = path.as_posix()
    try:
        with path.open("rb") as file:
            return read_record(name, file.read(MOST_BYTES + 1))
    except OSError as error:
        message = f"The file cannot be read: {error.strerror}."
        return Read(name, None, (Fault("not-a-record", name, message, "Ask who keeps it."),))


def _crib(compiled: Compiled) -> Mapping[str, Calibration]:
    """Return the tools of the crib whose calibration runs out, by the anchors of their pages."""
    shop = compiled.world.shop
    if shop is None:
        return {}
    return {
        name: Calibration(thing.tag or thing.label or thing.name, thing.calibrated_until)
        for name, thing in shop.things.items()
        if isinstance(thing, Tool) and thing.calibrated_until is not None
    }


def _twice(reads: Sequence[Read]) -> list[Fault]:
    """Find jobs that were saved several times, and those whose records do not go on one another."""
    by_job: dict[str, list[tuple[Record, str]]] = defaultdict(list)
    for read in reads:
        if read.record is not None:
            by_job[read.record.job].append((read.record, read.file))
    faults = []
    for saved in by_job.values():
        if len(saved) == 1:
            continue
        saved.sort(key=lambda one: len(one[0].journal))
        (last, file), others = saved[-1], ", ".join(name for _, name in saved[:-1])
        if all(_goes_on(record, last) for record, _ in saved[:-1]):
            message, hint = f"The job is also in {others}.", "Keep the one with the most in it."
            faults.append(Fault("saved-twice", file, message, hint, is_error=False))
        else:
            message = f"The job is also in {others}, and there it went otherwise."
            hint = "One job happens once: ask which of them is true, and how the other was made."
            faults.append(Fault("saved-twice", file, message, hint))
    return faults


def _goes_on(early: Record, late: Record) -> bool:
    """Say whether `late` tells what `early` told, and more; an entry may be typed further."""
    settled = early.journal[:-1]
    return early.serial == late.serial and settled == late.journal[: len(settled)]


def _copied(reads: Sequence[Read]) -> list[Fault]:
    """Find jobs that are said to be two, and were tapped to the second alike."""
    by_taps: dict[tuple[tuple[str, str, str], ...], dict[str, str]] = defaultdict(dict)
    for read in reads:
        taps = tuple((row[0], row[2], row[3]) for row in read.record.journal) if read.record else ()
        if read.record is not None and len(taps) >= _ENOUGH:
            by_taps[taps].setdefault(read.record.job, read.file)
    return [
        Fault(
            "copied",
            file,
            f"All its taps fall on the very seconds of those in {next(iter(jobs.values()))}.",
            "No two jobs go alike to the second: ask how the record was made.",
        )
        for jobs in by_taps.values()
        for file in list(jobs.values())[1:]
    ]
