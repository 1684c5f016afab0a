"""How wide a drawing is printed: as large as fits its place, whatever its own shape.

Pictures of dots say how large they are, and style sheets know what to do with that. A drawing often
says only its shape.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from contextlib import suppress
from xml.parsers.expat import ExpatError, ParserCreate

_NUMBER = re.compile(r"\s*(\d*\.?\d+(?:e[+-]?\d+)?)\s*(px|pt|mm|cm|in|pc)?\s*$", re.IGNORECASE)
_POINTS = {"": 0.75, "px": 0.75, "pt": 1.0, "mm": 72 / 25.4, "cm": 720 / 25.4, "in": 72.0, "pc": 12}


def drawn_widths(
    pictures: Mapping[str, bytes], most_wide: float, most_high: float
) -> dict[str, float]:
    """Return the width of each drawing in millimetres, by its path; of drawings (SVG) only.

    The largest that is neither wider nor higher than asked for. A drawing that does not say its
    shape is as wide as may be.
    """
    widths = {}
    for path, data in pictures.items():
        if path.lower().endswith(".svg"):
            ratio = _ratio(data)
            widths[path] = round(min(most_wide, most_high * ratio) if ratio else most_wide, 1)
    return widths


def _ratio(data: bytes) -> float:
    """Return width by height of an SVG file (SVG 2, 8.2: the size, or else the `viewBox`), or 0."""
    said = _root(data)
    wide, high = (_length(said.get(name, "")) for name in ("width", "height"))
    if wide and high:
        return wide / high
    box = [_length(text) for text in re.split(r"[\s,]+", said.get("viewBox", "").strip())[2:]]
    return box[0] / box[1] if len(box) == 2 and all(box) else 0.0


def _root(data: bytes) -> dict[str, str]:
    """Return what the outermost element of an XML file says of itself."""
    said: list[dict[str, str]] = []
    parser = ParserCreate()
    parser.StartElementHandler = lambda _, attributes: said.append(attributes) if not said else None
    # What stands before a fault was read; what cannot be shown is told by the checks.
    with suppress(ExpatError):
        parser.Parse(data, True)
    return said[0] if said else {}


def _length(text: str) -> float:
    found = _NUMBER.match(text)
    value = float(found[1]) * _POINTS[(found[2] or "").lower()] if found else 0.0
    return value if math.isfinite(value) else 0.0
