"""What rings and keys sit on: the range of pliers for a ring, of shafts for a key."""

from __future__ import annotations

import re
from fractions import Fraction

from compiler.trade.designation import Designation

_EXTERNAL = ((3, 10), (10, 25), (19, 60), (40, 100), (85, 140), (122, 300))
"""Ranges of pliers for external rings in mm of shaft, DIN 5254; from memory, the lower ends up to
85 read in library data for DIN 471."""

_INTERNAL = ((8, 13), (12, 25), (19, 60), (40, 100), (85, 140), (122, 300))
"""Ranges of pliers for internal rings in mm of bore, DIN 5256; from memory, the lower ends 8, 19,
40 and 85 read in library data for DIN 472."""

_SHAFTS = {
    2: (6, 8), 3: (8, 10), 4: (10, 12), 5: (12, 17), 6: (17, 22), 8: (22, 30), 10: (30, 38),
    12: (38, 44), 14: (44, 50), 16: (50, 58), 18: (58, 65), 20: (65, 75), 22: (75, 85),
    25: (85, 95), 28: (95, 110), 32: (110, 130), 36: (130, 150), 40: (150, 170), 45: (170, 200),
    50: (200, 230),
}  # fmt: skip
"""Shaft diameters in mm, over the one and up to the other, by the width of the key, DIN 6885-1; up
to 50 mm read in library data, the rest from memory."""

_FIRST = re.compile(r"\d+(?:\.\d+)?(?=×|$)")


def pliers_range(designation: Designation) -> tuple[str, str]:
    """Return for which rings the pliers of this one are, in words, and the source; ('', '')."""
    if designation.kind == "external retaining ring":
        ranges, source = _EXTERNAL, "DIN 5254"
    elif designation.kind == "internal retaining ring":
        ranges, source = _INTERNAL, "DIN 5256"
    else:
        return "", ""
    size = _first(designation)
    fitting = [(low, high) for low, high in ranges if size is not None and low <= size <= high]
    return (f"{fitting[-1][0]} to {fitting[-1][1]} mm", source) if fitting else ("", "")


def key_shaft(designation: Designation) -> tuple[str, str]:
    """Return which shafts a parallel key is for, in words, and the source; ('', '') for others.

    That is what the standard pairs; a key in a stepped shaft may be another.
    """
    width = _first(designation)
    if designation.kind != "parallel key" or width is None or width.denominator != 1:
        return "", ""
    found = _SHAFTS.get(int(width))
    return (f"over {found[0]} to {found[1]} mm", "DIN 6885-1") if found else ("", "")


def _first(designation: Designation) -> Fraction | None:
    """Return the first number of a size: 35 of `35`, 8 of `8×7×40`."""
    found = _FIRST.match(designation.size)
    return Fraction(found.group()) if found else None
