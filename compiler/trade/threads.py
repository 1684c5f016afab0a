"""Threads and their strength: pitch, stress area and proof stress, by the thread's name.

Names are as in designations: "M8", "M10×1.25", "1/4-20", "#10-24", "G1/4". None means not known
here; it is never guessed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction

from compiler.trade.designation import Designation, parse_designation

_INCH = Fraction(254, 10)
KSI = 6.894757293168
"""MPa in a ksi; NIST SP 811, B.8."""

_PIPE_THREADS_PER_INCH: Mapping[str, int] = {
    "1/8": 28,
    "1/4": 19,
    "3/8": 19,
    "1/2": 14,
    "5/8": 14,
    "3/4": 14,
    "1": 11,
    "1-1/4": 11,
    "1-1/2": 11,
    "2": 11,
}
"""Pipe threads of ISO 228-1 (G) and ISO 7-1 (R, Rp, Rc); from memory."""

_PIPE_DIAMETERS: Mapping[str, float] = {
    "1/8": 9.728,
    "1/4": 13.157,
    "3/8": 16.662,
    "1/2": 20.955,
    "5/8": 22.911,
    "3/4": 26.441,
    "1": 33.249,
    "1-1/4": 41.910,
    "1-1/2": 47.803,
    "2": 59.614,
}
"""Major diameters in mm of the same pipe threads, ISO 228-1; read in library data."""

_SHARP = math.sqrt(3) / 2
"""Height of the sharp triangle of a 60° thread, in pitches (ISO 68-1)."""

_PROOF_ISO: Mapping[str, tuple[tuple[int, float], ...]] = {
    "4.6": ((39, 225.0),),
    "4.8": ((39, 310.0),),
    "5.6": ((39, 280.0),),
    "5.8": ((39, 380.0),),
    "6.8": ((39, 440.0),),
    "8.8": ((16, 580.0), (39, 600.0)),
    "9.8": ((16, 650.0),),
    "10.9": ((39, 830.0),),
    "12.9": ((39, 970.0),),
}
"""Proof stress in MPa up to a nominal diameter in mm, ISO 898-1. 8.8, 10.9 and 12.9 second-hand
(the 8.8 value up to M16 worked out from the published loads); the other classes from memory."""

_PROOF_SAE: Mapping[str, tuple[tuple[Fraction, float], ...]] = {
    "grade 2": ((Fraction(3, 4), 55.0), (Fraction(3, 2), 33.0)),
    "grade 5": ((Fraction(1), 85.0), (Fraction(3, 2), 74.0)),
    "grade 1": ((Fraction(3, 2), 33.0),),
    "grade 4": ((Fraction(3, 2), 65.0),),
    "grade 5.2": ((Fraction(1), 85.0),),
    "grade 7": ((Fraction(3, 2), 105.0),),
    "grade 8.1": ((Fraction(3, 2), 120.0),),
    "grade 8.2": ((Fraction(1), 120.0),),
    "grade 8": ((Fraction(3, 2), 120.0),),
}
"""Proof stress in ksi up to a nominal diameter in inches, from 1/4 in, SAE J429 (2, 5 and 8
second-hand, the others from memory).
Grade 2 up to 3/4 in holds for bolts up to 6 in long."""


def pitch(thread: str) -> Fraction | None:
    """Return the pitch in mm, the coarse one where the name has none; None if unknown.

    Metric: ISO 261/262. Inch: from the threads per inch in the name. Pipe: ISO 228-1, from memory.
    """
    found = _read(thread)
    if found is None:
        return None
    if found.pitch is not None or found.diameter is not None:
        return found.pitch
    body, size = _pipe(found.thread)
    per_inch = _PIPE_THREADS_PER_INCH.get(size) if body in ("G", "R", "Rp", "Rc") else None
    return _INCH / per_inch if per_inch else None


def stress_area(thread: str) -> float | None:
    """Return the tensile stress area in mm²; None for a thread without one (pipe) or unknown.

    Metric (ISO 898-1): (π/4)(d − 0.9382 P)². Inch (ASME B1.1): (π/4)(d − 0.9743/n)². Both formulas
    from memory; they give every row of the published tables.
    """
    found = _read(thread)
    if found is None or found.diameter is None or found.pitch is None:
        return None
    depth = 0.9382 if is_metric(thread) else 0.9743
    core = float(found.diameter) - depth * float(found.pitch)
    return math.pi / 4 * core**2 if core > 0 else None


def pitch_diameter(thread: str) -> float | None:
    """Return the basic pitch diameter in mm; None for a thread that has none here.

    Metric and unified threads: d − (3/4)·(√3/2)·P (ISO 724, ASME B1.1). Pipe threads G and R:
    d − 0.640327 P (ISO 228-1, ISO 7-1; in the gauge plane of a taper thread).
    """
    return _inside(thread, 0.75 * _SHARP, 0.640327)


def minor_diameter(thread: str) -> float | None:
    """Return the basic minor diameter in mm, that of the bore of the nut; None if unknown.

    Metric and unified threads: d − (5/4)·(√3/2)·P (ISO 724, ASME B1.1). Pipe threads:
    d − 1.280654 P.
    """
    return _inside(thread, 1.25 * _SHARP, 1.280654)


def _inside(thread: str, sixty: float, whitworth: float) -> float | None:
    """Return the diameter less so many pitches, by the angle of the thread."""
    found, step = _read(thread), pitch(thread)
    if found is None or step is None:
        return None
    if found.diameter is not None:
        return float(found.diameter) - sixty * float(step)
    outside = _PIPE_DIAMETERS.get(_pipe(found.thread)[1])
    return outside - whitworth * float(step) if outside is not None else None


def is_coarse(thread: str) -> bool:
    """Return whether a metric thread has the coarse pitch: its name says none then."""
    return is_metric(thread) and "×" not in thread and pitch(thread) is not None


def proof_stress(grade: str, thread: str) -> float | None:
    """Return the proof stress in MPa of a bolt of this grade and thread; None if unknown.

    "8.8" with a metric thread: ISO 898-1; "grade 5" with an inch thread: SAE J429. Stainless
    classes (A2-70) have none in ISO 3506-1; classes of nuts ("8", "10") are not those of bolts.
    """
    found = _read(thread)
    if found is None or found.diameter is None:
        return None
    if is_metric(thread):
        return _up_to(_PROOF_ISO.get(grade, ()), found.diameter)
    inches = found.diameter / _INCH
    stress = _up_to(_PROOF_SAE.get(grade, ()), inches) if inches >= Fraction(1, 4) else None
    return None if stress is None else stress * KSI


def is_metric(thread: str) -> bool:
    """Return whether the name is that of a metric thread."""
    return thread.startswith("M")


def _read(thread: str) -> Designation | None:
    found, problems = parse_designation(thread)
    return found if found.thread and not problems else None


def _pipe(thread: str) -> tuple[str, str]:
    at = next((i for i, c in enumerate(thread) if c.isdigit()), len(thread))
    return thread[:at], thread[at:]


def _up_to(rows: Sequence[tuple[int | Fraction, float]], size: Fraction) -> float | None:
    return next((value for limit, value in rows if size <= limit), None)
