"""Pitches, stress areas and proof loads against the tables of ISO 898-1, ASME B1.1, SAE J429."""

from __future__ import annotations

import pytest

from compiler.trade.threads import pitch, proof_stress, stress_area

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
