"""Documents of small worlds: shape, numbers, models, rounds, branches, ways back, lists."""

from __future__ import annotations

from dataclasses import replace

from document_support import (
    OPENING,
    PUMP,
    arms,
    compiled,
    document,
    folder,
    outline,
    plain,
    said,
    steps,
)

from compiler.document import build_library
from compiler.document.digest import content_digest
from compiler.document.drawing import plan
from compiler.document.merge import by_models
from compiler.document.model import SectionView, SupplyView
from compiler.document.numbers import every_node
from compiler.model import Sequence
from compiler.trade.patterns import star_order

CHECK = """
## file: check.proc
procedure check "Check the gap"
  machine pump
  models P-40
  revision A 2026-01-01
  clean cover as wipe
  measure gap "Gap" with dial at most 0.05 mm
  if gap is out
    go back to wipe
"""


def test_the_way_back_says_what_it_comes_from() -> None:
    found = document(OPENING)
    assert outline(found.body)[1:-1] == [
        "2 Open it",
        "  2.1 Remove the four M6 × 16 socket-head screws (guard screw) with a 5 mm hex key.",
        "  2.2 Remove the six M10 × 30 hexagon screws (cover bolt) with a 16 mm spanner.",
        "  2.3 Remove the seal.",
        "3 Way back from “Open it”",
        "  3.1 Fit a new seal (number S-1).",
        "  3.2 Fit the cover. It weighs 9 kg (20 lb).",
        (
            "  3.3 Tighten the six M10 × 30 hexagon screws (cover bolt) to 40 N·m (29.5 lbf·ft) "
            "in a star pattern."
        ),
        "  3.4 Fit the guard.",
        (
            "  3.5 Tighten the four M6 × 16 socket-head screws (guard screw) to 9 N·m (6.6 lbf·ft) "
            "in a star pattern."
        ),
    ]
    assert {step.number: step.from_text for step in steps(found.body) if step.from_text} == {
        "3.1": "worked out from step 2.3",
        "3.2": "worked out from step 2.2",
        "3.3": "worked out from step 2.2",
        "3.4": "worked out from step 2.1",
        "3.5": "worked out from step 2.1",
    }
    sections = [n for n in every_node(found.body) if isinstance(n, SectionView)]
    assert [s.from_text for s in sections] == ["", "worked out from section 2"]


def test_a_fastener_is_named_in_full_once_a_step() -> None:
    body = "isolate supply with tester\nremove guard\nreplace cover\nfit guard\ntighten guard\n"
    replaced = steps(document(f"{body}restore supply").body)[2]
    assert [plain(line) for line in replaced.lines][-2:] == [
        "Put the six M10 × 30 hexagon screws (cover bolt) in by hand.",
        "Tighten the cover bolts to 40 N·m (29.5 lbf·ft) in a star pattern.",
    ]
    tightened = next(s for s in steps(document(OPENING).body) if s.number == "3.3")
    assert plain(tightened.lines[0]).startswith("Tighten the six M10 × 30 hexagon screws")


def test_tools_beside_a_step_are_its_own_sizes() -> None:
    tools = {step.number: step.tools for step in steps(document(OPENING).body)}
    # The sentence names the key already; what has a tag is found by it.
    assert tools["2.1"] == ()
    plain_tools = [t.replace("\N{NO-BREAK SPACE}", " ") for t in tools["3.3"]]
    assert plain_tools == ["16 mm socket, 3/8 in drive", "torque wrench, 20 to 100 N·m (TW-02)"]
    both = "slacken cover-bolt, foot-nut\ntighten foot-nut\ntighten cover-bolt"
    tools = {step.number: step.tools for step in steps(document(both).body)}
    assert [t.split(",")[0] for t in tools["2"]] == ["13 mm socket", "torque wrench"]
    assert [t.split(",")[0] for t in tools["3"]] == ["16 mm socket", "torque wrench"]


