"""A small library built by hand, with every kind of view, for tests of pages and sheets.

The scenario is invented: a small apple-juice packhouse. `SAMPLE` stands on its own, no file needed;
`PICTURES` are the bytes of the pictures it names.
"""

# ruff: noqa: E501 (whole sentences on one line read better here)

from __future__ import annotations

import hashlib
from math import cos, pi, sin

from compiler.document.model import (
    ArmView,
    Bolt,
    BoltDiagram,
    BranchView,
    ClipView,
    Document,
    EnergyView,
    FastenerRow,
    Field,
    JobView,
    LanesView,
    LaneView,
    Library,
    Line,
    Link,
    MachinePage,
    Measure,
    OtherRow,
    PartRow,
    PictureMark,
    PictureView,
    Plain,
    ProcedureRow,
    RepeatView,
    RevisionView,
    SafetyPanel,
    SectionView,
    StepView,
    Strong,
    SupplyView,
    ToolPage,
    ToolView,
    TorqueRow,
    VisitPage,
    WearView,
    WhyView,
)

_SVG = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 240" width="400" height="240">
<rect x="10" y="60" width="90" height="120" fill="#dde3e8" stroke="#222" stroke-width="2"/>
<rect x="100" y="95" width="80" height="50" fill="#c9d3da" stroke="#222" stroke-width="2"/>
<rect x="180" y="105" width="40" height="30" fill="#fff" stroke="#222" stroke-width="2"/>
<rect x="220" y="70" width="160" height="100" fill="#dde3e8" stroke="#222" stroke-width="2"/>
</svg>"""

PICTURES: dict[str, bytes] = {
    "transfer-pump/drawings/pump-side.svg": _SVG.encode(),
    "filler/drawings/foot.svg": _SVG.encode(),
    "transfer-pump/recordings/seal-pressed-home.mp4": b"",
}


def line(*parts: str | Link | Measure | Strong) -> Line:
    """Return a line; plain words may be given as text."""
    return tuple(Plain(p) if isinstance(p, str) else p for p in parts)


def pump(anchor: str, text: str) -> Link:
    """Return a link to a thing of the transfer pump."""
    return Link(text, f"transfer-pump/{anchor}")


def ring(count: int) -> tuple[Bolt, ...]:
    """Return bolts on a circle, the first at twelve o'clock."""
    turn = 2 * pi / count
    return tuple(
        Bolt(n + 1, round(100 + 80 * sin(n * turn), 1), round(100 - 80 * cos(n * turn), 1))
        for n in range(count)
    )


SLIP = SafetyPanel(
    "caution",
    "slipping",
    "W011",
    line("The floor round the pump is wet with juice."),
    line("It can throw you against the machine."),
    line("Hose down and squeegee the bay first."),
)
FALLING = SafetyPanel(
    "danger",
    "falling load",
    "W015",
    line("The unit drops when it clears the studs."),
    line("It can crush a hand against the base."),
    line("Take the weight before the last nut is off."),
)
CUT = SafetyPanel(
    "warning",
    "cutting",
    "W022",
    line("The old seal face can be chipped."),
    line("It can cut a hand to the bone."),
    line("Lift it out by the bellows."),
)
FINGER = SafetyPanel(
    "notice",
    "",
    "",
    line("A finger mark on the seal face is enough to make it weep."),
    (),
    (),
)
GLOVES = WearView("gloves", "gloves", "M009")
SHOES = WearView("safety-shoes", "safety shoes", "M008")

MOTOR = EnergyView(
    "motor supply",
    "electrical",
    line("400 V three-phase"),
    (line("switch Q3 on panel P2"),),
    (),
    (line("test sockets T3 on panel P2 dead on all phases, with a proven tester"),),
)
JUICE = EnergyView(
    "juice line",
    "pressure",
    line(Measure("2 bar", "29 psi"), ", juice from the press tank"),
    (line("valves V11 and V12, locked shut"),),
    (line("open drain cock D4 over the gully"),),
    (line("gauge PI-7 reads zero and D4 has stopped running"),),
)

