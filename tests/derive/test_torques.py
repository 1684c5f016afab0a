"""The torque table: target, window, order, wrench, setting."""

from __future__ import annotations

import pytest
from derive_support import PUMP, lists, torque

from compiler.trade.units import Quantity


def number(quantity: Quantity | None) -> float:
    assert quantity is not None
    return round(float(quantity.value), 4)


def test_a_line_with_all_it_says() -> None:
    line = torque(lists("slacken screw\ntighten screw"))
    assert (line.key, line.label, line.designation, line.count) == (
        "pump/screw",
        "screw",
        "M6×16 ISO 4762 8.8",
        4,
    )
    assert (number(line.low), number(line.high)) == (8.1, 9.9)
    assert (line.wrench, line.drive_tool) == ("house/small", "5 mm hex bit")
    assert line.step_ids == ("tighten-screw",)
    assert line.setting is None


@pytest.mark.parametrize(
    ("said", "low", "high"),
    [
        ("60 N·m ±10 %", 54, 66),
        ("60 N·m ±5 N·m", 55, 65),
        ("60 N·m +5 -10 N·m", 50, 65),
        ("50..70 N·m", 50, 70),
        ("60 N·m then next hole up to 80 N·m", 60, 80),
        ("20 N·m then slacken then 60 N·m ±10 % then 90 deg", 54, 66),
    ],
)
def test_the_window(said: str, low: float, high: float) -> None:
    machine = PUMP.replace("60 N·m +5 -10 N·m", said)
    line = torque(lists("slacken nut\ntighten nut", machine=machine))
    assert (number(line.low), number(line.high)) == (low, high)


def test_without_a_tolerance_there_is_no_window() -> None:
    line = torque(lists("slacken nut\ntighten nut", machine=PUMP.replace(" +5 -10 N·m", "")))
    assert (line.low, line.high) == (None, None)


def test_eight_bolts_in_the_order_of_asme_pcc_1() -> None:
    """ASME PCC-1, legacy cross pattern for 8 bolts: 1 5 3 7, 2 6 4 8 (second-hand)."""
    line = torque(lists("slacken bolt\ntighten bolt"))
    assert line.order == (1, 5, 3, 7, 2, 6, 4, 8)


def test_each_member_s_group_has_an_order_of_its_own() -> None:
    machine = PUMP.replace(
        "    knob ", "    end[a, b] 4 × M8×25 ISO 4017 8.8 torque 22 N·m\n    knob "
    )
    line = torque(lists("slacken end\ntighten end", machine=machine))
    assert (line.count, line.order) == (8, (1, 3, 2, 4))


def test_the_second_unit() -> None:
    """60 N·m are 44.25 lbf·ft (NIST SP 811: 1 lbf·ft = 1.355 818 N·m)."""
    line = torque(lists("slacken nut\ntighten nut"))
    assert line.second is not None
    assert line.second.unit == "lbf·ft"
    assert number(line.second) == pytest.approx(60 / 1.355818, rel=0.005)


def test_a_printed_pair_goes_before_the_shop_s_unit() -> None:
    machine = PUMP.replace("60 N·m +5 -10 N·m", "60 N·m (44 lbf·ft)")
    assert number(torque(lists("slacken nut\ntighten nut", machine=machine)).second) == 44


def test_the_setting_with_an_adapter() -> None:
    """100 N·m at 45° with a 400 mm wrench and a 50 mm adapter: 91.9 N·m (TM 9-254, cosine form)."""
    machine = PUMP.replace("60 N·m +5 -10 N·m", "100 N·m")
    line = torque(lists("slacken nut\ntighten nut via claw at 45 deg", machine=machine))
    assert line.wrench == "house/medium"
    assert number(line.setting) == pytest.approx(91.9, abs=0.05)
    assert line.setting is not None
    assert line.setting.text == "91.9"
    assert line.drive_tool == "18\N{NO-BREAK SPACE}mm crowfoot, 1/2\N{NO-BREAK SPACE}in drive"


@pytest.mark.parametrize(
    ("said", "setting"),
    [
        ("60 N·m +10 -0 N·m", 65),  # 60 to 70: a wrench set to 60 is below it every other time
        ("60 N·m +0 -10 %", 57),  # 54 to 60
        ("50..70 N·m", 60),
    ],
)
def test_a_window_on_one_side_is_aimed_at_its_middle(said: str, setting: float) -> None:
    """The middle leaves the wrench the same room both ways (common practice, no source)."""
    line = torque(
        lists("slacken nut\ntighten nut", machine=PUMP.replace("60 N·m +5 -10 N·m", said))
    )
    assert number(line.setting) == setting


def test_with_adapter_and_running_torque_the_sum_is_what_the_adapter_changes() -> None:
    """T·L / (L + E·cos a) is of the whole torque at the nut (TM 9-254, cosine form)."""
    machine = PUMP.replace("60 N·m +5 -10 N·m", "60 N·m running torque 5..15 N·m")
    line = torque(lists("slacken nut\ntighten nut via claw", machine=machine))
    factor = 400 / (400 + 50)
    assert [number(total) for total, _ in line.with_running] == [65, 75]
    settings = [number(setting) for _, setting in line.with_running]
    assert settings == pytest.approx([65 * factor, 75 * factor], abs=0.05)
    plain = torque(lists("slacken nut\ntighten nut via claw at 90 deg", machine=machine))
    assert plain.with_running == ()


def test_an_adapter_square_to_the_wrench_changes_nothing() -> None:
    line = torque(lists("slacken nut\ntighten nut via claw at 90 deg"))
    assert line.setting is None


def test_a_value_in_the_line_is_a_line_of_its_own() -> None:
    found = lists("slacken nut\ntighten nut\nslacken nut\ntighten nut to 40 N·m").torques
    assert [float(line.target.low.value) for line in found] == [60, 40]


def test_rounds_are_one_line_with_all_members() -> None:
    machine = PUMP.replace("    knob ", "    foot[1..6] M12 ISO 4032 8  torque 60 N·m\n    knob ")
    body = "slacken foot\nrepeat for each n in 1..6  shown once\n  tighten foot[n]"
    line = torque(lists(body, machine=machine))
    assert (line.count, line.step_ids) == (6, ("tighten-foot-n",))


def test_a_lock_nut_is_tightened_when_it_locks() -> None:
    machine = PUMP.replace(
        '    pin    cotter-pin 4×40 ISO 1234  locks nut  renew  number "CP-4"',
        "    jam    M12 ISO 4035 04  locks nut  torque 30 N·m",
    )
    found = lists("unlock nut\nlock nut", machine=machine).torques
    assert [line.label for line in found] == ["jam"]


def test_hand_tight_and_snug_are_no_torque() -> None:
    assert lists("slacken knob\ntighten knob\nslacken screw\ntighten screw snug").torques == ()


def test_stages_are_kept_in_order() -> None:
    machine = PUMP.replace("60 N·m +5 -10 N·m", "20 N·m then slacken then 60 N·m then 90 deg")
    line = torque(lists("slacken nut\ntighten nut", machine=machine))
    given = [
        (s.kind, s.amount and (float(s.amount.low.value), s.amount.low.unit)) for s in line.stages
    ]
    assert given == [
        ("torque", (20, "N·m")),
        ("slacken", None),
        ("torque", (60, "N·m")),
        ("angle", (90, "deg")),
    ]
