"""How a thing is at the end of the work, in words, and what to do when it should not be."""

from __future__ import annotations

from compiler.derive.tightening import amount_words, target_of
from compiler.model import AnyThing, Condition, Fastener
from compiler.walk.assembly import Unit, turns
from compiler.walk.state import (
    AidState,
    ConditionState,
    EnergyState,
    FastenerState,
    FluidState,
    LineState,
    PartState,
    Status,
)


def left(thing: AnyThing, now: Status) -> tuple[str, str, str]:
    """Return the rule for a state that is not as it belongs, what to say of it, what to do.

    The sentence goes on after the name of the thing; `{what}` in the remedy is that name.
    """
    rule, remedy = _rule(thing, now)
    still = "" if rule == "left-moved" else "still "
    return rule, f"is {still}{state_words(now)} when the work ends", remedy


def _rule(thing: AnyThing, now: Status) -> tuple[str, str]:
    match now:
        case PartState():
            return _rule_of_part(now)
        case FastenerState():
            return "left-loose", _remedy(thing, now)
        case EnergyState():
            return "left-isolated", f"Give it back with `restore {{what}}`, {_or('isolated')}"
        case FluidState():
            return "left-drained", f"Fill it again (`fill {{what}}`), {_or('drained')}"
        case LineState(connected=True):
            return "left-off", "Connect it again: `connect {what}`."
        case LineState():
            return (
                "left-disconnected",
                f"Connect it again (`connect {{what}}`), {_or('disconnected')}",
            )
        case AidState():
            return "left-in", f"Take it out (`remove {{what}}`), {_or('in')}"
        case ConditionState():
            usual = thing.states[0][0] if isinstance(thing, Condition) and thing.states else "…"
            back = f"Bring it back (`bring {{what}} to {usual}`)"
            return "left-changed", f"{back}, {_or(now.state)}"


def _rule_of_part(now: PartState) -> tuple[str, str]:
    if now.seat == "aside":
        return (
            "left-off",
            f"Put it back (`fit {{what}}`, or `refit` the section that moves it), {_or('aside')}",
        )
    if now.seat == "off":
        fit = "Put it back (`fit {what}`, or `refit` the section that takes it off)"
        return "left-off", f"{fit}, {_or('off')}"
    if now.supported:
        return "left-supported", "Let it go once it is held again: `release {what}`."
    if now.opened:
        return "left-open", f"Close it (`close {{what}}`), {_or('open')}"
    return "left-moved", f"Move it back, {_or(f'at {_place(now.place)}')}"


def _or(state: str) -> str:
    return f"or say in the head that it stays so: `leaves {{what}} {state}`."


def _remedy(thing: AnyThing, now: FastenerState) -> str:
    if now.hold == "tight":
        return f"Bring it to its torque{_asked(thing)} behind this line: `tighten {{what}}`."
    if now.hold == "out":
        tight = isinstance(thing, Fastener) and turns(thing)
        put = "`fit {what}`, then `tighten {what}`" if tight else "`fit {what}`"
        return (
            f"Put it back in ({put}), or say in the head that it stays so: `leaves {{what}} out`."
        )
    return f"Tighten it behind this line (`tighten {{what}}`), {_or('slackened')}"


def _asked(thing: AnyThing) -> str:
    """Return ` of 9 N·m` for a fastener that asks for it; '' for one that asks for none."""
    if not isinstance(thing, Fastener) or thing.tightening is None:
        return ""
    target = target_of(thing.tightening.stages)
    return f" of {amount_words(target)}" if target is not None else ""


def state_words(now: Status) -> str:
    """Return how a thing is: `off`, `only put in by hand`, `isolated`."""
    match now:
        case PartState():
            return _part_words(now)
        case FastenerState():
            return _fastener_words(now)
        case EnergyState():
            let_out = "let out" if now.discharged else "live"
            return "isolated" if now.isolated else let_out
        case FluidState():
            return "filled" if now.filled else "drained"
        case LineState():
            return ("aside" if now.aside else "connected") if now.connected else "disconnected"
        case AidState():
            return "in" if now.inside else "out"
        case ConditionState():
            return now.state


def _part_words(now: PartState) -> str:
    if now.seat != "fitted":
        return now.seat
    if now.supported:
        return "on its support"
    if now.opened:
        return "open"
    return f"at {_place(now.place)}" if now.place else "fitted"


def _fastener_words(now: FastenerState) -> str:
    if now.hold == "hand":
        return "only put in by hand"
    if now.hold != "tight":
        return now.hold
    if now.how:
        return f"only {now.how}"
    return f"only at {amount_words(now.to)}" if now.to else "tight"


def _place(place: Unit | None) -> str:
    if place is None:
        return "its place"
    name = place[0].rpartition("/")[2]
    return f"{name}[{place[1]}]" if place[1] else name
