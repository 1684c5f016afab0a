"""Every number of a torque line can be worked out again from what the page itself says."""

from __future__ import annotations

import math
import re

import pytest

from compiler.document.model import TorqueRow, WorkingView
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
  starts with a-bolt slackened, b-nut slackened, c-bolt slackened
  parts
    rail "rail"
  fasteners
    a-bolt M8×25 ISO 4017 10.9  holds rail  torque 32 N·m  thread oiled  left-hand
    b-nut  M10 ISO 7040 8       holds rail  torque 35 N·m  running torque 1..10 N·m  renew
    c-bolt M10×25 ISO 4017 8.8  holds rail
  tighten a-bolt with wrench via crowfoot-13
  tighten b-nut
  tighten c-bolt
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
    assert rows["a-bolt"].setting == setting.text.rpartition("= ")[2]


def test_running_torque_comes_on_top(rows: dict[str, TorqueRow]) -> None:
    """Seating plus running torque: common practice, no source."""
    seat, low, high, least, most = _numbers(_one(rows["b-nut"], "With running torque").text)
    assert (least, most) == (seat + low, seat + high)
    assert any("plus the running torque" in remark for remark in rows["b-nut"].remarks)
    assert "a nut of class 8" in _one(rows["b-nut"], "Proof load").source


def test_the_other_unit_follows_from_its_factor(rows: dict[str, TorqueRow]) -> None:
    """NIST SP 811, Appendix B.8: 1 lbf·ft is 1.355818 N·m."""
    torque, factor, exact, rounded = _numbers(_one(rows["a-bolt"], "Other unit").text)
    assert factor == pytest.approx(1 / 1.355818, rel=1e-5)
    assert exact == pytest.approx(torque * factor, rel=1e-4)
    assert rounded == pytest.approx(exact, rel=0.01)


def test_a_left_hand_thread_is_told(rows: dict[str, TorqueRow]) -> None:
    """Common practice, no source: who does not see it shears it off."""
    assert "left-hand thread" in rows["a-bolt"].remarks
