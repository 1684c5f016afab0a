"""Things of the model: every clause in its field, values for each model, the house table."""

from __future__ import annotations

import pytest
from resolve_support import PUMP, job, one, resolved, told, world

from compiler import model
from compiler.trade.drives import AS_WRITTEN, Drive
from compiler.trade.wrenching import hand_need

SHOP = """\
## file: shop.proc
shop s "S"
  torques
    M6 8.8   9 N·m
    M8 10.9  35 N·m
"""


def fastener(line: str, more: str = "", shop: str = "") -> model.Fastener:
    declared = (
        f'parts\n  cover "cover"\n{more}\nfasteners\n  nut M6 ISO 4032 8 snug\n  screw {line}'
    )
    found = one(job("clean cover, nut", declared) + shop, "screw")
    assert isinstance(found, model.Fastener)
    return found


def test_a_fastener() -> None:
    found = fastener(
        "4 × M6×16 ISO 4762 8.8 holds cover torque 9 N·m ±10 % star in 30 %, 100 % then circular "
        "thread with locker left-hand counter-hold cover locks nut rectangle 2 × 2 "
        'renew number "S-1"',
        'consumables\n  locker "locker"',
    )
    assert found.count == 4
    assert [s.key for s in found.holds] == ["job/cover"]
    assert found.tightening is not None
    assert [s.kind for s in found.tightening.stages] == ["torque"]
    assert not found.tightening.from_house
    assert found.sequence == model.Sequence(
        "star", (), (30.0, 100.0), True, "rectangle", 2, 2, True
    )
    assert (found.thread, found.thread_with) == ("with", "job/locker")
    assert found.left_hand
    assert found.renew
    assert found.number == "S-1"
    assert found.counter_hold is not None
    assert found.counter_hold.key == "job/cover"
    assert found.locks is not None
    assert found.locks.key == "job/nut"


@pytest.mark.parametrize(
    ("clause", "drive", "by_hand"),
    [
        ("across flats 15 mm", Drive("hexagon", "15 mm", AS_WRITTEN), "15 mm spanner"),
        ("across flats 1.5 cm", Drive("hexagon", "15 mm", AS_WRITTEN), "15 mm spanner"),
        ("across flats 1 1/8 in", Drive("hexagon", "1 1/8 in", AS_WRITTEN), "1 1/8 in spanner"),
        ("hex key 2.5 mm", Drive("hexagon socket", "2.5 mm", AS_WRITTEN), "2.5 mm hex key"),
        ("hex key 5/32 in", Drive("hexagon socket", "5/32 in", AS_WRITTEN), "5/32 in hex key"),
        ("", None, "5 mm hex key"),
    ],
)
def test_what_turns_it_can_be_said(clause: str, drive: Drive | None, by_hand: str) -> None:
    found = fastener(f"M6×16 ISO 4762 8.8 {clause} snug").designation
    assert found.drive == drive
    assert hand_need(found).text == by_hand


def test_where_the_standard_is_written() -> None:
    text = job(
        "clean cover", 'parts\n  cover "cover"\nfasteners\n  screw M6×16 DIN EN ISO 4762 8.8'
    )
    found = one(text, "screw")
    assert isinstance(found, model.Fastener)
    assert found.designation.standard_at == (6, 21)
    assert found.said_at.end - found.said_at.start == len("DIN EN ISO 4762")


def test_stages() -> None:
    found = fastener(
        "M6×16 ISO 4762 8.8 torque 20 N·m then slacken then 30 N·m then 90 deg "
        "then back off 1/4 turn"
    )
    assert found.tightening is not None
    kinds = [stage.kind for stage in found.tightening.stages]
    assert kinds == ["torque", "slacken", "torque", "angle", "back-off"]


