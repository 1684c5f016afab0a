"""What the tests of the wording share: one small machine, and lines of an author as sentences."""

# ruff: noqa: E501 (the machine reads better in columns)

from __future__ import annotations

import re
from functools import cache

from compiler.model import Procedure, World
from compiler.parse import parse_text
from compiler.resolve import no_pictures, resolve
from compiler.walk import walk_procedure
from compiler.walk.flat import flat_steps
from compiler.walk.nodes import Node, Walk
from compiler.walk.things import gather_things
from compiler.wording.actions import Turning, act_lines
from compiler.wording.checks import check_lines
from compiler.wording.text import plain_text
from compiler.wording.voice import Voice

BENCH = """\
machine bench "Bench press"
  models B-1, B-2
  energy
    supply   electrical "400 V three-phase"
      isolate at "switch Q3 on panel P2"
      verify "no voltage on any phase"
    air      pneumatic 6 bar "control air"
      isolate at "ball valve V2, locked across"
      release "open the drain cock"
      verify "gauge PI-2 reads zero"
      restore "Open V2 slowly."
    weight   gravity "ram, 240 kg"
      isolate at "both props"
      release "let the ram down onto the props"
      verify "both carry: neither can be shaken"
    bowl-heat heat "bowl at 90 °C"
      isolate at "switch S1"
      release "let it cool"
      verify "the probe reads below 40 °C"
    belt-spring spring "spring of the tensioner"
      release "back the nut off"
      verify "it turns by hand"
  conditions
    brake "brake"
      set
      released by "lift the lever"
  places
    station[1..3] "station"
    stand "bench"
  parts
    guard     "guard"          1.8 kg   guards supply
    plate     "plate"          9 kg     behind guard
    gasket    "gasket"         behind plate  renew  number "G-1"
    wheel     "wheel"          30 kg    behind plate
    sleeve    "sleeve"         on wheel
    cap[1..4] "blanking cap"   4 kg     behind guard
    gear[left, right] "gear"   behind guard
    arm       "arm"            behind guard
    block     "block"          over 45 kg  at station[1]
    seal[1..6] "seal"          behind plate  renew  number "S-6"
  fasteners
    guard-screw  4 × M6×16 ISO 4762 8.8     holds guard  torque 9 N·m ±10 %
    plate-bolt   6 × M8×25 ISO 4017 8.8     holds plate  torque 20 N·m  star in 50 %, 100 %  thread oiled
    wheel-nut    M16 ISO 4032 8             holds wheel  torque 80 N·m  left-hand  counter-hold wheel
    wheel-tab    tab-washer                 locks wheel-nut  renew  number "T-16"
    cap-screw[1..4]  2 × M5×10 ISO 4762 8.8 holds cap  torque 5 N·m  thread dry
    gear-nut[left, right]  M10 ISO 7040 8   holds gear  torque 35 N·m  running torque 1..10 N·m  renew
    arm-pin      pin                        holds arm
    arm-clip     clip                       locks arm-pin
    block-knob   2 × screw                  holds block  hand-tight
    strap        hose-clamp 25..40 mm       snug
    shaft-nut    M20 DIN 935 8              torque 100 N·m then next hole up to 160 N·m
    split-pin    cotter-pin 4×40 ISO 1234   locks shaft-nut  renew
    set-nut      M12 ISO 4032 8             torque 40 N·m then slacken then 15 N·m then back off 1/4 turn
    head-bolt    6 × M8×70 ISO 4762 8.8     torque 12 N·m then 60 deg  order 2, 5, 1, 6, 3, 4  rectangle 2 × 3
    rim-bolt     4 × M8×20 ISO 4017 8.8     torque 18..22 N·m  circular  thread with locker
    cover-screw  2 × 1/4-20 × 3/4 UNC grade 5  torque 9 N·m (80 lbf·in)
    end-bolt[front, rear]  4 × M6×20 ISO 4762 8.8  torque 10 N·m
    lock-nut     M10 ISO 4035 04            locks end-stop  torque 15 N·m
    end-stop     M10×60 ISO 4017 8.8        hand-tight
    ring         retaining-ring 35 DIN 471  renew  number "R-35"
    plug         plug G1/2                  seals oil  torque 30 N·m
      stack
        washer "copper ring"  renew
    union        2 × M14×1.5×30 ISO 8676 8.8  torque 40 N·m
      stack
        flat    "flat washer"
        shim    "shim"  0..4 ×
        spring  "disc spring"  facing "hollow side in"  renew
  connections
    cable  cable "motor cable"  marked "W8"  joins wheel  carries supply
  fluids
    oil     "gear oil, ISO VG 220"  2.4 L  in block  renew  number "O-220"
    coolant "coolant"
  aids
    chock[1..2] "wheel chock"
    eye         "lifting eye, M12"
  consumables
    grease  "silicone grease"
    cloth   "lint-free cloth"
    locker  "thread locker, medium"
  tools
    hoist     hoist "chain hoist on the beam"  lifts 250 kg
    slings    slings "round sling, 1 m" 2 ×
    dial      dial-indicator "dial indicator, 0.01 mm"
    driver    special "seal driver"  ends "24 mm", "32 mm"
    ring-pliers external-ring-pliers "ring pliers"
    spanners  spanners 13, 16, 18 mm
    tester    voltage-tester "voltage tester"
    bar       pry-bar "pry bar"
"""

