"""The whole geometry of a fastener from its designation, each value with where it comes from.

What is not known is None; nothing is guessed. Lengths in mm, areas in mm², stresses in MPa, loads
in N.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

from compiler.trade.designation import Designation, describe
from compiler.trade.drives import Drive, DriveKind
from compiler.trade.seats import key_shaft, pliers_range
from compiler.trade.strength import Strength, strength_of
from compiler.trade.threads import minor_diameter, pitch, pitch_diameter, stress_area
from compiler.trade.wrenching import drive_of, hand_need, torque_need


@dataclass(frozen=True, slots=True)
class Fact:
    """One value: its number (None for one in words), its unit, as it is printed, its source."""

    text: str
    source: str
    number: float | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Geometry:
    """All that follows from a designation. `rows` gives what is known in the order to print it."""

    designation: Designation
    kind: str
    size: str
    diameter: Fact | None = None
    pitch: Fact | None = None
    pitch_diameter: Fact | None = None
    minor_diameter: Fact | None = None
    stress_area: Fact | None = None
    proof_stress: Fact | None = None
    yield_stress: Fact | None = None
    proof_load: Fact | None = None
    drive: Fact | None = None
    wrench_size: Fact | None = None
    hand_tool: Fact | None = None
    torque_tool: Fact | None = None
    pliers_range: Fact | None = None
    shaft: Fact | None = None

    def rows(self) -> tuple[tuple[str, Fact], ...]:
        """Return what is known, each with its name in words."""
        found = ((LABELS.get(f.name, ""), getattr(self, f.name)) for f in fields(self))
        return tuple((label, fact) for label, fact in found if label and fact is not None)


LABELS = {
    "diameter": "nominal diameter",
    "pitch": "pitch",
    "pitch_diameter": "pitch diameter",
    "minor_diameter": "minor diameter",
    "stress_area": "stress area",
    "proof_stress": "proof stress",
    "yield_stress": "yield stress",
    "proof_load": "proof load",
    "drive": "drive",
    "wrench_size": "wrench size",
    "hand_tool": "by hand",
    "torque_tool": "on a torque wrench",
    "pliers_range": "ring pliers for",
    "shaft": "for a shaft",
}
"""The fields of `Geometry` that can be printed, in their order, with their names in words."""


def geometry_of(designation: Designation) -> Geometry:
    """Return the geometry of a fastener. Never raises; sources are named with each value."""
    size, kind = describe(designation)
    strength = strength_of(designation)
    drive = drive_of(designation)
    by_hand, on_wrench = hand_need(designation), torque_need(designation)
    # A washer is named after the thread of its bolt and has none itself.
    thread = designation.thread if designation.threaded else ""
    pitch_of = pitch(thread)
    pitch_mm = float(pitch_of) if pitch_of is not None else None
    source = _thread_source(thread)
    wide = float(designation.diameter) if designation.diameter is not None else None
    return Geometry(
        designation,
        kind,
        size,
        diameter=_number(wide, "mm", _thread_source(designation.thread)),
        pitch=_number(pitch_mm, "mm", source),
        pitch_diameter=_number(pitch_diameter(thread), "mm", _profile_source(thread)),
        minor_diameter=_number(minor_diameter(thread), "mm", _profile_source(thread)),
        stress_area=_number(stress_area(thread), "mm²", _area_source(thread)),
        proof_stress=_number(strength.proof, "MPa", strength.source),
        yield_stress=_number(strength.yields, "MPa", strength.source),
        proof_load=_load(strength, thread),
        drive=_words(drive.kind, drive.source) if drive is not None else None,
        wrench_size=_wrench_size(drive) if drive is not None else None,
        hand_tool=_words(by_hand.text, _tool_source(drive)),
        torque_tool=_words(on_wrench.text, _tool_source(drive)) if on_wrench else None,
        pliers_range=_words(*pliers_range(designation)),
        shaft=_words(*key_shaft(designation)),
    )


def _number(value: float | None, unit: str, source: str) -> Fact | None:
    if value is None:
        return None
    return Fact(f"{_digits(value, unit)} {unit}", source, value, unit)


def _digits(value: float, unit: str) -> str:
    """Return a number as the tables of its standard print it.

    Lengths to a thousandth of a millimetre, areas with three digits, the rest whole.
    """
    if unit == "mm":
        return f"{value:.3f}".rstrip("0").rstrip(".")
    return f"{value:.3g}" if unit == "mm²" and value < 1000 else f"{value:.0f}"


def _words(text: str, source: str) -> Fact | None:
    return Fact(text, source) if text else None


_MEASURED: Mapping[DriveKind, str] = {
    "hexagon": " across flats",
    "square": " across flats",
    "slot": " wide",
    "grooves": " outside",
}


def _wrench_size(drive: Drive) -> Fact | None:
    """Return the size of a drive, and what of it is measured."""
    return _words(
        f"{drive.size}{_MEASURED.get(drive.kind, '')}" if drive.size else "", drive.source
    )


def _load(strength: Strength, thread: str) -> Fact | None:
    """Return the proof load: stress times area, to the three digits that the tables give."""
    area = stress_area(thread)
    if strength.proof is None or area is None:
        return None
    load = float(f"{strength.proof * area:.3g}")
    return _number(load, "N", strength.source)


def _thread_source(thread: str) -> str:
    if thread.startswith("M"):
        return "ISO 261"
    if thread.startswith("G"):
        return "ISO 228-1"
    if thread.startswith("R"):
        return "ISO 7-1"
    return "ISO 1478" if thread.startswith("ST") else "ASME B1.1"


def _profile_source(thread: str) -> str:
    return "ISO 724" if thread.startswith("M") else _thread_source(thread)


def _area_source(thread: str) -> str:
    return "ISO 898-1" if thread.startswith("M") else "ASME B1.1"


def _tool_source(drive: Drive | None) -> str:
    return drive.source if drive is not None else "common practice, no source"
