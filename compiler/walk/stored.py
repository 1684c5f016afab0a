"""Energies that stay behind when the machine is shut off."""

from __future__ import annotations

from compiler.model import Energy

STORED = frozenset(
    {
        "stored-charge",
        "pressure",
        "hydraulic",
        "pneumatic",
        "steam",
        "spring",
        "gravity",
        "heat",
        "chemical",
        "motion",
    }
)
"""Kinds of energy that stay behind the closed device until they are let out or made safe."""


def without_device(energy: Energy) -> bool:
    """Return whether there is nothing to isolate it at: a spring, a weight, an accumulator."""
    return not energy.isolate_at and energy.kind in STORED


def stays_out(energy: Energy) -> bool:
    """Return whether, once let out, it does not come back by itself: a spring.

    A pressure, a charge or heat comes back with the machine, as long as it is not isolated, and a
    weight that was let down is lifted by it.
    """
    return energy.kind == "spring"
