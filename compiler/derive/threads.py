"""The state of a thread as a torque is judged with it: the fastener's own, or the house's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from compiler.derive.words import name_of_key
from compiler.model import AnyThing, Fastener, Shop
from compiler.trade.torque import Factors, factors_of


@dataclass(frozen=True, slots=True)
class ThreadState:
    """The factors of a thread, and who said in which state it is: '' nobody."""

    factors: Factors
    said_by: str = ""


def thread_state(
    fastener: Fastener, things: Mapping[str, AnyThing], shop: Shop | None
) -> ThreadState:
    """Return the state of a fastener's thread: its own, else that of the house, else unknown."""
    if fastener.thread == "with":
        return ThreadState(factors_of("with", name_of_key(things, fastener.thread_with)), "own")
    if fastener.thread:
        return ThreadState(factors_of(fastener.thread), "own")
    return house_state(shop)


def house_state(shop: Shop | None) -> ThreadState:
    """Return how the house leaves a thread of which nothing is said."""
    if shop is not None and shop.threads:
        return ThreadState(factors_of(shop.threads), "house")
    return ThreadState(factors_of(""))
