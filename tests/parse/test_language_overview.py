"""What stands first on the page of the language: each line of it is taken by the compiler."""

from __future__ import annotations

import re
from pathlib import Path

from compiler.pipeline import compile_sources
from compiler.resolve import no_pictures
from compiler.source import SourceFile

PAGE = (Path(__file__).resolve().parents[2] / "grammar" / "language.md").read_text("utf-8")

FILES = {
    "juice-pump.proc": """\
machine juice-pump "Juice pump"
  energy
    motor-supply  electrical "400 V"
      isolate at "switch Q1"
      verify "dead at the motor"
  parts
    guard "belt guard"  guards motor-supply
    belt "drive belt"  behind guard
    cover "cover"  9 kg
    gasket "gasket"  on cover  renew  number "G-12"
    sleeve "sleeve"
    seal "seal"
  fasteners
    cover-bolt  8 × M8×25 ISO 4017 8.8  holds cover  torque 22 N·m
""",
    "crib.proc": """\
shop crib "Workshop"
  tools
    keys  hex-keys 4, 5, 6 mm
    spanners  spanners 10, 13 mm
    sockets  sockets 10, 13 mm  drive 3/8 in
    wrench  torque-wrench 5..60 N·m  drive 3/8 in
    feeler  feeler-gauges "feeler gauges"
    voltage-tester  voltage-tester "voltage tester"
  consumables
    cloth "lint-free cloth"
  roles
    inspector "inspector"
""",
    "open-pump.proc": """\
procedure open-pump "Open the pump"
  machine juice-pump
  revision A 2026-11-02
  starts with cover-bolt slackened
  remove cover
  fit cover
  replace gasket
  tighten cover
""",
    "oil-change.proc": """\
procedure oil-change "Change the oil"
  machine juice-pump
  revision A 2026-11-02
  isolate motor-supply with voltage-tester
  section open "Open it up"
    remove guard
  replace belt
  clean sleeve with cloth
    note "Dry it."
    why "Dirt wears it."
    caution cut "Its rim is sharp." avoid "Wear gloves."
    takes 5 min
  turn "the handwheel" 2 turns
  "Look round."
  replace seal  only if "it is torn"
  refit open
  repeat 4 times
    wipe sleeve
  repeat for each n in 1..4
    wipe sleeve
  repeat until slope is in
    measure slope "Slope" with feeler  at most 1 mm
  measure gap "Gap" with feeler  between 0.3 mm and 0.5 mm
  if gap is out
    wipe sleeve
  otherwise
    wipe cover
  restore motor-supply
  confirm "Ran for a minute without a drip."
  ask noise "Does it make a noise?"
  if noise is yes
    stop "Call the shift lead."
  sign inspector "Released"
""",
    "with-open.proc": """\
procedure with-open "Follow"
  machine juice-pump
  revision A 2026-11-02
  starts with cover-bolt slackened
  follow open-pump
""",
    "spring.proc": """\
visit spring "Spring"
  do oil-change on juice-pump
""",
}
WRITTEN = {" ".join(line.split()) for text in FILES.values() for line in text.splitlines()}


def test_the_lines_of_the_first_page_compile() -> None:
    sources = [SourceFile(name, text) for name, text in FILES.items()]
    assert compile_sources(sources, no_pictures).findings == ()


def test_every_line_of_the_first_page_is_one_of_them() -> None:
    table = PAGE.split("\n## On one page\n")[1].split("\n## ")[0]
    rows = [line for line in table.splitlines() if line.startswith("| ")][1:]
    assert len(rows) >= 20
    for row in rows:
        for code in re.findall(r"`([^`]+)`", row.split(" | ", 1)[1]):
            # What is left to the author stands as "…"; a picture needs a file of its own.
            said = re.escape(" ".join(code.split())).replace("…", '[^"]+')
            found = any(re.fullmatch(said, line) or line.endswith(code) for line in WRITTEN)
            assert found or code.startswith("picture "), code
