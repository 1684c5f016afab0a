"""What the tests of the document share: folders written as one text, the demo, and plain words."""

# ruff: noqa: E501 (the files read better in columns)

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

from compiler.document.model import (
    ArmView,
    BranchView,
    Document,
    LanesView,
    Library,
    Line,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
)
from compiler.document.numbers import every_node
from compiler.load import load_folder
from compiler.pipeline import Compiled, compile_sources
from compiler.resolve import no_pictures
from compiler.source import SourceFile
from compiler.wording.text import plain_text

_PART = re.compile(r"^## file: (\S+)\n", re.MULTILINE)
ROOT = Path(__file__).resolve().parents[2]

PUMP = """\
## file: pump.proc
machine pump "Pump"
  models P-40, P-60
  energy
    supply electrical "400 V"
      isolate at "switch Q3"
      verify "no voltage on any phase"
  parts
    guard  "guard"  1.8 kg  guards supply
      for P-60   2.6 kg
    cover  "cover"  9 kg    behind guard
    seal   "seal"   behind cover  renew  number "S-1"
    foot[1..3] "foot"
    shoe[left, right] "shoe"
  fasteners
    guard-screw  4 × M6×16 ISO 4762 8.8   holds guard  torque 9 N·m ±10 %
    cover-bolt   6 × M10×30 ISO 4017 8.8  holds cover  torque 40 N·m ±10 %
      for P-60   torque 45 N·m ±10 %
    foot-nut[1..3]  M8 ISO 4032 8         torque 20 N·m
  fluids
    oil "oil"  2 L  in cover

## file: shop.proc
shop house "Workshop"
  units N·m, mm, kg
  second units lbf·ft, in, lb
  roles
    inspector "inspector"
  tools
    keys      hex-keys 4, 5, 6 mm
    bits      hex-bits 4, 5, 6 mm  drive 3/8 in
    spanners  spanners 13, 16, 18 mm
    sockets   sockets 10, 13, 16 mm  drive 3/8 in
    small     torque-wrench 5..25 N·m   drive 3/8 in  accuracy 4 %  tag "TW-01"  calibrated until 2027-04-30
    large     torque-wrench 20..100 N·m drive 3/8 in  accuracy 4 %  tag "TW-02"  calibrated until 2027-04-30
    dial      dial-indicator "dial indicator"  tag "DI-01"  calibrated until 2027-04-30
    tester    voltage-tester "voltage tester"  tag "VT-01"  calibrated until 2027-04-30
"""

OPENING = """\
isolate supply with tester
section open "Open it"
  remove guard
  remove cover
  remove seal
refit open
restore supply"""


def compiled(text: str) -> Compiled:
    """Return what comes of a folder written as one text; it must be clean."""
    pieces = _PART.split(text)
    pairs = zip(("a.proc", *pieces[1::2]), pieces[0::2], strict=True)
    sources = [SourceFile(path, content) for path, content in pairs if content.strip()]
    result = compile_sources(sources, no_pictures)
    assert result.is_clean, [(f.rule, f.message) for f in result.findings]
    return result


def folder(body: str, head: str = "", more: str = "", models: bool = False) -> str:
    """Return a folder with the pump and one procedure `job` for one or both models."""
    only = "" if models else "  models P-40\n"
    lines = [f"  {line}" for text in (head, body) for line in text.splitlines()]
    job = f'procedure job "Job"\n  machine pump\n{only}  revision A 2026-11-02\n'
    return job + "\n".join(lines) + f"\n\n{PUMP}{more}"


def document(body: str, head: str = "", more: str = "", models: bool = False) -> Document:
    """Return the document of a small job."""
    library = compiled(folder(body, head, more, models)).library()
    return next(one for one in library.documents if one.id == "job")


@cache
def demo() -> tuple[Compiled, Library]:
    """Return the demo procedures, compiled once for all tests."""
    given = load_folder(ROOT / "procedures")
    result = compile_sources(given.sources, given.probe)
    assert result.is_clean, [(f.rule, f.message) for f in result.findings]
    return result, result.library()


def steps(body: Sequence[NodeView]) -> list[StepView]:
    """Return all steps in order."""
    return [node for node in every_node(body) if isinstance(node, StepView)]


def plain(line: Line) -> str:
    """Return a line as plain words with plain spaces."""
    return plain_text(line).replace("\N{NO-BREAK SPACE}", " ")


def said(body: Sequence[NodeView]) -> list[str]:
    """Return all instructions in order."""
    return [plain(line) for step in steps(body) for line in step.lines]


def arms(body: Sequence[NodeView]) -> Iterator[ArmView]:
    """Return the arms of all branches."""
    for node in every_node(body):
        if isinstance(node, BranchView):
            yield from node.arms


def outline(body: Sequence[NodeView], depth: int = 0) -> list[str]:
    """Return the shape of a body: a line for each node, indented."""
    made: list[str] = []
    for node in body:
        only = f" [{', '.join(node.models)}]" if node.models else ""
        if isinstance(node, StepView):
            made.append(f"{'  ' * depth}{node.number} {plain(node.lines[0])}{only}")
        elif isinstance(node, SectionView):
            made.append(f"{'  ' * depth}{node.number} {node.title}{only}")
            made += outline(node.nodes, depth + 1)
        elif isinstance(node, RepeatView):
            made.append(f"{'  ' * depth}{plain(node.heading)}{only}")
            made += outline(node.nodes, depth + 1)
        elif isinstance(node, BranchView):
            for arm in node.arms:
                made.append(f"{'  ' * depth}{plain(arm.heading)}{only}")
                made += outline(arm.nodes, depth + 1)
        elif isinstance(node, LanesView):
            for lane in node.lanes:
                made.append(f"{'  ' * depth}{lane.who}{only}")
                made += outline(lane.nodes, depth + 1)
    return made
