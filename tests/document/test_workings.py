"""Every number of a torque line can be worked out again from what the page itself says."""

from __future__ import annotations

import math
import re

import pytest

from compiler.document.model import Measure, StepView, TorqueRow, WorkingView
from compiler.pipeline import compile_sources
from compiler.resolve import no_pictures
from compiler.source import SourceFile

SHOP = """shop packhouse "Packhouse workshop"
  units        N·m, mm
  second units lbf·ft, in
  tools
    crowfoot-13 crowfoot 13 mm drive 1/2 in extends 40 mm
    sockets     sockets 13, 16 mm drive 1/2 in
    wrench      torque-wrench 5..100 N·m drive 1/2 in accuracy 4 % length 280 mm
  torques
    M10 8.8  44 N·m
"""
WORK = """procedure rail "Tighten the rail"
  revision A 2026-10-05
  starts with a-bolt slackened, b-nut slackened, c-bolt slackened, d-nut slackened
  starts with e-bolt slackened
  parts
    rail "rail"
  fasteners
    a-bolt M8×25 ISO 4017 10.9  holds rail  torque 32 N·m  thread oiled  left-hand
    b-nut  M10 ISO 7040 8       holds rail  torque 35 N·m  running torque 1..10 N·m  renew
    c-bolt M10×25 ISO 4017 8.8  holds rail
    d-nut  M8 ISO 7040 8        holds rail  torque 20 N·m  running torque 1..6 N·m  renew
    e-bolt 4 × M8×25 ISO 4017 8.8  holds rail  torque 20 N·m +4 -0 N·m  in 30 %, 70 %, 100 %
  tighten a-bolt with wrench via crowfoot-13
  tighten b-nut
  tighten c-bolt
  tighten d-nut via crowfoot-13
  tighten e-bolt
"""


@pytest.fixture(scope="module")
def rows() -> dict[str, TorqueRow]:
    """Return the torque table of the procedure by name."""
    sources = [SourceFile("rail.proc", WORK), SourceFile("shop.proc", SHOP)]
    compiled = compile_sources(sources, no_pictures)
    assert compiled.is_clean, compiled.findings
    (document,) = compiled.library().documents
    return {row.name: row for row in document.torques}


def _one(row: TorqueRow, label: str) -> WorkingView:
    return next(one for one in row.workings if one.label == label)


def _numbers(text: str) -> list[float]:
    return [float(one) for one in re.findall(r"(?<![\w.])\d+(?:\.\d+)?", text)]


def test_stress_area_and_proof_load_follow_from_the_printed_numbers(
    rows: dict[str, TorqueRow],
) -> None:
    """ISO 898-1: (π/4)(d − 0.9382 P)², proof stress of 10.9 is 830 MPa (second-hand)."""
    area = _one(rows["a-bolt"], "Stress area")
    assert area.source == "ISO 898-1"
    *_, size, depth, step, found = _numbers(area.text)
    assert found == pytest.approx(math.pi / 4 * (size - depth * step) ** 2, rel=0.005)
    load = _one(rows["a-bolt"], "Proof load")
    assert load.source == "ISO 898-1, class 10.9"
    area_mm2, stress, newtons = _numbers(load.text)
    assert stress == 830
    assert newtons == pytest.approx(area_mm2 * stress / 1000, rel=0.005)


def test_preload_follows_from_torque_and_factor(rows: dict[str, TorqueRow]) -> None:
    """Shigley, Table 8-15: a lubricated thread has K 0.18."""
    factor = _one(rows["a-bolt"], "Factor K")
    assert factor.text == "0.18, oiled: lubricated, stated on the fastener"
    assert factor.source == "Shigley, Mechanical Engineering Design, Table 8-15"
    torque, k, size, load, share = _numbers(_one(rows["a-bolt"], "Preload").text)
    assert (torque, k, size) == (32, 0.18, 8)
    assert load == pytest.approx(torque / (k * size), rel=0.005)
    proof = _numbers(_one(rows["a-bolt"], "Proof load").text)[-1]
    assert share == pytest.approx(100 * load / proof, abs=0.6)


def test_a_state_that_nobody_says_is_named(rows: dict[str, TorqueRow]) -> None:
    """Shigley, Table 8-15: 0.12 to 0.30 is the whole table."""
    factor = _one(rows["c-bolt"], "Factor K")
    assert factor.text == "0.12 to 0.30, thread state not stated: all of the table"
    assert _numbers(_one(rows["c-bolt"], "Preload, least").text)[1] == 0.30
    assert _numbers(_one(rows["c-bolt"], "Preload, most").text)[1] == 0.12
    assert _one(rows["c-bolt"], "Torque").source == "the house table"


