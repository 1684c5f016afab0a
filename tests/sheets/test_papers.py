"""Sheets on every paper: where they break, what a pocket sheet keeps, and texts hard to set."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest
from browser.worlds import PICTURE, hostile, world

from compiler.cli import _parser
from compiler.document.model import Document, Library, StepView
from compiler.emit.papers import PAPERS
from compiler.emit.pdf import sheet_jobs
from compiler.wording.phrases import LABELS
from sheets.support import MM, Sheet, document, make, outside, overlapping, said, squeezed, steps

pytestmark = pytest.mark.sheets

POCKET = {"a5": (148, 210), "a6": (148, 105)}
"""ISO 216, in millimetres; A6 across."""

LONG = "seal-change"
BODY = {"a4": (16, 22, 196, 281), "a5": (9, 13, 140, 200), "a6": (9, 13, 140, 95)}
"""Where the text of a page stands: the margins of the style sheets."""

DRAWN = {PICTURE: b"<svg xmlns='http://www.w3.org/2000/svg' width='90' height='40'/>"}


@pytest.fixture(scope="module")
def sheets(demo_library: Library, demo_pictures: Mapping[str, bytes]) -> dict[str, Sheet]:
    """Return the longest sheet on each paper."""
    return {paper: make(demo_library, demo_pictures, LONG, paper) for paper in BODY}


def test_papers_are_those_of_the_command() -> None:
    for paper in PAPERS:
        assert _parser().parse_args(["build", "--paper", paper]).paper == paper
    with pytest.raises(SystemExit):
        _parser().parse_args(["build", "--paper", "a7"])


@pytest.mark.parametrize("paper", POCKET)
def test_a_pocket_sheet_says_all_of_the_work(
    sheets: dict[str, Sheet], demo_library: Library, paper: str
) -> None:
    sheet, doc = sheets[paper], document(demo_library, LONG)
    for page, text in zip(sheet.reader.pages, sheet.pages, strict=True):
        box = page.mediabox
        assert (float(box.width) / MM, float(box.height) / MM) == pytest.approx(
            POCKET[paper], abs=0.2
        )
        assert squeezed(f"of {len(sheet.reader.pages)}") in squeezed(text)
        assert doc.revision is not None
        assert squeezed(f"Revision {doc.revision.name}") in squeezed(text)
    assert sheet.flow.count(squeezed(LABELS.disclaimer)) >= len(sheet.reader.pages)
    for step in steps(doc):
        for line in (*step.lines, *step.notes, *(panel.text for panel in step.safety)):
            assert said(line) in sheet.flow
    for row in doc.torques:
        assert squeezed(row.target.text) in sheet.flow
    # How it was worked out is read at a desk.
    origins = [squeezed(step.from_text) for step in steps(doc) if step.from_text]
    assert origins
    assert all(text in sheets["a4"].flow and text not in sheet.flow for text in origins)


@pytest.mark.parametrize("paper", POCKET)
def test_a_pocket_sheet_is_set_anew_and_not_shrunk(sheets: dict[str, Sheet], paper: str) -> None:
    """What is done is printed as high as on the large paper."""

    def high(sheet: Sheet) -> float:
        return max(w.bottom - w.top for w in sheet.words if w.text == "Remove")

    assert high(sheets[paper]) == pytest.approx(high(sheets["a4"]), rel=0.01)


@pytest.mark.parametrize("paper", BODY)
def test_nothing_outside_and_nothing_over(sheets: dict[str, Sheet], paper: str) -> None:
    left, _, right, _ = BODY[paper]
    wide, high = POCKET.get(paper, (210, 297))
    assert outside(sheets[paper].words, [(left - 0.3, 3, right + 0.3, high - 1)]) == []
    assert wide > right
    assert overlapping(sheets[paper].words) == []


@pytest.mark.parametrize("paper", BODY)
def test_no_step_is_parted_from_its_caution(
    sheets: dict[str, Sheet], demo_library: Library, paper: str
) -> None:
    """ANSI Z535.6 (from memory): a message stands before the step it is about, and with it."""
    pages = [squeezed(text) for text in _raw(sheets[paper])]
    seen = 0
    for step in steps(document(demo_library, LONG)):
        for panel in step.safety:
            both = re.escape(said(panel.avoid or panel.text)) + ".*?" + re.escape(step.number)
            assert any(re.search(both, page) for page in pages), step.number
            seen += 1
    assert seen


@pytest.mark.parametrize("paper", BODY)
def test_no_page_ends_with_a_heading_or_the_head_of_a_table(
    sheets: dict[str, Sheet], demo_library: Library, paper: str
) -> None:
    heads = (LABELS.number, LABELS.steps, LABELS.prove, LABELS.wrench)
    titles = {squeezed(LABELS.work), squeezed(LABELS.after), squeezed(LABELS.signatures)}
    for node in document(demo_library, LONG).body:
        title = getattr(node, "title", "")
        titles |= {squeezed(title)} if title else set()
    for text in sheets[paper].pages:
        last = _last_line(text)
        assert not last.endswith(heads)
        assert re.sub(r"^[\d.]+", "", squeezed(last)) not in titles


def _raw(sheet: Sheet) -> list[str]:
    ran = subprocess.run(
        ["pdftotext", "-raw", "-", "-"], input=sheet.data, capture_output=True, timeout=60
    )
    return ran.stdout.decode().split("\f")[:-1]


def _last_line(page: str) -> str:
    """Return the last line above the foot of a page."""
    foot = LABELS.disclaimer[:30]
    above = page.split(foot)[0] if foot in page else page
    lines = [line.strip() for line in above.splitlines() if line.strip()]
    return next(line for line in reversed(lines) if not line.startswith(LABELS.page + " "))


def _filled(sheet: Sheet, height: float, top: float, bottom: float) -> list[float]:
    """Return for each page the share of its height, of the text frame, that anything stands in."""
    ran = subprocess.run(
        ["pdftoppm", "-r", "18", "-gray", "-"],
        input=sheet.data,
        capture_output=True,
        timeout=120,
    )
    shares, data = [], ran.stdout
    while data:
        head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
        assert head is not None
        wide, high = int(head[1]), int(head[2])
        pixels = data[head.end() : head.end() + wide * high]
        data = data[head.end() + wide * high :]
        first, last = int(top / height * high) + 1, int(bottom / height * high) - 1
        # The side of what goes on overleaf is drawn down to the foot; only the middle counts.
        used = [
            row
            for row in range(first, last)
            if min(pixels[row * wide + wide // 8 : (row + 1) * wide - wide // 10]) < 200
        ]
        shares.append((max(used, default=first) - first) / (last - first))
    return shares


@pytest.mark.parametrize("name", [LONG, "open-pump", "valve-service", "level-filler"])
def test_no_page_is_half_empty(
    demo_library: Library, demo_pictures: Mapping[str, bytes], name: str
) -> None:
    """All pages but the last are filled to two thirds at least."""
    sheet = make(demo_library, demo_pictures, name)
    filled = _filled(sheet, 297, 22, 280)
    assert len(filled) == len(sheet.reader.pages)
    assert min(filled[:-1]) > 0.66, filled


def test_a_torque_has_its_window_at_the_step(
    sheets: dict[str, Sheet], demo_library: Library
) -> None:
    """Whoever tightens need not leaf to the table: lowest and highest stand at the step."""
    seen = 0
    for step in steps(document(demo_library, LONG)):
        for field in step.fields:
            if field.kind == "torque" and field.low and field.high:
                text = f"{LABELS.window}: {field.low} – {field.high} {field.unit}"
                assert squeezed(text) in sheets["a4"].flow
                seen += 1
    assert seen > 3


def test_every_bolt_has_its_box(sheets: dict[str, Sheet], demo_library: Library) -> None:
    """The record has a box for each bolt, the wrench that was used and who did it."""
    flow = sheets["a4"].flow
    for row in document(demo_library, LONG).torques:
        boxes = "".join(str(n + 1) for n in range(row.count))
        assert squeezed(boxes + LABELS.wrench + LABELS.initials) in flow


def test_a_sum_has_a_box_to_write_it_in(demo_library: Library) -> None:
    from compiler.emit.templating import render

    wear = document(demo_library, "plate-check")
    scopes = [text for step in steps(wear) for field in step.fields for text in field.scope_texts]
    html = render("sheet", "procedure.html", doc=wear, code=None)
    assert len(scopes) > 1
    for text in scopes:
        assert f'{text}: <span class="blank">' in html


def _lines_of(number: int) -> str:
    return "\n".join(f'  "Look at place {n} and wipe it."' for n in range(1, number + 1))


def _one(number: int, folder: Path, more: str = "") -> Library:
    text = f'## file: job.proc\nprocedure job "A round"\n  revision A 2026-11-02\n{more}'
    return world(f"{text}{_lines_of(number)}\n", folder)[0]


def test_a_procedure_of_one_step_is_one_page(tmp_path: Path) -> None:
    sheet = make(_one(1, tmp_path), {}, "job")
    assert len(sheet.reader.pages) == 1
    assert squeezed("Look at place 1 and wipe it.") in sheet.flow
    # A heading with nothing under it is left out.
    assert squeezed(LABELS.before_start) not in sheet.flow


@pytest.mark.parametrize("paper", ["a4", "a6"])
def test_two_hundred_steps(tmp_path: Path, paper: str) -> None:
    library = _one(200, tmp_path)
    sheet = make(library, {}, "job", paper)
    for number in range(1, 201):
        assert squeezed(f"{number}Look at place {number} and wipe it.") in sheet.flow
    left, _, right, _ = BODY[paper]
    assert outside(sheet.words, [(left - 0.3, 3, right + 0.3, 294)]) == []
    assert overlapping(sheet.words) == []


HARD = {
    "right to left": "أغلق الصمام وانتظر حتى يهدأ الضغط ثم افتح الغطاء ببطء",
    "Hebrew": "סגור את הברז והמתן עד שהלחץ יורד ואז פתח את המכסה לאט",
    "Chinese": "关闭阀门等待压力下降然后慢慢打开盖子并擦干净密封面检查有无裂纹" * 4,
    "Japanese": "バルブを閉めて圧力が下がるまで待ってから蓋をゆっくり開けてください" * 4,
    "long word": "Drehmomentschlüsselverlängerungsstückaufbewahrungskastenschlüssel" * 4,
    "many dots": "." * 400,
}


@pytest.mark.parametrize("paper", ["a4", "a6"])
@pytest.mark.parametrize("text", HARD.values(), ids=HARD)
def test_scripts_of_all_kinds_stay_in_their_place(tmp_path: Path, text: str, paper: str) -> None:
    """No letter outside the text frame, none over another, whatever an author writes in quotes."""
    more = f'  purpose "{text}"\n  warning crush "{text}"\n'
    body = f'  section one "{text}"\n    "{text}"\n      note "{text}"\n  confirm good "{text}"\n'
    source = f'## file: job.proc\nprocedure job "{text}"\n  revision A 2026-11-02\n{more}{body}'
    sheet = make(world(source, tmp_path)[0], {}, "job", paper)
    left, _, right, _ = BODY[paper]
    assert len(sheet.words) > 20
    if text.isascii():
        assert sheet.flow.count(text) >= 6
    # The dots of the margins' own boxes apart, all stands between the margins.
    assert outside(sheet.words, [(left - 0.5, 2, right + 0.5, 295)]) == []
    assert overlapping(sheet.words) == []


@pytest.fixture(scope="module")
def nasty(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """Return a folder with hostile text in every field."""
    return world(hostile(), tmp_path_factory.mktemp("hostile"))[0]


@pytest.mark.parametrize("paper", ["a4", "a5", "a6"])
@pytest.mark.parametrize("number", [6, 7])
def test_hostile_text_stays_between_the_margins(nasty: Library, number: int, paper: str) -> None:
    sheet = make(nasty, DRAWN, f"job-{number}", paper)
    left, _, right, _ = BODY[paper]
    assert outside(sheet.words, [(left - 0.5, 2, right + 0.5, 295)]) == []


def test_steps_are_found(demo_library: Library) -> None:
    """The helper of these tests sees the steps that the sheet shows."""
    doc: Document = document(demo_library, LONG)
    assert all(isinstance(step, StepView) for step in steps(doc))
    assert len(sheet_jobs(demo_library, {}, "a6")) > 10