PUMP_SIDE = PictureView(
    "transfer-pump/drawings/pump-side.svg",
    line("The pump from the side, guard on"),
    "The pump from the side, guard on. 1: pump casing. 2: rotating unit. 3: coupling guard. 4: motor.",
    (
        PictureMark(1, "pump casing", 0.13, 0.45),
        PictureMark(2, "rotating unit", 0.33, 0.5),
        PictureMark(3, "coupling guard", 0.5, 0.5),
        PictureMark(4, "motor", 0.75, 0.45),
    ),
)
NUT_STAR = BoltDiagram(
    "Casing nuts (8)",
    ring(8),
    (1, 5, 3, 7, 2, 6, 4, 8),
    (
        "Pass 1: 18 N·m (30 %)",
        "Pass 2: 42 N·m (70 %)",
        "Pass 3: 60 N·m (100 %)",
        "Once round: 60 N·m",
    ),
    "Eight nuts on a circle, counted clockwise from the top. Order: 1, 5, 3, 7, 2, 6, 4, 8.",
)

ISOLATE = SectionView(
    "isolate",
    "1",
    "Make the transfer pump safe",
    1,
    (
        StepView(
            "isolate-1",
            "1.1",
            (line("Stop the machine in the usual way."),),
            source="transfer-pump/pump-isolation.proc:9",
            from_text="from: Make the transfer pump safe",
        ),
        StepView(
            "isolate-2",
            "1.2",
            (
                line(
                    "Operate the isolating device of the ",
                    pump("motor-supply", "motor supply"),
                    ": switch Q3 on panel P2.",
                ),
                line(
                    "Operate the isolating device of the ",
                    pump("juice-line", "juice line"),
                    ": valves V11 and V12, locked shut.",
                ),
                line("Lock and tag each device. Each person hangs a lock of their own."),
                line("Let out what is stored: open drain cock D4 over the gully."),
                line(
                    "Prove that the motor supply is dead: test sockets T3 on panel P2 dead on all phases, with a proven tester."
                ),
                line(
                    "Prove that the juice line is empty: gauge PI-7 reads zero and D4 has stopped running."
                ),
            ),
            tools=("two-pole voltage tester, 1000 V (VT-01)",),
            time_text="10 min",
            by="licensed electrician",
            source="transfer-pump/pump-isolation.proc:10",
            from_text="from: Make the transfer pump safe",
        ),
    ),
    from_text="from: Make the transfer pump safe",
)
OPEN = SectionView(
    "uncouple",
    "2",
    "Uncouple the pump",
    1,
    (
        StepView(
            "uncouple-guard",
            "2.1",
            (
                line(
                    "Remove the four ",
                    Strong("M6 × 16"),
                    " socket-head screws (",
                    pump("guard-screw", "guard screw"),
                    ") with a 5 mm hex key.",
                ),
                line(
                    "Remove the ",
                    pump("coupling-guard", "coupling guard"),
                    " (",
                    Measure("1.8 kg", "4.0 lb"),
                    ").",
                ),
            ),
            models=("TP-40",),
            tools=("5 mm hex key",),
            pictures=(PUMP_SIDE,),
            source="transfer-pump/open-pump.proc:11",
        ),
        StepView(
            "uncouple-guard",
            "2.1",
            (
                line(
                    "Remove the four ",
                    Strong("M6 × 16"),
                    " socket-head screws (",
                    pump("guard-screw", "guard screw"),
                    ") with a 5 mm hex key.",
                ),
                line(
                    "Remove the ",
                    pump("coupling-guard", "coupling guard"),
                    " (",
                    Measure("2.6 kg", "5.7 lb"),
                    ").",
                ),
            ),
            models=("TP-60",),
            tools=("5 mm hex key",),
            source="transfer-pump/open-pump.proc:11",
        ),
        StepView(
            "hub-line",
            "2.2",
            (
                line(
                    "Mark the motor hub, the coupling spacer and the pump hub with the yellow paint marker."
                ),
            ),
            whys=(line("The three turn as one balanced set and must go back hole to hole."),),
            notes=(line("One line across all three."),),
            source="transfer-pump/open-pump.proc:12",
        ),
        LanesView(
            "side",
            (
                LaneView(
                    "At the hoist",
                    (
                        StepView(
                            "hoist-1",
                            "2.3",
                            (
                                line(
                                    "Support the ",
                                    pump("rotating-unit", "rotating unit"),
                                    " (",
                                    Measure("31 kg", "68 lb"),
                                    ") with the chain hoist.",
                                ),
                            ),
                            people=1,
                        ),
                    ),
                ),
                LaneView(
                    "At the nuts",
                    (
                        StepView(
                            "nuts-1",
                            "2.4",
                            (
                                line(
                                    "Remove the eight ",
                                    Strong("M12"),
                                    " hexagon nuts (",
                                    pump("casing-nut", "casing nut"),
                                    ") with an 18 mm spanner.",
                                ),
                            ),
                            safety=(FALLING, CUT),
                            wear=("gloves",),
                            tools=("18 mm spanner",),
                            time_text="10 to 25 min, likely 15 min",
                            people=2,
                        ),
                    ),
                ),
            ),
        ),
    ),
    safety=(CUT,),
    pictures=(PUMP_SIDE,),
)
SEAL = SectionView(
    "seal",
    "3",
    "Change the seal",
    1,
    (
        StepView(
            "seal-stamp",
            "3.1",
            (line("Write down: Number stamped on the old seal."),),
            fields=(Field("seal-stamp", "text", "Number stamped on the old seal"),),
            kind="check",
        ),
        StepView(
            "groove",
            "3.2",
            (
                line("Measure the depth of the groove under the seal lip with the depth calliper."),
                line("It must be at most ", Measure("0.2 mm", "0.008 in"), "."),
            ),
            fields=(
                Field(
                    "groove",
                    "number",
                    "Depth of the groove under the seal lip",
                    "mm",
                    "in",
                    high="0.2",
                    limit_text="at most 0.2 mm",
                ),
            ),
            tools=("depth calliper, 0.05 mm (DC-02)",),
            kind="check",
        ),
        BranchView(
            "groove-if",
            (
                ArmView(
                    line("If the depth of the groove under the seal lip is out of limits:"),
                    (
                        StepView(
                            "groove-stop",
                            "3.3",
                            (
                                line(
                                    "Hand over to the workshop inspector. The sleeve needs changing before a new seal goes on."
                                ),
                            ),
                            kind="stop",
                            by="workshop inspector",
                        ),
                    ),
                    "groove",
                    ("out",),
                ),
                ArmView(
                    line("Otherwise:"),
                    (
                        StepView(
                            "grease",
                            "3.4",
                            (
                                line(
                                    "Grease the ",
                                    pump("sleeve", "shaft sleeve"),
                                    " with food-grade silicone grease.",
                                ),
                            ),
                        ),
                    ),
                    "groove",
                    ("in",),
                    otherwise=True,
                ),
            ),
        ),
        StepView(
            "press",
            "3.5",
            (
                line(
                    "Fit a new ",
                    pump("seal", "mechanical seal"),
                    " (number SP-114) with the seal driver, 24 mm end, until it touches the shoulder.",
                ),
            ),
            models=("TP-40",),
            safety=(FINGER,),
            clips=(
                ClipView(
                    "transfer-pump/recordings/seal-pressed-home.mp4",
                    3,
                    12,
                    line("How the seal is pressed home"),
                ),
            ),
            tools=("seal driver (T-19)",),
        ),
        StepView(
            "press",
            "3.5",
            (
                line(
                    "Fit a new ",
                    pump("seal", "mechanical seal"),
                    " (number SP-132) with the seal driver, 32 mm end, until it touches the shoulder.",
                ),
            ),
            models=("TP-60",),
            safety=(FINGER,),
            tools=("seal driver (T-19)",),
        ),
    ),
    whys=(line("A seal that was run dry is never used twice."),),
)
CLOSE = SectionView(
    "refit",
    "4",
    "Refit: Uncouple the pump",
    1,
    (
        StepView(
            "refit-nuts",
            "4.1",
            (
                line(
                    "Fit a new ",
                    pump("casing-gasket", "casing gasket"),
                    " (number CG-40, formerly CG-38).",
                ),
                line(
                    "Put the eight ",
                    Strong("M12"),
                    " hexagon nuts (",
                    pump("casing-nut", "casing nut"),
                    ") in by hand.",
                ),
                line(
                    "Tighten the eight ",
                    Strong("M12"),
                    " hexagon nuts (",
                    pump("casing-nut", "casing nut"),
                    ") to ",
                    Measure("60 N·m", "44 lbf·ft"),
                    " in a star pattern, in three passes: 30 %, 70 %, 100 %. Then go once round at full torque.",
                ),
            ),
            models=("TP-40",),
            diagrams=(NUT_STAR,),
            fields=(
                Field(
                    "refit-nuts-torque",
                    "torque",
                    "Torque of casing nut",
                    "N·m",
                    "lbf·ft",
                    low="54",
                    high="66",
                    limit_text="54 to 66 N·m",
                    count=8,
                ),
            ),
            tools=("torque wrench, 20 to 100 N·m (TW-03)", "18 mm socket"),
            from_text="worked out from step 2.4",
            source="transfer-pump/seal-change.proc:30",
        ),
        StepView(
            "refit-nuts",
            "4.1",
            (
                line(
                    "Tighten the eight ",
                    Strong("M12"),
                    " hexagon nuts (",
                    pump("casing-nut", "casing nut"),
                    ") to ",
                    Measure("75 N·m", "55 lbf·ft"),
                    " in a star pattern.",
                ),
            ),
            models=("TP-60",),
            diagrams=(NUT_STAR,),
            fields=(
                Field(
                    "refit-nuts-torque",
                    "torque",
                    "Torque of casing nut",
                    "N·m",
                    "lbf·ft",
                    low="67.5",
                    high="82.5",
                    limit_text="67.5 to 82.5 N·m",
                    count=8,
                ),
            ),
            from_text="worked out from step 2.4",
        ),
        StepView(
            "dry",
            "4.2",
            (line("Confirm: Ran for 5 min without a drip."),),
            fields=(Field("dry", "yes-no", "Ran for 5 min without a drip."),),
            timer_seconds=300,
            timer_text="5 min",
            kind="check",
        ),
        BranchView(
            "dry-if",
            (
                ArmView(
                    line("If the answer is no (Ran for 5 min without a drip.):"),
                    (
                        StepView(
                            "dry-back",
                            "4.3",
                            (line("Go back to step 4.1."),),
                            kind="go-back",
                            go_to="refit-nuts",
                        ),
                    ),
                    "dry",
                    ("no",),
                ),
            ),
        ),
        StepView(
            "hold",
            "4.4",
            (
                line(
                    "Hold point. Stop here until the workshop inspector has signed: Look at the hubs together."
                ),
            ),
            fields=(
                Field(
                    "hold-sign",
                    "sign",
                    "Workshop inspector: Look at the hubs together.",
                    role="workshop inspector",
                ),
            ),
            kind="hold",
        ),
    ),
    from_text="worked out from: Uncouple the pump",
)