def test_models_share_what_is_the_same() -> None:
    found = document(OPENING, models=True)
    assert found.models == ("P-40", "P-60")
    split = [line for line in outline(found.body) if line.endswith("]")]
    assert split == [
        (
            "  3.3 Tighten the six M10 × 30 hexagon screws (cover bolt) to 40 N·m (29.5 lbf·ft) "
            "in a star pattern. [P-40]"
        ),
        (
            "  3.3 Tighten the six M10 × 30 hexagon screws (cover bolt) to 45 N·m (33.2 lbf·ft) "
            "in a star pattern. [P-60]"
        ),
    ]
    torques = [(row.fastener, row.target.text, row.models) for row in found.torques]
    assert torques == [
        ("cover bolt", "40\N{NO-BREAK SPACE}N·m", ("P-40",)),
        ("guard screw", "9\N{NO-BREAK SPACE}N·m", ()),
        ("cover bolt", "45\N{NO-BREAK SPACE}N·m", ("P-60",)),
    ]


def test_models_that_differ_by_a_mass_share_the_step() -> None:
    heavy = PUMP.replace('    seal   "seal" ', '      for P-60   14 kg\n    seal   "seal" ')
    text = folder(OPENING, models=True).replace(PUMP, heavy)
    (found,) = compiled(text).library().documents
    fitted = [step for step in steps(found.body) if step.number == "3.2"]
    assert [(plain(step.lines[0]), step.models) for step in fitted] == [
        ("Fit the cover. It weighs 9 kg (20 lb), on the P-60 14 kg (31 lb).", ())
    ]
    # Never a torque: that is still a step for each model.
    assert [step.models for step in steps(found.body) if step.number == "3.3"] == [
        ("P-40",),
        ("P-60",),
    ]


def test_steps_of_one_model_stand_among_those_of_all() -> None:
    body = "clean cover\nonly for P-60\n  clean guard\n  clean foot\nclean shoe"
    assert outline(document(body, models=True).body) == [
        "1 Clean the cover.",
        "2 Clean the guard. [P-60]",
        "3 Clean the three feet. [P-60]",
        "4 Clean the two shoes.",
    ]


def test_rows_of_models_are_put_together() -> None:
    assert by_models({"a": [1, 2], "b": [2, 3], "c": [2, 1]}) == [
        (1, ("a", "c")),
        (2, ()),
        (3, ("b",)),
    ]


def test_a_repeat_shown_once_names_its_rounds() -> None:
    body = (
        "repeat for each f in foot  shown once\n"
        '  measure gap "Gap" with dial at most 0.05 mm\n'
        "  if gap is out\n"
        '    "Shim it."'
    )
    found = document(body)
    assert outline(found.body) == [
        "For each foot, 1 to 3:",
        "  1 Measure the gap with the dial indicator. It must be at most 0.05 mm (0.0019 in).",
        "  If the gap is out of limits:",
        "    2 Shim it.",
    ]
    (field,) = steps(found.body)[0].fields
    assert (field.items, field.high, field.unit) == (("foot 1", "foot 2", "foot 3"), "0.05", "mm")
    (arm,) = arms(found.body)
    assert (arm.field, arm.answers) == (field.id, ("out",))
    # A reason found in a hidden round leads to the step that is shown.
    (tool,) = found.tools
    assert {why.step_id for why in tool.whys} == {steps(found.body)[0].id}
    assert all(why.step_number == "1" for why in tool.whys)


def test_rounds_are_called_by_what_they_are_about() -> None:
    numbers = "repeat for each n in 1..3  shown each\n  slacken foot-nut[n]\n  tighten foot-nut[n]"
    found = outline(document(numbers).body)
    assert found[:3] == [
        "For each foot nut, 1 to 3:",
        "  1 Foot nut 1",
        "    1.1 Slacken the M8 hexagon nut (foot nut 1) with a 13 mm spanner.",
    ]
    sides = outline(document("repeat for each s in left, right\n  clean shoe[s]").body)
    assert sides == [
        "For each shoe (left and right):",
        "  1 Left shoe",
        "    1.1 Clean the left shoe.",
        "  2 Right shoe",
        "    2.1 Clean the right shoe.",
    ]
    assert outline(document("repeat 2 times\n  clean cover").body)[:2] == [
        "Do this twice:",
        "  1 Round 1",
    ]


