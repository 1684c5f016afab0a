"""The short form and the adapter formula against handbooks and manuals."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.trade.designation import parse_designation
from compiler.trade.threads import proof_stress, stress_area
from compiler.trade.torque import (
    K_OF,
    K_SOURCE,
    Bearing,
    adapter_setting,
    bearing_of,
    factors_of,
    least_torque,
    meant_instead,
    most_torque,
    preload,
    preload_at,
    short_form,
    too_much,
)
from compiler.trade.units import Quantity, convert

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
    """Shigley, Table 8-15 (R); dry may be plated or not, and of what is not in it all may be so."""
    said = [("dry", ""), ("oiled", ""), ("with", "anti-seize"), ("with", "thread locker"), ("", "")]
    found = [factors_of(*one) for one in said]
    ends = [(0.20, 0.30), (0.18, 0.18), (0.12, 0.12), (0.12, 0.30), (0.12, 0.30)]
    assert [(one.low, one.high) for one in found] == ends
    assert "not stated" in found[-1].words


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


# --- What a joint bears -------------------------------------------------------------------------


def _bearing(text: str) -> Bearing:
    designation, problems = parse_designation(text)
    assert not problems
    found = bearing_of(designation)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("text", "load"),
    [
        ("M6×16 ISO 4762 8.8", 11_600),  # R2
        ("M8×25 ISO 4017 10.9", 30_400),  # R2
        ("M12×40 ISO 4762 12.9", 81_800),  # R2
        ("M20×60 ISO 4014 8.8", 147_000),  # R2
    ],
)
def test_what_a_screw_bears(text: str, load: float) -> None:
    """Proof loads of ISO 898-1 (R2), rounded there to three figures."""
    found = _bearing(text)
    assert found.kind == "proof load"
    assert found.source == "ISO 898-1"
    assert found.load_n == pytest.approx(load, rel=0.01)


def test_a_nut_by_the_screw_its_class_is_made_for() -> None:
    """ISO 898-2: a nut of class 8 belongs on 8.8 (from memory); the load of 8.8 is R2."""
    found = _bearing("M12 ISO 4032 8")
    assert found.grade == "8.8"
    assert found.load_n == pytest.approx(48_900, rel=0.01)
    thin = _bearing("M10 ISO 4035 04")
    assert thin.grade == "04"
    assert thin.load_n < 0.7 * _bearing("M10 ISO 4032 8").load_n


def test_stainless_by_its_yield() -> None:
    """ISO 3506-1: A2-70 and A4-70 yield at 450 MPa (R2); area of M8 36.6 mm² (R2)."""
    for text in ("M8×20 ISO 4017 A2-70", "M8 ISO 4032 A4-70"):
        found = _bearing(text)
        assert found.kind == "yield load"
        assert found.load_n == pytest.approx(450 * 36.6, rel=0.001)


def test_what_cannot_be_judged() -> None:
    """Pipe plugs, wing nuts, eye bolts: common practice, no source; no class: the strongest."""
    for text in ("plug G1/2 DIN 908", "wing-nut M8", "eye-bolt M12", "cotter-pin 3.2×32 ISO 1234"):
        assert bearing_of(parse_designation(text)[0]) is None
    found = _bearing("M8×20 ISO 4762")
    assert not found.known
    assert found.load_n == pytest.approx(35_500, rel=0.01)  # 12.9: R2


def test_factors_are_rows_of_the_table() -> None:
    """Shigley, Table 8-15 (R): 0.12 to 0.30 in all; dry is not plated or zinc-plated."""
    assert (factors_of("").low, factors_of("").high) == (0.12, 0.30)
    assert (factors_of("dry").low, factors_of("dry").high) == (0.20, 0.30)
    assert (factors_of("oiled").low, factors_of("oiled").high) == (0.18, 0.18)
    assert factors_of("with", "anti-seize paste").text == "0.12"
    assert factors_of("with", "medium thread locker").text == "0.12 to 0.30"
    assert factors_of("with", "boiled varnish").text == "0.12 to 0.30"
    assert all(factors_of(s).source == K_SOURCE for s in ("", "dry", "oiled"))


@pytest.mark.parametrize(
    ("inch_pounds", "newton_metres"),
    [(25, 2.82), (40, 4.52), (88, 9.94)],  # bench facts: common practice, no source; C
)
def test_inch_pounds_at_the_bench(inch_pounds: int, newton_metres: float) -> None:
    """1 lbf·in is 0.1129848 N·m (NIST SP 811, Appendix B.8)."""
    found = convert(Quantity(Fraction(inch_pounds), "lbf·in"), "N·m")
    assert float(found.value) == pytest.approx(newton_metres, abs=0.005)


@pytest.mark.parametrize(
    ("written", "unit", "text", "meant"),
    [
        (80, "lbf·ft", "M6×16 ISO 4762 8.8", "lbf·in"),  # twelve times: exact
        (106, "N·m", "M8×20 ISO 4762 8.8", "lbf·in"),  # 8.85 times: NIST SP 811
        (60, "lbf·in", "M12×40 ISO 4017 8.8", "lbf·ft"),
        (9, "lbf·in", "M6×16 ISO 4762 8.8", "N·m"),
    ],
)
def test_a_slip_of_the_unit_is_seen(written: int, unit: str, text: str, meant: str) -> None:
    """Units taken for each other differ by 12 or 8.85 (NIST SP 811); values: common practice."""
    found = meant_instead(Quantity(Fraction(written), unit), factors_of(""), _bearing(text))
    assert found == Quantity(Fraction(written), meant)


@pytest.mark.parametrize(
    ("text", "k", "torque"),
    [
        ("M8×20 ISO 4762 8.8", 0.20, 25.4),  # C, from R2 loads
        ("M10×20 ISO 4762 8.8", 0.20, 50.6),  # C
        ("M12×40 ISO 4762 10.9", 0.20, 126.0),  # C
    ],
)
def test_three_quarters_of_the_proof_load_is_never_found_wrong(
    text: str, k: float, torque: float
) -> None:
    """0.75 × the proof load of ISO 898-1 at K 0.20 (C): usual, whatever the thread is."""
    bearing = _bearing(text)
    assert preload_at(torque, k, bearing.diameter_mm) == pytest.approx(
        0.75 * bearing.load_n, rel=0.01
    )
    for state in ("", "dry"):
        factors = factors_of(state)
        assert not too_much(torque, factors, bearing)
        assert torque > least_torque(factors, bearing)
        assert too_much(12 * torque, factors, bearing)


@given(st.floats(0.5, 500), st.sampled_from(["", "dry", "oiled"]))
def test_too_much_is_so_for_every_factor(torque: float, state: str) -> None:
    """Shigley, Table 8-15: found is only what is over the proof load at each K of the state."""
    bearing, factors = _bearing("M8×20 ISO 4762 8.8"), factors_of(state)
    if too_much(torque, factors, bearing):
        for k in (factors.low, factors.high):
            assert preload_at(torque, k, bearing.diameter_mm) > bearing.load_n
        assert torque > most_torque(factors, bearing)