ROW_SEAL = ProcedureRow(
    "seal-change",
    "Change the mechanical seal",
    "transfer-pump",
    "Transfer pump",
    ("TP-40", "TP-60"),
    "C",
    "2026-11-20",
    "about 1 h 30 min",
    2,
    14,
    ("voltage-tester", "wrench-medium"),
    "change mechanical seal transfer pump guard screw casing nut",
)
ROW_LEVEL = ProcedureRow(
    "level-filler",
    "Level the filler",
    "filler",
    "Rotary filler",
    (),
    "B",
    "2026-07-06",
    "",
    1,
    6,
    ("level",),
    "level filler foot lock nut slope",
)

WRENCH = ToolView(
    "torque wrench, 20 to 100 N·m",
    "1/2 in drive",
    "TW-03",
    1,
    "wrench-medium",
    False,
    (),
    (WhyView("casing nut, 60 N·m", "refit-nuts", "4.1"),),
)
TORQUE_40 = TorqueRow(
    "casing nut",
    "casing-nut",
    "M12 ISO 4032 8",
    8,
    Measure("60 N·m", "44 lbf·ft"),
    Measure("54 to 66 N·m", "40 to 49 lbf·ft"),
    "",
    "star; 30 %, 70 %, 100 %, then once round",
    (1, 5, 3, 7, 2, 6, 4, 8),
    "oiled",
    "TW-03",
    "18 mm socket",
    None,
    (),
    ("TP-40",),
    ("4.1",),
)
TORQUE_60 = TorqueRow(
    "casing nut",
    "casing-nut",
    "M12 ISO 4032 8",
    8,
    Measure("75 N·m", "55 lbf·ft"),
    Measure("67.5 to 82.5 N·m", "50 to 61 lbf·ft"),
    "",
    "star; 30 %, 70 %, 100 %, then once round",
    (1, 5, 3, 7, 2, 6, 4, 8),
    "oiled",
    "TW-03",
    "18 mm socket",
    None,
    (),
    ("TP-60",),
    ("4.1",),
)
TORQUE_TAB = TorqueRow(
    "impeller nut",
    "impeller-nut",
    "M16 ISO 4032 A4-70",
    1,
    Measure("70 N·m", "52 lbf·ft"),
    None,
    "seat at 20 N·m, slacken, 70 N·m",
    "",
    (),
    "dry",
    "",
    "24 mm socket",
    None,
    ("left-hand thread", "no wrench in the crib can do this"),
    (),
    ("4.1",),
)
SUPPLIES = (
    SupplyView(
        "part",
        "casing gasket",
        "CG-40",
        "1",
        "",
        ("TP-40",),
        (WhyView("single use", "refit-nuts", "4.1"),),
    ),
    SupplyView(
        "part",
        "mechanical seal",
        "SP-114",
        "1",
        "",
        ("TP-40",),
        (WhyView("renewed", "press", "3.5"),),
    ),
    SupplyView(
        "part", "wear plate", "WP-00", "1", "only if the wear is out of limits", ("TP-60",), ()
    ),
    SupplyView("fluid", "food-grade gear oil", "OIL-220", "2.4 kg", "", (), ()),
    SupplyView(
        "consumable",
        "food-grade silicone grease",
        "C-04",
        "as needed",
        "",
        (),
        (WhyView("shaft sleeve", "grease", "3.4"),),
    ),
)
RULES = (
    "Lock and tag by the site's own lockout programme. Each person hangs a lock of their own.",
    "If the sheet and the machine disagree, stop and ask.",
)

