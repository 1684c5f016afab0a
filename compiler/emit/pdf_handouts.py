"""Sheets beside the work itself: picking lists, lockout tags, part labels and torque charts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from math import ceil
from textwrap import wrap
from types import MappingProxyType

from compiler.document.model import Library, VisitPage
from compiler.emit.handouts import (
    Chart,
    Label,
    Tag,
    chart_of,
    labels_of,
    labels_of_visit,
    tags_of,
    tags_of_visit,
)
from compiler.emit.job import OutputJob, digest
from compiler.emit.papers import PAPERS
from compiler.emit.pdf import as_pdf, base_key
from compiler.emit.templating import render
from compiler.wording.phrases import LABELS

_FOLDER = "sheet"


@dataclass(frozen=True, slots=True)
class Grid:
    """A sheet of labels: how many across and down, and their sizes in millimetres.

    `left` and `top` are the margins of the sheet, `gap` the room between two columns.
    """

    across: int
    down: int
    width: float
    height: float
    left: float
    top: float
    gap: float

    @property
    def says(self) -> str:
        """Return the grid in words, for the properties of the file."""
        return f"{self.across} × {self.down}, {self.width:g} × {self.height:g} mm"


GRIDS: Mapping[str, Grid] = MappingProxyType(
    {
        "a4": Grid(3, 8, 70, 37, 0, 0.5, 0),
        "letter": Grid(3, 10, 66.7, 25.4, 4.7, 12.7, 3.2),
    }
)
"""Label sheets that offices usually have, by paper (common practice, no source)."""

_LABEL_SETTINGS = (
    ("", (4.7, 24), (4.0, 30), (3.3, 36)),
    ("small", (3.6, 31), (3.2, 37), (2.8, 42)),
)
"""How labels are set: for the part, the quantity, the rest, a line's height and its letters."""

_PICKING_SETTINGS = (("roomy", 10.0), ("middle", 9.0), ("close", 8.4))
"""How large the letters of a picking list are, in points, where all of it fits one page so."""

TAG_WIDTH, TAG_HEIGHT = 90.0, 125.0
"""A lockout tag in millimetres; four fit A4 and Letter."""


@dataclass(frozen=True, slots=True)
class PlacedTag:
    """A tag where it stands on its page; `long` ones are set smaller."""

    left: float
    top: float
    machine: str
    energy: str
    device: str
    prove: str
    jobs: str
    number: str
    long: bool


@dataclass(frozen=True, slots=True)
class PlacedLabel:
    """A label where it stands on its page; `named` says what the quantity is, if there is room."""

    left: float
    top: float
    part: str
    number: str
    named: str
    quantity: str
    condition: str
    machine: str
    use: str
    setting: str


def handout_jobs(library: Library, paper: str) -> list[OutputJob]:
    """Return what is printed beside the sheets; on office paper, whatever `paper` is."""
    office = PAPERS[paper].office
    base = base_key(office)
    jobs: list[OutputJob] = []
    for document in library.documents:
        jobs += _tag_job(base, f"tags/{document.id}", document.title, tags_of(document), office)
        labels = labels_of(document)
        jobs += _label_job(base, f"labels/{document.id}", document.title, labels, office)
    for visit in library.visits:
        name, title = visit.id, visit.title
        tags, labels = tags_of_visit(visit, library), labels_of_visit(visit, library)
        jobs += _tag_job(base, f"tags/visits/{name}", title, tags, office)
        jobs += _label_job(base, f"labels/visits/{name}", title, labels, office)
        if visit.tools or visit.supplies:
            make = partial(_picking, visit, office)
            key = digest(base, repr(visit))
            jobs.append(OutputJob(f"sheets/picking/{name}.pdf", key, make, slow=True))
    for machine in library.machines:
        chart = chart_of(machine, library)
        if chart.rows:
            key = digest(base, repr(chart))
            path = f"sheets/charts/{machine.id}.pdf"
            jobs.append(OutputJob(path, key, partial(_chart, chart, office), slow=True))
    return jobs


def _tag_job(base: str, name: str, title: str, tags: Sequence[Tag], paper: str) -> list[OutputJob]:
    if not tags:
        return []
    make = partial(_tags, title, tags, paper)
    return [OutputJob(f"sheets/{name}.pdf", digest(base, title, repr(tags)), make, slow=True)]


def _label_job(
    base: str, name: str, title: str, labels: Sequence[Label], paper: str
) -> list[OutputJob]:
    if not labels:
        return []
    make = partial(_labels, title, labels, paper)
    return [OutputJob(f"sheets/{name}.pdf", digest(base, title, repr(labels)), make, slow=True)]


def _picking(visit: VisitPage, paper: str) -> bytes:
    setting = _picking_setting(visit, PAPERS[paper].height - 66)
    html = render(_FOLDER, "picking.html", v=visit, setting=setting)
    return as_pdf(html, {}, paper, "picking.css")


