"""The code on a sheet that leads to its page, and tells the page which print it was read from."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote

QUIET = 4
"""Modules that stay white around a code (ISO/IEC 18004, 6.3.8)."""

DIGITS = 12
"""Digits of the content mark that sheets print."""


@dataclass(frozen=True, slots=True)
class Code:
    """A code: what it says, its side in modules with the white border, and one SVG path."""

    text: str
    side: int
    path: str


def page_address(site: str, page: str, revision: str, content: str) -> str:
    """Return where a page lies and which print asks; `page` is a path such as `procedures/x.html`.

    The page reads what follows `#printed=`: the revision, a comma, twelve digits of the content.
    """
    mark = f"{quote(revision, safe='')},{content[:DIGITS]}"
    return f"{site}/{quote(page)}#printed={mark}"


def code_of(text: str) -> Code:
    """Return the code of an address.

    Level Q: a quarter of it may be torn off or under grease (ISO/IEC 18004, 5.1).
    """
    import segno

    made = segno.make_qr(text, error="q", boost_error=False)
    rows = [[bool(module) for module in row] for row in made.matrix]
    return Code(text, len(rows) + 2 * QUIET, _path(rows))


def _path(rows: list[list[bool]]) -> str:
    """Return one path with a rectangle for each run of dark modules, as tall as it can be.

    Runs of the same place and width in rows below each other become one, so that no hairline shows
    between them.
    """
    pieces = []
    above: dict[tuple[int, int], int] = {}
    for y, row in enumerate([*rows, []]):
        runs = _runs(row)
        for (left, width), top in above.items():
            if (left, width) not in runs:
                pieces.append(f"M{left + QUIET} {top + QUIET}h{width}v{y - top}h-{width}z")
        above = {run: above.get(run, y) for run in runs}
    return "".join(pieces)


def _runs(row: list[bool]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for x, dark in enumerate(row):
        if dark and runs and sum(runs[-1]) == x:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        elif dark:
            runs.append((x, 1))
    return runs
