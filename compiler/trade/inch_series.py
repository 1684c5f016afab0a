"""Threads per inch of the coarse and the fine series of inch threads, by size."""

from __future__ import annotations

from collections.abc import Mapping

SOURCE = "ASME B1.1"

SERIES: Mapping[str, tuple[int, int]] = {
    "#4": (40, 48),
    "#5": (40, 44),
    "#6": (32, 36),
    "#8": (32, 36),
    "#10": (24, 32),
    "1/4": (20, 28),
    "5/16": (18, 24),
    "3/8": (16, 24),
    "7/16": (14, 20),
    "1/2": (13, 20),
    "9/16": (12, 18),
    "5/8": (11, 18),
    "3/4": (10, 16),
    "7/8": (9, 14),
    "1": (8, 12),
}
"""Coarse (UNC) and fine (UNF), ASME B1.1; 1/4, 5/16, 3/8, 1/2, 3/4 and 1 second-hand, the others
from memory."""


def thread_of(size: str, series: str) -> str:
    """Return `5/16-18` for 5/16 and UNC, `5/16-24` for UNF; '' for a size that is not known."""
    pair = SERIES.get(size)
    return f"{size}-{pair[series.upper() == 'UNF']}" if pair else ""
