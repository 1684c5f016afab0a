"""The papers that sheets are made for: on the clipboard, and in the pocket."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper: its size as CSS says it, its width and height in millimetres.

    `pocket` papers take a sheet set anew for their width. What hangs on a wall or goes through an
    office printer is made on `office`, the name of a larger paper. `picture` is the most that a
    picture takes of it, in millimetres across and down: what is said of it stands beside it.
    """

    size: str
    width: float
    height: float
    pocket: bool
    office: str
    picture: tuple[float, float] = (84, 80)


PAPERS: Mapping[str, Paper] = MappingProxyType(
    {
        "a4": Paper("A4", 210, 297, pocket=False, office="a4"),
        "letter": Paper("Letter", 215.9, 279.4, pocket=False, office="letter"),
        "a5": Paper("A5", 148, 210, pocket=True, office="a4", picture=(62, 62)),
        "a6": Paper("A6 landscape", 148, 105, pocket=True, office="a4", picture=(62, 50)),
    }
)
"""By the name that `--paper` takes. ISO 216 (A4, A5, A6); ANSI/ASME Y14.1, size A (Letter)."""
