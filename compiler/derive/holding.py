"""A second tool for what has to be held while its mate turns: two of one size where need be."""

from __future__ import annotations

from collections.abc import Mapping

from compiler.derive.cover import Option, Options
from compiler.model import AnyThing, Fastener, Tool
from compiler.trade.wrenching import WrenchNeed, hand_need
from compiler.walk.nodes import Act


def held_need(
    things: Mapping[str, AnyThing], thing: Fastener, act: Act
) -> tuple[Fastener, WrenchNeed] | None:
    """Return the fastener that is held and what holds it; None where none is, or nobody knows.

    What a line itself says (`holding A with B`) goes before.
    """
    if thing.counter_hold is None or any(phrase.word == "holding" for phrase in act.phrases):
        return None
    held = things.get(thing.counter_hold.key)
    if not isinstance(held, Fastener):
        return None
    need = hand_need(held.designation)
    return (held, need) if need.kind != "none" else None


def side_by_side(
    things: Mapping[str, AnyThing], turning: Options, holding: Options, *, one_size: bool
) -> tuple[Options, Options]:
    """Return what turns and what holds, so that any of the one goes with any of the other.

    One spanner cannot be on both; the spanner holds, and a socket turns. ((), ()) if there is no
    second one.
    """

    def goes(one: Option, other: Option) -> bool:
        return all(_twice(things.get(key), one_size=one_size) for key in one & other)

    for holder in sorted(holding, key=len):
        turners = tuple(option for option in turning if goes(option, holder))
        if turners:
            hold = tuple(h for h in holding if all(goes(option, h) for option in turners))
            return turners, hold
    return (), ()


def _twice(thing: AnyThing | None, *, one_size: bool) -> bool:
    """Return whether a tool can be in both hands: there are two, or it is a set of sizes."""
    if not isinstance(thing, Tool):
        return False
    return thing.total > 1 or (len(thing.sizes) > 1 and not one_size)
