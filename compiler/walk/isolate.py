"""Isolation and restoration, written out in the order of 29 CFR 1910.147 (d) and (e)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from compiler.model import Energy
from compiler.walk.assembly import Unit
from compiler.walk.deeds import Deeds, Meant, Phrases
from compiler.walk.nodes import Deed
from compiler.walk.state import EnergyState

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

ISOLATION = (Deed.SHUT_DOWN, Deed.ISOLATE, Deed.LOCK_OUT, Deed.DISCHARGE, Deed.VERIFY)
"""29 CFR 1910.147 (d)(2), (d)(3), (d)(4), (d)(5), (d)(6)."""

RESTORATION = (Deed.CLEAR, Deed.UNLOCK_OUT, Deed.TELL, Deed.ENERGIZE)
"""29 CFR 1910.147 (e)(1) and (e)(2)(i), (e)(3), (e)(2)(ii), and only then the switch."""


def isolate(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
    """Stop, isolate, lock and tag, let out what is stored, prove.

    What is isolated already is only proved again. The author's phrases (the tester) go with the
    proof.
    """
    live = _those(deeds, meant, lambda state: not state.isolated)
    for deed in ISOLATION[:3]:
        deeds.do(deed, live)
    deeds.do(Deed.DISCHARGE, [one for one in live if _stores(deeds, one)])
    deeds.do(Deed.VERIFY, meant, phrases)


def verify(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
    """Prove the isolation."""
    deeds.do(Deed.VERIFY, meant, phrases)


def discharge(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
    """Let out what is stored."""
    deeds.do(Deed.DISCHARGE, meant, phrases)


def restore(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
    """Look round, locks off, tell, switch on: for what is isolated, or all when nothing is."""
    isolated = _those(deeds, meant, lambda state: state != EnergyState())
    chosen = isolated or list(meant)
    for deed in RESTORATION[:3]:
        deeds.do(deed, chosen)
    deeds.do(Deed.ENERGIZE, chosen, phrases)


def _those(
    deeds: Deeds, meant: Sequence[Meant], test: Callable[[EnergyState], bool]
) -> list[Meant]:
    """Return the energies of which the test is true, in the order they are named; text too."""
    return [one for one in meant if not one.units or any(_states(deeds, one.units, test))]


def _states(
    deeds: Deeds, units: Iterable[Unit], test: Callable[[EnergyState], bool]
) -> Iterable[bool]:
    return (test(deeds.state.energy(unit)) for unit in units)


def _stores(deeds: Deeds, meant: Meant) -> bool:
    """Return whether there is something to let out: the kind says so, or the author does."""
    thing = deeds.assembly.things.get(meant.units[0][0]) if meant.units else None
    return isinstance(thing, Energy) and (bool(thing.release) or thing.kind in STORED)
