"""What the tests of the walk share: a folder written as one text, and walks in short notation."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from compiler import model
from compiler.findings.model import Finding
from compiler.load import load_folder
from compiler.parse import parse_text
from compiler.resolve import no_pictures, resolve
from compiler.walk import walk_procedure
from compiler.walk.assembly import Assembly, build_assembly
from compiler.walk.change import apply
from compiler.walk.flat import flat_acts, flat_steps
from compiler.walk.nodes import Act, Node, StepNode, Target, Walk
from compiler.walk.start import initial_state
from compiler.walk.state import State
from compiler.walk.things import gather_things

ROOT = Path(__file__).resolve().parents[2]
_PART = re.compile(r"^## file: (\S+)\n", re.MULTILINE)

PRESS = """\
machine press "Press"
  models P-1, P-2
  energy
    supply  electrical "400 V"
      isolate at "switch Q3"
      verify "dead"
    oil     hydraulic 180 bar
      isolate at "valve V1"
      release "open V2"
      verify "gauge reads zero"
  conditions
    brake "brake"
      set
      released by "lift the lever"
  places
    bench "bench"
    station[1..3] "station"
  parts
    guard    "guard"     2 kg   guards supply
    plate    "plate"     9 kg   behind guard
    gasket   "gasket"    behind plate  renew  number "G-1"
    wheel    "wheel"     30 kg  behind plate
    hub      "hub"       on wheel
    cap[1..3] "cap"      behind guard
    arm      "arm"       behind guard
    block    "block"     at station[1]
  fasteners
    guard-screw  4 × M6×16 ISO 4762 8.8  holds guard  torque 9 N·m
    plate-bolt   6 × M8×25 ISO 4017 8.8  holds plate  torque 20 N·m ±10 %
    wheel-nut    M16 ISO 4032 8          holds wheel  torque 80 N·m
    wheel-tab    tab-washer              locks wheel-nut  renew
    cap-screw[1..3]  2 × M5×10 ISO 4762 8.8  holds cap  torque 5 N·m
    arm-pin      pin                     holds arm
    arm-clip     clip                    locks arm-pin
    block-knob   2 × screw               holds block  hand-tight
    dowel        2 × dowel-pin 6×20 ISO 2338  holds plate
  connections
    cable  cable "cable"  joins wheel  carries supply
  fluids
    sump-oil  "sump oil"  2 L  in block  renew
  aids
    chock  "chock"
  tools
    hoist  hoist "hoist"  lifts 100 kg
"""


def parts(text: str) -> dict[str, str]:
    """Return the files of a folder written as one text, by path."""
    pieces = _PART.split(text)
    files = {"a.proc": pieces[0]} if pieces[0].strip() else {}
    return files | dict(zip(pieces[1::2], pieces[2::2], strict=True))


def compile_world(text: str) -> model.World:
    """Return the model of a folder written as one text; its files must be without a fault."""
    files = []
    for path, content in parts(text).items():
        file, findings = parse_text(content, path)
        assert not findings, [f.message for f in findings]
        assert file is not None
        files.append(file)
    world, found = resolve(files, no_pictures)
    assert not [f for f in found if f.rule != "unused-name"], [(f.rule, f.message) for f in found]
    return world


def job(body: str, head: str = "", machine: str = PRESS, more: str = "") -> str:
    """Return a folder: a machine and one procedure `job` for it, and other files."""
    lines = ['procedure job "Job"', "  machine press", "  revision A 2026-11-02"]
    for text in (head, body):
        lines += [f"  {line}" for line in text.splitlines()]
    return "\n".join((*lines, "", f"## file: press.proc\n{machine}", more))


def walked(text: str, name: str = "job", of_model: str = "P-1") -> tuple[Walk, tuple[Finding, ...]]:
    """Return the walk of one procedure of a folder, and its findings."""
    world = compile_world(text)
    return walk_procedure(world, world.procedures[name], of_model)


def walk(text: str, name: str = "job", of_model: str = "P-1") -> Walk:
    """Return the walk of a procedure in which everything can be written out."""
    found, findings = walked(text, name, of_model)
    assert not findings, [f.message for f in findings]
    return found


def rules(text: str, name: str = "job") -> list[str]:
    """Return the rules of what is found, in the order of the file."""
    return [finding.rule for finding in walked(text, name)[1]]


def said(act: Act) -> str:
    """Return an act in short: `undo guard-screw`, `fit gasket! new`."""
    words = [act.deed.value, ", ".join(_spot(t) for t in act.targets)]
    words += [_phrase(p.word, p.operands) for p in act.phrases]
    words += [act.state, "new" if act.new_part else ""]
    return " ".join(filter(None, words))


def _phrase(word: str, operands: Iterable[object]) -> str:
    return f"<{' '.join(filter(None, (word, *map(_spot, operands))))}>"


def _spot(spot: object) -> str:
    if isinstance(spot, Target):
        name = spot.key.rsplit("/", 1)[-1]
        members = f"[{','.join(spot.members)}]" if spot.members else "[each]" if spot.each else ""
        return f"{spot.age} {name}{members}".strip()
    if isinstance(spot, model.Prose):
        return "".join(_spot(part) for part in spot.parts)
    if isinstance(spot, model.Selection):
        return f"{spot.key.rsplit('/', 1)[-1]}{list(spot.members) if spot.members else ''}"
    if isinstance(spot, model.Amount):
        return f"{float(spot.low.value):g} {spot.low.unit}"
    if isinstance(spot, model.LoopUse):
        return f"?{spot.variable}{'.' if spot.column else ''}{spot.column}"
    return str(spot)


def acts(walk_or_nodes: Walk | Iterable[Node]) -> list[str]:
    """Return all acts in short, in order."""
    return [said(flat.act) for flat in flat_acts(walk_or_nodes)]


def done(body: str, head: str = "", more: str = "", of_model: str = "P-1") -> list[str]:
    """Return the acts of a procedure for the press, in short."""
    return acts(walk(job(body, head, more=more), of_model=of_model))


def steps(walk_or_nodes: Walk | Iterable[Node]) -> dict[str, StepNode]:
    """Return all steps by id."""
    found = [flat.node for flat in flat_steps(walk_or_nodes)]
    by_id = {node.id: node for node in found}
    assert len(by_id) == len(found), "ids are unique"
    return by_id


def ids(walk_or_nodes: Walk | Iterable[Node]) -> list[str]:
    """Return the ids of all steps in order."""
    return list(steps(walk_or_nodes))


def play(text: str, name: str = "job", of_model: str = "P-1") -> tuple[Assembly, State, State]:
    """Return the relations, the state at the start, and the state after all acts of a walk."""
    world = compile_world(text)
    procedure = world.procedures[name]
    assembly = build_assembly(gather_things(world, procedure, of_model))
    start = state = initial_state(assembly, procedure.ends)
    for flat in flat_acts(walk_procedure(world, procedure, of_model)[0]):
        state = apply(state, flat.act, assembly)
    return assembly, start, state


def demo() -> model.World:
    """Return the model of the demo."""
    folder = load_folder(ROOT / "procedures")
    files = [parse_text(source.text, source.path)[0] for source in folder.sources]
    return resolve([file for file in files if file is not None], folder.probe)[0]