def test_rows_of_a_table_name_their_rounds() -> None:
    table = "table bottle\n  size | gap\n  small | 0.5 mm\n  large | 0.8 mm\n"
    body = "repeat for each row in bottle{}\n  set cover to row.gap"
    each = outline(document(table + body.format("")).body)
    assert each[:2] == ["For each bottle (small and large):", "  1 Small"]
    once = document(table + body.format("  shown once"))
    assert outline(once.body)[0] == "For each bottle (small and large):"
    (node,) = once.body
    assert [item.replace("\N{NO-BREAK SPACE}", " ") for item in node.items] == [  # type: ignore[union-attr]
        "small: gap 0.5 mm (0.020 in)",
        "large: gap 0.8 mm (0.031 in)",
    ]


def test_going_back_names_the_step_in_what_is_followed() -> None:
    found = document("clean guard\nfollow check", more=CHECK)
    back = [step for step in steps(found.body) if step.go_to]
    assert [plain(step.lines[0]) for step in back] == ["Go back to step 2.1."]
    assert back[0].go_to in {step.id for step in steps(found.body)}


def test_a_record_is_looked_up_where_it_was_made() -> None:
    """Two procedures may use one name: the branch asks for its own."""
    body = 'ask gap "Is there a gap?"\nfollow check\nif gap is no\n  clean shoe'
    headings = [plain(arm.heading) for arm in arms(document(body, more=CHECK).body)]
    assert headings == [
        "If the gap is out of limits:",
        "If the answer to “Is there a gap?” is no:",
    ]
    found = [(arm.field, arm.answers) for arm in arms(document(body, more=CHECK).body)]
    assert found == [("check/measure-gap", ("out",)), ("ask-gap", ("no",))]


def test_what_is_followed_is_spoken_of_by_its_own_names() -> None:
    more = CHECK.replace(
        "  clean cover as wipe", '  parts\n    cap "blanking cap"\n  clean cap as wipe'
    )
    assert "Clean the blanking cap." in said(document("follow check", more=more).body)


def test_lanes_stand_side_by_side() -> None:
    body = 'side by side\n  lane "Mechanic"\n    clean cover\n  lane "Helper"\n    clean guard'
    assert outline(document(body).body) == [
        "Mechanic",
        "  1 Clean the cover.",
        "Helper",
        "  2 Clean the guard.",
    ]


def test_a_torque_is_written_down_with_its_window() -> None:
    found = document("slacken cover-bolt\ntighten cover-bolt recorded")
    (field,) = steps(found.body)[1].fields
    assert (field.kind, field.count, field.low, field.high) == ("torque", 6, "36", "44")
    (row,) = found.torques
    assert row.window is not None
    assert row.window.text == "36 to 44\N{NO-BREAK SPACE}N·m"
    (diagram,) = steps(found.body)[1].diagrams
    assert sorted(diagram.order) == [1, 2, 3, 4, 5, 6]


def test_no_passes_are_drawn_before_the_torque_is_due() -> None:
    body = "slacken cover-bolt\ntighten cover-bolt snug\ntighten cover-bolt"
    drawn = [len(step.diagrams) for step in steps(document(body).body)]
    assert drawn == [0, 0, 1]


