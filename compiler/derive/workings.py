"""How the numbers of a torque line come about: thread, strength, factor, preload, setting."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from compiler.derive.threads import ThreadState, thread_state
from compiler.derive.tightening import Adapter, ends_of, setting_for
from compiler.model import Amount, AnyThing, Fastener, Shop, Tool
from compiler.trade.designation import Designation
from compiler.trade.drives import Drive
from compiler.trade.torque import Bearing, adapter_setting, bearing_of, preload_at
from compiler.trade.units import Quantity
from compiler.trade.wrenching import drive_of


@dataclass(frozen=True, slots=True)
class Lever:
    """A wrench with an adapter: the torque wanted, what to set, both lengths, the angle in deg."""

    torque: Quantity
    setting: Quantity
    length: Quantity
    extends: Quantity
    angle: float

    @property
    def factor(self) -> float:
        """Return by what a torque is multiplied: L / (L + E·cos a), US Army TM 9-254, fig. 46."""
        return adapter_setting(1.0, float(self.length.si), float(self.extends.si), self.angle)


@dataclass(frozen=True, slots=True)
class Working:
    """All that the numbers of one torque line were worked out from.

    `preload` is the least and the most in N, from the least torque that is allowed at the highest
    factor, and the other way round. `bearing` and `preload` are None where the strength of the
    joint is not known; `drive` is what the head is turned by.
    """

    designation: Designation
    state: ThreadState
    bearing: Bearing | None
    preload: tuple[float, float] | None
    drive: Drive | None
    levers: tuple[Lever, ...] = ()
    running: Amount | None = None


def working_of(
    fastener: Fastener,
    target: Amount,
    things: Mapping[str, AnyThing],
    shop: Shop | None,
    levers: tuple[Lever, ...] = (),
) -> Working:
    """Return what the numbers of a torque come from."""
    state, bearing = thread_state(fastener, things, shop), bearing_of(fastener.designation)
    if bearing is not None and not bearing.known:
        bearing = None
    load = None
    if bearing is not None:
        low, high = ends_of(target) or (target.low, target.low)
        load = (
            preload_at(float(low.si), state.factors.high, bearing.diameter_mm),
            preload_at(float(high.si), state.factors.low, bearing.diameter_mm),
        )
    drive = drive_of(fastener.designation)
    return Working(fastener.designation, state, bearing, load, drive, levers, fastener.running)


def levers_of(
    torques: Iterable[Quantity], wrench: Tool, adapter: Adapter | None
) -> tuple[Lever, ...]:
    """Return how each torque becomes a setting; () where no adapter changes it."""
    if adapter is None or adapter.tool.extends is None or wrench.length is None:
        return ()
    made: list[Lever] = []
    for torque in torques:
        setting = setting_for(torque, wrench, adapter)
        if setting is not None:
            lever = Lever(torque, setting, wrench.length, adapter.tool.extends, adapter.angle)
            made.append(lever)
    return tuple(made)
