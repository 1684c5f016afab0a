"""The rows of the benchmark: what is measured, against what, and the bar for it."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import cache, partial
from multiprocessing import get_context
from pathlib import Path
from time import process_time
from typing import TypeAlias

from bench.measure import Row, against, exponent, processor_seconds, row_of, seconds
from bench.naive import as_pdf, careless
from bench.texts import nested, one_procedure, plain
from compiler.checks import run_checks
from compiler.derive import derive
from compiler.emit.html import page_jobs
from compiler.emit.job import OutputJob
from compiler.emit.pdf import procedure_page, sheet_jobs
from compiler.load import PictureInfo, load_folder
from compiler.parse import parse_text
from compiler.pipeline import Compiled, Parser, compile_sources
from compiler.resolve import resolve
from compiler.source import SourceFile
from compiler.walk import walk_procedure

DEMO = Path(__file__).resolve().parents[2] / "procedures"


@dataclass(frozen=True, slots=True)
class Size:
    """How much is measured: rounds of each pair, lines, steps to double, procedures."""

    rounds: int = 3
    lines: int = 175
    steps: int = 20
    procedures: int = 8
    sheets: int = 6


SMALL = Size(rounds=1, lines=20, steps=4, procedures=2, sheets=1)
"""For the test that the benchmark runs."""


def no_pictures(path: str) -> PictureInfo:
    """Tell that there is no such picture."""
    return PictureInfo("missing")


def clean(sources: Sequence[SourceFile]) -> Compiled:
    """Compile texts of our own; a finding would mean that something else is measured."""
    compiled = compile_sources(sources, no_pictures)
    assert compiled.findings == (), compiled.findings[0].message
    return compiled


def start(size: Size) -> Iterator[Row]:
    """What the command costs before it does anything, and for one small file."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "first.proc"
        file.write_text(one_procedure(8).replace("  machine   washer\n", ""), encoding="utf-8")
        # The script that an installer writes imports what it likes before it calls us; what we are
        # answerable for starts with our own `main`.
        ours = "import sys; from compiler.cli import main; sys.exit(main(sys.argv[1:]))"
        base = partial(_run, folder, "-c", "pass")
        for words, bar in ((["--version"], 1.5), (["--help"], 4.0), (["check", "first.proc"], 10)):
            name = "witnessmark " + " ".join(words)
            work = partial(_run, folder, "-c", ours, *words)
            yield against(f"`{name}`", work, "`python -c pass`", base, bar, size.rounds)


def _run(folder: str, *words: str) -> None:
    """Run Python with its compiled modules kept in the folder, as they are when it is installed."""
    root = str(Path(__file__).resolve().parents[2])
    environment = {"PYTHONPYCACHEPREFIX": f"{folder}/compiled", "PYTHONPATH": root, "PATH": ""}
    subprocess.run(
        [sys.executable, *words], cwd=folder, env=environment, check=False, capture_output=True
    )


def stages(size: Size) -> Iterator[Row]:
    """What the stages behind the parser cost, for one procedure and its machine."""
    sources = plain(size.lines)
    parsed = [parse_text(s.text, s.path)[0] for s in sources]
    files = [file for file in parsed if file is not None]
    compiled = clean(sources)
    world, walks, derived = compiled.world, compiled.walks, compiled.derived

    def parse() -> None:
        for source in sources:
            parse_text(source.text, source.path)

    def behind() -> None:
        world, _ = resolve(files, no_pictures)
        walks, derived = {}, {}
        for procedure in world.procedures.values():
            for variant in procedure.variants:
                key = procedure.key, variant.model
                walks[key], _ = walk_procedure(world, procedure, variant.model)
                derived[key] = derive(world, procedure, walks[key])
        run_checks(world, walks, derived)

    text = f"a procedure of {size.lines} lines with its machine"
    base = f"parsing {text}"
    checks = partial(run_checks, world, walks, derived)
    yield against(f"The checks of {text}", checks, base, parse, 1, size.rounds)
    yield against(f"All that follows the parser, for {text}", behind, base, parse, 3, size.rounds)