def test_the_setting_follows_from_both_lengths(rows: dict[str, TorqueRow]) -> None:
    """US Army TM 9-254, fig. 46: T·L / (L + E·cos a)."""
    setting = _one(rows["a-bolt"], "Wrench set to")
    assert setting.source == "US Army TM 9-254, fig. 46"
    torque, length, again, extends, angle, found = _numbers(setting.text)
    assert (torque, length, again, extends, angle) == (32, 280, 280, 40, 0)
    assert found == pytest.approx(torque * length / (length + extends), rel=0.005)
    shown = rows["a-bolt"].setting
    assert shown is not None
    assert shown.text == setting.text.rpartition("= ")[2]
    # NIST SP 811, B.8: 1 lbf·ft is 1.355 818 N·m.
    assert _numbers(shown.second)[0] == pytest.approx(found / 1.355818, rel=0.005)
    assert shown.second.startswith("20.7"), "three digits, as the first unit"


def test_running_torque_comes_on_top(rows: dict[str, TorqueRow]) -> None:
    """Seating plus running torque: common practice, no source."""
    seat, low, high, least, most = _numbers(_one(rows["b-nut"], "With running torque").text)
    assert (least, most) == (seat + low, seat + high)
    assert any("plus the running torque" in remark for remark in rows["b-nut"].remarks)
    assert "a nut of class 8" in _one(rows["b-nut"], "Proof load").source


def test_through_an_adapter_the_sum_is_set(rows: dict[str, TorqueRow]) -> None:
    """US Army TM 9-254, fig. 46: what arrives is all the nut takes, its running torque too."""
    row = rows["d-nut"]
    settings = [one.text for one in row.workings if one.label == "Wrench set to"]
    for total, text in zip((21, 26), settings, strict=True):
        torque, length, again, extends, _, found = _numbers(text)
        assert (torque, length, again, extends) == (total, 280, 280, 40)
        assert found == pytest.approx(total * 280 / 320, rel=0.005)
    assert row.setting == Measure("0.875 × (torque + running torque)")
    assert not any("set to this" in remark for remark in row.remarks)


def test_the_end_of_a_window_is_not_aimed_at(rows: dict[str, TorqueRow]) -> None:
    """As much room below as above: common practice, no source. Passes are shares of that."""
    row = rows["e-bolt"]
    low, high, aim = _numbers(_one(row, "Aim").text)
    assert (low, high, aim) == (20, 24, 22)
    assert row.setting is not None
    assert row.setting.text == "22\N{NO-BREAK SPACE}N·m"
    shares = _numbers(_one(row, "Passes").text)
    assert shares == pytest.approx([30, 22, 6.6, 70, 22, 15.4])
    assert all(one.label != "Aim" for one in rows["a-bolt"].workings)


def test_the_preload_has_both_ends_of_a_tolerance(rows: dict[str, TorqueRow]) -> None:
    """Shigley, short form: F = T / (K·D), at the ends of what the page allows."""
    row = rows["e-bolt"]
    for label, torque in (("Preload, least", 20), ("Preload, most", 24)):
        given, k, size, load, _ = _numbers(_one(row, label).text)
        assert given == torque
        assert load == pytest.approx(torque / (k * size), rel=0.005)


def test_the_other_unit_follows_from_its_factor(rows: dict[str, TorqueRow]) -> None:
    """NIST SP 811, Appendix B.8: 1 lbf·ft is 1.355818 N·m."""
    torque, factor, exact, rounded = _numbers(_one(rows["a-bolt"], "Other unit").text)
    assert factor == pytest.approx(1 / 1.355818, rel=1e-5)
    assert exact == pytest.approx(torque * factor, rel=1e-4)
    assert rounded == pytest.approx(exact, rel=0.01)


def test_a_left_hand_thread_is_told(rows: dict[str, TorqueRow]) -> None:
    """Common practice, no source: who does not see it shears it off."""
    assert "left-hand thread" in rows["a-bolt"].remarks


def test_passes_beside_the_drawing_are_those_of_the_table(rows: dict[str, TorqueRow]) -> None:
    told = _passes_drawn()
    assert [_numbers(one)[2] for one in told] == pytest.approx([6.6, 15.4, 22])
    assert _numbers(_one(rows["e-bolt"], "Passes").text)[2::3] == pytest.approx([6.6, 15.4])


def _passes_drawn() -> tuple[str, ...]:
    sources = [SourceFile("rail.proc", WORK), SourceFile("shop.proc", SHOP)]
    (document,) = compile_sources(sources, no_pictures).library().documents
    steps = [one for one in document.body if isinstance(one, StepView)]
    (drawing,) = [one for step in steps for one in step.diagrams]
    return drawing.passes
