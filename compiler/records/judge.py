"""Holds a record against the procedure that it was made from."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from itertools import pairwise

from compiler.document.model import Document, Field
from compiler.records.limits import MEASURED, decimal, number, reading, verdict
from compiler.records.model import (
    FIRST_VERSION,
    Entry,
    Fault,
    FaultKind,
    JournalRow,
    Record,
    RoundDone,
    StepDone,
)
from compiler.records.page import Page, page_of
from compiler.records.together import out_together

AT_ONCE = 2.0
"""So many seconds from one tick to the next, and no work can lie between them."""

MANY = 5
"""So many steps at that pace are no habit of a thumb any more. Common practice, no source."""

_OUT = {"below": "below the limit", "above": "above the limit", "out": "not good"}


@dataclass(frozen=True, slots=True)
class Calibration:
    """A measuring tool of the crib: what it is called, and the last day on which it may be used."""

    name: str
    until: date


def judge_record(
    file: str, record: Record, document: Document | None, crib: Mapping[str, Calibration]
) -> tuple[Fault, ...]:
    """Return what is wrong with a record. `crib` maps the anchors of tools to their calibration.

    Of a procedure that has changed since, only what the record itself can show is judged.
    """
    judge = _Judge(file, record)
    if document is None:
        judge.add(
            "unknown-procedure",
            f"No procedure here is called {record.procedure}.",
            "Name the folder of procedures that it was made from: --procedures FOLDER.",
        )
        return (*judge.faults, *judge.itself(None))
    if record.content != document.digest:
        now = document.revision.name if document.revision else "without a revision"
        judge.add(
            "older-content",
            f"The job was done from {record.procedure} revision {record.revision or 'none'}; the "
            f"procedure here is {now}, with other content. Its limits are those of the record.",
            "To hold it against its own issue, check out that revision of the procedures.",
            is_error=False,
        )
        return (*judge.faults, *judge.itself(None))
    page = page_of(document, record.model, record.entries)
    judge.head(document)
    judge.fit(page)
    return (*judge.faults, *judge.itself(page), *judge.calibration(document, crib))


class _Judge:
    """Gathers the faults of one record."""

    def __init__(self, file: str, record: Record) -> None:
        self.file = file
        self.record = record
        self.numbers = {step.step: step.number for step in reversed(record.steps)}
        self.faults: list[Fault] = []

    def add(self, kind: FaultKind, message: str, hint: str, *, is_error: bool = True) -> None:
        self.faults.append(self._fault(kind, message, hint, is_error))

    def _fault(self, kind: FaultKind, message: str, hint: str, is_error: bool = True) -> Fault:
        return Fault(kind, self.file, message, hint, is_error)

    # --- Against the page ---------------------------------------------------------------------

    def head(self, document: Document) -> None:
        """Find a head that a page of this content cannot have written."""
        record, revision = self.record, document.revision.name if document.revision else ""
        for what, said, right in (
            ("title", record.title, document.title),
            ("revision", record.revision, revision),
            ("machine", record.machine, document.machine_id),
        ):
            if said != right:
                self._unfit(f"Its {what} is {said!r}, but that of this content is {right!r}.")

    def fit(self, page: Page) -> None:
        """Find what the page of the same content does not have, has otherwise, or asks for."""
        told = {step.step for step in self.record.steps}
        for name in sorted(told - page.steps.keys())[:5]:
            self._unfit(f"The record has a step {name}, which the procedure does not have.")
        for name in sorted((page.always & page.steps.keys()) - told)[:5]:
            number_of = page.steps[name].number
            self._unfit(f"Step {number_of} of the procedure does not stand in the record.")
        for step in self.record.steps:
            if step.optional and step.step in page.steps.keys() - page.optional:
                self._unfit(f"Step {step.number} is told as one that may be left out; it may not.")
        if self.record.version > FIRST_VERSION:
            self._fit_rounds(page)
        for entry in self.record.entries:
            self._fit_entry(entry, page.fields.get(entry.field, ()))

    def _fit_rounds(self, page: Page) -> None:
        told = {one.name for one in self.record.rounds}
        for name in sorted(told - page.rounds.keys())[:5]:
            self._unfit(f"The record has a round {name}, which the procedure does not have.")
        for name in sorted((page.always & page.rounds.keys()) - told)[:5]:
            self._unfit(f"The round {page.rounds[name]} does not stand in the record.")
        for one in self.record.rounds:
            if one.optional and one.name in page.rounds.keys() - page.optional:
                self._unfit(f"The round {one.text} is told as one that may be left out.")

    def _unfit(self, message: str) -> None:
        hint = "The record says it is of this very content: ask how it was made."
        self.add("does-not-fit", message, hint)

    def _fit_entry(self, entry: Entry, fields: tuple[Field, ...]) -> None:
        if not fields:
            self._unfit(f"The record has an entry {entry.label!r}, which no step asks for.")
            return
        field = next((one for one in fields if _asked(one) == _asked(entry)), None)
        if field is None:
            self._unfit(f"{entry.label}: the limits in the record are not those of the procedure.")
            field = fields[0]
        recomputed = verdict(field, entry.entered, field.pass_choices, field.second_unit)
        if recomputed != entry.verdict:
            self.add(
                "wrong-verdict",
                f"{entry.label}: {entry.entered} was told as {entry.verdict or 'not judged'!r}, "
                f"but is {recomputed or 'not to be judged'!r} by the limits of the procedure.",
                "Believe the procedure, and ask how the record was made.",
            )
        measures = field.kind in MEASURED
        value = reading(entry.entered, field.unit, field.second_unit) if measures else None
        right = decimal(value)
        if entry.value != right and _asked(field) == _asked(entry):
            is_now = f"{right} {field.unit}".strip() if right else "no number"
            self._unfit(f"{entry.label}: {entry.entered} is {is_now}, and not {entry.value!r}.")

    # --- The record itself --------------------------------------------------------------------

    def itself(self, page: Page | None) -> list[Fault]:
        """Return the faults that a record shows alone, and what its page asks for beyond."""
        found = [*self._values(), *self._ticks(), *self._times(), *self._journal(), *self._pace()]
        if page is not None:
            found += self._together(page)
        if page is not None and self.record.ended:
            found += [*self._open_fields(page), *self._own_hands(page)]
        return found

    def _of_step(self, step: str) -> str:
        number_of = self.numbers.get(step, "")
        return f"Step {number_of}, " if number_of else ""

    def _place(self, entry: Entry) -> str:
        return f"{self._of_step(entry.step)}{_bare(entry.label)}"

    def _values(self) -> Iterator[Fault]:
        for entry in self.record.entries:
            said = verdict(entry, entry.entered) if entry.kind in MEASURED else entry.verdict
            where = f"{self._place(entry)}: {_typed(entry)}"
            if said in _OUT:
                limit = f" ({entry.limit})" if entry.limit else ""
                yield self._fault(
                    "out-of-limits",
                    f"{where.strip()} is {_OUT[said]}{limit}.",
                    "Look at the remarks, and whether the machine may run like this.",
                )
            elif said == "unread":
                yield self._fault(
                    "not-entered", f"{where.strip()} is no number.", "Ask what was read."
                )

    def _together(self, page: Page) -> Iterator[Fault]:
        """Find what is good reading by reading, and out of limits as a whole."""
        entries: dict[str, list[Entry]] = {}
        for entry in self.record.entries:
            entries.setdefault(entry.field, []).append(entry)
        for name, rows in entries.items():
            for field in page.fields.get(name, ()):
                if _asked(field) != _asked(rows[0]):
                    continue
                for whole in out_together(field, rows):
                    where = ", ".join(filter(None, (self._place(rows[0]), whole.round)))
                    came_to = f"{decimal(whole.value)} {field.unit}".strip()
                    yield self._fault(
                        "out-of-limits",
                        f"{where}: {whole.what} is {came_to}, {_OUT[whole.verdict]}.",
                        "Look at the remarks, and whether the machine may run like this.",
                    )

    def _ticks(self) -> Iterator[Fault]:
        record = self.record
        if not record.ended:
            if record.steps:
                yield self._fault(
                    "not-finished",
                    f"The job begun {_day(record.begun)} is not finished.",
                    "Ask where the machine stands.",
                    is_error=False,
                )
            return
        for what, all_of_them, names in (
            ("steps", record.steps, [step.number for step in record.steps if _is_left(step)]),
            ("rounds", record.rounds, [one.text for one in record.rounds if _is_left(one)]),
        ):
            if names:
                told = ", ".join(names[:8]) + (" …" if len(names) > 8 else "")
                yield self._fault(
                    "not-ticked",
                    f"Finished, but {len(names)} of {len(all_of_them)} {what} are not ticked: "
                    f"{told}.",
                    "Ask whether they were done.",
                )

    def _times(self) -> Iterator[Fault]:
        end = [self.record.ended] if self.record.ended else []
        rows = (row[0] for row in self.record.journal)
        times = [_moment(at) for at in (self.record.begun, *rows, *end)]
        known = [time for time in times if time is not None]
        if len(known) < len(times):
            yield self._fault("odd-times", "A time in the record is none.", "Ask for it again.")
        elif any(later < earlier for earlier, later in pairwise(known)):
            yield self._fault(
                "odd-times",
                "The times in the record go back: the clock of the device was set meanwhile.",
                "Take its times as rough.",
                is_error=False,
            )

    def _journal(self) -> Iterator[Fault]:
        """Hold steps and entries against the taps that they are said to come from."""
        last = {(row[2], row[3]): row for row in self.record.journal}
        odd = [
            f"step {step.number}"
            for step in self.record.steps
            if step.done != _stands(last.get(("tick", f"step:{step.step}")), True, step.at, step.by)
        ]
        odd += [
            f"round {one.text}"
            for one in self.record.rounds
            if one.done != _stands(last.get(("tick", f"tick:{one.name}")), True, one.at, one.by)
        ]
        odd += [
            _bare(entry.label)
            for entry in self.record.entries
            if not _stands(last.get(("entry", entry.name)), entry.entered, entry.at, entry.by)
        ]
        if odd:
            names = ", ".join(odd[:5]) + (" …" if len(odd) > 5 else "")
            yield self._fault(
                "journal-differs",
                f"Its journal, tap by tap, says otherwise than its list: {names}.",
                "A page makes both from the same taps: ask how the record was made.",
            )

    def _pace(self) -> Iterator[Fault]:
        """Find steps that were ticked faster than a hand can work."""
        run = longest = 0
        took = most = 0.0
        before: datetime | None = None
        for row in self.record.journal:
            moment = _moment(row[0])
            if row[2] != "tick" or not row[3].startswith("step:") or row[4] is not True:
                continue
            if moment is None:
                continue
            gap = (moment - before).total_seconds() if before is not None else AT_ONCE + 1
            run, took = (run + 1, took + gap) if 0 <= gap <= AT_ONCE else (1, 0.0)
            before = moment
            if run > longest:
                longest, most = run, took
        if longest >= MANY:
            yield self._fault(
                "ticked-at-once",
                f"{longest} steps one after the other were ticked within "
                f"{'a second' if most <= 1 else f'{most:.0f} seconds'}: together, and not as each "
                "was done.",
                "Ask who saw them done, and in which order.",
                is_error=False,
            )

    def _open_fields(self, page: Page) -> Iterator[Fault]:
        shown = {step.step for step in self.record.steps}
        entered = {entry.field for entry in self.record.entries}
        of_step = {f.id: step.id for step in page.steps.values() for f in step.fields}
        for field, *_ in page.fields.values():
            step = of_step.get(field.id, "")
            if field.optional or field.id in entered or (step and step not in shown):
                continue
            where = self._of_step(step)
            if field.kind == "sign":
                yield self._fault(
                    "not-signed", f"{where}{_bare(field.label)}: not signed.", "Have it signed."
                )
            else:
                yield self._fault(
                    "not-entered",
                    f"{where}{_bare(field.label)}: nothing was entered.",
                    "Ask what was read, or why nothing was.",
                )

    def _own_hands(self, page: Page) -> Iterator[Fault]:
        doers = {step.by for step in self.record.steps if step.step not in page.holds}
        for entry in self.record.entries:
            by_hand = entry.kind == "sign" and entry.name.endswith("-name")
            if not by_hand or entry.step not in page.holds:
                continue
            where = f"{self._place(entry)}: {entry.entered} signed"
            if any(_parts(entry.entered) == _parts(doer) != () for doer in doers):
                yield self._fault(
                    "own-hand",
                    f"{where}, who did the work too.",
                    "A hold point needs another person: have it looked at and signed again.",
                )
            elif alike := sorted(doer for doer in doers if _alike(entry.entered, doer)):
                yield self._fault(
                    "own-hand",
                    f"{where}; the work was done by {alike[0]}. Are they two?",
                    "If it is one person, have it looked at by another and signed again.",
                    is_error=False,
                )

    def calibration(self, document: Document, crib: Mapping[str, Calibration]) -> list[Fault]:
        """Return the measuring tools that were past their day when the job began."""
        begun = _moment(self.record.begun)
        if begun is None:
            return []
        model = self.record.model
        meant = [
            tool.anchor
            for tool in document.tools
            if not model or not tool.models or model in tool.models
        ]
        past = [crib[a] for a in dict.fromkeys(meant) if a in crib and crib[a].until < begun.date()]
        return [
            self._fault(
                "wrench-overdue",
                f"{tool.name} was calibrated until {tool.until.isoformat()}; the job was begun "
                f"{begun.date().isoformat()}.",
                "Have the tool checked. If it reads wrong, what it tightened or measured is open.",
            )
            for tool in past
        ]


def measured(entry: Entry) -> float | None:
    """Return the value of an entry that was measured, in the unit of its limits."""
    value = reading(entry.entered, entry.unit) if entry.kind in MEASURED else None
    return float(value) if value is not None else None


def _asked(what: Field | Entry) -> tuple[str | bool, ...]:
    """Return what is asked for: the kind of entry, its unit and its limits."""
    return (what.kind, what.unit, what.low, what.high, what.low_open, what.high_open)


def _is_left(one: StepDone | RoundDone) -> bool:
    return not (one.done or one.optional)


def _typed(entry: Entry) -> str:
    """Return what was typed with its unit; in another unit, what that is: `0.002 in (0.05 mm)`."""
    if entry.value and number(entry.entered) is None:
        return f"{entry.entered} ({entry.value} {entry.unit})"
    return f"{entry.entered} {entry.unit}"


def _bare(label: str) -> str:
    """Return a label that goes on with a colon: without its full stop."""
    return label.rstrip(".")


def _parts(name: str) -> tuple[str, ...]:
    """Return the parts of a name, whatever their order, dots, accents and capitals."""
    bare = "".join(
        c for c in unicodedata.normalize("NFKD", name.casefold()) if not unicodedata.combining(c)
    )
    return tuple(sorted(re.findall(r"\w+", bare)))


def _alike(name: str, other: str) -> bool:
    """Say whether two names may be one person: `A. Smith` and `Anna Smith`, or just `Smith`."""
    one, two = list(_parts(name)), list(_parts(other))
    if not one or not two or set(one).isdisjoint(two):
        return False
    few, many = sorted((one, two), key=len)
    return all(any(_same(a, b) or _same(b, a) for b in many) for a in few)


def _same(part: str, other: str) -> bool:
    return part == other or (len(part) == 1 and other.startswith(part))


def _stands(row: JournalRow | None, value: str | bool, at: str, by: str) -> bool:
    return row is not None and (row[4], row[0], row[1]) == (value, at, by)


def _day(at: str) -> str:
    return at[:10]


def _moment(at: str) -> datetime | None:
    try:
        moment = datetime.fromisoformat(at)
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None
