"""Pitches, stress areas and proof loads against the tables of ISO 898-1, ASME B1.1, SAE J429."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.trade.designation import parse_designation
from compiler.trade.iso_threads import COARSE, is_made
from compiler.trade.strength import Strength, strength_of
from compiler.trade.threads import (
    minor_diameter,
    pitch,
    pitch_diameter,
    proof_stress,
    stress_area,
)

SQUARE_INCH = 25.4**2
KSI = 6.894757

# size: pitch mm, stress area mm², proof load N for 8.8, 10.9, 12.9
ISO_898_1 = (
    ("M3", 0.5, 5.03, 2920, 4180, 4880),
    ("M4", 0.7, 8.78, 5100, 7290, 8520),
    ("M5", 0.8, 14.2, 8230, 11800, 13800),
    ("M6", 1.0, 20.1, 11600, 16700, 19500),
    ("M8", 1.25, 36.6, 21200, 30400, 35500),
    ("M10", 1.5, 58.0, 33700, 48100, 56300),
    ("M12", 1.75, 84.3, 48900, 70000, 81800),
    ("M16", 2.0, 157, 91000, 130000, 152000),
    ("M20", 2.5, 245, 147000, 203000, 238000),
    ("M24", 3.0, 353, 212000, 293000, 342000),
)

# size: stress area mm² of the other coarse threads and of fine ones, ISO 898-1 (M)
MORE_AREAS = {
    "M1.6": 1.27, "M2": 2.07, "M2.5": 3.39, "M3.5": 6.78, "M7": 28.9, "M14": 115, "M18": 192,
    "M22": 303, "M27": 459, "M30": 561, "M33": 694, "M36": 817, "M39": 976,
    "M8×1": 39.2, "M10×1": 64.5, "M10×1.25": 61.2, "M12×1.25": 92.1, "M12×1.5": 88.1,
    "M14×1.5": 125, "M16×1.5": 167, "M18×1.5": 216, "M20×1.5": 272, "M22×1.5": 333,
    "M24×2": 384, "M27×2": 496, "M30×2": 621, "M33×2": 761, "M36×3": 865, "M39×3": 1030,
}  # fmt: skip

# size: proof loads N of 4.6, 4.8, 5.6, 5.8, 6.8 and, up to M16, 9.8, ISO 898-1 (M)
LOWER_CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "9.8")
LOWER_LOADS = {
    "M6": (4520, 6230, 5630, 7640, 8840, 13100),
    "M8": (8240, 11400, 10200, 13900, 16100, 23800),
    "M10": (13000, 18000, 16200, 22000, 25500, 37700),
    "M12": (19000, 26100, 23600, 32000, 37100, 54800),
    "M16": (35300, 48700, 44000, 59700, 69100, 102000),
    "M20": (55100, 76000, 68600, 93100, 108000),
    "M24": (79400, 109000, 98800, 134000, 155000),
}

# size: proof loads N of nuts with coarse thread, ISO 898-2:2012 (M)
NUT_CLASSES = ("04", "05", "5", "6", "8", "10", "12")
NUT_LOADS = {
    "M5": (5400, 7100, 8250, 9500, 12140, 14800, 16300),
    "M6": (7640, 10000, 11700, 13500, 17200, 20900, 23100),
    "M8": (13900, 18300, 21600, 24900, 31800, 38100, 42500),
    "M10": (22000, 29000, 34200, 39400, 50500, 60300, 67300),
    "M12": (32000, 42200, 51400, 59000, 74200, 88500, 100300),
    "M16": (59700, 78500, 95800, 109900, 138200, 164900, 186800),
    "M20": (93100, 122500, 154400, 176400, 225400, 259700, 294000),
    "M24": (134100, 176500, 222400, 254200, 324800, 374200, 423600),
}

# thread: basic pitch and minor diameter mm, ISO 724 (M)
ISO_724 = {
    "M3": (2.675, 2.459), "M4": (3.545, 3.242), "M5": (4.480, 4.134), "M6": (5.350, 4.917),
    "M8": (7.188, 6.647), "M10": (9.026, 8.376), "M12": (10.863, 10.106), "M14": (12.701, 11.835),
    "M16": (14.701, 13.835), "M20": (18.376, 17.294), "M24": (22.051, 20.752),
    "M30": (27.727, 26.211), "M8×1": (7.350, 6.917), "M10×1.25": (9.188, 8.647),
    "M12×1.25": (11.188, 10.647), "M20×1.5": (19.026, 18.376),
}  # fmt: skip

# thread: basic pitch and minor diameter in, ASME B1.1 (M)
ASME_DIAMETERS = {
    "1/4-20": (0.2175, 0.1959), "5/16-18": (0.2764, 0.2524), "3/8-16": (0.3344, 0.3073),
    "1/2-13": (0.4500, 0.4167), "3/4-10": (0.6850, 0.6417), "1-8": (0.9188, 0.8647),
    "1/4-28": (0.2268, 0.2113), "#10-24": (0.1629, 0.1449), "#10-32": (0.1697, 0.1562),
}  # fmt: skip

# size: pitch and minor diameter mm, ISO 228-1 (R, library data)
ISO_228_1 = {
    "1/8": (9.147, 8.566), "1/4": (12.301, 11.445), "3/8": (15.806, 14.950),
    "1/2": (19.793, 18.631), "5/8": (21.749, 20.587), "3/4": (25.279, 24.117),
    "1": (31.770, 30.291), "1-1/4": (40.431, 38.952), "1-1/2": (46.324, 44.845),
    "2": (58.135, 56.656),
}  # fmt: skip

# size: UNC threads per inch, stress area in², UNF threads per inch, stress area in²
ASME_B1_1 = (
    ("1/4", 20, 0.0318, 28, 0.0364),
    ("5/16", 18, 0.0524, 24, 0.0580),
    ("3/8", 16, 0.0775, 24, 0.0878),
    ("1/2", 13, 0.1419, 20, 0.1599),
    ("3/4", 10, 0.334, 16, 0.373),
    ("1", 8, 0.606, 12, 0.663),
)

SAE_J429 = (
    ("grade 2", "1/4-20", 55),
    ("grade 2", "3/4-10", 55),
    ("grade 2", "1-8", 33),
    ("grade 5", "1/4-20", 85),
    ("grade 5", "1-8", 85),
    ("grade 5", "1-1/4-7", 74),
    ("grade 5", "1/2-13", 85),
    # From memory:
    ("grade 1", "1/2-13", 33),
    ("grade 4", "3/4-10", 65),
    ("grade 5.2", "1/2-13", 85),
    ("grade 7", "1/2-13", 105),
    ("grade 8.2", "1/2-13", 120),
    # Second-hand:
    ("grade 8", "1/4-28", 120),
    ("grade 8", "1-1/2-6", 120),
)


@pytest.mark.parametrize(("thread", "step", "area", "a", "b", "c"), ISO_898_1)
def test_metric_pitch_area_and_proof_load(
    thread: str, step: float, area: float, a: int, b: int, c: int
) -> None:
    """ISO 261/262 coarse pitch (R); ISO 898-1 areas and proof loads (R2, two pages agree).

    The published loads are rounded to about three figures, hence 1 %.
    """
    found = pitch(thread)
    assert found is not None
    assert float(found) == step
    ours = stress_area(thread)
    assert ours is not None
    assert ours == pytest.approx(area, rel=0.003)
    for grade, load in (("8.8", a), ("10.9", b), ("12.9", c)):
        stress = proof_stress(grade, thread)
        assert stress is not None
        assert stress * ours == pytest.approx(load, rel=0.01), grade


@pytest.mark.parametrize(("size", "unc", "coarse", "unf", "fine"), ASME_B1_1)
def test_inch_stress_area(size: str, unc: int, coarse: float, unf: int, fine: float) -> None:
    """ASME B1.1 stress areas (R2, two pages)."""
    for per_inch, area in ((unc, coarse), (unf, fine)):
        thread = f"{size}-{per_inch}"
        ours = stress_area(thread)
        assert ours is not None
        assert ours / SQUARE_INCH == pytest.approx(area, rel=0.003), thread
        step = pitch(thread)
        assert step is not None
        assert float(step) * per_inch == pytest.approx(25.4, rel=1e-12)


@pytest.mark.parametrize(("grade", "thread", "ksi"), SAE_J429)
def test_inch_proof_stress(grade: str, thread: str, ksi: int) -> None:
    """SAE J429 proof stress (R2)."""
    assert proof_stress(grade, thread) == pytest.approx(ksi * KSI, rel=1e-6)


def test_a_fine_thread_has_its_own_area() -> None:
    """ISO 898-1, fine series: M10×1.25 61.2 mm², M12×1.25 92.1 mm², M8×1 39.2 mm² (M)."""
    for thread, area in (("M10×1.25", 61.2), ("M12×1.25", 92.1), ("M8×1", 39.2)):
        assert stress_area(thread) == pytest.approx(area, rel=0.002)
    assert stress_area("M8×1.25") == stress_area("M8")


@pytest.mark.parametrize(
    ("thread", "per_inch"), [("G1/8", 28), ("G1/4", 19), ("G1/2", 14), ("G1", 11), ("R3/4", 14)]
)
def test_pipe_pitch(thread: str, per_inch: int) -> None:
    """ISO 228-1 and ISO 7-1 threads per inch (M)."""
    found = pitch(thread)
    assert found is not None
    assert float(found * per_inch) == pytest.approx(25.4)


@pytest.mark.parametrize(
    ("grade", "thread"),
    [
        ("A2-70", "M8"),  # ISO 3506-1 gives none
        ("8", "M8"),  # a class of nuts
        ("8.8", "1/4-20"),
        ("grade 5", "M8"),
        ("grade 5", "#10-24"),  # below the range of the table
        ("grade 5", "2-4.5"),
        ("8.8", "G1/4"),
        ("8.8", "nonsense"),
        ("", "M8"),
    ],
)
def test_no_strength_is_made_up(grade: str, thread: str) -> None:
    """ISO 898-1, ISO 3506-1 and SAE J429 end where they end."""
    assert proof_stress(grade, thread) is None


@pytest.mark.parametrize("thread", ["", "M", "M7.3", "1/0-0", "1/4-1", "tube", "NPT1/4"])
def test_no_area_is_made_up(thread: str) -> None:
    """ISO 261 has no such thread, or the thread carries no stress area."""
    assert stress_area(thread) is None


@pytest.mark.parametrize(("thread", "area"), MORE_AREAS.items())
def test_more_stress_areas(thread: str, area: float) -> None:
    """ISO 898-1, coarse and fine series (M); the tables are rounded to three figures."""
    assert stress_area(thread) == pytest.approx(area, rel=0.004)


@pytest.mark.parametrize("thread", LOWER_LOADS)
def test_proof_loads_of_the_lower_classes(thread: str) -> None:
    """ISO 898-1 proof loads (M), within 1 %."""
    area = stress_area(thread)
    assert area is not None
    for grade, load in zip(LOWER_CLASSES, LOWER_LOADS[thread], strict=False):
        stress = proof_stress(grade, thread)
        assert stress is not None
        assert stress * area == pytest.approx(load, rel=0.01), grade


@pytest.mark.parametrize("thread", NUT_LOADS)
def test_proof_loads_of_nuts(thread: str) -> None:
    """ISO 898-2:2012 proof loads of nuts with coarse thread (M), within 1 %."""
    area = stress_area(thread)
    assert area is not None
    for grade, load in zip(NUT_CLASSES, NUT_LOADS[thread], strict=True):
        found = strength_of(parse_designation(f"nut {thread} {grade}")[0])
        assert found.proof is not None
        assert (found.yields, found.source) == (None, "ISO 898-2")
        assert found.proof * area == pytest.approx(load, rel=0.01), grade


@pytest.mark.parametrize(
    ("text", "strength"),
    [
        # ISO 3506-1: 0.2 % limit of 70 second-hand, of 50 and 80 from memory.
        ("M8×20 ISO 4762 A2-50", Strength(yields=210, source="ISO 3506-1")),
        ("M8×20 ISO 4762 A2-70", Strength(yields=450, source="ISO 3506-1")),
        ("M8×20 ISO 4762 A4-80", Strength(yields=600, source="ISO 3506-1")),
        # ISO 3506-2: proof stress of nuts (M).
        ("M12 ISO 4032 A4-80", Strength(proof=800, source="ISO 3506-2")),
        ("M12 ISO 4035 A2-035", Strength(proof=350, source="ISO 3506-2")),
        ("M8×20 ISO 4762 8.8", Strength(proof=580, source="ISO 898-1")),
        # No proof stress: set screws (ISO 898-5), nuts with fine thread here, beyond the ranges.
        ("M8×20 ISO 4029 45H", Strength()),
        ("M12×1.25 ISO 8673 8", Strength()),
        ("nut 1/2-13 UNC A2-70", Strength()),
        ("nut 1/2-12 grade 5", Strength()),
        ("nut #10-24 grade 5", Strength()),
        ("M30×80 ISO 4014 A2-70", Strength()),
        ("M42×120 ISO 4014 8.8", Strength()),
        ("M8 ISO 7089 200HV", Strength()),
        ("1/4-20 A2-70", Strength()),
        ("M8×20 ISO 4762", Strength()),
    ],
)
def test_strength_by_the_standard_of_the_class(text: str, strength: Strength) -> None:
    """ISO 898-1, -2, ISO 3506-1, -2: what they give, and nothing beside it."""
    assert strength_of(parse_designation(text)[0]) == strength


@pytest.mark.parametrize(("thread", "expected"), ISO_724.items())
def test_metric_diameters(thread: str, expected: tuple[float, float]) -> None:
    """ISO 724 basic pitch and minor diameters (M), to the thousandth of a millimetre."""
    found = (pitch_diameter(thread), minor_diameter(thread))
    assert found == pytest.approx(expected, abs=0.0006)


@pytest.mark.parametrize(("thread", "expected"), ASME_DIAMETERS.items())
def test_inch_diameters(thread: str, expected: tuple[float, float]) -> None:
    """ASME B1.1 basic pitch and minor diameters in inches (M)."""
    ours, inner = pitch_diameter(thread), minor_diameter(thread)
    assert ours is not None
    assert inner is not None
    assert (ours / 25.4, inner / 25.4) == pytest.approx(expected, abs=0.00006)


@pytest.mark.parametrize(("size", "expected"), ISO_228_1.items())
def test_pipe_diameters(size: str, expected: tuple[float, float]) -> None:
    """ISO 228-1 pitch and minor diameters (R); ISO 7-1 has the same in its gauge plane (M)."""
    for body in ("G", "R"):
        found = (pitch_diameter(body + size), minor_diameter(body + size))
        assert found == pytest.approx(expected, abs=0.0015)


@given(st.sampled_from(sorted(COARSE)), st.sampled_from(["0.35", "0.5", "0.75", "1", "1.5", "2"]))
def test_the_stress_area_lies_between_core_and_shank(size: str, fine: str) -> None:
    """ISO 898-1 means the circle of (d2 + d3)/2: inside of d2, outside of d3 = d − 1.22687 P."""
    thread = f"M{size}×{fine}"
    if not is_made(size, fine):
        return
    area, middle = stress_area(thread), pitch_diameter(thread)
    assert area is not None
    assert middle is not None
    core = float(size) - 1.22687 * float(fine)
    assert core < math.sqrt(4 / math.pi * area) < middle
    assert area == pytest.approx(math.pi / 4 * ((middle + core) / 2) ** 2, rel=1e-3)


@pytest.mark.parametrize(
    ("text", "ksi"),
    [
        # SAE J995 (M): UNC, then UNF, up to 1 in.
        ("nut 1/4-20 UNC grade 2", 90),
        ("nut 1/2-13 UNC grade 5", 120),
        ("nut 1/2-20 UNF grade 5", 109),
        ("nut 3/4-10 grade 8", 150),
    ],
)
def test_proof_stress_of_inch_nuts(text: str, ksi: float) -> None:
    """SAE J995, from memory; 1 ksi is 6.894 757 MPa (NIST SP 811, B.8)."""
    found = strength_of(parse_designation(text)[0])
    assert found.proof == pytest.approx(ksi * 6.894757, rel=1e-6)
    assert found.source == "SAE J995"


def test_a_nut_is_never_weaker_than_the_bolt_of_its_grade() -> None:
    """SAE J995 is made to go with SAE J429: the bolt breaks before the nut strips (M)."""
    for size in ("1/4-20", "1/2-13", "1-8"):
        for grade in ("grade 2", "grade 5", "grade 8"):
            nut, bolt = (
                strength_of(parse_designation(f"{k}{size} {grade}")[0]) for k in ("nut ", "")
            )
            assert nut.proof is not None
            assert bolt.proof is not None
            assert nut.proof > bolt.proof
