"""What else is printed from the same document: picking lists, lockout tags, labels, torque charts.

Pure: from the library to small views, which `pdf_handouts.py` sets.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from compiler.document.model import (
    Document,
    EnergyView,
    Library,
    MachinePage,
    Measure,
    RevisionView,
    TorqueRow,
    VisitPage,
)
from compiler.emit.job import digest
from compiler.wording.phrases import LABELS
from compiler.wording.text import plain_text


@dataclass(frozen=True, slots=True)
class Tag:
    """A lockout tag: one energy of one machine. `jobs` names what it is isolated for."""

    machine: str
    location: str
    models: tuple[str, ...]
    serial: str
    energy: str
    kind: str
    device: str
    prove: str
    jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """A label for a part to be fitted; `use` is the job that it is laid out for."""

    part: str
    number: str
    quantity: str
    condition: str
    machine: str
    use: str


@dataclass(frozen=True, slots=True)
class ChartRow:
    """A fastener on a torque chart. `left_hand` is told before anything else."""

    fastener: str
    designation: str
    counts: tuple[int, ...]
    models: tuple[str, ...]
    left_hand: bool
    torque: str
    second: str
    window: str
    how: tuple[str, ...]
    wrench: str
    drive: str


@dataclass(frozen=True, slots=True)
class Chart:
    """The torques of one machine. `sources` says from which issues of which procedures."""

    machine: str
    location: str
    rows: tuple[ChartRow, ...]
    sources: tuple[str, ...]
    newest: str
    digest: str


def tags_of(document: Document) -> tuple[Tag, ...]:
    """Return a tag for each energy of a procedure, in the order of isolating."""
    title = _titled(document.title, document.revision)
    return _merged(_tags(document, document.energies, "", title))


def tags_of_visit(visit: VisitPage, library: Library) -> tuple[Tag, ...]:
    """Return the tags of all jobs; one that several jobs of a machine need names them all."""
    found: list[Tag] = []
    for number, document, model, serial in _jobs(visit, library):
        energies = [e for e in document.energies if not model or not e.models or model in e.models]
        tags = _tags(document, energies, serial, f"{number}. {document.title}")
        found += [replace(tag, models=(model,)) if model else tag for tag in tags]
    return _merged(found)


def labels_of(document: Document) -> tuple[Label, ...]:
    """Return a label for each part that a procedure brings along."""
    return tuple(_labels(document, "", "", document.title))


def labels_of_visit(visit: VisitPage, library: Library) -> tuple[Label, ...]:
    """Return the labels of all jobs, so that each job's parts lie together."""
    return tuple(
        label
        for number, document, model, serial in _jobs(visit, library)
        for label in _labels(document, model, serial, f"{number}. {document.title}")
    )


def chart_of(machine: MachinePage, library: Library) -> Chart:
    """Return the torques of a machine, by the names of the fasteners.

    Procedures know the most of a joint (window, order, wrench); a fastener of the machine that no
    procedure tightens is told as the machine's list has it.
    """
    documents = [d for d in library.documents if d.machine_id == machine.id]
    found: list[ChartRow] = []
    used: dict[str, None] = {}
    for document in documents:
        for row in document.torques:
            # What a procedure says for all its models may be only some of the machine's.
            models = row.models or document.models or machine.models
            found.append(_chart_row(row, models))
            used[_titled(document.title, document.revision)] = None
    known = {row.name for document in documents for row in document.torques}
    own = [row for name, row in _own_rows(machine) if name not in known]
    if own:
        used[LABELS.chart_machine] = None
    rows = _joined([*found, *own], machine.models)
    days = [d.revision.day for d in documents if d.revision and d.torques]
    mark = digest(machine.title, repr(rows), *used)
    return Chart(machine.title, machine.location, rows, tuple(used), max(days, default=""), mark)


