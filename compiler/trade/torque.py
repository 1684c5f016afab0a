"""The short form of torque, the preload behind it, and the setting with an adapter."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from compiler.trade.threads import proof_stress, stress_area

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

K_UNKNOWN = 0.20
"""For a thread whose state is not known (second-hand)."""

SHARE_REUSED = 0.75
"""Preload of a joint that is opened again, as a share of the proof load (second-hand)."""

SHARE_PERMANENT = 0.90
"""The same for a joint that stays closed (from memory)."""

_STATES: Mapping[str, str] = {"dry": "black", "oiled": "lubricated"}


@dataclass(frozen=True, slots=True)
class ShortForm:
    """A torque by the short form, with all that went into it. `formula` shows it with numbers."""

    torque_nm: float
    k: float
    diameter_mm: float
    preload_n: float
    formula: str
    source: str


def k_of(state: str, substance: str = "") -> tuple[float, str]:
    """Return the torque factor for a thread as the author states it, and where it comes from.

    `state` is "dry", "oiled", "with" (then `substance` says what) or "". A dry thread counts as
    nonplated black, the highest factor; a substance without a published one counts as unknown.
    """
    named = _STATES.get(state, substance if state == "with" else "")
    if named in K_OF:
        return K_OF[named], f"{K_SOURCE}: {named}"
    return K_UNKNOWN, "usual factor where the state of the thread is not known"


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
