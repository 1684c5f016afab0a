"""Answers of the command against published examples and tables, the source beside each.

Labels: R read in the source, R2 read second-hand, M from memory, C worked out from labelled inputs.
"""

from __future__ import annotations

import pytest

from cli.cli_support import Run
from cli.test_reckon import answer


def values(run: Run, words: str) -> dict[str, float]:
    return {result["name"]: result["value"] for result in answer(run, words)["results"]}


@pytest.mark.parametrize(
    ("words", "factor"),
    [
        # NIST SP 811, Appendix B.8 (forms of 4 to 7 digits, M; the same in pint, R).
        ("1 lbf·in to N·m", 1.129848e-01),
        ("1 lbf·ft to N·m", 1.355818e00),
        ("1 ozf·in to N·m", 7.061552e-03),
        ("1 kgf·m to N·m", 9.80665),
        ("1 kgf·cm to N·m", 0.0980665),
        ("1 lbf to N", 4.448222),
        ("1 kgf to N", 9.80665),
        ("1 psi to Pa", 6894.757),
        ("1 in to mm", 25.4),
        ("1 ft to mm", 304.8),
        ("1 lb to kg", 0.45359237),
        ("1 oz to g", 28.349523),
    ],
)
def test_factors_of_sp_811(run: Run, words: str, factor: float) -> None:
    (result,) = answer(run, f"convert {words}")["results"]
    assert result["value"] == pytest.approx(factor, rel=5e-7)


@pytest.mark.parametrize(
    ("words", "torque", "unit"),
    [
        # Handbook, K = 0.20 and 0.30, D = 0.190 in, F = 1275 lbf (R).
        ('"#10-24" --preload "1275 lbf" --k 0.20', 48.5, "lbf·in"),
        ('"#10-24" --preload "1275 lbf" --k 0.30', 72.7, "lbf·in"),
        # Shigley, Ex. 8-3 (b): K = 0.20, d = 0.75 in, Fi = 25 kip (C, M): 3750 lbf·in.
        ('"3/4-16 UNF grade 5" --preload "25000 lbf" --k 0.20', 3750 / 12, "lbf·ft"),
    ],
)
def test_the_short_form_of_handbooks(run: Run, words: str, torque: float, unit: str) -> None:
    (result,) = answer(run, f"torque {words}")["results"]
    assert result["unit"] == unit
    assert result["value"] == pytest.approx(torque, rel=0.002)


@pytest.mark.parametrize(
    ("thread", "load_lbf", "torque_lbf_ft"),
    [
        # Table of grade 2, 75 % of proof load, K = 0.20 (R2).
        ("3/8-16", 3197, 20),
        ("1/2-13", 5853, 48.8),
        ("3/4-10", 13778, 172),
    ],
)
def test_a_table_of_grade_2(run: Run, thread: str, load_lbf: float, torque_lbf_ft: float) -> None:
    found = answer(run, f"torque {thread} grade 2 --k 0.2")
    load = float(found["given"]["preload"].split(" N")[0]) / 4.4482216
    assert load == pytest.approx(load_lbf, rel=0.005)
    reused = found["results"][0]
    assert (reused["name"], reused["unit"]) == ("given/opened-again", "lbf·ft")
    assert reused["value"] == pytest.approx(torque_lbf_ft, rel=0.005)


@pytest.mark.parametrize(
    ("words", "torque"),
    [
        # 0.75 × the proof loads of ISO 898-1 (R2), K of Shigley, Table 8-15: zinc-plated 0.20 (C).
        ("M8 8.8 zinc-plated", 25.4),
        ("M10 8.8 zinc-plated", 50.6),
        ("M12 10.9 zinc-plated", 126.0),
        # The other rows of the same table (R), with the same load of M8 8.8: 15.9 kN (C).
        ("M8 8.8 black", 0.30 * 8 * 15.9),
        ("M8 8.8 lubricated", 0.18 * 8 * 15.9),
        ("M8 8.8 cadmium-plated", 0.16 * 8 * 15.9),
        ("M8 8.8 anti-seize", 0.12 * 8 * 15.9),
    ],
)
def test_torques_from_published_proof_loads(run: Run, words: str, torque: float) -> None:
    assert answer(run, f"torque {words}")["results"][0]["value"] == pytest.approx(torque, rel=0.01)


def test_the_stress_of_a_bolt(run: Run) -> None:
    """Shigley, Ex. 8-3 (R): 3/4-16 grade 5, Fi = 25 kip, 67.02 ksi; SAE J429: proof 85 ksi (R2)."""
    found = answer(run, 'stress "3/4-16 UNF grade 5" --preload "25000 lbf"')
    by_name = {result["name"]: result for result in found["results"]}
    psi = by_name["given-preload/stress"]["others"][0]
    assert psi["unit"] == "psi"
    assert psi["value"] == pytest.approx(67_020, rel=0.002)
    assert by_name["given-preload/share"]["value"] == pytest.approx(100 * 67.02 / 85, rel=0.002)