SHOP = """\
## file: shop.proc
shop packhouse "Workshop"
  units N·m, mm, kg, bar, degC
  roles
    inspector "inspector"
"""
SECOND = "  second units lbf·ft, in, lb, psi, degF\n"
_PART = re.compile(r"^## file: (\S+)\n", re.MULTILINE)


def world_of(text: str) -> World:
    """Return the model of a folder written as one text; its files must be without a fault."""
    pieces = _PART.split(text)
    files = []
    for path, content in zip(("a.proc", *pieces[1::2]), pieces[0::2], strict=True):
        file, findings = parse_text(content, path)
        assert not findings, [f.message for f in findings]
        assert file is not None
        files.append(file)
    world, found = resolve(files, no_pictures)
    assert not [f for f in found if f.rule != "unused-name"], [(f.rule, f.message) for f in found]
    return world


def job(body: str, head: str = "", second: bool = False) -> str:
    """Return a folder with the bench press and one procedure `job`."""
    lines = ['procedure job "Job"', "  machine bench", "  revision A 2026-11-02"]
    for text in (head, body):
        lines += [f"  {line}" for line in text.splitlines()]
    shop = SHOP + (SECOND if second else "")
    return "\n".join((*lines, "", f"## file: bench.proc\n{BENCH}{shop}"))


@cache
def walked(body: str, head: str = "", second: bool = False) -> tuple[World, Walk, Voice]:
    """Return the world, the walk on model B-1 and the voice of a job."""
    world = world_of(job(body, head, second))
    procedure = world.procedures["job"]
    walk, _ = walk_procedure(world, procedure, "B-1")
    return world, walk, voice_of(world, procedure)


def voice_of(world: World, procedure: Procedure) -> Voice:
    """Return how the things of a procedure are spoken of on model B-1."""
    shop = world.shop
    units = (shop.units, shop.second_units) if shop is not None else ((), ())
    return Voice(gather_things(world, procedure, "B-1"), *units, "bench")


def sentences(
    body: str, head: str = "", second: bool = False, turning: Turning | None = None
) -> list[str]:
    """Return all sentences of a job, in order."""
    _, walk, voice = walked(body, head, second)
    return spoken(voice, walk.nodes, turning or Turning())


def spoken(voice: Voice, nodes: tuple[Node, ...], turning: Turning) -> list[str]:
    """Return the sentences of nodes, all rounds and arms one after the other, with plain spaces."""
    made: list[str] = []
    for flat in flat_steps(nodes):
        for act in flat.node.acts:
            lines = act_lines(voice, act, turning) or check_lines(voice, act, flat.node.step)
            made += [plain_text(line).replace("\N{NO-BREAK SPACE}", " ") for line in lines]
    return made
