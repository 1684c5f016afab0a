"""What the tests of the replay share: a made-up press, what is left over, ways in short."""

from __future__ import annotations

from pathlib import Path

from case_support import check_texts, marks, parts

from compiler.checks.replay import Moment, Replay, Way, replay
from compiler.checks.replay.way import core
from compiler.findings.model import is_error
from compiler.findings.registry import rule_of
from compiler.model import World
from compiler.parse import parse_text
from compiler.resolve import no_pictures, resolve
from compiler.walk import walk_procedure
from compiler.walk.assembly import Assembly, Unit, build_assembly
from compiler.walk.things import gather_things

PRESS = """\
machine press "Press"
  models P-1, P-2
  energy
    mains   electrical "400 V"
      isolate at "switch Q3"
      verify "dead at the terminals"
    water   pressure 2 bar
      isolate at "valve V1"
      release "open drain D2"
      restore "Shut D2 first."
      verify "gauge reads zero"
  conditions
    brake "brake"
      set by "push the lever"
      released by "lift the lever"
  places
    station[1..3] "station"
  parts
    guard    "guard"     2 kg
    plate    "plate"     9 kg   behind guard
    gasket   "gasket"    behind plate  renew  number "G-1"
    bush     "bush"      behind plate
    wheel    "wheel"     12 kg  behind plate
    hub      "hub"       on wheel
    cap[1..3] "cap"
    arm      "arm"
    block    "block"     at station[1]
    lid      "lid"
  fasteners
    guard-screw  4 × M6×16 ISO 4762 8.8  holds guard  torque 9 N·m
    plate-bolt   6 × M8×25 ISO 4017 8.8  holds plate  torque 20 N·m ±10 %
    wheel-nut    M16 ISO 4032 8          holds wheel  torque 80 N·m then next hole up to 100 N·m
    wheel-pin    cotter-pin 4×40 ISO 1234  locks wheel-nut  renew
    cap-screw[1..3]  2 × M5×10 ISO 4762 8.8  holds cap  torque 5 N·m
    arm-pin      pin                     holds arm
    arm-clip     clip                    locks arm-pin
    block-knob   2 × screw               holds block  hand-tight
    foot[1..4]   M16 ISO 4035 04         torque 80 N·m ±10 %
    foot-lock[1..4] M16 ISO 4035 04      locks foot   torque 60 N·m
    drive-bolt   4 × M8×30 ISO 4017 8.8  torque 10 N·m then slacken then 15 N·m then 90 deg
    lid-bolt     M8×30 ISO 4017 8.8      torque 20..24 N·m
    clamp-bolt   M8×30 ISO 4017 8.8      snug
    sump-plug    plug G1/2               seals sump-oil  torque 30 N·m
  connections
    cable  cable "cable"  marked "W8"  joins wheel  carries mains
    hose   hose "air hose"
  fluids
    sump-oil  "sump oil"  2 L  in block  renew
  aids
    chock[1..2]  "chock"
    rig-pin      "rig pin"
  tools
    hoist  hoist "hoist"  lifts 100 kg
    gauge  dial-indicator "dial indicator"
  table size
    name  | count
    small | 1
    large | 2
"""

_BASE = frozenset({"reading", "files", "names", "values", "work"})


def job(body: str, head: str = "", more: str = "") -> str:
    """Return a folder: the press and one procedure `job` for it, and other files."""
    lines = ['procedure job "Job"', "  machine press", "  revision A 2026-11-02"]
    for text in (head, body):
        lines += [f"  {line}" for line in text.splitlines()]
    return "\n".join((*lines, "", f"## file: press.proc\n{PRESS}", more))


def cases(file: str) -> dict[str, str]:
    """Return the folders of a text of cases, by what each is about."""
    texts = (Path(__file__).parent / file).read_text(encoding="utf-8").split("\n== ")[1:]
    return {name: job(*_two(body)) for name, _, body in (t.partition("\n") for t in texts)}


def _two(text: str) -> tuple[str, str, str]:
    body, mark, more = text.rstrip("\n").partition("\n## file:")
    return body, "", f"{mark.lstrip()}{more}\n" if mark else ""


def left_over(text: str) -> tuple[list[str], list[str]]:
    """Return what is left over as `LINE rule`, and what the marks in the text say of it."""
    texts = parts(text, "job.proc")
    checked = check_texts(texts)
    for finding in filter(is_error, checked.findings):
        assert rule_of(finding.rule).family not in _BASE, finding.message
    family = {"left over"}
    found = [place for place in checked.found() if rule_of(_rule(place[2])).family in family]
    return _lines(texts, found), _lines(texts, marks(texts))


def _rule(weight: str) -> str:
    return weight.rpartition(" ")[2]


def _lines(texts: dict[str, str], places: list[tuple[str, int, str]]) -> list[str]:
    return sorted(
        f"{texts[file].splitlines()[line - 1].partition('#')[0].strip()} | {_rule(weight)}"
        for file, line, weight in places
    )


def messages(text: str) -> list[str]:
    """Return the messages of what is left over."""
    findings = check_texts(parts(text, "job.proc")).findings
    return [f.message for f in findings if rule_of(f.rule).family == "left over"]


def world_of(text: str) -> World:
    """Return the model of a folder written as one text."""
    files = [parse_text(content, path)[0] for path, content in parts(text, "job.proc").items()]
    world, found = resolve([file for file in files if file is not None], no_pictures)
    assert not [f.message for f in found if is_error(f)]
    return world


def replayed(body: str, head: str = "", more: str = "", model: str = "P-1") -> Replay:
    """Return all ways through a procedure for the press."""
    world = world_of(job(body, head, more))
    procedure = world.procedures["job"]
    walk, findings = walk_procedure(world, procedure, model)
    assert not findings
    return replay(walk, build_assembly(gather_things(world, procedure, model)), procedure.ends)


def ends(found: Replay) -> list[list[str]]:
    """Return what is not normal at each end, in the order of the ways."""
    return [abnormal(e.way, found.assembly) for e in found.endings]


def abnormal(way: Way, assembly: Assembly) -> list[str]:
    """Return what is not normal on a way, by name, without screws."""
    units = (unit for unit, _ in core(way.state, assembly) if assembly.fastener(unit) is None)
    return sorted(map(unit_name, units))


def unit_name(unit: Unit) -> str:
    """Return `guard` or `cap[2]`."""
    name = unit[0].rpartition("/")[2]
    return f"{name}[{unit[1]}]" if unit[1] else name


def moments_at(found: Replay, line: str) -> list[Moment]:
    """Return the moments of the acts of a prose step."""
    return [m for m in found.moments if line in str(m.doing.step.step)]
