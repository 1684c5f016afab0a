"""Pictures of dots for print: no finer than paper shows, and photographs as JPEG.

The library that sets the sheets takes a JPEG over as it is; a PNG it unpacks and packs again, and
either goes into the sheet with all the dots that a camera gave it.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image

DOTS_PER_INCH = 300
"""What a picture is printed with: finer is not seen at reading distance (common practice, no
source)."""

_QUALITY = 88
"""Of JPEG, from 1 to 95 as Pillow counts; colours are kept as fine as brightness, so that red edges
stay sharp."""

_MOST_COLOURS = 4096
_GROUND = 0.25
"""A PNG of fewer colours, with one of them on a quarter of it, is drawn, not photographed. It stays
PNG: JPEG would blur its lines."""


def for_print(pictures: Mapping[str, bytes], wide: float, high: float) -> dict[str, bytes]:
    """Return the pictures as sheets carry them; none is printed larger than `wide` × `high` mm.

    Drawings (SVG) stay as they are, and so does what cannot be read: it is left out of the sheet.
    """
    box = _dots(wide), _dots(high)
    return {
        path: data if path.lower().endswith(".svg") else _printed(data, box)
        for path, data in pictures.items()
    }


def _dots(millimetres: float) -> int:
    return round(millimetres / 25.4 * DOTS_PER_INCH)


def _printed(data: bytes, box: tuple[int, int]) -> bytes:
    from PIL.Image import DecompressionBombError
    from PIL.Image import open as unpacked  # from memory: no file is touched

    try:
        # Only what may be shown: the other readers are neither needed nor looked after here.
        with unpacked(io.BytesIO(data), formats=("JPEG", "PNG")) as image:
            return data if _is_ready(image, box) else _made_ready(image, box)
    # Pillow tells of a damaged file by any of these.
    except (DecompressionBombError, OSError, SyntaxError, ValueError):
        return data


def _is_ready(image: Image, box: tuple[int, int]) -> bool:
    """Return whether a sheet can carry the file as it is: small, upright, for screen and paper."""
    turned = image.getexif().get(0x0112, 1) != 1  # Orientation (Exif 2.32, 4.6.4)
    small = image.width <= box[0] and image.height <= box[1]
    return image.format == "JPEG" and image.mode in ("L", "RGB") and small and not turned


def _made_ready(image: Image, box: tuple[int, int]) -> bytes:
    from PIL.Image import Resampling
    from PIL.ImageOps import exif_transpose

    # A JPEG can be unpacked at a half, a quarter or an eighth of its size, which is quick.
    image.draft("RGB", (2 * max(box), 2 * max(box)))
    plain = _on_white(exif_transpose(image))
    drawn = image.format == "PNG" and _is_drawn(plain)
    plain.thumbnail(box, Resampling.LANCZOS)
    out = io.BytesIO()
    if drawn:
        plain.save(out, "PNG")
    else:
        plain.save(out, "JPEG", quality=_QUALITY, subsampling=0)
    return out.getvalue()


def _is_drawn(image: Image) -> bool:
    colours = image.getcolors(_MOST_COLOURS)
    return colours is not None and max(colours)[0] >= _GROUND * image.width * image.height


def _on_white(image: Image) -> Image:
    """Return a picture in grey or in colours, with white where it lets the paper through."""
    from PIL import Image

    if image.mode.startswith("I"):  # 16 bits of grey
        image = image.convert("I").point(lambda value: value * (1 / 257)).convert("L")
    if image.mode in ("L", "RGB") and "transparency" not in image.info:
        return image
    clear = image.convert("RGBA")
    white = Image.new("RGBA", clear.size, "white")
    return Image.alpha_composite(white, clear).convert("RGB")