def _joined(rows: Iterable[ChartRow], models: Sequence[str]) -> tuple[ChartRow, ...]:
    """Return each joint once, by name, with the models that it is like this on; () for all.

    The wrench may be another one from model to model, and the count from job to job.
    """
    first: dict[ChartRow, ChartRow] = {}
    on: dict[ChartRow, set[str]] = {}
    counts: dict[ChartRow, set[int]] = {}
    for row in rows:
        bare = replace(row, counts=(), models=(), wrench="", drive="")
        first.setdefault(bare, row)
        on.setdefault(bare, set()).update(row.models or models)
        counts.setdefault(bare, set()).update(row.counts)
    joined = [
        replace(
            row,
            counts=tuple(sorted(counts[bare])),
            models=() if on[bare] >= set(models) else tuple(sorted(on[bare])),
        )
        for bare, row in first.items()
    ]
    joined.sort(key=lambda row: (row.fastener.casefold(), row.models, row.torque))
    return tuple(joined)


def _jobs(visit: VisitPage, library: Library) -> Iterator[tuple[int, Document, str, str]]:
    """Yield number, procedure, model and serial number of each job."""
    by_id: Mapping[str, Document] = {document.id: document for document in library.documents}
    for job in visit.jobs:
        document = by_id.get(job.procedure.id)
        if document is not None:
            yield job.number, document, job.model, job.serial


def _tags(
    document: Document, energies: Iterable[EnergyView], serial: str, job: str
) -> Iterator[Tag]:
    for energy in energies:
        level = plain_text(energy.level)
        yield Tag(
            document.machine_title or LABELS.no_machine,
            document.location,
            energy.models or (document.models if len(document.models) == 1 else ()),
            serial,
            energy.name,
            f"{energy.kind}, {level}" if level else energy.kind,
            "; ".join(map(plain_text, energy.device)),
            "; ".join(map(plain_text, energy.verify)),
            (job,),
        )


def _merged(tags: Iterable[Tag]) -> tuple[Tag, ...]:
    """Return each tag once, with the jobs of all that are the same."""
    jobs: dict[Tag, tuple[str, ...]] = {}
    for tag in tags:
        bare = replace(tag, jobs=())
        jobs[bare] = (*jobs.get(bare, ()), *tag.jobs)
    return tuple(replace(tag, jobs=names) for tag, names in jobs.items())


def _labels(document: Document, model: str, serial: str, use: str) -> Iterator[Label]:
    for supply in document.supplies:
        if supply.kind != "part" or (model and supply.models and model not in supply.models):
            continue
        models = (model,) if model else supply.models
        place = [document.machine_title, *models, serial]
        yield Label(
            supply.text,
            supply.number,
            supply.quantity,
            supply.condition,
            ", ".join(filter(None, place)),
            use,
        )


def _titled(title: str, revision: RevisionView | None) -> str:
    if revision is None:
        return title
    return f"{title} ({LABELS.revision} {revision.name}, {revision.day})"


def _chart_row(row: TorqueRow, models: tuple[str, ...]) -> ChartRow:
    # The choice of wrenches is the procedure's; what is set on them is the joint's.
    kept = (LABELS.plus_running, LABELS.from_house)
    remarks = [remark for remark in row.remarks if remark.startswith(kept)]
    order = "–".join(map(str, row.order))
    setting = f"{LABELS.set_to} {_both(row.setting)}" if row.setting is not None else ""
    return ChartRow(
        row.fastener,
        row.designation,
        (row.count,),
        models,
        LABELS.left_hand in row.remarks,
        row.target.text,
        row.target.second,
        row.window.text if row.window else "",
        tuple(filter(None, [row.stages, row.sequence, order, row.thread, *remarks])),
        row.wrench,
        ", ".join(filter(None, [row.drive, setting])),
    )


def _both(one: Measure) -> str:
    return f"{one.text} ({one.second})" if one.second else one.text


def _own_rows(machine: MachinePage) -> Iterator[tuple[str, ChartRow]]:
    """Yield the machine's own fasteners that have a torque, with their names."""
    for row in machine.fasteners:
        if not any(sign.isdigit() for sign in row.torque):
            continue
        facts = [plain_text(fact).casefold() for fact in row.facts]
        yield (
            row.name,
            ChartRow(
                row.label,
                row.designation,
                (row.count,),
                row.models,
                any(fact.startswith(LABELS.left_hand.casefold()) for fact in facts),
                row.torque,
                "",
                "",
                (),
                "",
                row.tool,
            ),
        )