def test_no_torque_is_asked_for_what_is_only_snug() -> None:
    body = (
        "slacken cover-bolt\ntighten cover-bolt hand-tight\ntighten cover-bolt snug recorded\n"
        "tighten cover-bolt to 20 N·m\ntighten cover-bolt"
    )
    found = document(body)
    asked = [[field.limit_text for field in step.fields] for step in steps(found.body)]
    assert [[t.replace("\N{NO-BREAK SPACE}", " ") for t in texts] for texts in asked] == [
        [],
        [],
        [],
        ["20 N·m"],
        ["40 N·m ±10 %"],
    ]
    assert [(row.target.text[:2], row.step_numbers) for row in found.torques] == [
        ("20", ("4",)),
        ("40", ("5",)),
    ]


def test_supplies_name_number_and_step() -> None:
    (seal,) = [s for s in document(OPENING).supplies if s.text == "seal"]
    assert isinstance(seal, SupplyView)
    assert (seal.number, seal.quantity) == ("S-1", "1")
    assert [why.step_number for why in seal.whys] == ["3.1"]


PLUGS = """
  fasteners
    drain-plug  plug G1/2  snug
      stack
        ring "copper ring, 21 mm"  renew  number "CR-21" formerly "CR-20"
    filler-plug 2 × plug G1/2  snug
      stack
        ring "copper ring, 21 mm"  renew  number "CR-21" formerly "CR-20"
"""


def test_supplies_that_print_alike_are_one_line_with_the_sum() -> None:
    more = f'\n## file: box.proc\nmachine box "Box"{PLUGS}'
    body = "replace drain-plug, filler-plug\nreplace drain-plug"
    job = f'procedure job "Job"\n  machine box\n  revision A 2026-11-02\n  {body}\n'
    text = job.replace("\nreplace", "\n  replace") + more
    (found,) = compiled(text).library().documents
    (ring,) = [s for s in found.supplies if s.text.startswith("copper ring")]
    assert (ring.quantity, ring.number) == ("4", "CR-21 (formerly CR-20)")
    assert [(w.text, w.step_number) for w in ring.whys] == [
        ("on drain plug", "1"),
        ("on drain plug", "2"),
        ("on filler plug", "1"),
    ]


def test_what_is_said_of_a_visit_is_on_its_page() -> None:
    visit = """
## file: visit.proc
visit autumn "Autumn"
  notice "Tell the bottling crew."
  warning crush "The bench is full." avoid "Clear it the day before."
  wear ear-protection
  note "The key hangs in the office."
  why "Before the frost."
  do job on pump
    model P-40
"""
    body = "clean cover\n  wear gloves"
    (page,) = compiled(folder(body, more=visit)).library().visits
    said = [(panel.signal, plain(panel.text)) for panel in page.safety]
    assert said == [("warning", "The bench is full."), ("notice", "Tell the bottling crew.")]
    assert [view.text for view in page.wear][:1] == ["ear protection"]
    assert {view.text for view in page.wear} >= {"ear protection", "gloves"}
    assert [plain(line) for line in page.notes] == ["The key hangs in the office."]
    assert [plain(line) for line in page.whys] == ["Before the frost."]


def test_a_tool_of_a_visit_stands_once_with_all_its_sizes() -> None:
    more = """
## file: other.proc
procedure other "Other"
  machine pump
  models P-40
  revision A 2026-11-02
  slacken foot-nut
  tighten foot-nut

## file: visit.proc
visit autumn "Autumn"
  do job on pump
    model P-40
  do other on pump
    model P-40
"""
    body = "slacken cover-bolt\ntighten cover-bolt\nslacken guard-screw\ntighten guard-screw"
    (page,) = compiled(folder(body, more=more)).library().visits
    spanners = [t for t in page.tools if t.text.endswith("spanners")]
    assert [(t.text.replace("\N{NO-BREAK SPACE}", " "), t.detail) for t in spanners] == [
        ("13 and 16 mm spanners", "")
    ]
    assert [(w.text, w.step_number) for w in spanners[0].whys] == [
        ("slackens cover bolt", "1: 1"),
        ("slackens foot nut", "2: 1"),
    ]


