"""What the invented machines are made of: the crib, fasteners that exist, kinds of energies."""

from __future__ import annotations

SHOP = """\
shop packhouse "Packhouse workshop"
  units         N·m, mm, kg, bar, degC
  second units  lbf·ft, in, lb, psi, degF
  lift limit    25 kg
  roles
    inspector    "workshop inspector"  signs
  tools
    hex-keys        hex-keys 2, 2.5, 3, 4, 5, 6, 8, 10 mm
    spanners        spanners 8, 10, 13, 16, 18, 21, 24, 30 mm
    inch-spanners   spanners 7/16 in
    screwdriver     screwdriver "flat screwdriver, 6 mm"
    wrench-quarter  torque-wrench 1..10 N·m    drive 1/4 in  accuracy 6 %
    wrench-small    torque-wrench 5..25 N·m    drive 3/8 in  accuracy 4 %
    wrench-medium   torque-wrench 20..100 N·m  drive 1/2 in  accuracy 4 %
    wrench-large    torque-wrench 40..200 N·m  drive 1/2 in  accuracy 4 %
    bits-14         hex-bits 2, 2.5, 3, 4, 5 mm            drive 1/4 in
    bits-38         hex-bits 4, 5, 6, 8 mm                 drive 3/8 in
    bits-12         hex-bits 6, 8, 10, 14 mm               drive 1/2 in
    sockets-14      sockets 7, 8, 10, 13 mm                drive 1/4 in
    sockets-38      sockets 8, 10, 13, 16, 18, 21, 24 mm   drive 3/8 in
    sockets-12      sockets 10, 13, 16, 18, 21, 24, 30 mm  drive 1/2 in
    inch-sockets    sockets 7/16 in                        drive 3/8 in
    ring-pliers     ring-pliers "external ring pliers, 19 to 60 mm"
    pin-punches     punches 4, 5, 6, 8 mm
    pliers          pliers "flat-nosed pliers"
    mallet          mallet "soft-faced mallet"
    pry-bar         pry-bar "pry bar, 300 mm"
    dial-indicator  dial-indicator "dial indicator with magnet base"
    feeler          feeler-gauges "feeler gauges, 0.05 to 1 mm"
    calliper        calliper "depth calliper, 0.05 mm"
    voltage-tester  voltage-tester "two-pole voltage tester, 1000 V"
    torch           torch "inspection torch"
    hoist           hoist "chain hoist with beam trolley"  lifts 250 kg
    slings          slings "round sling, 1 m"  2 ×  lifts 500 kg
  consumables
    lint-free-cloth  "lint-free cloth"
    bearing-grease   "bearing grease, NLGI 2"
  torques
    M6 8.8     9 N·m
    M8 8.8     22 N·m
    M10 8.8    44 N·m
"""

MACHINES = (
    ("apple-washer", "Apple washer"),
    ("crusher", "Apple crusher"),
    ("sieve", "Pulp sieve"),
    ("pasteuriser", "Juice pasteuriser"),
    ("capper", "Bottle capper"),
    ("blower", "Rinse-air blower"),
    ("chiller", "Juice chiller"),
    ("box-folder", "Box folder"),
    ("weigher", "Crate weigher"),
    ("dosing-unit", "Ascorbic dosing unit"),
    ("plate-filter", "Plate filter"),
    ("core-cutter", "Core cutter"),
)

PARTS = (
    ("front-cover", "front cover"),
    ("end-plate", "end plate"),
    ("rotor", "rotor"),
    ("carrier", "bearing carrier"),
    ("arm", "swing arm"),
    ("drum", "drum"),
    ("hub", "drive hub"),
    ("knife-block", "knife block"),
    ("inlet-pipe", "inlet pipe"),
    ("tray", "drip tray"),
    ("bracket", "sensor bracket"),
    ("valve-block", "valve block"),
)

SETS = (
    ("cap", "end cap", ("1", "2", "3", "4")),
    ("nozzle", "rinse nozzle", ("1", "2", "3")),
    ("shoe", "guide shoe", ("left", "right")),
    ("blade", "blade", ("1", "2", "3", "4", "5", "6")),
    ("roller", "idle roller", ("upper", "lower")),
)

TURNED = (
    "M5×12 ISO 7380-1 A2-70|torque 3 N·m ±10 %",
    "M6×16 ISO 4762 8.8|torque 9 N·m ±10 %",
    "M6×20 ISO 4762 8.8|torque 9 N·m (80 lbf·in)",
    "M6×16 ISO 4762 8.8|",
    "M8×25 ISO 4017 8.8|torque 22 N·m ±10 %",
    "M8×25 ISO 4017 8.8|torque 20 N·m (15 lbf·ft)",
    "M8×30 ISO 4762 8.8|",
    "M8×25 ISO 4762 A2-70|torque 15..18 N·m",
    "M10×30 ISO 4017 8.8|torque 44 N·m ±10 %",
    "M10×35 ISO 4017 A2-70|torque 25 N·m ±10 %",
    "M12×40 ISO 4017 8.8|torque 70 N·m ±10 %",
    "M10 ISO 4032 8|torque 40 N·m ±10 %",
    "1/4-20 × 3/4 UNC ASME B18.2.1 grade 5|torque 8..10 N·m (71..88 lbf·in)",
)
"""Designation, then its clause; an empty one leaves it to the house table of the shop."""

COUNTED = (2, 3, 4, 6, 8)

PLAIN = ("clip", "pin", "retaining-ring 30 DIN 471  renew", "2 × screw  hand-tight", "wedge  snug")
"""What holds without a torque."""

ELECTRICAL = """\
    {name}  electrical "400 V three-phase"
      isolate at "switch Q{number}"
      verify "no voltage on any phase at test sockets T{number}"
"""

STORED = (
    """\
    wash-water  pressure 2 bar
      isolate at "valve V{number}, locked shut"
      release "open drain D{number}"
      verify "gauge PI-{number} reads zero"
      restore "Shut D{number} first."
""",
    """\
    press-air  pneumatic 6 bar "air for the press"
      isolate at "ball valve V{number}, handle locked across"
      release "the valve vents the machine side by itself"
      verify "gauge PI-{number} reads zero"
""",
    """\
    lift-oil  hydraulic 120 bar "lift oil"
      isolate at "valve V{number} beside the pump, locked shut"
      release "open bleed valve B{number}"
      verify "gauge PI-{number} reads zero"
      restore "Shut B{number} first."
""",
    """\
    hot-plate  heat "plate at 90 °C"
      isolate at "heater switch S{number}, locked off"
      release "let it cool for 30 min"
      verify "the probe reads below 45 °C on the plate"
""",
    """\
    run-down  motion "the rotor runs on for two minutes"
      isolate at "switch Q{number}, which takes the drive away"
      release "wait until the rotor stands"
      verify "the rotor stands still behind the window"
""",
    """\
    arm-spring  spring "the spring of the arm"
      isolate at "the catch on the post, closed"
      release "let the arm come up to the catch"
      verify "the spring hangs slack"
""",
)

HUNG = (
    '    hung-weight  gravity "the counterweight on its rope"',
    '      release "let it down onto its stop"',
    '      verify "the rope hangs slack"',
)
"""An energy that no device keeps away: it is let out, and proved to be gone."""