SEAL_CHANGE = Document(
    id="seal-change",
    title="Change the mechanical seal",
    machine_id="transfer-pump",
    machine_title="Transfer pump",
    location="Press room, bays 2 and 3",
    models=("TP-40", "TP-60"),
    revision=RevisionView("C", "2026-11-20", "The tab washer is named"),
    author="Workshop",
    approved="Workshop inspector",
    purpose="When juice drips from the gland or the drip tray is wet after a shift.",
    every="every 2000 h",
    people=2,
    time_text="about 1 h 30 min",
    time_note="4 of 14 steps give no time",
    needs=(line("Before you start, the ", pump("drain-cock", "drain cock"), " must be shut."),),
    leaves=(),
    wear=(SHOES, GLOVES),
    safety=(FALLING, SLIP),
    energies=(MOTOR, JUICE),
    notes=(),
    pictures=(PUMP_SIDE,),
    clips=(),
    tools=(
        ToolView(
            "5 mm hex key",
            "from hex keys 2 to 10 mm",
            "",
            1,
            "hex-keys",
            False,
            (),
            (WhyView("guard screw", "uncouple-guard", "2.1"),),
        ),
        WRENCH,
        ToolView(
            "seal driver",
            "24 mm end",
            "T-19",
            1,
            "",
            False,
            ("TP-40",),
            (WhyView("mechanical seal", "press", "3.5"),),
        ),
        ToolView("24 mm socket", "not in the crib", "", 1, "", True, (), ()),
    ),
    supplies=SUPPLIES,
    torques=(TORQUE_40, TORQUE_60, TORQUE_TAB),
    body=(ISOLATE, OPEN, SEAL, CLOSE),
    signatures=(
        Field("sign-shift-lead", "sign", "Pump released to the press crew", role="shift lead"),
    ),
    follows=(("pump-isolation", "Make the transfer pump safe"),),
    followed_by=(("plate-check", "Measure and change the wear plate"),),
    rules=RULES,
    source_file="transfer-pump/seal-change.proc",
    digest=hashlib.sha256(b"sample seal-change").hexdigest(),
    shop_title="Packhouse workshop",
)

