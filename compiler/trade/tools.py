"""Kinds of tools in a crib, and which of them serves which need. Common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ToolKind:
    """A kind of tool: its words, and whether its sizes matter, it measures, or it lifts.

    `turns` names the kind of need it serves (`trade/wrenching.py`), '' for none. An adjustable
    spanner has none: it rounds corners, so it is laid out only where the author names it. Nor has
    a strap wrench, which grips what no designation describes.
    """

    word: str
    label: str
    turns: str = ""
    is_set: bool = False
    measures: bool = False
    lifts: bool = False


_ALL = (
    ToolKind("torque-wrench", "torque wrench", measures=True),
    ToolKind("torque-screwdriver", "torque screwdriver", measures=True),
    ToolKind("hex-keys", "hex keys", "hex-key", is_set=True),
    ToolKind("hex-bits", "hex bits", "hex-bit", is_set=True),
    ToolKind("hexalobular-keys", "hexalobular keys", "hexalobular-key", is_set=True),
    ToolKind("hexalobular-bits", "hexalobular bits", "hexalobular-bit", is_set=True),
    ToolKind("sockets", "sockets", "socket", is_set=True),
    ToolKind("spanners", "spanners", "spanner", is_set=True),
    ToolKind("crowfoot", "crowfoot", "crowfoot", is_set=True),
    ToolKind("ratchet", "ratchet"),
    ToolKind("extension", "extension"),
    ToolKind("screwdriver", "screwdriver", "screwdriver"),
    ToolKind("screwdrivers", "screwdrivers", "screwdriver", is_set=True),
    ToolKind("nut-driver", "nut driver", "nut-driver", is_set=True),
    ToolKind("pliers", "pliers", "pliers"),
    ToolKind("side-cutters", "side cutters", "pliers"),
    ToolKind("ring-pliers", "retaining-ring pliers", "ring-pliers"),
    ToolKind("external-ring-pliers", "external retaining-ring pliers", "ring-pliers-external"),
    ToolKind("internal-ring-pliers", "internal retaining-ring pliers", "ring-pliers-internal"),
    ToolKind("punches", "pin punches", "pin-punch", is_set=True),
    ToolKind("punch", "pin punch", "pin-punch"),
    ToolKind("hammer", "hammer"),
    ToolKind("mallet", "soft-faced mallet"),
    ToolKind("pry-bar", "pry bar"),
    ToolKind("puller", "puller"),
    ToolKind("press", "press"),
    ToolKind("heater", "induction heater"),
    ToolKind("dial-indicator", "dial indicator", measures=True),
    ToolKind("feeler-gauges", "feeler gauges", measures=True),
    ToolKind("calliper", "calliper", measures=True),
    ToolKind("micrometer", "micrometer", measures=True),
    ToolKind("straightedge", "straightedge"),
    ToolKind("spirit-level", "spirit level", measures=True),
    ToolKind("rule", "steel rule", measures=True),
    ToolKind("tape", "tape measure", measures=True),
    ToolKind("square", "square"),
    ToolKind("scale", "spring scale", measures=True),
    ToolKind("belt-gauge", "belt tension gauge", measures=True),
    ToolKind("thermometer", "thermometer", measures=True),
    ToolKind("pressure-gauge", "pressure gauge", measures=True),
    ToolKind("multimeter", "multimeter", measures=True),
    ToolKind("clamp-meter", "clamp meter", measures=True),
    ToolKind("insulation-tester", "insulation tester", measures=True),
    ToolKind("voltage-tester", "voltage tester", measures=True),
    ToolKind("stopwatch", "stopwatch", measures=True),
    ToolKind("torch", "torch"),
    ToolKind("mirror", "inspection mirror"),
    ToolKind("hoist", "hoist", lifts=True),
    ToolKind("crane", "crane", lifts=True),
    ToolKind("slings", "slings", lifts=True),
    ToolKind("sling", "sling", lifts=True),
    ToolKind("shackle", "shackle", lifts=True),
    ToolKind("eye-bolts", "lifting eye bolts", lifts=True),
    ToolKind("jack", "jack", lifts=True),
    ToolKind("lift-table", "lift table", lifts=True),
    ToolKind("pallet-truck", "pallet truck", lifts=True),
    ToolKind("stands", "support stands", lifts=True),
    ToolKind("oil-can", "oil can"),
    ToolKind("grease-gun", "grease gun"),
    ToolKind("drain-pan", "drain pan"),
    ToolKind("funnel", "funnel"),
    ToolKind("brush", "brush"),
    ToolKind("scraper", "scraper"),
    ToolKind("knife", "knife"),
    ToolKind("file", "file"),
    ToolKind("vacuum", "vacuum cleaner"),
    ToolKind("strap-wrench", "strap wrench"),
    ToolKind("pin-wrench", "pin wrench", "pin-wrench"),
    ToolKind("hook-spanner", "hook spanner", "hook-spanner"),
    ToolKind("adjustable-spanner", "adjustable spanner"),
    ToolKind("tap-set", "thread taps", is_set=True),
    ToolKind("special", "special tool"),
)

KINDS: Mapping[str, ToolKind] = {kind.word: kind for kind in _ALL}
"""Every kind of tool by the word the author writes."""

IN_LINE = frozenset({"sockets", "hex-bits", "hexalobular-bits", "extension"})
"""What stands in line with the square of a torque wrench: the setting stays the torque. The lever
is measured at right angles to the axis of the square, and none of these makes it longer."""


def serves(kind: str, need: str) -> bool:
    """Return whether a tool of `kind` serves a need of the kind `need`, sizes left aside."""
    turns = KINDS[kind].turns if kind in KINDS else ""
    return turns == need or (turns == "ring-pliers" and need.startswith("ring-pliers"))
