"""Threads in soft metal against the formula of the standards and values worked out by hand."""

from __future__ import annotations

import math

import pytest

from compiler.trade.engagement import MATERIALS, SHEAR_SHARE, engagement

AXES = {
    # thread: pitch and basic pitch diameter in mm, ISO 724 (R2; inch: ASME B1.1, C)
    "M6": (1.0, 5.350),
    "M8": (1.25, 7.188),
    "M10": (1.5, 9.026),
    "M12": (1.75, 10.863),
    "M12×1.25": (1.25, 11.188),
    "3/8-16": (25.4 / 16, 25.4 * 0.3344),
}
SIZES = {"M6": 6, "M8": 8, "M10": 10, "M12": 12, "M12×1.25": 12, "3/8-16": 9.525}


@pytest.mark.parametrize("thread", AXES)
def test_shear_area_of_a_nut_thread(thread: str) -> None:
    """FED-STD-H28: π·n·L·D·(1/(2n) + 0.57735·(D − E)), D outside, E pitch diameter (M)."""
    step, middle = AXES[thread]
    outside, per_mm, depth = SIZES[thread], 1 / step, 12.0
    area = math.pi * per_mm * depth * outside * (1 / (2 * per_mm) + 0.57735 * (outside - middle))
    found = engagement(thread, MATERIALS["aluminium"], depth)
    assert found is not None
    assert found.area_mm2 == pytest.approx(area, rel=0.001)
    assert found.area_mm2 == pytest.approx(0.875 * math.pi * outside * depth, rel=1e-6)


def test_loads_are_area_times_shear_strength() -> None:
    """M8, 12 mm deep: 0.875 × π × 8 × 12 = 263.9 mm², × 0.6 × 150 MPa = 23.8 kN (C)."""
    found = engagement("M8", MATERIALS["aluminium"], 12)
    assert found is not None
    low, high = found.loads_n
    assert low == pytest.approx(23750, rel=0.001)
    assert high == pytest.approx(263.9 * 0.6 * 310, rel=0.001)


def test_the_share_is_near_the_theory() -> None:
    """Von Mises: 1/√3 of the tensile strength."""
    assert pytest.approx(1 / math.sqrt(3), rel=0.05) == SHEAR_SHARE


@pytest.mark.parametrize("material", MATERIALS.values(), ids=list(MATERIALS))
def test_the_usual_depth_outlasts_a_screw_of_8_8(material: object) -> None:
    """At the depth of common practice an M10 8.8 reaches its proof load first (33.7 kN, R2)."""
    one = next(m for m in MATERIALS.values() if m is material)
    found = engagement("M10", one, one.depth * 10)
    assert found is not None
    assert found.loads_n[0] > 33_700


@pytest.mark.parametrize("thread", ["G1/2", "R1/2", "nonsense"])
def test_no_answer_where_the_profile_is_another(thread: str) -> None:
    assert engagement(thread, MATERIALS["brass"], 10) is None