@pytest.mark.parametrize(
    ("line", "pattern"),
    [
        ("4 × M6×16 ISO 4762 8.8 torque 9 N·m", "star"),
        ("3 × M6×16 ISO 4762 8.8 torque 9 N·m", "any"),
        ("4 × M6×16 ISO 4762 8.8 snug", "any"),
        ("4 × M6×16 ISO 4762 8.8 torque 9 N·m circular", "circular"),
        ("4 × M6×16 ISO 4762 8.8 torque 9 N·m order 1, 3, 2, 4", "given"),
    ],
)
def test_the_order_in_a_group(line: str, pattern: str) -> None:
    found = fastener(line)
    assert found.sequence.pattern == pattern
    assert found.sequence.stated == any(word in line for word in ("circular", "order"))


def test_a_set_of_groups_is_tightened_group_by_group() -> None:
    declared = "fasteners\n  bolt[left, right] 4 × M6×16 ISO 4762 8.8 torque 9 N·m order 1, 3, 2, 4"
    found = one(job("clean bolt", declared), "bolt")
    assert isinstance(found, model.Fastener)
    assert (found.total, found.sequence.given) == (8, (1, 3, 2, 4))


def test_a_set_of_single_ones_is_one_group() -> None:
    declared = "fasteners\n  bolt[1..4] M6×16 ISO 4762 8.8 torque 9 N·m rectangle 2 × 2"
    found = one(job("clean bolt", declared), "bolt")
    assert isinstance(found, model.Fastener)
    assert (found.sequence.pattern, found.sequence.rows) == ("star", 2)


@pytest.mark.parametrize(
    ("line", "torque"),
    [
        ("M6×16 ISO 4762 8.8", 9),
        ("M8×25 ISO 4017 10.9", 35),
        ("M8×25 ISO 4017 8.8", None),
        ("M8 ISO 4032 10", 35),
        ("M8 ISO 4035 05", None),
        ("plug G1/2", None),
        ("M5×25 ISO 4017 8.8", None),
        ("tab-washer", None),
    ],
)
def test_the_house_table_counts_when_nothing_is_said(line: str, torque: int | None) -> None:
    found = fastener(line, shop=SHOP)
    if torque is None:
        assert found.tightening is None
        return
    assert found.tightening is not None
    assert found.tightening.from_house
    value = found.tightening.stages[0].amount
    assert value is not None
    assert value.low.value == torque


@pytest.mark.parametrize("said", ["snug", "hand-tight", "torque 7 N·m"])
def test_what_is_said_counts_before_the_house_table(said: str) -> None:
    found = fastener(f"M6×16 ISO 4762 8.8 {said}", shop=SHOP)
    assert found.tightening is not None
    assert not found.tightening.from_house


def test_the_house_table_names_each_thread_once() -> None:
    text = 'shop s "S"\n  torques\n    M6 8.8 9 N·m\n    M6 8.8 10 N·m\n'
    assert told(text) == [("duplicate-name", "M6 8.8")]


def test_a_stack() -> None:
    found = fastener(
        'M6×16 ISO 4762 8.8 snug\n    stack\n      washer "flat washer"\n'
        '      shim "shim" 0..4 ×\n      disc "disc" 2 × facing "hollow side out" renew'
    )
    assert [(i.name, i.low, i.high, i.facing, i.renew) for i in found.stack] == [
        ("washer", 1, 1, "", False),
        ("shim", 0, 4, "", False),
        ("disc", 2, 2, "hollow side out", True),
    ]


def test_an_item_of_a_stack_keeps_its_numbers() -> None:
    found = fastener(
        'M6×16 ISO 4762 8.8 snug\n    stack\n      disc "disc" renew number "D-2" formerly "D-1"'
        '\n      shim "shim" 0..4 × 0.1, 0.2 mm'
    )
    disc, shim = found.stack
    assert (disc.number, disc.formerly) == ("D-2", ("D-1",))
    assert [(float(size.value), size.unit) for size in shim.sizes] == [(0.1, "mm"), (0.2, "mm")]


