"""Photographs on sheets: as fine as paper shows and no finer, upright, good to look at."""

from __future__ import annotations

import io
import math
import subprocess
from pathlib import Path

import pytest
from browser.worlds import world
from PIL import Image, ImageChops, ImageDraw, ImageStat

from compiler.emit.papers import PAPERS
from compiler.emit.photos import for_print
from sheets.support import make

pytestmark = pytest.mark.sheets

TEXT = """\
## file: a.proc
procedure a "Look at the bench"
  revision A 2026-02-28
  picture "bench.png" "The bench."
  "Look at it."
"""

ACROSS, DOWN = 992, 945
"""84 mm and 80 mm at 300 dots to the inch of 25.4 mm (ISO 80000-3)."""


def scene(width: int = 1600, height: int = 1200) -> Image.Image:
    """Return something like a photograph: soft shades, many colours, and edges in it."""
    shades = [Image.linear_gradient("L").rotate(turn).resize((width, height)) for turn in (0, 90)]
    photo = Image.merge("RGB", (*shades, Image.radial_gradient("L").resize((width, height))))
    draw = ImageDraw.Draw(photo)
    for n in range(6):
        left, top = width * (n + 1) // 8, height * (n + 1) // 9
        draw.ellipse((left, top, left + width // 10, top + width // 10), fill=(200, 30, 30 + n))
    return photo


def coded(image: Image.Image, kind: str, **how: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **how)
    return out.getvalue()


def printed(data: bytes, path: str = "a.jpg") -> Image.Image:
    """Return a picture as an A4 sheet carries it, unpacked."""
    image = Image.open(io.BytesIO(for_print({path: data}, *PAPERS["a4"].picture)[path]))
    image.load()
    return image


def signal_to_noise(one: Image.Image, other: Image.Image) -> float:
    """Return the peak signal-to-noise ratio in decibels (ITU-T J.340)."""
    difference = ImageStat.Stat(ImageChops.difference(one.convert("RGB"), other.convert("RGB")))
    mean = sum(value**2 for value in difference.rms) / len(difference.rms)
    return math.inf if mean == 0 else 10 * math.log10(255**2 / mean)


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
@pytest.mark.parametrize("size", [(1600, 1200), (800, 2000)])
def test_no_finer_than_paper_shows(kind: str, size: tuple[int, int]) -> None:
    """It fills its place at 300 dots an inch, and looks as the whole one does at that size."""
    photo = scene(*size)
    data = coded(photo, kind, **({"quality": 95} if kind == "JPEG" else {}))
    image = printed(data)
    assert image.format == "JPEG"
    assert image.width == ACROSS or image.height == DOWN
    assert abs(image.width / image.height - size[0] / size[1]) < 0.01
    # Above 40 dB two pictures are hardly told apart (common practice, no source).
    whole = photo.resize(image.size, Image.Resampling.LANCZOS)
    assert signal_to_noise(image, whole) > 38
    # The measure can fail: the same at a twentieth of the size is far from it.
    blurred = whole.resize((image.width // 20, image.height // 20)).resize(image.size)
    assert signal_to_noise(blurred, whole) < 34


def test_what_is_small_enough_is_carried_as_it_is() -> None:
    for photo in (scene(800, 600), scene(800, 600).convert("L")):
        data = coded(photo, "JPEG")
        assert for_print({"a.jpg": data}, 84, 80) == {"a.jpg": data}


def test_a_photograph_stands_upright() -> None:
    """A camera that was held upright says so in the file (Exif, Orientation 6: turn right)."""
    photo = scene(1600, 1200)
    exif = Image.Exif()
    exif[0x0112] = 6
    image = printed(coded(photo, "JPEG", exif=exif, quality=95))
    assert image.width < image.height
    assert image.getexif().get(0x0112, 1) == 1
    upright = photo.transpose(Image.Transpose.ROTATE_270).resize(image.size)
    assert signal_to_noise(image, upright) > 30


def test_what_is_drawn_stays_sharp() -> None:
    """A drawing of dots has few colours: it keeps them, and black lines stay black."""
    drawing = Image.new("RGB", (900, 500), "white")
    ImageDraw.Draw(drawing).line((0, 0, 899, 499), fill="black", width=3)
    image = printed(coded(drawing, "PNG"), "a.png")
    assert image.format == "PNG"
    assert signal_to_noise(image, drawing) == math.inf


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16", "CMYK"])
def test_every_kind_of_dots(mode: str) -> None:
    photo = scene(1200, 900)
    grey = photo.convert("L")
    coarse = grey.convert("I").point(lambda value: value * 257)
    data = coded(
        (coarse if mode == "I;16" else photo).convert(mode), "JPEG" if mode == "CMYK" else "PNG"
    )
    image = printed(data)
    assert image.mode in ("L", "RGB")
    meant = grey if mode == "I;16" else photo.convert(mode).convert("RGB")
    # One of two shades a dot is only as good as its screen.
    assert signal_to_noise(image, meant.resize(image.size)) > (5 if mode == "1" else 25)


def test_what_lets_the_paper_through_is_white_there() -> None:
    clear = Image.new("RGBA", (1200, 900), (200, 0, 0, 0))
    ImageDraw.Draw(clear).rectangle((600, 0, 1199, 899), fill=(0, 0, 200, 255))
    image = printed(coded(clear, "PNG"), "a.png").convert("RGB")
    assert image.getpixel((10, 10)) == (255, 255, 255)
    assert image.getpixel((image.width - 10, 10)) == (0, 0, 200)


@pytest.mark.parametrize("data", [b"", b"no picture", b"\x89PNG\r\n\x1a\nbroken", b"\xff\xd8\xff"])
def test_what_cannot_be_read_is_left_alone(data: bytes) -> None:
    assert for_print({"a.png": data, "b.svg": data}, 84, 80) == {"a.png": data, "b.svg": data}


def test_no_other_reader_of_pictures_is_tried() -> None:
    data = coded(scene(), "TIFF")
    assert for_print({"a.png": data}, 84, 80) == {"a.png": data}


def test_a_picture_of_two_views_is_made_one() -> None:
    """Some telephones put a second picture behind the first (CIPA DC-007)."""
    data = coded(scene(800, 600), "MPO", save_all=True, append_images=[scene(400, 300)])
    image = printed(data)
    assert (image.format, image.size) == ("JPEG", (800, 600))


def test_the_same_bytes_each_time() -> None:
    data = coded(scene(), "PNG")
    assert for_print({"a.png": data}, 84, 80) == for_print({"a.png": data}, 84, 80)


def test_on_the_sheet(tmp_path: Path) -> None:
    """The sheet holds the JPEG as it was made, with 300 dots to each inch that it is printed on."""
    (tmp_path / "bench.png").write_bytes(coded(scene(), "PNG"))
    library, pictures = world(TEXT, tmp_path)
    sheet = make(library, pictures, "a")
    listed = subprocess.run(
        ["pdfimages", "-list", "-"], input=sheet.data, capture_output=True, check=True
    )
    rows = [line.split() for line in listed.stdout.decode().splitlines()[2:]]
    assert [(row[8], row[3], row[4]) for row in rows] == [("jpeg", "992", "744")]
    assert 295 < int(rows[0][12]) < 305
    assert for_print(pictures, 84, 80)["bench.png"] in sheet.data