FEET = ("foot 1", "foot 2", "foot 3", "foot 4")
LEVEL_FILLER = Document(
    id="level-filler",
    title="Level the filler",
    machine_id="filler",
    machine_title="Rotary filler",
    location="Bottling room",
    models=(),
    revision=RevisionView("B", "2026-07-06", ""),
    author="",
    approved="",
    purpose="",
    every="every 24 months",
    people=1,
    time_text="",
    time_note="",
    needs=(),
    leaves=(line("The juice bowl is left empty."),),
    wear=(SHOES,),
    safety=(),
    energies=(),
    notes=(line("Two spirit levels are quicker than one."),),
    pictures=(),
    clips=(),
    tools=(
        ToolView(
            "machine level, 0.05 mm in a metre",
            "",
            "ML-01",
            1,
            "level",
            False,
            (),
            (WhyView("slope", "slope", "2.2"),),
        ),
    ),
    supplies=(),
    torques=(),
    body=(
        SectionView(
            "rough",
            "1",
            "Bring it roughly level",
            1,
            (
                RepeatView(
                    "rough-each",
                    line("For each levelling foot, 1 to 4:"),
                    FEET,
                    (
                        StepView(
                            "rough-nut",
                            "1.1",
                            (
                                line(
                                    "Slacken this ",
                                    Link("foot nut", "filler/foot-nut"),
                                    " with a 24 mm spanner.",
                                ),
                            ),
                            tools=("24 mm spanner",),
                        ),
                        StepView(
                            "rough-gap",
                            "1.2",
                            (
                                line("Measure the gap under the foot with feeler gauges."),
                                line("It must be at most ", Measure("0.05 mm", "0.002 in"), "."),
                            ),
                            fields=(
                                Field(
                                    "rough-gap",
                                    "number",
                                    "Gap under the foot",
                                    "mm",
                                    "in",
                                    high="0.05",
                                    limit_text="at most 0.05 mm",
                                    items=FEET,
                                ),
                            ),
                            kind="check",
                        ),
                    ),
                ),
            ),
        ),
        SectionView(
            "fine",
            "2",
            "Level it",
            1,
            (
                RepeatView(
                    "fine-until",
                    line("Repeat until the slope is within limits, at most six times:"),
                    (),
                    (
                        StepView(
                            "turn",
                            "2.1",
                            (line("Turn levelling feet 1 and 3 with a 24 mm spanner."),),
                            notes=(line("Then the other diagonal."),),
                        ),
                        StepView(
                            "slope",
                            "2.2",
                            (
                                line(
                                    "Measure the slope, along and across, with the machine level, at two points."
                                ),
                                line(
                                    "Each reading must be at most ",
                                    Measure("0.2 mm", "0.008 in"),
                                    ".",
                                ),
                            ),
                            fields=(
                                Field(
                                    "slope",
                                    "number",
                                    "Slope, along and across",
                                    "mm",
                                    "in",
                                    high="0.2",
                                    limit_text="each at most 0.2 mm",
                                    count=2,
                                ),
                            ),
                            kind="check",
                        ),
                    ),
                    until=True,
                    most=6,
                    safety=(CUT,),
                ),
            ),
        ),
        SectionView(
            "nuts",
            "3",
            "Set and tighten each foot",
            1,
            (
                RepeatView(
                    "nuts-each",
                    line("For the left and the right side:"),
                    (),
                    tuple(
                        SectionView(
                            f"nuts-{side}",
                            f"3.{n}",
                            f"{side.capitalize()} side",
                            2,
                            (
                                StepView(
                                    f"nut-{side}",
                                    f"3.{n}.1",
                                    (
                                        line(
                                            "Tighten the ",
                                            Link(f"{side} foot nut", "filler/foot-nut"),
                                            " to ",
                                            Measure("60 N·m", "44 lbf·ft"),
                                            ".",
                                        ),
                                    ),
                                ),
                                StepView(
                                    f"colour-{side}",
                                    f"3.{n}.2",
                                    (line("Look at the rubber of the foot."),),
                                    kind="check",
                                    condition=line("Only if the foot was turned more than twice:"),
                                    fields=(
                                        Field(
                                            f"colour-{side}",
                                            "choice",
                                            "Rubber of the foot",
                                            choices=("smooth", "cracked at the rim", "torn"),
                                            pass_choices=("smooth", "cracked at the rim"),
                                            limit_text="Good: smooth; cracked at the rim. Not good: torn.",
                                        ),
                                    ),
                                ),
                            ),
                        )
                        for n, side in enumerate(("left", "right"), 1)
                    ),
                ),
                StepView(
                    "depth",
                    "3.3",
                    (
                        line(
                            "Measure the depth of wear with the depth calliper, at six points in a grid of two by three."
                        ),
                        line("Each reading must be at most 0.4 mm."),
                        line("The sum must be at most 1.8 mm."),
                    ),
                    fields=(
                        Field(
                            "depth",
                            "number",
                            "Depth of wear",
                            "mm",
                            "in",
                            high="0.4",
                            limit_text="each at most 0.4 mm",
                            scope_texts=("sum at most 1.8 mm",),
                            count=6,
                            grid=(2, 3),
                        ),
                    ),
                    kind="check",
                ),
            ),
        ),
    ),
    signatures=(),
    follows=(),
    followed_by=(),
    rules=RULES,
    source_file="filler/level-filler.proc",
    digest=hashlib.sha256(b"sample level-filler").hexdigest(),
    shop_title="Packhouse workshop",
)