@pytest.mark.parametrize(
    ("words", "value", "text"),
    [
        # US Navy aviation training manual, drive-end extension (R).
        ("100 lbf·in --length 12in --extends 6in", 66.7, "66.7 lbf·in"),
        # An adapter leaflet (R).
        ("20 lbf·ft --length 12in --extends 3in", 16, "16.0 lbf·ft"),
        # Square to the wrench nothing changes (R2; US Army TM 9-254, fig. 46, R).
        ("80 N·m --length 40cm --extends 5cm --angle 90", 80, "80 N·m"),
        # From the formula of TM 9-254 (C).
        ("100 N·m --length 400mm --extends 50mm --angle 45", 91.9, "91.9 N·m"),
        ("60 N·m --length 300mm --extends 40mm --angle 180", 69.2, "69.2 N·m"),
    ],
)
def test_settings_with_an_adapter(run: Run, words: str, value: float, text: str) -> None:
    (setting,) = answer(run, f"adapter {words}")["results"]
    assert setting["value"] == pytest.approx(value, rel=0.001)
    assert setting["text"] == text


@pytest.mark.parametrize(
    ("count", "order"),
    [
        # ASME PCC-1, legacy cross pattern; 8, 12, 16, 24 R2, 4 and 20 M.
        (4, "1 3 2 4"),
        (8, "1 5 3 7 2 6 4 8"),
        (12, "1 7 4 10 2 8 5 11 3 9 6 12"),
        (16, "1 9 5 13 3 11 7 15 2 10 6 14 4 12 8 16"),
        (20, "1 11 6 16 3 13 8 18 5 15 10 20 2 12 7 17 4 14 9 19"),
        (24, "1 13 7 19 4 16 10 22 2 14 8 20 5 17 11 23 3 15 9 21 6 18 12 24"),
        # General workshop advice (R2).
        (5, "1 3 5 2 4"),
    ],
)
def test_orders_of_tightening(run: Run, count: int, order: str) -> None:
    found = answer(run, f"star {count}")
    assert found["order"] == [int(bolt) for bolt in order.split()]
    # PCC-1-2019, Table 1 (R2): 20 to 30 %, 50 to 70 %, 100 %, then round at 100 %.
    first, second, third, last = (result["value"] for result in found["results"])
    assert 20 <= first <= 30
    assert 50 <= second <= 70
    assert third == last == 100


@pytest.mark.parametrize(
    ("words", "limit", "index", "off"),
    [
        # NIOSH publication 94-110, examples. The manual rounds its multipliers to two
        # places, and its tables differ from the formula at H = 22 and 23 in: up to 0.4 lb off.
        ("26 lb --out 10in --height 22in --travel 37in --often 3", 34.9, 0.7, 0.2),  # 4, R2
        ("26 lb --out 20in --height 59in --travel 37in --often 3", 15.2, 1.7, 0.2),  # 4, R2
        ("44 lb --out 23in --height 15in --travel 49in", 16.3, 2.7, 0.4),  # 1, M
        ("44 lb --out 23in --height 64in --travel 49in", 14.5, 3.0, 0.4),  # 1, M
        ("40 lb --out 18in --height 15in --travel 21in --turned 45", 18.9, 2.1, 0.4),  # 3, M
        # A solved problem in metric units (R2).
        ("12 kg --out 25cm --height 55cm --travel 95cm --often 3 --hours 0.75", 15.7, 0.76, 0.1),
    ],
)
def test_lifts_of_the_manual(run: Run, words: str, limit: float, index: float, off: float) -> None:
    found = values(run, f"lift {words}")
    assert found["limit"] == pytest.approx(limit, abs=off)
    # An index is printed with one place, and carries what its limit is off.
    assert found["index"] == pytest.approx(index, abs=0.05 + index * off / limit)


def test_a_three_point_estimate(run: Run) -> None:
    """3, 10, 20 give 10.5 and 2.83 (R2)."""
    found = values(run, "estimate 3 10 20")
    assert found["expected"] == pytest.approx(10.5)
    assert found["spread"] == pytest.approx(2.83, abs=0.005)


@pytest.mark.parametrize(
    ("size", "pitch", "area", "load"),
    [
        # ISO 898-1 (R2), class 8.8: stress area in mm², proof load in N, rounded to three figures.
        ("M3", 0.5, 5.03, 2_920),
        ("M6", 1, 20.1, 11_600),
        ("M8", 1.25, 36.6, 21_200),
        ("M12", 1.75, 84.3, 48_900),
        ("M16", 2, 157, 91_000),
        ("M24", 3, 353, 212_000),
    ],
)
def test_geometry_of_iso_898_1(run: Run, size: str, pitch: float, area: float, load: float) -> None:
    found = values(run, f"fastener {size} ISO 4017 8.8")
    assert found["pitch"] == pitch
    assert found["stress-area"] == pytest.approx(area, rel=0.005)
    assert found["proof-load"] == pytest.approx(load, rel=0.01)


@pytest.mark.parametrize(
    ("size", "coarse", "area", "fine", "fine_area"),
    [
        # ASME B1.1 (R2): threads per inch and stress area in in².
        ("1/4", 20, 0.0318, 28, 0.0364),
        ("5/16", 18, 0.0524, 24, 0.0580),
        ("3/8", 16, 0.0775, 24, 0.0878),
        ("1/2", 13, 0.1419, 20, 0.1599),
        ("3/4", 10, 0.334, 16, 0.373),
        ("1", 8, 0.606, 12, 0.663),
    ],
)
def test_series_of_inch_threads(
    run: Run, size: str, coarse: int, area: float, fine: int, fine_area: float
) -> None:
    for series, per_inch, square_inches in (("UNC", coarse, area), ("unf", fine, fine_area)):
        found = answer(run, f"fastener {size} {series} grade 5")
        assert found["given"]["thread"] == f"{size}-{per_inch}"
        areas = [r["value"] for r in found["results"] if r["name"] == "stress-area"]
        assert areas[0] / 25.4**2 == pytest.approx(square_inches, rel=0.005)
