"""Isolation and restoration, written out in the order of 29 CFR 1910.147 (d) and (e)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from compiler.model import Energy
from compiler.trade.isolation import LOCKING_OUT, RELEASE
from compiler.walk.assembly import Unit
from compiler.walk.deeds import Deeds, Meant, Phrases
from compiler.walk.nodes import Deed
from compiler.walk.state import EnergyState
from compiler.walk.stored import STORED

ISOLATION = tuple(Deed(word) for _, word in LOCKING_OUT)
RESTORATION = tuple(Deed(word) for _, word in RELEASE)


def isolate(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
    """Stop, isolate, lock and tag, let out what is stored, prove.

    What is isolated already is only proved again. The author's phrases (the tester) go with the
    proof.
    """
    live = _those(deeds, meant, lambda state: not state.isolated)
    for deed in ISOLATION:
        if deed is Deed.VERIFY:
            deeds.do(deed, meant, phrases)
        elif deed is Deed.DISCHARGE:
            deeds.do(deed, [one for one in live if _stores(deeds, one)])
        else:
            deeds.do(deed, live)


def verify(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
    """Prove the isolation."""
    deeds.do(Deed.VERIFY, meant, phrases)


def discharge(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
    """Let out what is stored."""
    deeds.do(Deed.DISCHARGE, meant, phrases)


def restore(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
    """Look round, locks off, tell, switch on: for what is isolated, or all when nothing is.

    So one way back can serve several ways in; in the author's own line the rest is found.
    """
    isolated = _those(deeds, meant, lambda state: state != EnergyState())
    chosen = isolated or list(meant)
    lacking = tuple(phrase for phrase in phrases if phrase.word == "without")
    for deed in RESTORATION:
        if deed is Deed.ENERGIZE:
            deeds.do(deed, chosen, phrases)
        else:
            deeds.do(deed, chosen, lacking if deed is Deed.CLEAR else ())


def _those(
    deeds: Deeds, meant: Sequence[Meant], test: Callable[[EnergyState], bool]
) -> list[Meant]:
    """Return the energies of which the test is true, in the order they are named; text too."""
    return [one for one in meant if not one.units or any(_states(deeds, one.units, test))]


def _states(
    deeds: Deeds, units: Iterable[Unit], test: Callable[[EnergyState], bool]
) -> Iterator[bool]:
    """Yield the answer for each state that a unit may be in, whichever arm of a branch was done."""
    for unit in units:
        yield test(deeds.state.energy(unit))
        other = deeds.state.maybe.get(unit)
        if isinstance(other, EnergyState):
            yield test(other)


def _stores(deeds: Deeds, meant: Meant) -> bool:
    """Return whether there is something to let out: the kind says so, or the author does."""
    thing = deeds.assembly.things.get(meant.units[0][0]) if meant.units else None
    return isinstance(thing, Energy) and (bool(thing.release) or thing.kind in STORED)
