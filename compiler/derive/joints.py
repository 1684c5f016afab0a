"""What a joint that is brought to a torque needs: a wrench that shows it, and what goes on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from compiler.derive.cover import Options
from compiler.derive.crib import Crib, in_range, measures_torque, same_drive
from compiler.derive.tightening import Adapter, setting_for, with_running
from compiler.model import Amount, Tool
from compiler.trade.units import Quantity, format_quantity
from compiler.trade.wrenching import WrenchNeed


@dataclass(frozen=True, slots=True)
class Joint:
    """The torques of one joint, its head, the adapter, and the tools that the line names.

    `running` is what its thread takes to turn, which the wrench shows on top.
    """

    torques: tuple[Quantity, ...]
    head: WrenchNeed | None
    adapter: Adapter | None
    named: tuple[Tool, ...] = ()
    running: Amount | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """One need of a joint: what for, sets of tools any of which will do, or what is missing."""

    to: str
    options: Options
    missing: str = ""


def asked_by(crib: Crib, joint: Joint) -> Iterator[Asked]:
    """Yield the needs of a joint; one wrench for all of its torques if there is one."""
    together = _wrenches(crib, joint, joint.torques)
    groups = [joint.torques] if together else [(torque,) for torque in joint.torques]
    for torques in groups:
        words = " and ".join(format_quantity(torque) for torque in torques)
        yield from _pairs(crib, joint, words, _wrenches(crib, joint, torques))


def _wrenches(crib: Crib, joint: Joint, torques: Sequence[Quantity]) -> list[Tool]:
    """Return the torque wrenches that show all of these torques; the named one if there is one."""
    named = [tool for tool in joint.named if measures_torque(tool)]
    shown = (*torques, *with_running(torques, joint.running))
    return [
        tool
        for tool in named or crib.tools
        if measures_torque(tool)
        and (named or all(in_range(tool, set_to(t, tool, joint.adapter)) for t in shown))
    ]


def set_to(torque: Quantity, wrench: Tool, adapter: Adapter | None) -> Quantity:
    """Return what the wrench is set to: the torque itself unless an adapter changes it."""
    return setting_for(torque, wrench, adapter) or torque


def _drivers(crib: Crib, joint: Joint) -> list[Tool]:
    if joint.adapter is not None:
        return [joint.adapter.tool]
    fitting = crib.drivers(joint.head) if joint.head is not None else []
    return [tool for tool in joint.named if tool in fitting] or fitting


def _pairs(crib: Crib, joint: Joint, words: str, wrenches: Sequence[Tool]) -> Iterator[Asked]:
    drivers = _drivers(crib, joint)
    pairs = tuple(
        frozenset({wrench.key, driver.key})
        for wrench in wrenches
        for driver in drivers
        if same_drive(wrench, driver)
    )
    if pairs:
        yield Asked(words, pairs)
        return
    alone = tuple(frozenset({wrench.key}) for wrench in wrenches)
    yield Asked(words, alone, "" if alone else f"torque wrench for {words}")
    if joint.head is None and joint.adapter is None:
        return
    single = tuple(frozenset({driver.key}) for driver in drivers)
    text = joint.head.text if joint.head is not None else ""
    yield Asked(words, single, "" if single else text)
    if alone and single:
        yield Asked(words, (), "drive adapter")
