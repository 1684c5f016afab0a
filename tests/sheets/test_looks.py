"""Sheets as a foreman sees them: letters, boxes and pictures measured on the printed page.

Pages are rendered to dots and looked at, also as a bad copy: every dot black or white.
"""

from __future__ import annotations

import re
import struct
import subprocess
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest
from browser.worlds import PICTURE, world

from compiler.document.model import Library
from compiler.emit.drawn import drawn_widths
from compiler.wording.phrases import LABELS
from sheets.support import MM, Sheet, Word, document, make, outside, overlapping, squeezed

pytestmark = pytest.mark.sheets

DOTS = 150
"""Dots in an inch of the pages that are looked at; a copier has twice as many."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A page in shades of grey, row by row."""

    wide: int
    high: int
    dots: bytes

    def row(self, y: int, left: int, right: int) -> bytes:
        """Return a piece of a row."""
        return self.dots[y * self.wide + left : y * self.wide + right]

    def column(self, x: int) -> bytes:
        """Return a column, from the top."""
        return self.dots[x :: self.wide]


def picture_of(sheet: Sheet, page: int) -> Picture:
    """Return a page, counted from 1, as a printer without colours prints it."""
    number = str(page)
    ran = subprocess.run(
        ["pdftoppm", "-r", str(DOTS), "-gray", "-f", number, "-l", number, "-"],
        input=sheet.data,
        capture_output=True,
        timeout=120,
    )
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", ran.stdout)
    assert head is not None
    return Picture(int(head[1]), int(head[2]), ran.stdout[head.end() :])


def to_dots(points: float) -> int:
    return round(points * DOTS / 72)


def words_of(sheet: Sheet, page: int, text: str) -> list[Word]:
    return [word for word in sheet.words if word.page == page and word.text == text]


@pytest.fixture(scope="module")
def shown(demo_library: Library, demo_pictures: Mapping[str, bytes]) -> Sheet:
    """Return a sheet with danger, warnings, tables, a bolt circle, readings and signatures."""
    return make(demo_library, demo_pictures, "mixer-from-overhaul")


@pytest.mark.parametrize("page", [1, 2, 4, 7])
def test_every_word_outlives_a_bad_copy(shown: Sheet, page: int) -> None:
    """With each dot black or white, every word still has its ink, and paper round it.

    Grey letters, and colours that come out as dark as the letters on them, would not.
    """
    picture = picture_of(shown, page)
    lost, seen = [], 0
    for word in shown.words:
        if word.page != page or not word.text.isalnum() or len(word.text) < 3:
            continue
        rows = [
            picture.row(y, to_dots(word.left), to_dots(word.right))
            for y in range(to_dots(word.top) + 1, to_dots(word.bottom) - 1)
        ]
        dark = sum(dot < 128 for row in rows for dot in row) / sum(map(len, rows))
        seen += 1
        # Letters cover some tenth to a third of their box; white ones on black the rest.
        if not (0.05 < dark < 0.5 or 0.55 < dark < 0.95):
            lost.append((word.text, round(dark, 2)))
    assert seen > 40
    assert lost == []


def test_signal_words_are_told_apart_without_colour(shown: Sheet) -> None:
    """ANSI Z535.4 and .6 (from memory): the word itself, and the alert mark, carry the message.

    The head of a danger panel is dark, that of a warning light, each in a black frame.
    """
    picture = picture_of(shown, 1)
    shades = {}
    for kind in ("danger", "warning"):
        (word,) = words_of(shown, 1, LABELS.signal[kind])
        y = to_dots((word.top + word.bottom) / 2)
        shades[kind] = picture.row(y, to_dots(150 * MM), to_dots(151 * MM))[0]
        frame = picture.row(y, to_dots(16 * MM), to_dots(17 * MM))
        assert min(frame) < 60
    assert shades["danger"] < 100 < 140 < shades["warning"]


def test_what_is_done_is_read_at_arms_length(shown: Sheet) -> None:
    """ISO 3098-1 (from memory): capitals of drawings on A4 are 2.5 mm high. A step's are no less.

    The number of a step is larger still.
    """
    picture = picture_of(shown, 5)

    def capital(word: Word) -> float:
        # The first letter only: the rows in which it has ink.
        rows = [
            y
            for y in range(to_dots(word.top), to_dots(word.bottom))
            if min(picture.row(y, to_dots(word.left), to_dots(word.left) + 8)) < 100
        ]
        return (max(rows) - min(rows) + 1) * 25.4 / DOTS

    steps = [
        w for w in shown.words if w.page == 5 and w.text in ("Hoist", "Remove", "Fit", "Drive")
    ]
    assert len(steps) >= 3
    assert min(capital(word) for word in steps) >= 2.5
    (number,) = words_of(shown, 5, "3.1")
    assert capital(number) >= 3.1