def stacks(item: str) -> list[list[str]]:
    text = PUMP.replace("\n  parts\n", f"\n  fasteners\n    ear M8\n      stack\n{item}  parts\n")
    ears = [v.things["pump/ear"] for v in world(text).machines["pump"].variants]
    return [[i.name for i in ear.stack] for ear in ears if isinstance(ear, model.Fastener)]


def test_an_item_of_a_stack_may_be_on_one_model_only() -> None:
    lines = "        washer\n        disc only for TP-60\n"
    assert stacks(lines) == [["washer"], ["washer", "disc"]]
    wrong = PUMP + "  fasteners\n    ear M8\n      stack\n        disc only for TP-6\n"
    assert told(wrong) == [("unknown-model", "TP-6")]


def test_parts_fluids_connections_and_aids() -> None:
    declared = """\
energy
  supply electrical "400 V"
    isolate at "Q3"
    verify "dead at {unit}"
places
  bench "bench"
parts
  guard "guard" 1.8 kg guards supply
  unit  "unit"  over 45 kg behind guard contains oil at bench made to fit
  hub   "hub"   on unit matched with guard renew number "H-1" formerly "H-0", "H-00"
  spare "spare" spare for hub
fluids
  oil "oil" 2.4 L in unit renew
connections
  cable cable "cable" marked "W8" joins unit, guard carries supply
aids
  chock[1..2] "chock" at unit
"""
    text = job("clean guard, unit, hub, spare, oil, cable, chock\nisolate supply", declared)
    things = world(text).procedures["job"].variants[0].things
    unit = things["job/unit"]
    assert isinstance(unit, model.Part)
    assert ([s.key for s in unit.behind], unit.contains) == (["job/guard"], ("job/oil",))
    assert unit.at is not None
    assert unit.made_to_fit
    hub = things["job/hub"]
    assert isinstance(hub, model.Part)
    assert hub.on is not None
    assert (hub.on.key, hub.renew, hub.number) == ("job/unit", True, "H-1")
    assert hub.formerly == ("H-0", "H-00")
    spare, oil, cable = things["job/spare"], things["job/oil"], things["job/cable"]
    assert isinstance(spare, model.Part)
    assert spare.spare_for is not None
    assert isinstance(oil, model.Fluid)
    assert oil.within is not None
    assert oil.amount is not None
    assert isinstance(cable, model.Connection)
    assert (cable.kind, cable.marked, cable.carries) == ("cable", "W8", "job/supply")
    assert [s.key for s in cable.joins] == ["job/unit", "job/guard"]
    chock = things["job/chock"]
    assert isinstance(chock, model.Aid)
    assert chock.members == ("1", "2")
    supply = things["job/supply"]
    assert isinstance(supply, model.Energy)
    assert (supply.kind, len(supply.isolate_at)) == ("electrical", 1)
    assert isinstance(supply.verify[0].parts[1], model.Selection)


def test_tools() -> None:
    text = """\
shop s "S"
  tools
    wrench torque-wrench 5..25 N·m drive 3/8 in accuracy 4 % length 280 mm
      tag "TW-1" calibrated until 2027-04-30
    keys   hex-keys 4, 5, 6 mm  2 ×
    hoist  hoist "hoist" lifts 250 kg
  roles
    lead "lead" signs
"""
    shop = world(text).shop
    assert shop is not None
    wrench, keys, lead = (shop.things[f"s/{name}"] for name in ("wrench", "keys", "lead"))
    assert isinstance(wrench, model.Tool)
    assert (wrench.kind, wrench.tag) == ("torque-wrench", "TW-1")
    assert wrench.range is not None
    assert wrench.calibrated_until is not None
    assert isinstance(keys, model.Tool)
    assert [(str(q.value), q.unit) for q in keys.sizes] == [("4", "mm"), ("5", "mm"), ("6", "mm")]
    assert keys.count == 2
    assert isinstance(lead, model.Role)
    assert lead.signs


