"""What each verb with an effect comes to, written out in elementary acts.

Order within a step is that of the hands: what locks comes off before what holds, what holds before
the part; on the way back the other way round.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import TypeAlias

from compiler.model import AnyThing, Connection, Fastener, Fluid, Part, Prose
from compiler.trade.verbs import Effect
from compiler.walk.assembly import Unit
from compiler.walk.deeds import Deeds, Meant, Phrases
from compiler.walk.isolate import discharge, isolate, restore, verify
from compiler.walk.nodes import Deed, Target
from compiler.walk.state import FastenerState, LineState, PartState, Status

Write: TypeAlias = Callable[[Deeds, Sequence[Meant], Phrases], None]
One: TypeAlias = Callable[[Deeds, Meant, Phrases], None]


def write_out(deeds: Deeds, effect: Effect, meant: Sequence[Meant], phrases: Phrases) -> None:
    """Write out one action of the author.

    Of what is only named in quotes nothing is known that could be written out: where the verb
    comes to more than one act, the author's own word is said of it.
    """
    if effect in _OF_WHAT_IS_KNOWN:
        quoted = [one for one in meant if isinstance(one.spot, Prose)]
        meant = [one for one in meant if one not in quoted]
        if quoted:
            deeds.do(Deed.NEUTRAL, quoted, () if meant else phrases)
        if not meant:
            return
    _WRITERS[effect](deeds, meant, phrases)


def _thing(deeds: Deeds, meant: Meant) -> AnyThing | None:
    return deeds.assembly.things.get(meant.units[0][0]) if meant.units else None


def _age(meant: Meant) -> str:
    return meant.spot.age if isinstance(meant.spot, Target) else ""


# --- Off and on -------------------------------------------------------------------------------


def _remove(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    match _thing(deeds, meant):
        case Fastener():
            deeds.unlock(meant.units)
            deeds.loose(meant.units)
            deeds.do(Deed.UNDO, [meant], phrases)
        case Connection():
            deeds.loose(meant.units)
            deeds.do(Deed.DISCONNECT, [meant], phrases)
        case Part() | None:
            deeds.loose(meant.units)
            deeds.do(Deed.REMOVE, [meant], phrases)
        case _:
            deeds.do(Deed.TAKE_AID, [meant], phrases)


def _fit(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    new = _age(meant) == "new"
    match _thing(deeds, meant):
        case Fastener():
            deeds.do(Deed.START, [meant], phrases, new=new or _renewed(deeds, meant))
            deeds.started(meant.units)
            deeds.lock([u for u in meant.units if not deeds.turns(u)])
        case Connection():
            deeds.do(Deed.CONNECT, [meant], phrases, new=new)
            deeds.started(meant.units)
        case Part() | None:
            deeds.do(Deed.FIT, [meant], phrases, new=new)
            deeds.started(meant.units)
        case _:
            deeds.do(Deed.PUT_AID, [meant], phrases)


def _renewed(deeds: Deeds, meant: Meant) -> bool:
    """Return whether a single-use fastener that the author names is a new one.

    It is unless the line says `old`: a nut that is never used twice need not be called new.
    """
    return _age(meant) != "old" and bool(meant.units) and deeds.is_renewed(meant.units[0])


def _replace(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    """Old off and new on; of what is off and is put back further down, a new one stands ready."""
    ready = {unit: how for unit in meant.units if (how := _stays_off(deeds, unit))}
    if not ready:
        _replace_here(deeds, meant, phrases)
        return
    here = [unit for unit in meant.units if unit not in ready]
    for one in deeds.implied(here):
        _replace_here(deeds, one, phrases)
    for one in [meant] if not here else deeds.implied(ready):
        # A new one that goes in in any case is counted where it goes in.
        counted = all(ready[unit] == "the same" for unit in one.units)
        deeds.do(Deed.RENEW, [_new(one)], phrases, new=counted)


def _stays_off(deeds: Deeds, unit: Unit) -> str:
    """Return how what is off is put back further down; '' when it is in, or nobody does."""
    possible = (deeds.state.status(unit, deeds.assembly), deeds.state.maybe.get(unit))
    if deeds.later is None or not all(_is_off(one) for one in possible if one is not None):
        return ""
    return deeds.later.puts_back(unit)


def _is_off(status: Status) -> bool:
    match status:
        case PartState(seat="off") | FastenerState(hold="out") | LineState(connected=False):
            return True
        case _:
            return False


def _replace_here(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    match _thing(deeds, meant):
        case Fastener():
            _replace_fastener(deeds, meant, phrases)
        case Connection():
            _replace_line(deeds, meant, phrases)
        case Fluid():
            _replace_fluid(deeds, meant, phrases)
        case _:
            _replace_part(deeds, meant, phrases)


def _new(meant: Meant, age: str = "new") -> Meant:
    if not isinstance(meant.spot, Target):
        return meant
    return Meant(replace(meant.spot, age="new" if age == "new" else "old"), meant.units)


def _replace_part(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    """Old off with what holds it, new on, and as tight again as it was."""
    tight = [h for h in deeds.holders(meant.units) if deeds.state.fastener(h).hold == "tight"]
    there = [u for u in meant.units if deeds.state.part(u).seat != "off"]
    deeds.loose(meant.units)
    if there:
        deeds.do(Deed.REMOVE, [_new(meant, "old")])
    deeds.do(Deed.FIT, [_new(meant)], phrases, new=True)
    deeds.started(meant.units)
    _as_tight_again(deeds, tight)


def _as_tight_again(deeds: Deeds, tight: Sequence[Unit]) -> None:
    """Tighten what was tight before and is not now."""
    for one in deeds.implied(u for u in tight if deeds.state.fastener(u).hold == "hand"):
        deeds.do(Deed.TIGHTEN, [one], why="was tight before")
        deeds.lock(one.units)


def _replace_fastener(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    tight = [u for u in meant.units if deeds.state.fastener(u).hold == "tight"]
    deeds.unlock(meant.units)
    if any(deeds.state.fastener(u).hold != "out" for u in meant.units):
        deeds.do(Deed.UNDO, [_new(meant, "old")])
    deeds.do(Deed.START, [_new(meant)], phrases, new=True)
    _as_tight_again(deeds, tight)
    deeds.lock([u for u in tight if not deeds.turns(u)])


def _replace_line(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    tight = [h for h in deeds.holders(meant.units) if deeds.state.fastener(h).hold == "tight"]
    deeds.loose(meant.units)
    if any(deeds.state.line(u).connected for u in meant.units):
        deeds.do(Deed.DISCONNECT, [_new(meant, "old")])
    deeds.do(Deed.CONNECT, [_new(meant)], phrases, new=True)
    deeds.started(meant.units)
    _as_tight_again(deeds, tight)


def _replace_fluid(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    if any(deeds.state.fluid(u).filled for u in meant.units):
        deeds.do(Deed.DRAIN, [meant], tuple(p for p in phrases if p.word == "into"))
    deeds.do(Deed.FILL, [meant], tuple(p for p in phrases if p.word != "into"), new=True)


def _transfer(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    """Off the old carrier and onto the new one, with what holds it."""
    tight = [h for h in deeds.holders(meant.units) if deeds.state.fastener(h).hold == "tight"]
    deeds.loose(meant.units)
    deeds.do(Deed.TRANSFER, [meant], phrases)
    deeds.started(meant.units)
    _as_tight_again(deeds, tight)


# --- Fasteners --------------------------------------------------------------------------------


def _slacken(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    if isinstance(_thing(deeds, meant), Fastener) or not meant.units:
        deeds.unlock(meant.units)
        deeds.do(Deed.SLACKEN, [meant], phrases)
        return
    holders = [h for h in deeds.holders(meant.units) if deeds.turns(h)]
    still = [h for h in holders if deeds.state.fastener(h).hold == "tight"]
    for one in deeds.implied(still or holders):
        deeds.unlock(one.units)
        deeds.do(Deed.SLACKEN, [one], phrases)


def _tighten(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    if isinstance(_thing(deeds, meant), Fastener) or not meant.units:
        deeds.do(Deed.TIGHTEN, [meant], phrases)
        deeds.lock(meant.units)
        return
    holders = [h for h in deeds.holders(meant.units) if deeds.turns(h)]
    slack = [h for h in holders if deeds.state.fastener(h).hold != "tight"]
    for one in deeds.implied(slack or holders):
        deeds.do(Deed.TIGHTEN, [one], phrases)
        deeds.lock(one.units)


def _locking(deed: Deed) -> One:
    """`lock X`, `unlock X`: X is what is secured, or what secures it."""

    def write(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
        lockers = [u for unit in meant.units for u in deeds.assembly.lockers.get(unit, ())]
        if not lockers:
            new = deed is Deed.LOCK and _renewed(deeds, meant)
            deeds.do(deed, [meant], phrases, new=new)
        for one in deeds.implied(dict.fromkeys(lockers)):
            new = deed is Deed.LOCK and deeds.is_renewed(one.units[0])
            deeds.do(deed, [one], phrases, new=new)

    return write


# --- The rest ---------------------------------------------------------------------------------


def _move(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    aside = any(p.word in ("aside", "away") for p in phrases)
    deeds.do(Deed.ASIDE if aside else Deed.MOVE, [meant], phrases)


def _release(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    if isinstance(_thing(deeds, meant), Part):
        deeds.do(Deed.LET_GO, [meant], phrases)
    else:
        discharge(deeds, [meant], phrases)


def _connect(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    deeds.do(Deed.CONNECT, [meant], phrases, new=_age(meant) == "new")
    deeds.started(meant.units)


def _disconnect(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    deeds.loose(meant.units)
    deeds.do(Deed.DISCONNECT, [meant], phrases)


def _fill(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    """What is filled into an empty system is new when the fluid is never used twice."""
    thing = _thing(deeds, meant)
    empty = any(not deeds.state.fluid(u).filled for u in meant.units)
    new = _age(meant) == "new" or (isinstance(thing, Fluid) and thing.renew and empty)
    deeds.do(Deed.FILL, [meant], phrases, new=new)


def _bring(deeds: Deeds, meant: Meant, phrases: Phrases) -> None:
    deeds.do(Deed.BRING, [meant], phrases, state=state_named(phrases))


def state_named(phrases: Phrases) -> str:
    """Return the state after `to`, '' when none is named."""
    for phrase in phrases:
        for operand in phrase.operands if phrase.word == "to" else ():
            if isinstance(operand, Prose):
                return "".join(part for part in operand.parts if isinstance(part, str))
            if isinstance(operand, str):
                return operand
    return ""


def _plain(deed: Deed) -> One:
    return lambda deeds, meant, phrases: deeds.do(deed, [meant], phrases)


def _each(one: One) -> Write:
    """Return a writer that does one thing after the other."""

    def write(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
        for each in meant:
            one(deeds, each, phrases)

    return write


def _neutral(deeds: Deeds, meant: Sequence[Meant], phrases: Phrases) -> None:
    deeds.do(Deed.NEUTRAL, meant, phrases)


_OF_WHAT_IS_KNOWN = frozenset(
    {Effect.REPLACE, Effect.RELEASE, Effect.ISOLATE, Effect.VERIFY, Effect.RESTORE}
)
_WRITERS: Mapping[Effect, Write] = {
    Effect.REMOVE: _each(_remove),
    Effect.FIT: _each(_fit),
    Effect.SLACKEN: _each(_slacken),
    Effect.TIGHTEN: _each(_tighten),
    Effect.REPLACE: _each(_replace),
    Effect.TRANSFER: _each(_transfer),
    Effect.MOVE: _each(_move),
    Effect.SUPPORT: _each(_plain(Deed.SUPPORT)),
    Effect.RELEASE: _each(_release),
    Effect.OPEN: _each(_plain(Deed.OPEN)),
    Effect.CLOSE: _each(_plain(Deed.CLOSE)),
    Effect.DRAIN: _each(_plain(Deed.DRAIN)),
    Effect.FILL: _each(_fill),
    Effect.BLEED: _each(_plain(Deed.BLEED)),
    Effect.LEAK_TEST: _each(_plain(Deed.LEAK_TEST)),
    Effect.ISOLATE: isolate,
    Effect.VERIFY: verify,
    Effect.RESTORE: restore,
    Effect.CONNECT: _each(_connect),
    Effect.DISCONNECT: _each(_disconnect),
    Effect.LOCK: _each(_locking(Deed.LOCK)),
    Effect.UNLOCK: _each(_locking(Deed.UNLOCK)),
    Effect.BRING: _each(_bring),
    Effect.NEUTRAL: _neutral,
    Effect.REACH: _neutral,
}
