"""What a sheet may load, what happens to a picture that cannot be drawn, and hostile text."""

from __future__ import annotations

import logging
from pathlib import Path

import pytest
from browser.worlds import NASTY, PICTURE, hostile, world

from compiler.document.model import Library
from sheets.support import make, squeezed

pytestmark = pytest.mark.sheets


@pytest.fixture(scope="module")
def nasty(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """Return a folder with hostile text in every field, and one picture."""
    return world(hostile(), tmp_path_factory.mktemp("hostile"))[0]


@pytest.mark.parametrize(
    "address",
    [
        "file:///etc/hostname",
        "FILE:///etc/hostname",
        "http://localhost/a.png",
        "https://localhost/a.png",
        "ftp://localhost/a.png",
        "data:text/plain,a",
        "asset:",
        "asset:pictures/",
        "asset:pictures/../fonts/a.ttf",
        "asset:pictures/b.png",
        "asset:fonts/../../pyproject.toml",
        "asset:fonts/%2e%2e/pyproject.toml",
        "asset:/etc/hostname",
        "a.png",
        "",
    ],
)
def test_nothing_but_the_shelf(address: str) -> None:
    from weasyprint.urls import FatalURLFetchingError

    from compiler.emit.shelf import Shelf

    with pytest.raises(FatalURLFetchingError, match="a sheet may not load"):
        Shelf({"a.png": b"x"}).fetch(address)


def test_a_picture_on_the_shelf() -> None:
    from compiler.emit.shelf import Shelf

    shelf = Shelf({"a b/ä #1.svg": b"<svg/>"})
    answer = shelf.fetch("asset:pictures/a%20b/%C3%A4%20%231.svg")
    assert answer.read() == b"<svg/>"
    assert answer.content_type == "image/svg+xml"


@pytest.mark.parametrize(
    "drawing", [b"", b"no picture at all", b"<svg", b"\x89PNG\r\n\x1a\nbroken"],
    ids=["empty", "text", "cut off", "half a PNG"],
)  # fmt: skip
def test_a_picture_that_cannot_be_drawn_stops_no_sheet(
    nasty: Library, drawing: bytes, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.CRITICAL, logger="weasyprint")
    sheet = make(nasty, {PICTURE: drawing}, "job-0")
    assert squeezed(NASTY[0]) in sheet.flow


@pytest.mark.parametrize("number", [0, 1, 5, 6])
def test_hostile_text_is_printed(nasty: Library, number: int) -> None:
    """Markup and a word of three hundred letters are printed, and stay on the paper."""
    sheet = make(nasty, {PICTURE: b"<svg xmlns='http://www.w3.org/2000/svg'/>"}, f"job-{number}")
    wanted = squeezed(NASTY[number].replace(r"\{", "{").replace(r"\}", "}"))
    assert sheet.flow.count(wanted) >= 20
    assert sheet.reader.metadata is not None
    assert squeezed(sheet.reader.metadata.title or "").startswith(wanted)
    width = float(sheet.reader.pages[0].mediabox.width)
    assert [word for word in sheet.words if word.left < 0 or word.right > width] == []


def test_a_drawing_reaches_for_nothing(
    nasty: Library, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    """A drawing that names a file of the disk gets none; the sheet goes without."""
    secret = tmp_path / "secret.svg"
    secret.write_text(
        "<svg xmlns='http://www.w3.org/2000/svg' width='90' height='20'>"
        "<text y='15'>seen from outside</text></svg>",
        encoding="utf-8",
    )
    reaching = (
        "<svg xmlns='http://www.w3.org/2000/svg' width='90' height='20'>"
        f"<image href='{secret.as_uri()}' width='90' height='20'/></svg>"
    )
    caplog.set_level(logging.CRITICAL, logger="weasyprint")
    sheet = make(nasty, {PICTURE: reaching.encode()}, "job-0")
    assert squeezed(NASTY[0]) in sheet.flow
    assert "seenfromoutside" not in sheet.flow
    # The same words in the drawing itself are printed: the check above can fail.
    assert "seenfromoutside" in make(nasty, {PICTURE: secret.read_bytes()}, "job-0").flow
