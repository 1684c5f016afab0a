"""What is in the crib, by need: what turns a head of a size, which wrench measures a torque."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from compiler.derive.words import label_of, own_label
from compiler.model import AnyThing, Tool
from compiler.trade.tools import KINDS, serves
from compiler.trade.units import Quantity
from compiler.trade.wrenching import WrenchNeed

Option = frozenset[str]

_ALSO_SERVES: Mapping[str, tuple[str, ...]] = {
    "nut-driver": ("screwdriver", "screwdrivers"),
}
"""Kinds of tools that do as well: a hose clamp's screw has a slot besides its hexagon (common
practice, no source)."""

_ON_A_HANDLE: Mapping[str, str] = {
    "hex-key": "hex-bit",
    "hexalobular-key": "hexalobular-bit",
    "spanner": "socket",
}
"""What, put on a ratchet, turns the same head (common practice, no source)."""

_MEASURES_TORQUE = frozenset({"torque-wrench", "torque-screwdriver"})
_NUMBER = re.compile(r"(?:(\d+) )?(\d+(?:\.\d+)?)(?:/(\d+))? ?(mm|in)$")


def size_of(text: str) -> Fraction | None:
    """Return a size such as `5 mm`, `7/16 in` or `1 1/8 in` in metres; None for anything else."""
    found = _NUMBER.match(text)
    if found is None:
        return None
    whole, over, under, unit = found.groups()
    value = Fraction(over) / (int(under) if under and int(under) else 1) + int(whole or 0)
    return Quantity(value, unit).si


@dataclass(frozen=True, slots=True)
class Crib:
    """All tools that may be used, in the order of their declaration."""

    tools: tuple[Tool, ...]

    def turning(self, need: WrenchNeed) -> list[Option]:
        """Return what turns a head by hand: a key or spanner, or a bit or socket on a ratchet."""
        found = [frozenset({t.key}) for t in self.tools if self._serves(t, need.kind, need.size)]
        if need.kind == "pin-punch":
            return self._with_hammer(found)
        on_handle = _ON_A_HANDLE.get(need.kind, "")
        for tool in self.tools if on_handle else ():
            if self._serves(tool, on_handle, need.size):
                ratchets = [t for t in self.tools if t.kind == "ratchet" and same_drive(t, tool)]
                found += [frozenset({tool.key, ratchet.key}) for ratchet in ratchets]
        return found

    def _serves(self, tool: Tool, kind: str, size: str) -> bool:
        also = tool.kind in _ALSO_SERVES.get(kind, ())
        return (serves(tool.kind, kind) or also) and has_size(tool, size)

    def _with_hammer(self, punches: Iterable[Option]) -> list[Option]:
        """A punch is struck: with a hammer, as far as there is one."""
        hammers = [t.key for t in self.tools if t.kind == "hammer"]
        if not hammers:
            return list(punches)
        return [option | {hammer} for option in punches for hammer in hammers]

    def drivers(self, need: WrenchNeed) -> list[Tool]:
        """Return the bits or sockets of a size, to go on a torque wrench."""
        return [t for t in self.tools if serves(t.kind, need.kind) and has_size(t, need.size)]

    def wrenches(self, setting: Quantity) -> list[Tool]:
        """Return the torque wrenches whose range holds the setting."""
        return [t for t in self.tools if t.kind in _MEASURES_TORQUE and in_range(t, setting)]


def crib_of(things: Mapping[str, AnyThing]) -> Crib:
    """Return the tools among the things."""
    return Crib(tuple(thing for thing in things.values() if isinstance(thing, Tool)))


def has_size(tool: Tool, size: str) -> bool:
    """Return whether the tool is, or has among its sizes, the one needed.

    A tool that lists no sizes may have any; a need without a size is served by the kind alone.
    """
    wanted = size_of(size)
    if wanted is None or not tool.sizes:
        return True
    return any(given.si == wanted for given in tool.sizes)


def same_drive(one: Tool, other: Tool) -> bool:
    """Return whether two tools fit into each other; one that does not say fits."""
    if one.drive is None or other.drive is None:
        return True
    return one.drive.si == other.drive.si


def in_range(tool: Tool, setting: Quantity) -> bool:
    """Return whether the tool's range holds the setting; without a range nothing is measured."""
    if tool.range is None or tool.range.high is None or setting.dimension != "torque":
        return False
    return tool.range.low.si <= setting.si <= tool.range.high.si


def is_run_out(thing: AnyThing, day: date | None) -> bool:
    """Return whether the calibration of a tool has run out on a day; its last day still counts."""
    until = thing.calibrated_until if isinstance(thing, Tool) else None
    return day is not None and until is not None and until < day


def measures_torque(tool: Tool) -> bool:
    """Return whether it is a tool to reach a torque with."""
    return tool.kind in _MEASURES_TORQUE


def kind_label(tool: Tool) -> str:
    """Return what the tool is: its own label, or its kind in words."""
    known = KINDS.get(tool.kind)
    kind = known.label if known is not None else tool.kind.replace("-", " ")
    return own_label(tool) or (label_of(tool) if tool.kind == "special" else kind)