def _box_round(picture: Picture, label: Word) -> float:
    """Return how high the box is, in mm, that a small word stands in the corner of."""
    column = picture.column(to_dots(label.right) + 12)
    middle = to_dots((label.top + label.bottom) / 2)
    above = max(y for y in range(middle) if column[y] < 100)
    below = min(y for y in range(middle, len(column)) if column[y] < 100)
    return (below - above) * 25.4 / DOTS


def test_boxes_are_high_enough_for_a_glove(shown: Sheet) -> None:
    """A box to sign or write a number in is no lower than 7 mm (common practice, no source)."""
    seen = 0
    for page in (7, 8):
        picture = picture_of(shown, page)
        for text in (LABELS.signature, LABELS.initials, LABELS.date):
            for label in words_of(shown, page, text):
                if label.bottom - label.top < 3.5 * MM:
                    assert _box_round(picture, label) >= 7.0, (page, text)
                    seen += 1
    assert seen >= 8


def test_a_pocket_sheet_begins_with_what_it_is(
    demo_library: Library, demo_pictures: Mapping[str, bytes]
) -> None:
    """Title, revision, time and the first caution stand on the first page, however small."""
    doc = document(demo_library, "belt-change")
    sheet = make(demo_library, demo_pictures, "belt-change", "a6")
    first = squeezed(sheet.pages[0])
    assert squeezed(doc.time_text) in first
    assert squeezed(LABELS.serial) in first
    assert squeezed(LABELS.signal[doc.safety[0].signal]) in first


def test_a_drawing_is_as_large_as_its_place() -> None:
    """SVG 2, 8.2 (from memory): the shape is that of width and height, or else of the viewBox."""
    drawings = {
        "tall.svg": b'<svg viewBox="0 0 600 800"/>',
        "wide.svg": b'<svg width="2in" height="25.4mm" viewBox="0 0 1 9"/>',
        "in-per-cent.svg": b'<svg width="100%" height="100%" viewBox="0,0 30,10">',
        "no-shape.SVG": b"<svg/>",
        "no-drawing.svg": b"not a drawing",
        "dots.png": b"",
    }
    assert drawn_widths(drawings, 84, 80) == {
        "tall.svg": 60,
        "wide.svg": 84,
        "in-per-cent.svg": 84,
        "no-shape.SVG": 84,
        "no-drawing.svg": 84,
    }
    assert drawn_widths(drawings, 84, 20)["wide.svg"] == 40


def png(wide: int, high: int) -> bytes:
    """Return a grey picture of so many dots (ISO/IEC 15948)."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        sum_ = struct.pack(">I", zlib.crc32(kind + body))
        return struct.pack(">I", len(body)) + kind + body + sum_

    rows = (b"\0" + b"\x99" * wide) * high
    head = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    body = zlib.compress(rows)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


SHAPES = {"tall": (300, 3000), "wide": (3000, 300), "huge": (4000, 3500), "tiny": (8, 8)}


@pytest.fixture(scope="module")
def shapes(tmp_path_factory: pytest.TempPathFactory) -> tuple[Library, dict[str, bytes]]:
    """Return a procedure with pictures of all shapes, each with a mark in two corners."""
    steps = "".join(
        f'  "Look at the {name} one."\n    picture "{name}.png" "The {name} one"\n'
        f'      mark 1 "the first corner" at 0 %, 0 %\n      mark 2 "the last" at 100 %, 100 %\n'
        for name in SHAPES
    )
    drawn = f'  "Look at the drawing."\n    picture "{PICTURE}" "Drawn"\n'
    folder = tmp_path_factory.mktemp("shapes")
    pictures = {f"{name}.png": png(*size) for name, size in SHAPES.items()}
    for name, data in pictures.items():
        (folder / name).write_bytes(data)
    text = f'## file: job.proc\nprocedure job "A round"\n  revision A 2026-11-02\n{steps}{drawn}'
    library, drawings = world(text, folder)
    return library, {**pictures, **drawings}


@pytest.mark.parametrize(("paper", "wide", "high"), [("a4", 84, 80), ("a6", 62, 50)])
def test_pictures_of_all_shapes_keep_their_place(
    shapes: tuple[Library, dict[str, bytes]], paper: str, wide: float, high: float
) -> None:
    """None is larger than its place, none is pulled out of shape, and marks stay on their spots."""
    sheet = make(*shapes, "job", paper)
    assert overlapping([w for w in sheet.words if not w.text.isdigit()]) == []
    found = 0
    for _, name, x, y, dots_x, dots_y in _images(sheet):
        assert name
        across, down = x / dots_x * 25.4, y / dots_y * 25.4
        assert across <= wide + 0.5
        assert down <= high + 0.5
        assert dots_x == pytest.approx(dots_y, rel=0.1)
        found += 1
    assert found >= len(SHAPES)


def _images(sheet: Sheet) -> list[tuple[int, str, int, int, float, float]]:
    """Return page, kind, dots across and down, and dots an inch both ways, of each picture."""
    ran = subprocess.run(
        ["pdfimages", "-list", "-"], input=sheet.data, capture_output=True, timeout=60
    )
    rows = [line.split() for line in ran.stdout.decode().splitlines()[2:]]
    return [
        (int(r[0]), r[2], int(r[3]), int(r[4]), float(r[12]), float(r[13]))
        for r in rows
        if r[2] == "image"
    ]


TOOLS, BOLTS = 40, 32

HARD = """\
## file: job.proc
procedure job "Close the big flange"
  machine vessel
  revision A 2026-11-02
  starts with cover-bolt slackened
{work}  tighten cover-bolt with big
    warning crush "The flange closes on fingers."
