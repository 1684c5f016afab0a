"""How much a thread in soft metal bears before it strips out, by its depth and its material.

The nut thread is sheared at the outside of the screw: the area is that of FED-STD-H28 and ASME B1.1
with basic sizes in the place of limits (formula from memory), so it is the most that there can be.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from compiler.trade.threads import pitch, pitch_diameter

AREA_SOURCE = "FED-STD-H28, ASME B1.1, basic sizes; from memory"
SHEAR_SHARE = 0.6
"""Shear strength as a share of the tensile strength: common practice, no source. By the theory of
von Mises it is 1/√3 = 0.577."""


@dataclass(frozen=True, slots=True)
class Material:
    """A soft material: tensile strength in MPa of what is usual, the weakest and the strongest.

    `depth` is the depth of thread that is usual for a steel screw, in diameters (common practice,
    no source); `words` says what the two ends are.
    """

    name: str
    low: float
    high: float
    depth: float
    words: str


MATERIALS: Mapping[str, Material] = {
    one.name: one
    for one in (
        Material("aluminium", 150, 310, 2.0, "a plain casting to 6082-T6"),
        Material("brass", 340, 430, 1.5, "CuZn39Pb3, soft to half hard"),
        Material("cast iron", 150, 250, 1.5, "GJL-150 to GJL-250"),
        Material("zinc", 280, 330, 2.0, "die castings"),
    )
}
"""Tensile strengths from memory: EN 1706, EN 755-2, EN 12164, EN 1561, EN 12844."""


@dataclass(frozen=True, slots=True)
class Engagement:
    """A thread of some depth: shear area in mm², and the loads in N at which it strips."""

    material: Material
    depth_mm: float
    diameter_mm: float
    area_mm2: float

    @property
    def loads_n(self) -> tuple[float, float]:
        """Return the load that strips the weakest of the material, and the strongest."""
        shear = SHEAR_SHARE * self.area_mm2
        return shear * self.material.low, shear * self.material.high


def engagement(thread: str, material: Material, depth_mm: float) -> Engagement | None:
    """Return a thread `depth_mm` deep in a material; None for a thread without known diameters.

    A = π·d·L·(1/2 + (d − d2)/(P·√3)) for the basic diameters d and d2: 0.875·π·d·L.
    """
    step, middle = pitch(thread), pitch_diameter(thread)
    if step is None or middle is None or thread.startswith(("G", "R")):
        return None
    # The basic profile has d − d2 = (3/4)·(√3/2)·P, so the diameter follows from both.
    diameter = middle + 0.75 * math.sqrt(3) / 2 * float(step)
    share = 0.5 + (diameter - middle) / (float(step) * math.sqrt(3))
    return Engagement(material, depth_mm, diameter, math.pi * diameter * depth_mm * share)