def test_a_tool_says_nothing_twice() -> None:
    tools = {t.text.split(",")[0]: t.detail for t in document(OPENING).tools}
    assert set(tools.values()) == {"", "calibrated until 2027-04-30"}
    drift = 'tools\n  drift special "brass drift"  number "T-9"'
    found = document("push cover with drift", head=drift)
    assert [(t.text, t.detail) for t in found.tools] == [("brass drift", "number T-9")]


def test_a_stage_is_told_as_in_the_sentence() -> None:
    turned = "torque 40 N·m ±10 % then back off 1/4 turn"
    text = folder("slacken cover-bolt\ntighten cover-bolt")
    (found,) = compiled(text.replace("torque 40 N·m ±10 %", turned)).library().documents
    (row,) = found.torques
    assert row.stages.replace("\N{NO-BREAK SPACE}", " ") == "40 N·m ±10 %, then back a quarter turn"


def test_what_only_some_models_have_says_so() -> None:
    head = 'procedure job "Job"\n  machine pump\n  revision A 2026-11-02\n'
    body = "  isolate supply with tester\n  only for P-60\n    isolate air with dial\n"
    text = f"{head}{body}  restore supply\n  only for P-60\n    restore air\n{PUMP}".replace(
        "  parts\n",
        '    air pneumatic "6 bar"  only for P-60\n      isolate at "valve V1"\n'
        '      release "open V2"\n      verify "gauge at zero"\n'
        '  parts\n    heater "heater"  only for P-60\n',
        1,
    ).replace("fluids\n", 'fluids\n    ink "ink"  only for P-60\n', 1)
    library = compiled(text).library()
    (page,), (found,) = library.machines, library.documents
    only = ("P-60",)
    assert [row.label for row in page.parts if row.models == only] == ["heater"]
    assert all(row.models == () for row in page.parts if row.label != "heater")
    others = {plain(row.text): row.models for _, rows in page.others for row in rows}
    assert others["Ink."] == only
    for energies in (page.energies, found.energies):
        assert [(view.name, view.models) for view in energies] == [("supply", ()), ("air", only)]


def test_a_supply_says_on_which_condition_it_is_needed() -> None:
    body = 'ask dull "Is it dull?"\nif dull is yes\n  rub cover with wax'
    (wax,) = document(body, head='consumables\n  wax "wax"').supplies
    assert (wax.text, wax.condition) == ("wax", "only if “Is it dull?” is yes")


def test_safety_stands_where_it_belongs() -> None:
    body = 'clean cover\n  warning cut "The edge is sharp." avoid "Wear gloves."\n  wear gloves'
    (step,) = steps(document(body, head='danger crush "It falls." avoid "Prop it."').body)
    assert [plain(panel.text) for panel in step.safety] == ["The edge is sharp."]
    found = document(body, head='danger crush "It falls." avoid "Prop it."')
    assert [panel.signal for panel in found.safety] == ["danger"]
    assert found.wear[-1].text == "gloves"


def test_the_same_text_gives_the_same_document() -> None:
    text = folder(OPENING, models=True, more=CHECK)
    one, other = compiled(text), compiled(text)
    first = build_library(one.world, one.walks, one.derived, one.sources)
    assert first == build_library(one.world, one.walks, one.derived, one.sources)
    assert first == other.library()


def test_the_digest_hangs_on_the_content_alone() -> None:
    found = document(OPENING)
    assert len(found.digest) == 64
    assert content_digest(replace(found, digest="", source_file="elsewhere")) == found.digest
    assert content_digest(replace(found, title="Another job")) != found.digest
    moved = document(f"# a remark above\n{OPENING}")
    assert moved.digest == found.digest
    assert [s.source for s in steps(moved.body)] != [s.source for s in steps(found.body)]