PUMP_PAGE = MachinePage(
    id="transfer-pump",
    title="Transfer pump",
    location="Press room, bays 2 and 3",
    models=("TP-40", "TP-60"),
    wear=(SHOES,),
    safety=(SLIP,),
    pictures=(PUMP_SIDE,),
    energies=(MOTOR, JUICE),
    parts=(
        PartRow(
            "transfer-pump/coupling-guard",
            "coupling guard",
            "coupling-guard",
            1,
            "1.8 kg (TP-60: 2.6 kg)",
            "",
            False,
            (
                line("Guards the ", pump("motor-supply", "motor supply"), "."),
                line("Held by ", pump("guard-screw", "guard screw"), "."),
            ),
        ),
        PartRow(
            "transfer-pump/casing-gasket",
            "casing gasket",
            "casing-gasket",
            1,
            "",
            "CG-40 (TP-60: CG-60)",
            True,
            (line("Behind the ", pump("rotating-unit", "rotating unit"), "."),),
        ),
        PartRow(
            "transfer-pump/rotating-unit",
            "rotating unit",
            "rotating-unit",
            1,
            "31 kg (TP-60: 44 kg)",
            "",
            False,
            (),
        ),
        PartRow("transfer-pump/sleeve", "shaft sleeve", "sleeve", 1, "", "", False, ()),
        PartRow("transfer-pump/seal", "mechanical seal", "seal", 1, "", "SP-114", True, ()),
    ),
    fasteners=(
        FastenerRow(
            "transfer-pump/guard-screw",
            "guard screw",
            "guard-screw",
            "M6 × 16 ISO 4762 8.8",
            4,
            "5 mm hex key",
            "9 N·m",
            (line("Holds the ", pump("coupling-guard", "coupling guard"), "."),),
        ),
        FastenerRow(
            "transfer-pump/casing-nut",
            "casing nut",
            "casing-nut",
            "M12 ISO 4032 8",
            8,
            "18 mm socket",
            "60 N·m (TP-60: 75 N·m)",
            (),
        ),
    ),
    others=(
        (
            "Connections",
            (OtherRow("transfer-pump/flush-hose", line("Seal flush hose, marked H3.")),),
        ),
        ("Conditions", (OtherRow("transfer-pump/drain-cock", line("Drain cock: shut or open.")),)),
    ),
    procedures=(ROW_SEAL,),
)
FILLER_PAGE = MachinePage(
    "filler",
    "Rotary filler",
    "Bottling room",
    (),
    (SHOES,),
    (),
    (),
    (),
    (),
    (
        FastenerRow(
            "filler/foot-nut",
            "foot nut",
            "foot-nut",
            "M16 ISO 4035 04",
            4,
            "24 mm spanner",
            "60 N·m",
            (),
        ),
    ),
    (),
    (ROW_LEVEL,),
)

