"""The code on a sheet, read back from the picture of its page by a library that did not make it."""

from __future__ import annotations

import subprocess
from collections.abc import Mapping
from dataclasses import replace
from typing import Any
from urllib.parse import unquote

import numpy
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.document.model import Library
from compiler.emit.qr import QUIET, code_of, page_address
from compiler.wording.phrases import LABELS
from sheets.support import Sheet, document, make, squeezed

pytestmark = pytest.mark.sheets

SITE = "http://pages.packhouse.example"


def picture(data: bytes, dots: int) -> Any:
    """Return the first page in shades of grey, one byte a dot, at so many dots an inch."""
    ran = subprocess.run(
        ["pdftoppm", "-r", str(dots), "-f", "1", "-l", "1", "-gray", "-"],
        input=data,
        capture_output=True,
        check=True,
        timeout=60,
    )
    # A PGM has three lines of head: the kind, the size, the highest value.
    kind, size, _, rest = ran.stdout.split(b"\n", 3)
    assert kind == b"P5"
    width, height = map(int, size.split())
    return numpy.frombuffer(rest, numpy.uint8).reshape(height, width).copy()


def read(shown: Any) -> list[Any]:
    """Return what a telephone would see on the picture."""
    return list(zxingcpp.read_barcodes(shown))


@pytest.fixture(scope="module")
def sheet(demo_library: Library, demo_pictures: Mapping[str, bytes]) -> Sheet:
    """Return the shortest sheet of the demo."""
    assert demo_library.site == SITE
    return make(demo_library, demo_pictures, "walk-round")


@pytest.mark.parametrize("dots", [100, 150, 300])
def test_the_code_leads_to_the_page(sheet: Sheet, demo_library: Library, dots: int) -> None:
    doc = document(demo_library, "walk-round")
    assert doc.revision is not None
    (found,) = read(picture(sheet.data, dots))
    mark = f"#printed={doc.revision.name},{doc.digest[:12]}"
    assert found.text == f"{SITE}/procedures/walk-round.html{mark}"
    assert found.format == zxingcpp.BarcodeFormat.QRCode
    assert found.ec_level == "Q"
    assert squeezed(LABELS.printed_scan) in sheet.flow


def test_a_visit_has_its_code(demo_library: Library, demo_pictures: Mapping[str, bytes]) -> None:
    visit = demo_library.visits[0]
    (found,) = read(picture(make(demo_library, demo_pictures, f"visits/{visit.id}").data, 150))
    assert found.text == f"{SITE}/visits/{visit.id}.html#printed=,{visit.digest[:12]}"


def test_a_code_with_a_thumb_of_grease_is_read(sheet: Sheet) -> None:
    """Level Q brings back 25 % of the codewords (ISO/IEC 18004, 6.5.1): here a tenth is black."""
    shown = picture(sheet.data, 150)
    (found,) = read(shown)
    box = found.position
    left, right = box.top_left.x, box.bottom_right.x
    top, bottom = box.top_left.y, box.bottom_right.y
    middle, centre = (left + right) // 2, (top + bottom) // 2
    wide, high = int((right - left) * 0.16), int((bottom - top) * 0.16)
    shown[centre - high : centre + high, middle - wide : middle + wide] = 0
    (again,) = read(shown)
    assert again.text == found.text


def test_on_a_screen_the_code_is_a_link(sheet: Sheet) -> None:
    links = [
        resolved["/A"]["/URI"]
        for note in sheet.reader.pages[0].get("/Annots", [])
        if "/A" in (resolved := note.get_object())
    ]
    (found,) = read(picture(sheet.data, 150))
    assert set(links) == {found.text}


def test_without_a_site_there_is_no_code(
    demo_library: Library, demo_pictures: Mapping[str, bytes]
) -> None:
    sheet = make(replace(demo_library, site=""), demo_pictures, "walk-round")
    doc = document(demo_library, "walk-round")
    assert read(picture(sheet.data, 150)) == []
    assert squeezed(f"{LABELS.content} {doc.digest[:12]}") in sheet.flow
    assert squeezed(LABELS.printed_scan) not in sheet.flow


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=40), st.text(alphabet="0123456789abcdef", min_size=12, max_size=64))
def test_any_revision_comes_back(revision: str, content: str) -> None:
    """The path alone, drawn dot by dot, is read as the address; it holds no hard character."""
    revision = revision.encode("utf-8", "ignore").decode()
    address = page_address(SITE, "procedures/a b.html", revision, content)
    code = code_of(address)
    (found,) = read(drawn(code.path, code.side))
    assert found.text == address
    assert address.isascii()
    mark = found.text.partition("#printed=")[2]
    name, _, digits = mark.partition(",")
    assert (unquote(name), digits) == (revision, content[:12])


def drawn(path: str, side: int, dots: int = 4) -> Any:
    """Return a path of rectangles as a picture; each is `Mx yhWvHh-Wz`, none over another."""
    shown = numpy.full((side * dots, side * dots), 255, numpy.uint8)
    for piece in path.removesuffix("z").split("z"):
        place, _, size = piece.removeprefix("M").partition("h")
        left, top = map(int, place.split())
        width, _, rest = size.partition("v")
        height = rest.partition("h")[0]
        part = shown[
            top * dots : (top + int(height)) * dots, left * dots : (left + int(width)) * dots
        ]
        assert (part == 255).all()
        part[:] = 0
    edge = QUIET * dots
    assert (shown[:edge] == 255).all()
    assert (shown[:, :edge] == 255).all()
    return shown