## file: vessel.proc
machine vessel "Vessel"
  parts
    cover  "cover"  20 kg
  fasteners
    cover-bolt  {bolts} × M12×50 ISO 4014 8.8  holds cover  torque 70 N·m ±10 %
## file: shop.proc
shop house "Bench"
  tools
    big      torque-wrench 40..200 N·m  drive 1/2 in  accuracy 4 %  tag "TW-04"  calibrated until 2027-04-30
    sockets  sockets 18, 19 mm  drive 1/2 in
{tools}"""  # noqa: E501 (the file reads better in columns)


@pytest.fixture(scope="module")
def hard(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """Return many tools, many bolts, and cautions at many heights of a page."""
    work = "".join(
        '  "Look at it."\n' * (number % 3)
        + f'  wipe "place {number}" with tool{number}\n'
        + f'    caution cut "Edge {number} is sharp."\n'
        for number in range(TOOLS)
    )
    tools = "".join(
        f'    tool{number}  special "brush {number}"  tag "G-{number:02}"\n'
        for number in range(TOOLS)
    )
    text = HARD.format(work=work, tools=tools, bolts=BOLTS)
    return world(text, tmp_path_factory.mktemp("hard"))[0]


def _pages(sheet: Sheet) -> list[str]:
    """Return the text of each page without any space, in the order it was set."""
    ran = subprocess.run(
        ["pdftotext", "-raw", "-", "-"], input=sheet.data, capture_output=True, timeout=60
    )
    return [squeezed(page) for page in ran.stdout.decode().split("\f")[:-1]]


@pytest.mark.parametrize("paper", ["a4", "a6"])
def test_forty_tools_forty_cautions_and_a_circle_of_32(hard: Library, paper: str) -> None:
    sheet = make(hard, {}, "job", paper)
    wide, high = {"a4": (210, 297), "a6": (148, 105)}[paper]
    assert outside(sheet.words, [(8, 3, wide - 7, high - 1)]) == []
    assert overlapping(sheet.words) == []
    pages = _pages(sheet)
    for number in range(TOOLS):
        with_step = re.compile(rf"Edge{number}issharp\..*?Wipeplace{number}with")
        assert any(with_step.search(page) for page in pages), number
        assert squeezed(f"brush {number}") in sheet.flow
    # The head of the table stands over each of its pages, with two rows at the least below it.
    head = squeezed(LABELS.tool + LABELS.tag + LABELS.steps)
    over = [page.split(head)[1] for page in pages if head in page]
    assert len(over) > 1
    row = re.compile(r"brush\d+G-\d\d|torquewrench|socket")
    assert [rows for rows in over if len(row.findall(rows)) < 2] == []
    # A box for each bolt; each number stands in the drawing of the circle.
    boxes = "".join(str(number + 1) for number in range(BOLTS))
    assert squeezed(boxes + LABELS.wrench) in sheet.flow


def test_no_heading_stays_behind(tmp_path: Path) -> None:
    """Sections of all lengths, on the paper with the most ends of pages: none ends with a title."""
    sections = "".join(
        f'  section s{number} "Chapter {number}"\n' + '    "Look at it."\n' * (1 + number % 3)
        for number in range(40)
    )
    text = f'## file: job.proc\nprocedure job "A round"\n  revision A 2026-11-02\n{sections}'
    sheet = make(world(text, tmp_path)[0], {}, "job", "a6")
    titles = 0
    for page in range(1, len(sheet.reader.pages) + 1):
        # The margins at the top and at the foot are not of the text.
        body = [w for w in sheet.words if w.page == page and 12 * MM < w.top < 94 * MM]
        lowest = max(word.bottom for word in body)
        last = [word.text for word in body if word.bottom > lowest - 2]
        assert "Chapter" not in last, page
        titles += sum(word.text == "Chapter" for word in body)
    assert titles == 40
    assert len(sheet.reader.pages) > 8
