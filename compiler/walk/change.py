"""What each elementary deed does to the state of the machine."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Literal, TypeAlias

from compiler.model import Amount, AnyThing, Energy, Fastener
from compiler.walk.assembly import Assembly, Unit, turns
from compiler.walk.nodes import Act, Deed, Target
from compiler.walk.state import (
    AidState,
    ConditionState,
    EnergyState,
    FastenerState,
    FluidState,
    Hold,
    LineState,
    PartState,
    Past,
    State,
    Status,
)
from compiler.walk.stored import without_device

_Change: TypeAlias = Callable[[Status, Act], Status]


def _part(change: Callable[[PartState, Act], PartState]) -> _Change:
    return lambda status, act: change(status, act) if isinstance(status, PartState) else status


def _fastener(change: Callable[[FastenerState, Act], FastenerState]) -> _Change:
    return lambda s, act: change(s, act) if isinstance(s, FastenerState) else s


def _energy(**fields: bool) -> _Change:
    return lambda s, act: replace(s, **fields) if isinstance(s, EnergyState) else s


def _is_new(act: Act) -> bool:
    return act.new_part or any(isinstance(t, Target) and t.age == "new" for t in act.targets)


def _past(past: frozenset[Past], *deeds: Past, new: bool = False) -> frozenset[Past]:
    return past.union(deeds, ("renewed",) if new else ())


def _fit(s: PartState, act: Act) -> PartState:
    new = _is_new(act)
    return replace(s, seat="fitted", new=new or s.new, past=_past(s.past, "fitted", new=new))


def _remove(s: PartState, act: Act) -> PartState:
    return replace(s, seat="off", opened=False, new=False, past=_past(s.past, "removed"))


def _undo(s: FastenerState, act: Act) -> FastenerState:
    return FastenerState("out", past=_past(s.past, "removed"))


def _tighten(s: FastenerState, act: Act) -> FastenerState:
    to: Amount | None = None
    how: Literal["", "hand-tight", "snug"] = ""
    for phrase in act.phrases:
        if phrase.word in ("to", ""):
            to = next((o for o in phrase.operands if isinstance(o, Amount)), to)
        elif phrase.word == "hand-tight":
            how = "hand-tight"
        elif phrase.word == "snug":
            how = "snug"
    return replace(s, hold="tight", to=to, how=how)


def _put(hold: Hold) -> _Change:
    def change(s: FastenerState, act: Act) -> FastenerState:
        new = _is_new(act)
        return FastenerState(hold, new=new or s.new, past=_past(s.past, "fitted", new=new))

    return _fastener(change)


def _line(s: Status, act: Act, connected: bool) -> Status:
    if not isinstance(s, LineState):
        return s
    new = connected and _is_new(act)
    past = _past(s.past, "fitted" if connected else "removed", new=new)
    return LineState(connected, False, new or (s.new and connected), past)


def _fluid(s: Status, act: Act, filled: bool) -> Status:
    if not isinstance(s, FluidState):
        return s
    new = filled and _is_new(act)
    past = _past(s.past, "fitted" if filled else "removed", new=new)
    return FluidState(filled, new, past=past)


def _opened(s: Status, opened: bool) -> Status:
    return replace(s, opened=opened) if isinstance(s, PartState) else s


def _aside(s: Status, act: Act) -> Status:
    if isinstance(s, PartState):
        return replace(s, seat="aside")
    return replace(s, aside=True) if isinstance(s, LineState) else s


def _aid(s: Status, inside: bool) -> Status:
    if not isinstance(s, AidState):
        return s
    return AidState(inside, _past(s.past, "fitted" if inside else "removed"))


def _moved(s: Status, act: Act) -> Status:
    """Moved to a place, or from aside back to where it belongs."""
    if any(p.word == "back" and not p.operands for p in act.phrases):
        if isinstance(s, LineState):
            return replace(s, aside=False)
        if not isinstance(s, PartState):
            return s
        # What was taken off and carried elsewhere is brought back before it is fitted.
        return replace(s, seat="fitted" if s.seat == "aside" else s.seat, place=None)
    places = [
        (o.key, o.members[0] if o.members else "")
        for p in act.phrases
        if p.word == "to"
        for o in p.operands
        if isinstance(o, Target)
    ]
    if not places or not isinstance(s, PartState):
        return s
    return replace(s, place=places[0])


def _renewed(s: Status) -> Status:
    if not isinstance(s, PartState | FastenerState | LineState):
        return s
    return replace(s, new=True, past=_past(s.past, new=True))


def _bled(thing: AnyThing) -> _Change:
    """Bleeding lets an energy out where none comes after: behind a closed device, or without one.

    What runs may be bled too, to get the air out; it is no less live for that.
    """
    if not isinstance(thing, Energy):
        return lambda s, act: _checked(s, bled=True)
    alone = without_device(thing)
    return lambda s, act: (
        replace(s, discharged=True) if isinstance(s, EnergyState) and (alone or s.isolated) else s
    )


def _checked(s: Status, *, bled: bool) -> Status:
    if not isinstance(s, FluidState):
        return s
    return replace(s, bled=True) if bled else replace(s, tested=True)


_CHANGES: Mapping[Deed, _Change] = {
    Deed.SLACKEN: _fastener(lambda s, act: replace(s, hold="slackened", to=None, how="")),
    Deed.UNDO: _fastener(_undo),
    Deed.TIGHTEN: _fastener(_tighten),
    Deed.REMOVE: _part(_remove),
    Deed.FIT: _part(_fit),
    Deed.RENEW: lambda s, act: _renewed(s),
    Deed.TRANSFER: _part(lambda s, act: replace(s, seat="fitted", past=_past(s.past, "fitted"))),
    Deed.SUPPORT: _part(lambda s, act: replace(s, supported=True)),
    Deed.LET_GO: _part(lambda s, act: replace(s, supported=False)),
    Deed.OPEN: lambda s, act: _opened(s, True),
    Deed.CLOSE: lambda s, act: _opened(s, False),
    Deed.ASIDE: _aside,
    Deed.MOVE: _moved,
    Deed.SHUT_DOWN: _energy(stopped=True),
    Deed.ISOLATE: _energy(isolated=True),
    Deed.LOCK_OUT: _energy(locked=True),
    Deed.DISCHARGE: _energy(discharged=True),
    Deed.VERIFY: _energy(verified=True),
    Deed.UNLOCK_OUT: _energy(locked=False),
    Deed.ENERGIZE: lambda s, act: EnergyState() if isinstance(s, EnergyState) else s,
    Deed.PUT_AID: lambda s, act: _aid(s, True),
    Deed.TAKE_AID: lambda s, act: _aid(s, False),
    Deed.DRAIN: lambda s, act: _fluid(s, act, False),
    Deed.FILL: lambda s, act: _fluid(s, act, True),
    Deed.LEAK_TEST: lambda s, act: _checked(s, bled=False),
    Deed.CONNECT: lambda s, act: _line(s, act, True),
    Deed.DISCONNECT: lambda s, act: _line(s, act, False),
    Deed.BRING: lambda s, act: (
        ConditionState(act.state) if isinstance(s, ConditionState) and act.state else s
    ),
}


def _change_of(act: Act, thing: AnyThing) -> _Change | None:
    """Return what the deed does to this thing; putting in and locking hang on whether it turns."""
    if act.deed in (Deed.START, Deed.LOCK, Deed.UNLOCK) and isinstance(thing, Fastener):
        if act.deed is Deed.START:
            return _put("hand" if turns(thing) else "tight")
        if act.deed is Deed.LOCK:
            return _put("tight")
        return _CHANGES[Deed.SLACKEN if turns(thing) else Deed.UNDO]
    return _bled(thing) if act.deed is Deed.BLEED else _CHANGES.get(act.deed)


def apply(state: State, act: Act, assembly: Assembly) -> State:
    """Return the state after an act. What is not known or has no state is passed over."""
    targets = (target for target in act.targets if isinstance(target, Target))
    units = [unit for target in targets for unit in assembly.units_of(target)]
    return act_on(state, act, units, assembly)


def act_on(state: State, act: Act, units: Iterable[Unit], assembly: Assembly) -> State:
    """Return the state after an act on just these units."""
    changed: dict[Unit, Status] = {}
    for unit in units:
        thing = assembly.things.get(unit[0])
        change = _change_of(act, thing) if thing is not None else None
        before = state.status(unit, assembly) if change is not None else None
        if change is not None and before is not None:
            changed[unit] = change(before, act)
    return state.with_statuses(changed)
