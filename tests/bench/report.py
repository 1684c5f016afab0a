"""The report in Markdown: a table of the rows, and why some of them miss their bar."""

from __future__ import annotations

import os
import platform
from collections.abc import Iterator, Sequence

from bench.measure import Row

WHY = {
    "`witnessmark check": "Most of it is loading: some two hundred modules, and in them three "
    "hundred small classes of data whose methods Python writes and compiles at each start. With "
    "all in memory the same file takes a few times its parsing.",
    "`witnessmark --help": "argparse, and a parser for each command.",
    "All that follows": "Every way through the branches is replayed, and the lists of tools and "
    "parts are worked out.",
    "Pages of": "A page is no rendered text: the work is walked through for it, tools and ways "
    "back are worked out, and each step is written in words.",
    "Checking again": "Parsing is kept for files that did not change; what follows is done anew "
    "for the whole folder, as any procedure may follow another.",
    "The checks of": "The state of every part is followed on every way through the work.",
    "Two workers": "One of the two has the longer sheets, and each loads the libraries for itself.",
}
"""Why a bar is missed, by how the name of the row begins."""

_INTRO = """\
# Speed

`python -m tests.bench` measures this anew; it takes some minutes. All is said as a ratio to a
named baseline that was measured in turns with it, in the same run: a busy machine slows both down.
The ratio is the median of its rounds; half of the rounds lie in the range behind it. Compiled
modules are kept between the runs of the command, as they are once it is installed.
"""


def report(rows: Sequence[Row]) -> str:
    """Return the report of a run."""
    return "\n".join(_lines(rows)) + "\n"


def _lines(rows: Sequence[Row]) -> Iterator[str]:
    yield _INTRO
    yield f"Measured with {_machine()}."
    yield ""
    yield "| what | baseline | ratio | half lie in | bar | met |"
    yield "|---|---|---:|---:|---:|---|"
    for row in rows:
        low, high = row.spread
        yield (
            f"| {row.what} | {row.baseline} | {row.ratio:.2f} | {low:.2f}..{high:.2f} "
            f"| {row.bar:g} | {'yes' if row.is_met else 'no'} |"
        )
    yield ""
    missed = [row for row in rows if not row.is_met]
    yield f"Met: {len(rows) - len(missed)} of {len(rows)}."
    yield ""
    yield "## Why a bar is missed"
    yield ""
    said = [line for start, line in WHY.items() for r in missed[:] if r.what.startswith(start)]
    yield from (f"- {line}" for line in dict.fromkeys(said))
    if not missed:
        yield "None is."
    yield ""
    yield "## What is not measured"
    yield ""
    yield "- A build of ten thousand files that did not change: the folder is always read whole."
    yield (
        "- Sheets in two workers by the clock: on a machine that others use too, the clock tells "
        "of them. The processor time of the busier worker is what is left of it on a quiet one."
    )
    yield (
        "- Steps that are flexible boxes or grids: they take longer than the tables above (one "
        "sheet of four pages: 4.0 s and 3.1 s, tables 2.4 s, ours 0.9 s)."
    )


def _machine() -> str:
    """Return the machine in general words."""
    cores = os.cpu_count() or 1
    return (
        f"{platform.python_implementation()} {'.'.join(platform.python_version_tuple()[:2])} on "
        f"{platform.system()}, {platform.machine()}, {cores} core{'s' if cores > 1 else ''}"
    )
