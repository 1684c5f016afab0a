"""The short form and the adapter formula against handbooks and manuals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.trade.threads import proof_stress, stress_area
from compiler.trade.torque import K_OF, adapter_setting, k_of, preload, short_form

LBF = 4.4482216152605
LBF_IN = 0.1129848290276167
LBF_FT = 1.3558179483314004


def test_k_is_that_of_the_handbook() -> None:
    """Shigley, Mechanical Engineering Design, Table 8-15 (R)."""
    assert K_OF == {
        "black": 0.30,
        "zinc-plated": 0.20,
        "lubricated": 0.18,
        "cadmium-plated": 0.16,
        "anti-seize": 0.12,
    }


def test_state_of_the_thread_and_its_k() -> None:
    """Shigley, Table 8-15 (R); 0.20 for an unknown state (R2)."""
    assert k_of("dry")[0] == 0.30
    assert k_of("oiled")[0] == 0.18
    assert k_of("with", "anti-seize")[0] == 0.12
    assert k_of("with", "thread-locker")[0] == 0.20
    value, source = k_of("")
    assert value == 0.20
    assert "not known" in source


@pytest.mark.parametrize(
    ("k", "inches", "pounds", "inch_pounds"),
    [
        (0.20, 0.75, 25_000, 3750.0),  # Shigley, Example 8-3 (b): C, M
        (0.20, 0.190, 1275, 48.5),  # handbook: R
        (0.30, 0.190, 1275, 72.7),  # handbook: R
    ],
)
def test_short_form_in_inch_units(
    k: float, inches: float, pounds: float, inch_pounds: float
) -> None:
    """Shigley, Example 8-3 (b), and a handbook's pair of examples."""
    found = short_form(k, inches * 25.4, pounds * LBF)
    assert found.torque_nm / LBF_IN == pytest.approx(inch_pounds, abs=0.06)
    assert found.k == k
    assert f"{k:.2f}" in found.formula


def test_preload_stress_of_the_example() -> None:
    """Shigley, Example 8-3 (R): 25 kip on 3/4-16 UNF is 67.02 ksi; grade 5 proves 85 ksi."""
    area = stress_area("3/4-16")
    proof = proof_stress("grade 5", "3/4-16")
    assert area is not None
    assert proof is not None
    assert 25_000 * LBF / area / 6.894757 == pytest.approx(67.02, rel=0.001)
    assert proof / 6.894757 == pytest.approx(85)


@pytest.mark.parametrize(
    ("thread", "inches", "pounds", "foot_pounds"),
    [
        ("3/8-16", 0.375, 3197, 20.0),
        ("1/2-13", 0.5, 5853, 48.8),
        ("3/4-10", 0.75, 13778, 172.0),
    ],
)
def test_grade_2_table(thread: str, inches: float, pounds: int, foot_pounds: float) -> None:
    """Published grade 2 table, 75 % of proof load, K 0.20 (R2)."""
    load = preload(thread, "grade 2")
    assert load is not None
    assert load / LBF == pytest.approx(pounds, rel=0.002)
    torque = short_form(0.20, inches * 25.4, load).torque_nm
    assert torque / LBF_FT == pytest.approx(foot_pounds, rel=0.005)


@pytest.mark.parametrize(
    ("thread", "grade", "mm", "torque"),
    [("M8", "8.8", 8, 25.4), ("M10", "8.8", 10, 50.6), ("M12", "10.9", 12, 126.0)],
)
def test_metric_torque_from_published_proof_loads(
    thread: str, grade: str, mm: int, torque: float
) -> None:
    """0.75 × the proof load of ISO 898-1 with K 0.20 (C, from R2 loads)."""
    load = preload(thread, grade)
    assert load is not None
    assert short_form(0.20, mm, load).torque_nm == pytest.approx(torque, rel=0.01)


def test_no_preload_without_a_known_strength() -> None:
    """ISO 3506-1 gives no proof stress."""
    assert preload("M8", "A2-70") is None


@pytest.mark.parametrize(
    ("torque", "length", "extension", "angle", "setting"),
    [
        (100, 12, 6, 0, 66.7),  # US Navy training manual: R
        (20, 12, 3, 0, 16.0),  # an adapter leaflet: R
        (80, 40, 5, 90, 80.0),  # R2
        (100, 400, 50, 45, 91.9),  # C
        (60, 300, 40, 180, 69.2),  # C
    ],
)
def test_adapter_setting(
    torque: float, length: float, extension: float, angle: float, setting: float
) -> None:
    """US Army TM 9-254, fig. 46 (cosine form, R); US Navy aviation training manual (R)."""
    assert adapter_setting(torque, length, extension, angle) == pytest.approx(setting, abs=0.05)


@given(st.floats(1, 500), st.floats(200, 900), st.floats(10, 150), st.floats(0, 180))
def test_adapter_follows_the_levers(
    torque: float, length: float, extension: float, angle: float
) -> None:
    """US Army TM 9-254: the hand's force on its whole lever arm gives the torque at the bolt."""
    force = adapter_setting(torque, length, extension, angle) / length
    assert force * (length + extension * math.cos(math.radians(angle))) == pytest.approx(torque)


@given(st.floats(1, 500), st.floats(200, 900), st.floats(10, 150))
def test_adapter_effect_is_greatest_in_line(torque: float, length: float, extension: float) -> None:
    """US Army TM 9-254: in line the wrench is set lowest, square to it nothing changes."""
    straight = adapter_setting(torque, length, extension, 0)
    square = adapter_setting(torque, length, extension, 90)
    assert straight < adapter_setting(torque, length, extension, 45) < square
    assert square == pytest.approx(torque)


def test_an_adapter_that_reaches_the_hand_is_refused() -> None:
    """The formula of TM 9-254 has no answer there."""
    with pytest.raises(ValueError, match="folded back"):
        adapter_setting(50, 100, 100, 180)