def _picking_setting(visit: VisitPage, room: float) -> str:
    """Return the largest letters in which both lists stay in `room` millimetres, '' for small."""
    # Details stand in smaller letters.
    tools = [[(f"{one.text} {one.detail[len(one.detail) // 6 :]}", 42.0)] for one in visit.tools]
    parts = [
        [(f"{one.text} {one.condition}", 31.0), (one.number, 21.0), (one.quantity, 14.0)]
        for one in visit.supplies
    ]
    for name, points in _PICKING_SETTINGS:
        if max(_high(tools, points), _high(parts, points)) <= room:
            return name
    return ""


def _high(rows: Iterable[Iterable[tuple[str, float]]], points: float) -> float:
    """Return about how many millimetres high rows are; a cell is its text and its width."""
    sign, line = points * 0.18, points * 0.41
    return sum(
        1.4 + line * max(len(wrap(text, max(int(wide / sign), 4))) or 1 for text, wide in row)
        for row in rows
    )


def _chart(chart: Chart, paper: str) -> bytes:
    return as_pdf(render(_FOLDER, "chart.html", chart=chart), {}, paper, "chart.css")


def _tags(title: str, tags: Sequence[Tag], paper: str) -> bytes:
    width, height = PAPERS[paper].width, PAPERS[paper].height
    left, top = (width - 2 * TAG_WIDTH) / 2, (height - 2 * TAG_HEIGHT) / 2
    placed = [
        _placed_tag(
            tag,
            round(left + n % 2 * TAG_WIDTH, 2),
            round(top + n // 2 % 2 * TAG_HEIGHT, 2),
            LABELS.tag_of.format(n=n + 1, all=len(tags)),
        )
        for n, tag in enumerate(tags)
    ]
    pages = [placed[n : n + 4] for n in range(0, len(placed), 4)]
    html = render(_FOLDER, "tags.html", title=title, pages=pages)
    return as_pdf(html, {}, paper, "tags.css")


def _placed_tag(tag: Tag, left: float, top: float, number: str) -> PlacedTag:
    serial = f"{LABELS.serial} {tag.serial}" if tag.serial else ""
    machine = ", ".join(filter(None, [tag.machine, *tag.models, serial, tag.location]))
    energy = f"{tag.energy} ({tag.kind})" if tag.kind else tag.energy
    texts = (machine, energy, tag.device or "–", tag.prove)
    # What a tag has no room for stands on the sheet of the job.
    return PlacedTag(
        left,
        top,
        shortened(machine, 110),
        shortened(energy, 110),
        shortened(tag.device or "–", 160),
        shortened(tag.prove, 120),
        shortened("; ".join(tag.jobs), 80),
        number,
        sum(lines(text, 36) for text in texts) > 9,
    )


def lines(text: str, across: int) -> int:
    """Return how many lines a text takes at most where `across` small letters stand in one.

    Capitals and what is no Latin letter are wide; a word that is broken leaves a line half empty.
    """
    wide = sum(1.0 if sign.isascii() and not sign.isupper() else 1.8 for sign in text)
    longest = max(map(len, text.split()), default=0)
    return ceil(wide * (1 if longest <= across / 3 else 1.5) / across)


def _labels(title: str, labels: Sequence[Label], paper: str) -> bytes:
    grid = GRIDS[paper]
    each = grid.across * grid.down
    placed = [
        _placed_label(
            label,
            grid,
            round(grid.left + n % grid.across * (grid.width + grid.gap), 2),
            round(grid.top + n % each // grid.across * grid.height, 2),
        )
        for n, label in enumerate(labels)
    ]
    pages = [placed[n : n + each] for n in range(0, len(placed), each)]
    html = render(_FOLDER, "labels.html", title=title, pages=pages, grid=grid)
    return as_pdf(html, {}, paper, "labels.css")


def _placed_label(label: Label, grid: Grid, left: float, top: float) -> PlacedLabel:
    small = grid.height < 30
    part = shortened(label.part, 40 if small else 60)
    number = shortened(label.number, 30 if small else 40)
    quantity = shortened(label.quantity, 16)
    condition = shortened(label.condition, 24 if small else 100)
    machine = shortened(label.machine, 48 if small else 60)
    use = shortened(label.use, 34 if small else 50)
    named = "" if small else f"{LABELS.quantity} "
    much = f"{named}{quantity} {LABELS.number} {number}"
    why = f"{LABELS.label_for} {use} {condition}"
    setting = "long"
    for name, first, second, rest in _LABEL_SETTINGS:
        high = first[0] * lines(part, first[1]) + second[0] * lines(much, second[1])
        high += rest[0] * (lines(machine, rest[1]) + lines(why, rest[1]))
        if high <= grid.height - 4.5:
            setting = name
            break
    return PlacedLabel(left, top, part, number, named, quantity, condition, machine, use, setting)


def shortened(text: str, most: int) -> str:
    """Return a text that has no more than `most` characters, with … where it was cut."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"