def test_values_for_one_model_replace_those_for_all() -> None:
    text = PUMP.replace("torque 60 N·m", "torque 60 N·m\n      for TP-60 torque 75 N·m").replace(
        "behind guard\n", 'behind guard\n      for TP-60 44 kg number "U-60"\n'
    )
    machine = world(text).machines["pump"]
    small, big = machine.variants
    assert (small.model, big.model) == ("TP-40", "TP-60")
    for variant, torque, mass, number in ((small, 60, 31, ""), (big, 75, 44, "U-60")):
        nut, unit = variant.things["pump/unit-nut"], variant.things["pump/unit"]
        assert isinstance(nut, model.Fastener)
        assert nut.tightening is not None
        value = nut.tightening.stages[0].amount
        assert value is not None
        assert value.low.value == torque
        assert isinstance(unit, model.Part)
        assert unit.mass is not None
        assert unit.mass.low.value == mass
        assert unit.number == number
    assert small.things["pump/guard"] is big.things["pump/guard"]


def test_another_way_of_tightening_for_one_model_replaces_the_torque() -> None:
    text = PUMP.replace("torque 60 N·m", "torque 60 N·m\n      for TP-60 hand-tight")
    nut = world(text).machines["pump"].variants[1].things["pump/unit-nut"]
    assert isinstance(nut, model.Fastener)
    assert nut.tightening is not None
    assert nut.tightening.how == "hand-tight"


def test_what_one_model_lacks_holds_nothing_there() -> None:
    text = PUMP.replace("holds unit", "holds unit, heater").replace(
        "  parts\n", '  parts\n    heater "heater" only for TP-60\n'
    )
    small, big = world(text).machines["pump"].variants
    held = [v.things["pump/unit-nut"] for v in (small, big)]
    keys = [[s.key for s in nut.holds] for nut in held if isinstance(nut, model.Fastener)]
    assert keys == [["pump/unit"], ["pump/unit", "pump/heater"]]


@pytest.mark.parametrize(
    ("line", "piece"),
    [
        ('heater "heater" only for TP-6', "TP-6"),
        ('heater "heater" 3 kg\n      for TP-6 4 kg', "TP-6"),
    ],
)
def test_models_that_are_not_there(line: str, piece: str) -> None:
    assert told(PUMP.replace("  parts\n", f"  parts\n    {line}\n")) == [("unknown-model", piece)]


def test_a_condition_only_some_models_have() -> None:
    brake = '  conditions\n    brake "brake" only for TP-60\n      free\n      set\n'
    small, big = world(PUMP + brake).machines["pump"].variants
    assert "pump/brake" not in small.things
    assert isinstance(big.things["pump/brake"], model.Condition)
    job = '## file: p.proc\nprocedure job "Job"\n  machine pump\n  revision A 2026-01-05\n'
    assert told(f"{PUMP}{brake}{job}  bring brake to set only for TP-60\n") == []
    assert told(f"{PUMP}{brake}{job}  bring brake to set\n") == [("unknown-model", "brake")]


def test_a_machine_without_models_has_one_variant() -> None:
    found = world('machine fan "Fan"\n  parts\n    hub "hub"\n').machines["fan"]
    assert [(v.model, list(v.things)) for v in found.variants] == [("", ["fan/hub"])]
    assert told('machine fan "Fan"\n  parts\n    hub "hub" only for X\n') == [
        ("unknown-model", "X")
    ]


def test_parts_behind_each_other() -> None:
    text = 'machine fan "Fan"\n  parts\n    a "a" behind b\n    b "b" behind a\n    c "c" on c\n'
    assert [rule for rule, _ in told(text)] == ["circular-follow", "circular-follow"]


def test_one_fault_is_told_once_however_many_models_there_are() -> None:
    text = PUMP.replace("behind guard", "behind gard")
    _, findings = resolved(text)
    assert [f.rule for f in findings] == ["unknown-name"]
