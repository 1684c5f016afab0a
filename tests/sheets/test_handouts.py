"""Picking lists, lockout tags, part labels and torque charts, read back from the paper."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from browser.worlds import hostile, world

from compiler.document.model import Library, MachinePage, VisitPage
from compiler.emit.handouts import chart_of, labels_of, labels_of_visit, tags_of, tags_of_visit
from compiler.emit.pdf_handouts import (
    GRIDS,
    TAG_HEIGHT,
    TAG_WIDTH,
    handout_jobs,
    lines,
    shortened,
)
from compiler.wording.phrases import LABELS
from sheets.support import MM, Sheet, document, make, outside, squeezed

pytestmark = pytest.mark.sheets

SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""ISO 216; ANSI/ASME Y14.1, size A."""


@pytest.fixture(scope="module")
def nasty(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """Return a folder with hostile text in every field, long words and right-to-left among it."""
    return world(hostile(), tmp_path_factory.mktemp("hostile"))[0]


def visit_of(library: Library) -> VisitPage:
    return library.visits[0]


def machine_of(library: Library, title: str) -> MachinePage:
    return next(one for one in library.machines if one.title == title)


def tag_cells(paper: str) -> list[tuple[float, float, float, float]]:
    wide, high = SIZES[paper]
    left, top = wide / 2 - TAG_WIDTH, high / 2 - TAG_HEIGHT
    return [
        (
            left + x * TAG_WIDTH,
            top + y * TAG_HEIGHT,
            left + (x + 1) * TAG_WIDTH,
            top + (y + 1) * TAG_HEIGHT,
        )
        for y in (0, 1)
        for x in (0, 1)
    ]


def label_cells(paper: str) -> list[tuple[float, float, float, float]]:
    grid = GRIDS[paper]
    cells = []
    for n in range(grid.across * grid.down):
        left = grid.left + n % grid.across * (grid.width + grid.gap)
        top = grid.top + n // grid.across * grid.height
        cells.append((left, top, left + grid.width, top + grid.height))
    return cells


def size(sheet: Sheet) -> tuple[float, float]:
    box = sheet.reader.pages[0].mediabox
    return float(box.width) / MM, float(box.height) / MM


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_label_grid_fits_its_paper(paper: str) -> None:
    """24 labels of 70 × 37 mm on A4; 30 of 2 5/8 × 1 inch on Letter (common, no source)."""
    wide, high = SIZES[paper]
    assert len(label_cells(paper)) == {"a4": 24, "letter": 30}[paper]
    assert max(cell[2] for cell in label_cells(paper)) <= wide + 0.01
    assert max(cell[3] for cell in label_cells(paper)) <= high + 0.01
    if paper == "letter":
        assert GRIDS[paper].height == pytest.approx(25.4)
        assert GRIDS[paper].width == pytest.approx(2.625 * 25.4, abs=0.1)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_tags_of_a_visit(demo_library: Library, paper: str) -> None:
    """29 CFR 1910.147 (c)(5)(iii): the tag warns and says, for example, Do Not Operate.

    (c)(5)(ii)(D): it names who hung it. 1910.145 (f)(4): a signal word and the message. All from
    memory.
    """
    visit = visit_of(demo_library)
    tags = tags_of_visit(visit, demo_library)
    sheet = make(demo_library, {}, f"tags/visits/{visit.id}", paper)
    assert len(sheet.reader.pages) == -(-len(tags) // 4)
    assert size(sheet) == pytest.approx(SIZES[paper], abs=0.1)
    assert sheet.flow.count(squeezed(LABELS.signal["danger"])) == len(tags)
    assert sheet.flow.count(squeezed(LABELS.do_not_operate)) == len(tags)
    assert sheet.flow.count(squeezed(LABELS.name)) >= len(tags)
    for tag in tags:
        for text in (tag.machine, tag.location, tag.serial, tag.energy, tag.kind, tag.device):
            assert squeezed(text) in sheet.flow
        assert squeezed(tag.prove) in sheet.flow
    assert outside(sheet.words, tag_cells(paper)) == []


def test_every_isolated_energy_of_a_procedure_has_a_tag(demo_library: Library) -> None:
    """Each energy once, whatever the models; a procedure without energies has no tags at all."""
    paths = {job.path for job in handout_jobs(demo_library, "a4")}
    without = 0
    for one in demo_library.documents:
        assert {tag.energy for tag in tags_of(one)} == {energy.name for energy in one.energies}
        assert (f"sheets/tags/{one.id}.pdf" in paths) == bool(one.energies)
        without += not one.energies
    assert without


def test_a_tag_serves_all_jobs_of_one_machine(demo_library: Library) -> None:
    """Two jobs on one pump hang one tag at its switch, which names both; another pump its own."""
    tags = tags_of_visit(visit_of(demo_library), demo_library)
    pumps = [t for t in tags if t.machine == "Transfer pump" and t.energy == "motor supply"]
    assert {(tag.serial, len(tag.jobs)) for tag in pumps} == {("60-117", 1), ("40-092", 2)}


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_labels_of_a_visit(demo_library: Library, paper: str) -> None:
    visit = visit_of(demo_library)
    labels = labels_of_visit(visit, demo_library)
    sheet = make(demo_library, {}, f"labels/visits/{visit.id}", paper)
    each = len(label_cells(paper))
    assert len(sheet.reader.pages) == -(-len(labels) // each)
    assert len(labels) > 10
    for label in labels:
        assert squeezed(label.part) in sheet.flow
        assert squeezed(label.use) in sheet.flow
        assert squeezed(label.machine) in sheet.flow
        assert squeezed(label.number)[:20] in sheet.flow
        # The large ones say in full when a part is needed at all.
        whole = label.condition if paper == "a4" else label.condition[:18]
        assert squeezed(whole) in sheet.flow
    assert any(label.condition for label in labels)
    assert outside(sheet.words, label_cells(paper)) == []


def test_labels_are_for_the_model_of_the_job(demo_library: Library) -> None:
    """A pump of one model is not sent the seal of the other."""
    labels = labels_of_visit(visit_of(demo_library), demo_library)
    seals = {(label.number, label.machine) for label in labels if label.part == "seal seat"}
    assert {number for number, _ in seals} == {"SS-114", "SS-132"}
    assert all(("TP-60" in machine) == (number == "SS-132") for number, machine in seals)


@pytest.mark.parametrize("place", [0, 1])
def test_picking_list_of_a_visit(demo_library: Library, place: int) -> None:
    """All that goes along, on one page: a box to tick, the tag or number, and who needs it."""
    visit = demo_library.visits[place]
    sheet = make(demo_library, {}, f"picking/{visit.id}")
    assert len(sheet.reader.pages) == 1
    wanted = [
        *(tool.text for tool in visit.tools),
        *(tool.tag for tool in visit.tools),
        *(supply.text for supply in visit.supplies),
        *(supply.number for supply in visit.supplies),
        *(supply.quantity for supply in visit.supplies),
        *(job.procedure.title for job in visit.jobs),
        visit.digest[:12],
        LABELS.disclaimer,
    ]
    assert [text for text in wanted if squeezed(text) not in sheet.flow] == []
    assert outside(sheet.words, [(9, 5, 201, 292)]) == []


def test_a_picking_list_with_room_is_set_larger(demo_library: Library) -> None:
    """The shorter of two lists of a page each has the higher lines, and neither goes overleaf."""
    by_length = sorted(demo_library.visits, key=lambda visit: len(visit.tools))
    short, long = (make(demo_library, {}, f"picking/{v.id}") for v in (by_length[0], by_length[-1]))

    def high(sheet: Sheet) -> float:
        return min(w.bottom - w.top for w in sheet.words if w.text == "wrench,")

    assert len(by_length[0].tools) < len(by_length[-1].tools)
    assert high(short) > 1.1 * high(long)
    assert len(short.reader.pages) == len(long.reader.pages) == 1


def test_chart_of_a_machine(demo_library: Library) -> None:
    machine = machine_of(demo_library, "Transfer pump")
    chart = chart_of(machine, demo_library)
    sheet = make(demo_library, {}, f"charts/{machine.id}")
    names = [row.fastener.casefold() for row in chart.rows]
    assert names == sorted(names)
    for row in chart.rows:
        for text in (row.fastener, row.designation, row.torque, row.second, row.window):
            assert squeezed(text) in sheet.flow
    casing = {row.models: row.torque.split()[0] for row in chart.rows if "casing" in row.fastener}
    assert casing == {("TP-40",): "60", ("TP-60",): "75"}
    assert squeezed(chart.digest[:12]) in sheet.flow
    assert chart.newest in sheet.pages[0]
    assert outside(sheet.words, [(12, 5, 198, 292)]) == []


def test_every_torque_is_on_its_chart(demo_library: Library) -> None:
    """Each torque of each procedure, with its model where it is not the same on all."""
    left = 0
    for machine in demo_library.machines:
        rows = chart_of(machine, demo_library).rows
        for one in demo_library.documents:
            for torque in one.torques if one.machine_id == machine.id else ():
                found = [
                    row
                    for row in rows
                    if (row.fastener, row.torque) == (torque.fastener, torque.target.text)
                    and torque.count in row.counts
                    and (not row.models or set(torque.models) <= set(row.models))
                ]
                assert found, (one.id, torque.fastener)
                assert all(r.left_hand == (LABELS.left_hand in torque.remarks) for r in found)
                left += found[0].left_hand
    assert left


def test_left_hand_threads_stand_out_on_the_wall(demo_library: Library) -> None:
    for machine in demo_library.machines:
        rows = chart_of(machine, demo_library).rows
        if any(row.left_hand for row in rows):
            sheet = make(demo_library, {}, f"charts/{machine.id}")
            told = squeezed("".join(sheet.pages)).upper()
            wanted = sum(row.left_hand for row in rows)
            assert told.count(squeezed(LABELS.left_hand).upper()) == wanted


def test_big_type_on_the_wall(demo_library: Library) -> None:
    """A torque on the chart stands at least 6 mm high, line and all (16 pt and more)."""
    sheet = make(demo_library, {}, f"charts/{machine_of(demo_library, 'Transfer pump').id}")
    high = [word.bottom - word.top for word in sheet.words if word.text.startswith("60")]
    assert max(high) >= 6 * MM


@pytest.mark.parametrize("kind", ["tags", "labels"])
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("number", range(8))
def test_hostile_text_stays_in_its_box(nasty: Library, kind: str, paper: str, number: int) -> None:
    cells = tag_cells(paper) if kind == "tags" else label_cells(paper)
    sheet = make(nasty, {}, f"{kind}/job-{number}", paper)
    assert len(sheet.words) > 5
    assert outside(sheet.words, cells) == []


def test_hostile_text_stays_on_the_picking_list(nasty: Library) -> None:
    sheet = make(nasty, {}, f"picking/{visit_of(nasty).id}")
    assert outside(sheet.words, [(8, 3, 202, 295)]) == []


def test_handouts_are_on_office_paper(demo_library: Library) -> None:
    """Whoever prints sheets for the pocket still prints labels on the large paper."""
    large = {job.path: job.key for job in handout_jobs(demo_library, "a4")}
    assert {job.path: job.key for job in handout_jobs(demo_library, "a6")} == large
    letter = {job.path: job.key for job in handout_jobs(demo_library, "letter")}
    assert letter.keys() == large.keys()
    assert all(letter[path] != key for path, key in large.items())


def test_the_same_bytes_twice(demo_library: Library, demo_pictures: Mapping[str, bytes]) -> None:
    for name in ("tags/seal-change", "labels/seal-change", "charts/transfer-pump"):
        first, again = (make(demo_library, demo_pictures, name).data for _ in range(2))
        assert first == again


def test_what_is_cut_says_so() -> None:
    assert shortened("drive belt", 10) == "drive belt"
    assert shortened("drive belts", 10) == "drive bel…"
    assert lines("", 30) == 0
    assert lines("a" * 9 + " " + "b" * 9, 30) == 1
    assert lines("W" * 30, 30) > 1


def test_labels_are_of_parts_only(demo_library: Library) -> None:
    one = document(demo_library, "seal-change")
    parts = [supply.text for supply in one.supplies if supply.kind == "part"]
    assert [label.part for label in labels_of(one)] == parts
    assert any(supply.kind != "part" for supply in one.supplies)