def growth(size: Size) -> Iterator[Row]:
    """How the time grows with the steps: five models, ten branches, repeats in repeats."""
    sizes = [size.steps * factor for factor in (1, 2, 4, 8)]
    folders = [nested(steps) for steps in sizes]
    clean(folders[0])
    exponents, shares = [], []
    for _ in range(max(1, size.rounds // 3)):
        times = [seconds(partial(clean, sources)) for sources in folders]
        exponents.append(exponent(sizes, times))
        shares.append(times[-1] / times[0] / 8)
    yield row_of(
        f"Growth of the whole check from {sizes[0]} to {sizes[-1]} steps, five models, ten "
        "branches, repeats in repeats: the power of the steps that the time grows with",
        "the steps",
        exponents,
        1.2,
    )
    yield row_of(
        f"The same: the time of each step at {sizes[-1]} steps", f"that at {sizes[0]}", shares, 1.5
    )


def pages(size: Size) -> Iterator[Row]:
    """What the pages of many procedures cost, from the text on, beside running text made HTML."""
    from docutils.core import publish_string
    from markdown_it import MarkdownIt

    sources = plain(20, size.procedures)
    lists = [_as_list(source.text) for source in sources]

    def ours() -> None:
        for job in page_jobs(clean(sources).library(), {}):
            job.make()

    def markdown() -> None:
        reader = MarkdownIt()
        for text in lists:
            reader.render(text)

    def restructured() -> None:
        for text in lists:
            publish_string(text, writer="html5", settings_overrides={"report_level": 5})

    name = f"Pages of {size.procedures} procedures of 20 lines, from text to HTML, one process"
    yield against(name, ours, "markdown-it-py on lists of the same lines", markdown, 2, 1)
    yield against(name, ours, "docutils on the same", restructured, 0.5, 1)


def _as_list(text: str) -> str:
    """Return the lines as a list, which both baselines read alike."""
    return "\n".join(f"- {line.strip()}" for line in text.splitlines())


def watching(size: Size) -> Iterator[Row]:
    """What a save costs while the folder is watched: one file of twelve is another."""
    sources = plain(size.lines, 10)
    parser, turn = Parser(), [0]
    compile_sources(sources, no_pictures, parser)

    def save() -> None:
        turn[0] += 1
        first = sources[0]
        changed = replace(first, text=first.text + f"# saved {turn[0]}\n")
        compile_sources([changed, *sources[1:]], no_pictures, parser)

    def parse() -> None:
        parse_text(sources[0].text, sources[0].path)

    name = f"Checking again when one of {len(sources) - 2} procedures is saved, in a watched folder"
    yield against(name, save, "parsing that file", parse, 3, size.rounds)


def sheets(size: Size) -> Iterator[Row]:
    """What sheets of the demo cost beside the same ones styled without care."""
    jobs, pages, pictures = demo_sheets(size.sheets)

    def ours() -> None:
        for job in jobs:
            job.make()

    def theirs() -> None:
        for page in pages:
            as_pdf(page, pictures)

    yield against(
        f"Sheets of {len(jobs)} procedures of the demo, processor time",
        ours,
        "the same words, boxes and pictures, each step a table of two cells, tables as wide as "
        "they like, fonts and style brought anew",
        theirs,
        0.6,
        max(1, size.rounds // 2),
        processor_seconds,
    )


def workers(size: Size) -> Iterator[Row]:
    """What the busier of two workers has to do, beside one that makes all sheets."""
    jobs = demo_sheets(size.sheets)[0] * 2
    ratios = [_busiest(jobs, 2) / _busiest(jobs, 1) for _ in range(max(1, size.rounds // 2))]
    yield row_of(
        f"Two workers make {len(jobs)} sheets of the demo: processor time of the busier",
        "that of a single worker",
        ratios,
        0.59,  # 1.7 times as quick
    )


def _busiest(jobs: Sequence[OutputJob], workers: int) -> float:
    """Return the most processor time that a worker took from its start to its last sheet."""
    with ProcessPoolExecutor(workers, mp_context=get_context("forkserver")) as pool:
        took = dict(pool.map(_made_by, jobs))
    return max(took.values())


def _made_by(job: OutputJob) -> tuple[int, float]:
    """Make a sheet; return which process did, and the time of the processor it took up to now."""
    job.make()
    return os.getpid(), process_time()


@cache
def demo_sheets(most: int) -> tuple[list[OutputJob], list[str], Mapping[str, bytes]]:
    """Return so many sheets of the demo, their pages styled without care, and the pictures."""
    folder = load_folder(DEMO)
    mine = [s for s in folder.sources if s.path.startswith(("labeller/", "shop.proc"))]
    library = compile_sources(mine, folder.probe).library()
    pictures = folder.picture_bytes
    jobs = {job.path: job for job in sheet_jobs(library, pictures, "a4")}
    # The shortest come first: the test takes one.
    documents = sorted(library.documents, key=lambda one: len(repr(one)))[:most]
    pages = [
        careless(procedure_page(document, pictures, "a4", library.site)) for document in documents
    ]
    return [jobs[f"sheets/{document.id}.pdf"] for document in documents], pages, pictures


Rows: TypeAlias = Callable[[Size], Iterator[Row]]

ALL: tuple[Rows, ...] = (start, stages, growth, pages, watching, sheets, workers)


def measure(size: Size) -> list[Row]:
    """Return all rows."""
    return [row for rows in ALL for row in rows(size)]