def test_a_star_in_a_rectangle_goes_from_corner_to_opposite_corner() -> None:
    """Crosswise means across the joint: the second bolt is never a neighbour of the first."""
    found = plan(Sequence("star", layout="rectangle", rows=2, columns=2), 4)[0]
    spots = dict(enumerate(found, 1))
    first, second, *_ = star_order(4)
    assert spots[first][0] != spots[second][0]
    assert spots[first][1] != spots[second][1]


def test_an_angle_on_the_line_asks_for_no_torque() -> None:
    """Sentence, field, drawing and table say the same: a turn further, and no torque wrench."""
    text = """\
procedure a "A"
  revision A 2026-01-01
  parts
    cover "cover"
  fasteners
    nut 4 × M10 ISO 4032 8  holds cover  torque 40 N·m
  starts with nut slackened
  tighten nut to 90 deg
  tighten nut until "the gap is even"
  tighten nut to 40 N·m
"""
    (found,) = compiled(text).library().documents
    angle, until, torque = steps(found.body)
    assert [plain(line) for line in angle.lines] == [
        "Turn the four M10 hexagon nuts 90° further with a 16 mm spanner."
    ]
    assert (angle.fields, angle.diagrams, until.fields, until.diagrams) == ((), (), (), ())
    assert [field.kind for field in torque.fields] == ["torque"]
    assert [row.step_numbers for row in found.torques] == [("3",)]


def test_a_difference_of_temperatures_is_not_converted_as_a_temperature() -> None:
    text = """\
procedure a "A"
  revision A 2026-01-01
  tools
    probe thermometer "probe"
  measure even "Temperature along the plate" with probe
    at 3 points
    each at most 60 degC
    spread at most 3 degC
## file: shop.proc
shop s "S"
  units degC
  second units degF
"""
    (found,) = compiled(text).library().documents
    said = " ".join(plain(line) for line in steps(found.body)[0].lines)
    assert "60 °C (140 °F)" in said
    # 3 K are 5.4 °F apart, not 37.4 °F; a limit is rounded to its safe side.
    assert "3 °C (5 °F)" in said


def test_an_adapter_is_set_before_the_torque_is_named() -> None:
    """T·L / (L + E): 40 · 400 / 440 (US Army TM 9-254, fig. 46)."""
    text = """\
procedure a "A"
  revision A 2026-01-01
  starts with nut slackened
  parts
    flange "flange"
  fasteners
    nut 4 × M10 ISO 4032 8  holds flange  torque 40 N·m
  tools
    wrench   torque-wrench 20..100 N·m  drive 1/2 in  accuracy 4 %  length 400 mm
    crowfoot crowfoot 16 mm  drive 1/2 in  extends 40 mm
  tighten nut with wrench via crowfoot
"""
    (found,) = compiled(text).library().documents
    first, *_ = [plain(line) for line in steps(found.body)[0].lines]
    assert first.replace("\xa0", " ").startswith("Set the torque wrench to 36.4 N·m for 40 N·m")


def test_every_stage_and_pass_through_an_adapter_has_its_setting() -> None:
    """A wrench left at the last setting would take the first stage twice too far."""
    text = """\
procedure a "A"
  revision A 2026-01-01
  starts with nut slackened, bolt slackened
  parts
    flange "flange"
  fasteners
    nut  4 × M10 ISO 4032 8  holds flange  torque 22 N·m then slacken then 44 N·m
    bolt 4 × M10 ISO 4032 8  holds flange  torque 44 N·m in 50 %, 100 %
  tools
    wrench   torque-wrench 10..100 N·m  drive 1/2 in  accuracy 4 %  length 400 mm
    crowfoot crowfoot 16 mm  drive 1/2 in  extends 40 mm
  tighten nut with wrench via crowfoot
  tighten bolt with wrench via crowfoot
"""
    (found,) = compiled(text).library().documents
    for one in steps(found.body):
        said = plain(one.lines[0]).replace("\xa0", " ")
        assert said == (
            "Set the torque wrench to 20 N·m for 22 N·m, then to 40 N·m for 44 N·m, "
            "because the adapter changes its length."
        )