SAMPLE = Library(
    title="Packhouse workshop",
    documents=(LEVEL_FILLER, SEAL_CHANGE),
    machines=(FILLER_PAGE, PUMP_PAGE),
    tools=(
        ToolPage(
            "hex-keys",
            "hex keys",
            "hex keys",
            (("Sizes", "2 to 10 mm"),),
            ((ROW_SEAL, (WhyView("guard screw", "uncouple-guard", "2.1"),)),),
        ),
        ToolPage(
            "level",
            "machine level, 0.05 mm in a metre",
            "spirit level",
            (("Tag", "ML-01"), ("Calibrated until", "2027-06-30")),
            ((ROW_LEVEL, ()),),
        ),
        ToolPage(
            "wrench-medium",
            "torque wrench, 20 to 100 N·m",
            "torque wrench",
            (("Tag", "TW-03"),),
            ((ROW_SEAL, (WhyView("casing nut, 60 N·m", "refit-nuts", "4.1"),)),),
        ),
    ),
    visits=(
        VisitPage(
            id="autumn-service",
            title="Autumn service",
            day="2026-11-30",
            crew=2,
            jobs=(
                JobView(1, ROW_SEAL, "Transfer pump", "TP-60", "117", ()),
                JobView(2, ROW_LEVEL, "Rotary filler", "", "", (1,)),
            ),
            time_text="about 2 h 10 min",
            wear=(SHOES, GLOVES),
            tools=(WRENCH,),
            supplies=SUPPLIES[:2],
            torques=(TORQUE_60,),
            notes=(line("Ask for the hoist key the day before."),),
            rules=RULES,
            digest=hashlib.sha256(b"sample visit").hexdigest(),
            shop_title="Packhouse workshop",
        ),
    ),
    rows=(ROW_LEVEL, ROW_SEAL),
)
