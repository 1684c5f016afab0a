"""The answer of `witnessmark records`: every record of a folder, held against the procedures."""

from __future__ import annotations

import os
import tempfile
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
    Summary,
    judge_record,
    read_record,
    summarize,
)


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
        if name.lower().endswith(".json") and not name.startswith(".")
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
    faults += _twice(reads)
    whole = {read.record.job: read.record for read in reads if read.record is not None}
    return Answer(reads, tuple(faults), summarize(whole.values(), estimates))


def _read(path: Path) -> Read:
    name = path.as_posix()
    try:
        return read_record(name, path.read_bytes())
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
    """Find jobs that were saved several times; the last one by name counts in the summary."""
    by_job: dict[str, list[str]] = defaultdict(list)
    for read in reads:
        if read.record is not None:
            by_job[read.record.job].append(read.file)
    return [
        Fault(
            "saved-twice",
            files[-1],
            f"The job is also in {', '.join(files[:-1])}.",
            "Keep the last one.",
            is_error=False,
        )
        for files in by_job.values()
        if len(files) > 1
    ]


def write_page(path: Path, text: str) -> None:
    """Write a page whole or not at all. Raises `OSError` when the disk refuses."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".witnessmark-", suffix=".html")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
