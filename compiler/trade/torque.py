"""The short form of torque, what a thread bears of it, and the setting with an adapter."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from compiler.trade.contradictions import SCREW_CLASS_OF
from compiler.trade.designation import Designation
from compiler.trade.standards import family_of
from compiler.trade.strength import strength_of
from compiler.trade.threads import proof_stress, stress_area
from compiler.trade.units import Quantity, convert

K_SOURCE = "Shigley, Mechanical Engineering Design, Table 8-15"

K_OF: Mapping[str, float] = {
    "black": 0.30,
    "zinc-plated": 0.20,
    "lubricated": 0.18,
    "cadmium-plated": 0.16,
    "anti-seize": 0.12,
}
"""Torque factors by the state of the thread, Shigley, Table 8-15 (read). Other handbooks differ a
lot, so a K is always shown beside what was worked out with it."""

SHARE_REUSED = 0.75
"""Preload of a joint that is opened again, as a share of the proof load (second-hand)."""

SHARE_PERMANENT = 0.90
"""The same for a joint that stays closed (from memory)."""


@dataclass(frozen=True, slots=True)
class ShortForm:
    """A torque by the short form, with all that went into it. `formula` shows it with numbers."""

    torque_nm: float
    k: float
    diameter_mm: float
    preload_n: float
    formula: str
    source: str


def short_form(k: float, diameter_mm: float, preload_n: float, source: str = "") -> ShortForm:
    """Return T = K·D·F in N·m, for D in mm and F in N."""
    torque = k * diameter_mm / 1000 * preload_n
    load = f"{preload_n / 1000:.3g} kN"
    formula = f"T = K·D·F = {k:.2f} × {diameter_mm:g} mm × {load} = {torque:.3g} N·m"
    return ShortForm(torque, k, diameter_mm, preload_n, formula, source)


def preload(thread: str, grade: str, share: float = SHARE_REUSED) -> float | None:
    """Return `share` of the proof load in N; None where thread or grade have no known strength."""
    area, stress = stress_area(thread), proof_stress(grade, thread)
    return None if area is None or stress is None else share * area * stress


def adapter_setting(torque: float, length: float, extension: float, angle_deg: float = 0) -> float:
    """Return what the wrench is set to so that `torque` arrives: T·L / (L + E·cos a).

    `length` from the drive to where the hand pulls, `extension` that of the adapter, both in one
    unit; `angle_deg` from straight out (0) over square (90, no change) to folded back (180).
    Source: US Army TM 9-254, fig. 46. Raises ValueError when the adapter reaches back to the hand.
    """
    reach = length + extension * math.cos(math.radians(angle_deg))
    if length <= 0 or reach <= 0:
        raise ValueError("the adapter is as long as the wrench, or longer, and folded back")
    return torque * length / reach


# --- What a joint bears -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Factors:
    """The torque factors that a thread may have: lowest, highest, what for, and the source."""

    low: float
    high: float
    words: str
    source: str = K_SOURCE

    @property
    def text(self) -> str:
        """Return the factor, or from which to which: `0.18`, `0.12 to 0.30`."""
        same = self.low == self.high
        return f"{self.low:.2f}" if same else f"{self.low:.2f} to {self.high:.2f}"


_WHOLE = (min(K_OF.values()), max(K_OF.values()))

_BY_WORD: Mapping[str, str] = {
    "anti-seize": "anti-seize",
    "antiseize": "anti-seize",
    "anti seize": "anti-seize",
    "oil": "lubricated",
    "grease": "lubricated",
}
"""Which row of the table a substance belongs to, by a word of its name."""


def factors_of(state: str, substance: str = "") -> Factors:
    """Return the factors that a thread may have in the state that is stated.

    `state` is "dry", "oiled", "with" (then `substance` says what, in words) or "" for not stated.
    A dry thread may be plated or not, which nothing says, so it has the factors of both. Of a
    substance that the table does not have, and of a state that is not stated, nothing is known but
    the whole table.
    """
    if state == "dry":
        return Factors(K_OF["zinc-plated"], K_OF["black"], "dry: zinc-plated to not plated")
    if state == "oiled":
        return Factors(K_OF["lubricated"], K_OF["lubricated"], "oiled: lubricated")
    if state == "with":
        words = substance.casefold()
        for word, row in _BY_WORD.items():
            if re.search(rf"(?<!\w){word}(?!\w)", words):
                return Factors(K_OF[row], K_OF[row], f"with {substance}: {row}")
        return Factors(*_WHOLE, f"with {substance}, which the table does not have: all of it")
    return Factors(*_WHOLE, "thread state not stated: all of the table")


@dataclass(frozen=True, slots=True)
class Bearing:
    """What the thread of a joint bears: stress area in mm², stress in MPa, and their load in N.

    `kind` says which load: "proof load", or "yield load" where the standard gives no proof.
    `grade` is the class that was looked up; for a nut it is that of the screw it belongs on.
    `known` is False where no class is stated and the strongest was taken.
    """

    thread: str
    diameter_mm: float
    area_mm2: float
    stress_mpa: float
    kind: str
    grade: str
    source: str
    known: bool = True

    @property
    def load_n(self) -> float:
        """Return the load in N."""
        return self.area_mm2 * self.stress_mpa


STRONGEST = "12.9"
"""The strongest class of ISO 898-1: no screw with a stated class bears more."""

_STRONGEST_STRESS = 970.0
"""Its proof stress in MPa, ISO 898-1; second-hand."""

_JUDGED = frozenset(("screw", "nut", "set screw"))
_BY_HAND = frozenset(("wing", "thumb", "knurled", "union", "eye", "u"))
"""First words of kinds that are turned by hand, or hold a pipe or a hook: not judged."""


@lru_cache(maxsize=4096)
def bearing_of(designation: Designation) -> Bearing | None:
    """Return what the thread of a fastener bears; None where nothing can be said.

    Screws by their proof stress (ISO 898-1, SAE J429), stainless ones by their yield (ISO 3506-1).
    A nut, whose screw nobody names, by the screw that its class is made for (ISO 898-2), but never
    by more than the nut itself bears; a thin nut by itself. Where no class is stated, and for set
    screws, which have no proof stress (ISO 898-5), by the strongest class there is: what is too
    much for that is too much for all. Plugs, knobs and the like are not judged.
    """
    area, diameter = stress_area(designation.thread), designation.diameter
    family = family_of(designation.kind) or ("screw" if designation.kind == "fastener" else "")
    by_hand = re.split(r"[ -]", designation.kind)[0].casefold() in _BY_HAND
    if area is None or diameter is None or family not in _JUDGED or by_hand:
        return None
    stress, kind, grade, source, known = _stress(designation, family)
    if not stress:
        return None
    return Bearing(designation.thread, float(diameter), area, stress, kind, grade, source, known)


def _stress(designation: Designation, family: str) -> tuple[float, str, str, str, bool]:
    """Return stress in MPa, which load it stands for, class, source, whether the class is known."""
    own, grade, thread = strength_of(designation), designation.grade, designation.thread
    unknown = (_STRONGEST_STRESS, "proof load", STRONGEST, "ISO 898-1", False)
    if family == "nut":
        yields = strength_of(replace(designation, kind="screw")).yields
        if yields:
            return yields, "yield load", grade, "ISO 3506-1", True
        mate = SCREW_CLASS_OF.get(grade, grade if grade.startswith("grade") else "")
        screw = proof_stress(mate, thread) if mate else None
        if own.proof and (screw is None or own.proof < screw):
            return own.proof, "proof load", grade, own.source, True
        if screw is None:
            return unknown
        source = "SAE J429" if grade.startswith("grade") else "ISO 898-1 and 898-2"
        return screw, "proof load", mate, source, True
    if own.proof:
        return own.proof, "proof load", grade, own.source, True
    if own.yields:
        return own.yields, "yield load", grade, own.source, True
    return unknown


def preload_at(torque_nm: float, k: float, diameter_mm: float) -> float:
    """Return the preload in N of a torque in N·m on D in mm, by the short form: F = T / (K·D)."""
    return torque_nm / (k * diameter_mm / 1000)


def preloads(torque_nm: float, factors: Factors, bearing: Bearing) -> tuple[float, float]:
    """Return the least and the most preload in N that a torque in N·m can give (short form)."""
    size = bearing.diameter_mm
    return (
        preload_at(torque_nm, factors.high, size),
        preload_at(torque_nm, factors.low, size),
    )


LEAST_SHARE = 0.10
"""Preload below which a torque looks like a slip, as a share of the proof load: common practice, no
source. Covers with gaskets, plastic and light guards are done up to more than that."""

LEAST_SHARE_SMALL_UNIT = 0.15
"""The same for a value in a small unit that would be usual in a larger one; common practice."""

_USUAL_STRENGTH = 600.0
"""Stress in MPa above which a stronger class is no reason for more torque: socket screws are made
in 12.9 whatever they hold. Proof stress of 8.8 above M16, ISO 898-1."""


def too_much(torque_nm: float, factors: Factors, bearing: Bearing) -> bool:
    """Return whether the least preload that a torque in N·m can give is over what it bears."""
    return preloads(torque_nm, factors, bearing)[0] > bearing.load_n * 1.001


def least_torque(factors: Factors, bearing: Bearing, share: float = LEAST_SHARE) -> float:
    """Return the torque in N·m below which even the most preload is under `share` of the load."""
    load = min(bearing.stress_mpa, _USUAL_STRENGTH) * bearing.area_mm2
    return short_form(factors.low, bearing.diameter_mm, share * load).torque_nm


def most_torque(factors: Factors, bearing: Bearing) -> float:
    """Return the torque in N·m above which even the least preload is over what it bears."""
    return short_form(factors.high, bearing.diameter_mm, bearing.load_n).torque_nm


MIXED_UNITS = ("N·m", "lbf·in", "lbf·ft")
"""Units of torque that are taken for each other."""


def meant_instead(value: Quantity, factors: Factors, bearing: Bearing) -> Quantity | None:
    """Return the same number in the unit that was probably meant; None if none makes it usual.

    Usual: the preload is between 20 % and 100 % of the proof load with a factor that is possible.
    The nearest to three quarters of it is taken.
    """
    found: list[tuple[float, Quantity]] = []
    middle = math.sqrt(factors.low * factors.high)
    for unit in MIXED_UNITS:
        other = Quantity(value.value, unit, value.text)
        if convert(value, unit).value == value.value:
            continue
        low, high = preloads(float(other.si), factors, bearing)
        if low <= bearing.load_n and high >= _USUAL_LEAST * bearing.load_n:
            share = preload_at(float(other.si), middle, bearing.diameter_mm) / bearing.load_n
            found.append((abs(math.log(share / SHARE_REUSED)), other))
    return min(found, key=lambda one: one[0])[1] if found else None


_USUAL_LEAST = 0.2
