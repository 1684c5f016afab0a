"""How strong a fastener is by its class: proof stress of screws and nuts, yield of stainless."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from compiler.trade.designation import Designation
from compiler.trade.inch_series import thread_of
from compiler.trade.standards import family_of
from compiler.trade.threads import KSI, is_coarse, is_metric, proof_stress

_COMMON_SIZES = (4, 7, 10, 16, 39)
"""The largest diameters in mm of the ranges of ISO 898-2."""

_PROOF_NUT: Mapping[str, tuple[int | None, ...]] = {
    "04": (380, 380, 380, 380, 380),
    "05": (500, 500, 500, 500, 500),
    "5": (520, 580, 590, 610, 630),
    "6": (600, 670, 680, 700, 720),
    "8": (800, 855, 870, 880, 920),
    "9": (900, 915, 940, 950, 920),
    "10": (1040, 1040, 1040, 1050, 1060),
    "12": (1150, 1150, 1160, 1190, 1200),
}
"""Stress under proof load of nuts with coarse thread in MPa, by the ranges above, ISO 898-2; from
memory. The loads of its 2012 edition are these times the stress area."""

_YIELD_STAINLESS: Mapping[str, int] = {"50": 210, "70": 450, "80": 600, "100": 800}
"""Stress at 0.2 % permanent strain in MPa by property class, ISO 3506-1; 70 second-hand, the others
from memory. Up to M24; thicker ones as agreed."""

_PROOF_STAINLESS_NUT: Mapping[str, int] = {
    "50": 500, "70": 700, "80": 800, "025": 250, "035": 350, "040": 400,
}  # fmt: skip
"""Stress under proof load of stainless nuts in MPa by property class, ISO 3506-2; from memory. Up
to M24."""

_LARGEST_STAINLESS = 24

_PROOF_INCH_NUT: Mapping[str, tuple[int, int]] = {
    "grade 2": (90, 90),
    "grade 5": (120, 109),
    "grade 8": (150, 150),
}
"""Stress under proof load of hexagon nuts in ksi, UNC and UNF from 1/4 to 1 in, SAE J995; from
memory. Not of jam nuts and slotted ones."""

_WEAKER = ("thin", "jam", "slotted", "castle")


@dataclass(frozen=True, slots=True)
class Strength:
    """Proof and yield stress in MPa, None where the standard gives none, and which standard."""

    proof: float | None = None
    yields: float | None = None
    source: str = ""


def strength_of(designation: Designation) -> Strength:
    """Return the strength of a screw or nut by its class; all None where no standard gives one.

    ISO 898-1 and -2, ISO 3506-1 and -2, SAE J429 and J995. Set screws have no proof stress
    (ISO 898-5).
    """
    grade, thread, family = designation.grade, designation.thread, family_of(designation.kind)
    if not grade or not designation.threaded or designation.diameter is None:
        return Strength()
    stainless = grade.partition("-")[2]
    if stainless and is_metric(thread):
        return _stainless(designation, stainless, family)
    if family == "nut":
        return _nut(designation, grade)
    if family == "set screw":
        return Strength()
    found = proof_stress(grade, thread)
    source = "ISO 898-1" if is_metric(thread) else "SAE J429"
    return Strength(proof=found, source=source) if found is not None else Strength()


def _stainless(designation: Designation, grade: str, family: str) -> Strength:
    if designation.diameter is None or designation.diameter > _LARGEST_STAINLESS:
        return Strength()
    if family == "nut":
        found = _PROOF_STAINLESS_NUT.get(grade)
        return Strength(proof=found, source="ISO 3506-2") if found else Strength()
    found = _YIELD_STAINLESS.get(grade) if family != "set screw" else None
    return Strength(yields=found, source="ISO 3506-1") if found else Strength()


def _nut(designation: Designation, grade: str) -> Strength:
    diameter, thread = designation.diameter, designation.thread
    if diameter is not None and not is_metric(thread):
        return _inch_nut(designation, grade)
    if diameter is None or not is_coarse(thread):
        return Strength()
    for largest, stress in zip(_COMMON_SIZES, _PROOF_NUT.get(grade, ()), strict=False):
        if diameter <= largest:
            return Strength(proof=stress, source="ISO 898-2")
    return Strength()


def _inch_nut(designation: Designation, grade: str) -> Strength:
    size = designation.thread.partition("-")[0]
    series = [thread_of(size, name) == designation.thread for name in ("UNC", "UNF")]
    stress = _PROOF_INCH_NUT.get(grade)
    weaker = any(word in designation.kind for word in _WEAKER)
    if stress is None or weaker or not any(series) or size.startswith("#"):
        return Strength()
    return Strength(proof=stress[series.index(True)] * KSI, source="SAE J995")
