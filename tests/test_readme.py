"""What the README promises, done: its example, its message, its ten minutes, its commands."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

from compiler.cli import main
from compiler.document.model import NodeView, SectionView, StepView
from compiler.findings.render import render_text
from compiler.pipeline import Compiled, compile_sources
from compiler.resolve import no_pictures
from compiler.source import SourceFile
from compiler.wording.text import Line, words_only

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
FLAT = " ".join(README.split())


def block(kind: str) -> str:
    """Return the first fenced block of a kind."""
    found = re.search(rf"^( *)```{kind}\n(.*?)^\1```$", README, re.MULTILINE | re.DOTALL)
    assert found is not None, f"the README has no block of {kind}"
    return "".join(line.removeprefix(found[1]) for line in found[2].splitlines(keepends=True))


def compiled(text: str) -> Compiled:
    return compile_sources([SourceFile("belt-change.proc", text)], no_pictures)


def lines_of(nodes: Iterable[NodeView]) -> Iterator[Line]:
    """Yield the instructions of steps, those in sections too."""
    for node in nodes:
        if isinstance(node, StepView):
            yield from node.lines
        elif isinstance(node, SectionView):
            yield from lines_of(node.nodes)


def test_the_example_compiles_without_a_finding() -> None:
    assert compiled(block("proc")).findings == ()


def test_what_is_said_of_the_example_is_so() -> None:
    (document,) = compiled(block("proc")).library().documents
    quoted = re.findall(r"“(.*?)”", FLAT)[0]
    said = [words_only(line).replace("\xa0", " ") for line in lines_of(document.body)]
    assert quoted in said
    tools = " ".join(tool.text for tool in document.tools)
    assert all(tool in tools for tool in ("hex key", "hex bit", "torque wrench"))
    (belt,) = document.supplies
    assert (belt.quantity, belt.number) == ("1", "B-61")
    assert any("9 N·m" in row.target.text.replace("\xa0", " ") for row in document.torques)


def test_the_message_shown_is_the_one_that_comes() -> None:
    found = compiled(block("proc").replace("  torque 9 N·m ±10 %", ""))
    (finding,) = found.findings
    shown = render_text(finding, found.sources.get, colour=False, width=100)
    assert shown == block("text").rstrip()


def test_ten_minutes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    lines = [line for line in README.splitlines() if line.strip().startswith("witnessmark new")]
    assert len(lines) == 3
    for line in lines:
        assert main(shlex.split(line)[1:]) == 0
    assert main(["check"]) == 0
    assert main(["build", "--no-sheets", "--out", "out"]) == 0
    assert (tmp_path / "out/site/index.html").exists()


def test_every_command_of_the_table_is_there(capsys: pytest.CaptureFixture[str]) -> None:
    main(["--help"])
    helped = capsys.readouterr().out
    named = set(re.findall(r"^\| `witnessmark (\w+)", README, re.MULTILINE))
    listed = set(re.findall(r"^    (\w+) ", helped, re.MULTILINE))
    assert named == listed


@pytest.mark.parametrize("link", re.findall(r"\]\((?!#)([^)]+)\)", README))
def test_links_lead_somewhere(link: str) -> None:
    assert (ROOT / link).exists()
