"""Whatever the files hold: findings and never an exception, places inside the files, plain JSON."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from time import process_time

import jsonschema
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cli.cli_support import clean, findings_schema, put, read_findings
from compiler.findings.render import render_json, render_text
from compiler.load import load_folder
from compiler.pipeline import Compiled, Parser, compile_sources
from compiler.resolve import no_pictures
from compiler.source import SourceFile

DEMO = Path(__file__).resolve().parents[2] / "procedures"
SHOP = "shop.proc"

GROUPS = (
    ("manway-gasket.proc",),
    ("walk-round.proc",),
    ("mixer/mixer.proc", "mixer/magnet-check.proc", "mixer/mixer-to-overhaul.proc"),
    ("labeller/labeller.proc", "labeller/set-guides.proc"),
    ("filler/filler.proc", "filler/block-to-station-3.proc"),
)
"""Files of the demo that are compiled together here: small ones, so that many can be tried."""

PARSE = Parser()
"""Keeps the shop file, which is the same each time."""


@cache
def demo(path: str) -> str:
    return (DEMO / path).read_text(encoding="utf-8")


@cache
def schema() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(findings_schema())


def check(texts: dict[str, str]) -> Compiled:
    """Compile the texts and hold all that comes of them against what is promised."""
    sources = [SourceFile(path, text) for path, text in sorted(texts.items())]
    compiled = compile_sources(sources, no_pictures, PARSE)
    for finding in compiled.findings:
        places = [finding.span, *(label.span for label in finding.labels)]
        places += [finding.fix.span] if finding.fix else []
        for place in places:
            assert place.file in texts, finding
            assert 0 <= place.start <= place.end <= len(texts[place.file]), finding
        assert finding.message.strip(), finding
        shown = render_text(finding, compiled.sources.get, False, 80)
        assert not set(shown) & set("\x1b\x07\x08\r\u202e\u2028"), finding
    schema().validate(_json(compiled))
    return compiled


def _json(compiled: Compiled) -> object:
    import json

    return json.loads(render_json(compiled.findings, compiled.sources.get))


@st.composite
def mutated(draw: st.DrawFn) -> dict[str, str]:
    """Draw a few files of the demo, with lines of one dropped, doubled, swapped, cut or moved."""
    group: Sequence[str] = draw(st.sampled_from(GROUPS))
    texts = {path: demo(path) for path in (*group, SHOP)}
    path = draw(st.sampled_from(sorted(texts)))
    lines = texts[path].split("\n")
    for _ in range(draw(st.integers(1, 4))):
        at, other = (draw(st.integers(0, len(lines) - 1)) for _ in range(2))
        line = lines[at]
        match draw(st.sampled_from(("drop", "double", "swap", "cut", "indent", "word", "rename"))):
            case "drop" if len(lines) > 1:
                del lines[at]
            case "double":
                lines.insert(other, line)
            case "swap":
                lines[at], lines[other] = lines[other], line
            case "cut":
                lines[at] = line[: draw(st.integers(0, len(line)))]
            case "indent":
                lines[at] = " " * draw(st.integers(0, 9)) + line.lstrip()
            case "word":
                words = line.split(" ")
                del words[draw(st.integers(0, len(words) - 1))]
                lines[at] = " ".join(words)
            case "rename":
                words = [w for w in lines[other].split() if w]
                if words and line.split():
                    old = draw(st.sampled_from(line.split()))
                    lines[at] = line.replace(old, draw(st.sampled_from(words)), 1)
    texts[path] = "\n".join(lines)
    return texts


@settings(max_examples=100, suppress_health_check=[HealthCheck.too_slow])
@given(mutated())
def test_real_files_with_lines_that_went_wrong(texts: dict[str, str]) -> None:
    """A change that no check minds must not fail later either, where nobody looks for findings."""
    from compiler.emit.data import data_jobs
    from compiler.emit.lists import list_jobs

    compiled = check(texts)
    if compiled.is_clean:
        library = compiled.library()
        for job in (*list_jobs(library), *data_jobs(library)):
            assert job.make()


@given(st.text(max_size=300))
def test_any_text_beside_a_real_file(text: str) -> None:
    check({"a.proc": text, "vent-cap.proc": clean()})


@given(st.text(max_size=200), st.sampled_from(["machine", "procedure", "shop", "visit"]))
def test_any_text_below_a_first_line(text: str, kind: str) -> None:
    check({"a.proc": f'{kind} a "A"\n  {text}'})


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    data=st.binary(max_size=200), name=st.text(st.characters(exclude_characters="/\0"), max_size=20)
)
def test_any_bytes_under_any_name(tmp_path: Path, data: bytes, name: str) -> None:
    """Through the disk: names that are no text, control characters, anything the system takes."""
    root = tmp_path / "all"
    for old in root.glob("**/*"):
        old.unlink()
    try:
        put(root, f"a{name}.proc", data)
    except (OSError, UnicodeEncodeError):
        return  # the system takes no such name
    put(root, "vent-cap.proc", clean())
    folder = load_folder(root)
    compiled = compile_sources(folder.sources, folder.probe)
    findings = [*folder.findings, *compiled.findings]
    assert findings or data.strip()
    for finding in findings:
        shown = render_text(finding, compiled.sources.get, False, 80)
        assert not set(shown) & set("\x1b\x07\x08\r\u202e\u2028")
    read_findings(render_json(findings, compiled.sources.get))


def test_big_files_are_read_to_the_end() -> None:
    """One very long line, many wrong lines, one long word, and many steps that are right."""
    head = 'procedure a "A"\n  revision A 2026-11-02\n'
    assert check({"a.proc": f"{head}  remove {'a, ' * 10_000}"}).findings
    assert len(check({"a.proc": head + "  x\n" * 1_000}).findings) == 1_000
    check({"a.proc": f'{head}  "{"x" * 100_000}"\n'})
    assert check({"a.proc": head + '  "Look at it."\n' * 2_000}).is_clean


def test_a_very_long_text_takes_no_longer_than_it_must() -> None:
    """A million letters are read in a second or so; going over them once a letter takes minutes."""
    began = process_time()
    check({"a.proc": f'procedure a "A"\n  revision A 2026-11-02\n  "{"x" * 1_000_000}"\n'})
    assert process_time() - began < 15
