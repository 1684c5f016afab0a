"""What a joint that is brought to a torque needs: a wrench that shows it, and what goes on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from compiler.derive.accuracy import accuracy_of, percent
from compiler.derive.cover import Options
from compiler.derive.crib import Crib, in_range, measures_torque, same_drive
from compiler.derive.tightening import Adapter, setting_for, with_running
from compiler.model import Amount, Tool
from compiler.trade.units import Quantity, format_quantity
from compiler.trade.wrenching import WrenchNeed


@dataclass(frozen=True, slots=True)
class Joint:
    """The torques of one joint, its head, the adapter, and the tools that the line names.

    `running` is what its thread takes to turn, which the wrench shows on top. `rooms` tells
    of each torque how far off it may be, as a share of it, where that is said.
    """

    torques: tuple[Quantity, ...]
    head: WrenchNeed | None
    adapter: Adapter | None
    named: tuple[Tool, ...] = ()
    running: Amount | None = None
    rooms: tuple[tuple[Quantity, Fraction], ...] = ()


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
        yield from _pairs(crib, joint, torques, words)


def _wrenches(crib: Crib, joint: Joint, torques: Sequence[Quantity]) -> list[Tool]:
    """Return the torque wrenches that show all of these torques; the named one if there is one."""
    named = [tool for tool in joint.named if measures_torque(tool)]
    room = _room(joint, torques)
    shown = (*torques, *with_running(torques, joint.running))
    found = [
        tool
        for tool in named or crib.tools
        if measures_torque(tool)
        and all(in_range(tool, set_to(t, tool, joint.adapter)) for t in shown)
        and (room is None or accuracy_of(tool) <= room)
    ]
    # What a line names is laid out as it is; whether it does is told by a check.
    return found or named


def reaching(crib: Crib, joint: Joint, torques: Iterable[Quantity]) -> frozenset[str]:
    """Return the wrenches of a crib that show these torques, too, through the adapter if any."""
    wanted = tuple(torques)
    return frozenset(
        tool.key
        for tool in crib.tools
        if measures_torque(tool)
        and all(in_range(tool, set_to(torque, tool, joint.adapter)) for torque in wanted)
    )


def _room(joint: Joint, torques: Sequence[Quantity]) -> Fraction | None:
    """Return how far off the most exact of these torques may be; None when none says."""
    return min((room for torque, room in joint.rooms if torque in torques), default=None)


def set_to(torque: Quantity, wrench: Tool, adapter: Adapter | None) -> Quantity:
    """Return what the wrench is set to: the torque itself unless an adapter changes it."""
    return setting_for(torque, wrench, adapter) or torque


def _drivers(crib: Crib, joint: Joint) -> list[Tool]:
    if joint.adapter is not None:
        return [joint.adapter.tool]
    fitting = crib.drivers(joint.head) if joint.head is not None else []
    return [tool for tool in joint.named if tool in fitting] or fitting


def _pairs(crib: Crib, joint: Joint, torques: Sequence[Quantity], words: str) -> Iterator[Asked]:
    wrenches, drivers = _wrenches(crib, joint, torques), _drivers(crib, joint)
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
    yield Asked(words, alone, "" if alone else _wanted(joint, torques, words, drivers))
    if joint.head is None and joint.adapter is None:
        return
    single = tuple(frozenset({driver.key}) for driver in drivers)
    text = joint.head.text if joint.head is not None else ""
    yield Asked(words, single, "" if single else text)
    if alone and single:
        yield Asked(words, (), _adapter_words(wrenches, drivers))


def _wanted(joint: Joint, torques: Sequence[Quantity], words: str, drivers: Sequence[Tool]) -> str:
    """Return what would do: `torque wrench that sets 4 N·m, square 1/4 in, ±6 % or better`."""
    room = _room(joint, torques)
    said = [f"torque wrench that sets {words}"]
    if _squares(drivers):
        said.append(f"square {_or(drivers)}")
    if room is not None:
        said.append(f"±{percent(room)} or better")
    return ", ".join(said)


def _adapter_words(wrenches: Sequence[Tool], drivers: Sequence[Tool]) -> str:
    return f"adapter from square {_or(wrenches)} to square {_or(drivers)}"


def _or(tools: Sequence[Tool]) -> str:
    return " or ".join(_squares(tools))


def _squares(tools: Iterable[Tool]) -> list[str]:
    found = (format_quantity(tool.drive) for tool in tools if tool.drive is not None)
    return list(dict.fromkeys(found))
