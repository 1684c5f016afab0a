"""What the tests of order, energies, lifting and single use share: a machine to write jobs for."""

from __future__ import annotations

from dataclasses import replace
from textwrap import dedent, indent

from case_support import check_texts, marks

ASIDE = ("unused-name", "tool-not-used", "tool-not-in-shop", "not-renewed")
"""Rules about other things: no job uses all of the mill, its crib is small, its seal may stay."""

MACHINE = """\
machine mill "Apple mill"
  models M-1, M-2
  energy
    drive   electrical "400 V three-phase"
      isolate at "switch Q3"
      verify "all phases dead, with a proven tester"
    air     pneumatic 6 bar
      isolate at "valve V11"
      release "open drain D4"
      restore "Shut D4 first."
      verify "gauge PI-7 reads zero"
    tension spring "tension arm"
      release "ease the arm against its stop"
      verify "the arm moves freely"
  places
    bench "bench"
  parts
    guard      "guard"         2 kg   guards drive
    belt       "belt"                 behind guard
    door       "door"
    filter     "filter"               behind door  renew
    screen     "side screen"          guards drive  only for M-2
    bowl       "filter bowl"   1 kg   contains air
    catch      "catch"                contains tension
    head       "mill head"     40 kg
    motor      "motor"         over 35 kg
    fan        "fan"           about 24 kg
    tray       "tray"          under 25 kg
    unit       "drive unit"    12 kg
    shield     "shield"               on unit  guards drive
    seal       "seal"                 on unit  renew
    nozzle[1..3] "nozzle"             behind shade
    shade[1..3]  "shade"
    bed        "bed"
    rail       "rail"
  fasteners
    guard-screw  4 × M6×16 ISO 4762 8.8       holds guard  torque 9 N·m
    head-nut[1..2] M12 ISO 4032 8             holds head   torque 60 N·m
    dowel        2 × dowel-pin 6×20 ISO 2338  holds head
    motor-nut    4 × M12 ISO 4032 8           holds motor  torque 60 N·m
    bowl-nut     2 × M8 ISO 4032 8            holds bowl   torque 20 N·m
    long-screw   2 × M6×60 ISO 4762 8.8       holds bed, rail  torque 9 N·m
    fan-nut      M10 ISO 7040 8               holds fan    torque 40 N·m  renew
    fan-pin      pin                          holds tray
    air-plug     plug G1/4  seals air         torque 15 N·m
    oil-plug     plug G1/2  seals oil         torque 30 N·m
  fluids
    oil "oil"  2 L  in unit
  connections
    cable    cable "drive cable"   joins unit  carries drive
    sensor   cable "sensor cable"  joins unit
  aids
    chock[1..2] "chock"
  block make-safe "Make the mill safe"
    isolate drive
"""

SHOP = """\
shop packhouse "Workshop"
  lift limit 25 kg
  tools
    hoist  hoist "chain hoist"        lifts 250 kg
    table  lift-table "lift table"    lifts 300 kg
    feeler feeler-gauges "feeler gauges"
"""


def check_job(lines: str) -> None:
    """Compare what is found in a job for the mill with what its lines are marked with."""
    body = indent(dedent(lines).strip("\n"), "  ")
    job = f'procedure job "Job"\n  machine mill\n  revision A 2026-10-05\n{body}\n'
    texts = {"job.proc": job, "mill.proc": MACHINE, "shop.proc": SHOP}
    checked = check_texts(texts)
    checked = replace(checked, findings=tuple(f for f in checked.findings if f.rule not in ASIDE))
    assert checked.found() == marks(texts), checked.rendered()
