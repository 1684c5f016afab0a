"""What the tests of the lists share: a folder written as one text, and the lists of a procedure."""

from __future__ import annotations

import re
from pathlib import Path

from compiler import model
from compiler.derive import derive
from compiler.derive.lists import Derived, PartLine, ToolLine, TorqueLine
from compiler.load import load_folder
from compiler.parse import parse_text
from compiler.resolve import no_pictures, resolve
from compiler.walk import walk_procedure

ROOT = Path(__file__).resolve().parents[2]
_PART = re.compile(r"^## file: (\S+)\n", re.MULTILINE)

SHOP = """\
## file: shop.proc
shop house "House"
  units N·m, mm
  second units lbf·ft, in
  roles
    lead "lead" signs
  tools
    keys      hex-keys 4, 5, 6 mm
    spanners  spanners 13, 16, 18 mm
    small     torque-wrench 5..25 N·m    drive 3/8 in  length 280 mm  tag "TW-1"
    medium    torque-wrench 20..100 N·m  drive 1/2 in  length 400 mm  tag "TW-2"
    bits      hex-bits 4, 5, 6 mm   drive 3/8 in
    sockets   sockets 13, 16, 18 mm drive 1/2 in
    claw      crowfoot 18 mm        drive 1/2 in  extends 50 mm
    puller    puller "puller"
    bar       pry-bar "pry bar"
    hoist     hoist "hoist"  lifts 100 kg  tag "H-1"
  consumables
    locker "thread locker" number "C-7"
    cloth  "cloth"
"""

PUMP = """\
## file: pump.proc
machine pump "Pump"
  energy
    supply electrical "400 V"
      isolate at "Q3"
  parts
    guard "guard"
    cover "cover"   on frame
    frame "frame"
    seal  "seal"    renew  number "S-2" formerly "S-1"
    ring[1..2] "ring" 3 ×  renew
    thick-seal "thick seal" spare for seal  number "S-9"
  fasteners
    screw  4 × M6×16 ISO 4762 8.8   holds guard  torque 9 N·m ±10 %
    bolt   8 × M8×25 ISO 4017 8.8   holds cover  torque 20..24 N·m
    nut    M12 ISO 4032 8           holds frame  torque 60 N·m +5 -10 N·m  thread with locker
    pin    cotter-pin 4×40 ISO 1234  locks nut  renew  number "CP-4"
    stack-bolt 2 × M10×60 ISO 4014 8.8  torque 40 N·m  hand-tight-not
      stack
        washer "copper ring" 2 ×  renew  number "CR-6" formerly "CR-5"
        shim   "shim"  0..4 ×
    knob   2 × screw  hand-tight
  fluids
    oil "oil"  2 L  renew  number "OIL"
    water "water"  3 L
  aids
    chock[1..2] "chock"
""".replace("  hand-tight-not", "")


def compile_world(text: str) -> model.World:
    """Return the model of a folder written as one text; its files must be without a fault."""
    pieces = _PART.split(text)
    texts = dict(zip(pieces[1::2], pieces[2::2], strict=True))
    files = []
    for path, content in texts.items():
        file, findings = parse_text(content, path)
        assert not findings, [f.message for f in findings]
        assert file is not None
        files.append(file)
    world, found = resolve(files, no_pictures)
    assert not [f for f in found if f.rule != "unused-name"], [(f.rule, f.message) for f in found]
    return world


def folder(body: str, head: str = "", more: str = SHOP, machine: str = PUMP) -> str:
    """Return a folder with the pump, a shop and one procedure `job`."""
    lines = [
        "## file: job.proc",
        'procedure job "Job"',
        "  machine pump",
        "  revision A 2026-11-02",
    ]
    for text in (head, body):
        lines += [f"  {line}" for line in text.splitlines()]
    return "\n".join((*lines, f"{machine}{more}"))


def lists(body: str, head: str = "", more: str = SHOP, machine: str = PUMP) -> Derived:
    """Return the lists of a procedure for the pump."""
    world = compile_world(folder(body, head, more, machine))
    procedure = world.procedures["job"]
    walk, findings = walk_procedure(world, procedure, "")
    assert not findings, [f.message for f in findings]
    return derive(world, procedure, walk)


def tools(given: Derived) -> dict[str, ToolLine]:
    """Return tool lines by the name of the tool, what is missing by its words in brackets."""
    return {t.key.rsplit("/", 1)[-1] or f"({t.need})": t for t in given.tools}


def parts(given: Derived) -> dict[str, PartLine]:
    """Return supply lines by label, with `?` behind it for what may not be needed."""
    return {p.label + ("?" if p.only_if else ""): p for p in given.parts}


def torque(given: Derived) -> TorqueLine:
    """Return the only line of the torque table."""
    (line,) = given.torques
    return line


def demo() -> model.World:
    """Return the model of the demo."""
    found = load_folder(ROOT / "procedures")
    files = [parse_text(source.text, source.path)[0] for source in found.sources]
    return resolve([file for file in files if file is not None], found.probe)[0]
