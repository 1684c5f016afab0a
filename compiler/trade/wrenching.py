"""Which tool turns or drives a fastener, worked out from its designation.

Nothing is guessed: where head or size are not known, the size is '' and the text says "that fits".
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from compiler.trade.designation import Designation

_INCH = Fraction(254, 10)


@dataclass(frozen=True, slots=True)
class WrenchNeed:
    """A need: its kind as in `trade/tools.py`, its size ("5 mm", "3/8 in", ''), and in words.

    Kinds: hex-key, hex-bit, spanner, socket, screwdriver, nut-driver, pliers, ring-pliers,
    ring-pliers-external, ring-pliers-internal, pin-punch, hook-spanner, pin-wrench; "none"
    for what needs no such tool or is not known well enough.
    """

    kind: str
    size: str
    text: str


Table = Mapping[str, str]
"""Sizes in mm (metric) or inches by the nominal thread size: "M8" or "3/8"."""


def _table(sizes: str) -> Table:
    """Read `M8:13 M10:16`; a blank inside an inch size is written `_`."""
    pairs = (item.split(":") for item in sizes.split())
    return {name: size.replace("_", " ") for name, size in pairs}


_BOTH_SERIES = """
    M2:4 M2.5:5 M3:5.5 M4:7 M5:8 M6:10 M8:13 M16:24 M18:27 M20:30 M24:36 M27:41 M30:46 M36:55
"""
HEX_ISO = _table(f"{_BOTH_SERIES} M10:16 M12:18 M14:21 M22:34")
"""Across flats, ISO 4014/4017/4032 and those that follow them; read in library data. The rows
outside M3 to M24 are in one library only."""

HEX_DIN = _table(f"{_BOTH_SERIES} M10:17 M12:19 M14:22 M22:32")
"""Across flats, old DIN 931/933/934; read in library data. Only M10, M12, M14 and M22 differ."""

HEX_EITHER = _table(_BOTH_SERIES)
"""For standards whose editions follow the one series or the other (castle and cap nuts)."""

FLANGE_NUT = _table("M5:8 M6:10 M8:13 M12:18 M14:21 M16:24 M20:30")
"""Across flats, ISO 4161; from memory, M12 and up as in library data for EN 1661. M10 is left out:
15 in older editions, 16 in newer ones."""

FLANGE_BOLT = _table("M5:7 M6:8 M8:10 M10:13 M14:18 M16:21")
"""Across flats, ISO 4162 and ISO 15071, small series; from memory, as in library data for EN 1662.
M12 is left out: sources differ."""

HEX_PLUG = _table("G1/8:10 G1/4:13 G3/8:17 G1/2:19 G3/4:24 G1:27")
"""Across flats, DIN 910; from memory."""

KEY_CAP = _table(
    "M2:1.5 M2.5:2 M3:2.5 M4:3 M5:4 M6:5 M8:6 M10:8 M12:10 M14:12 M16:14 M20:17 M24:19 M30:22"
)
"""Hex key, ISO 4762 (old DIN 912); read in library data."""

KEY_BUTTON = _table("M3:2 M4:2.5 M5:3 M6:4 M8:5 M10:6")
"""Hex key, ISO 7380-1; read in library data. ISO 7380-2 likewise, from memory."""

KEY_COUNTERSUNK = _table("M3:2 M4:2.5 M5:3 M6:4 M8:5 M10:6 M12:8 M16:10 M20:12")
"""Hex key, ISO 10642; read in library data. Old DIN 7991 likewise, from memory."""

KEY_SET = _table("M3:1.5 M4:2 M5:2.5 M6:3 M8:4 M10:5 M12:6 M16:8 M20:10 M24:12")
"""Hex key, ISO 4026 to 4029; read in library data. Old DIN 913 to 916 likewise, from memory."""

KEY_LOW = _table("M3:2 M4:2.5 M5:3 M6:4 M8:5 M10:7 M12:8 M16:12 M20:14 M24:17")
"""Hex key, DIN 7984; read in library data."""

KEY_LOW_PILOT = _table("M4:3 M5:4 M6:5 M8:6 M10:8 M12:10 M16:14 M20:17")
"""Hex key, DIN 6912; read in library data."""

KEY_PLUG = _table("G1/8:5 G1/4:6 G3/8:8 G1/2:10 G3/4:12 G1:17")
"""Hex key, DIN 908; from memory."""

CROSS_RECESS = _table("M2:0 M2.5:1 M3:1 M3.5:2 M4:2 M5:2 M6:3 M8:4 M10:4")
"""Number of the cross recess, ISO 7045 and 7046 with ISO 4757; from memory."""

KEY_CAP_INCH = _table("#10:5/32 1/4:3/16 5/16:1/4 3/8:5/16 1/2:3/8 3/4:5/8 1:3/4")
"""Hex key of socket head cap screws, ASME B18.3; read in library data."""

KEY_SET_INCH = _table("#10:3/32 1/4:1/8 5/16:5/32 3/8:3/16 1/2:1/4 3/4:3/8 1:9/16")
"""Hex key of set screws, ASME B18.3; read in library data."""

HEX_INCH = _table("1/4:7/16 5/16:1/2 3/8:9/16 1/2:3/4 3/4:1_1/8 1:1_1/2")
"""Across flats of hex cap screws, ASME B18.2.1; read in library data. The nuts of ASME B18.2.2 have
the same in these sizes, from memory."""

_SPANNERS: tuple[tuple[Table, str], ...] = (
    (HEX_ISO, "ISO 4014,ISO 4017,ISO 8765,ISO 8676,ISO 4032,ISO 4033,ISO 8673,ISO 4035,ISO 8675"),
    (HEX_ISO, "ISO 7040,ISO 7042,ISO 10511,ISO 7035"),
    (HEX_DIN, "DIN 931,DIN 933,DIN 934,DIN 439,DIN 985,DIN 960,DIN 961"),
    (HEX_DIN, "DIN 555,DIN 558,DIN 601,DIN 936,DIN 982,DIN 980"),
    (HEX_ISO, "ISO 4016,ISO 4018,ISO 4034,ISO 7719,ISO 7720,ISO 8674,ISO 10512,ISO 10513"),
    (HEX_ISO, "ISO 7036,ISO 7037,ISO 7038"),
    (HEX_EITHER, "DIN 935,DIN 935-1,DIN 937,DIN 979,DIN 1587,DIN 917,DIN 986,DIN 6334"),
    (FLANGE_NUT, "ISO 4161"),
    (FLANGE_BOLT, "ISO 4162,ISO 15071"),
    (HEX_PLUG, "DIN 910"),
    (HEX_INCH, "ASME B18.2.1,ASME B18.2.2"),
)
_KEYS: tuple[tuple[Table, str], ...] = (
    (KEY_CAP, "ISO 4762,DIN 912"),
    (KEY_BUTTON, "ISO 7380,ISO 7380-1,ISO 7380-2"),
    (KEY_COUNTERSUNK, "ISO 10642,DIN 7991"),
    (KEY_SET, "ISO 4026,ISO 4027,ISO 4028,ISO 4029,DIN 913,DIN 914,DIN 915,DIN 916"),
    (KEY_LOW, "DIN 7984"),
    (KEY_LOW_PILOT, "DIN 6912"),
    (KEY_PLUG, "DIN 908"),
    ({}, "DIN 906"),
    (KEY_CAP_INCH, "ASME B18.3"),
)
_CROSSES: tuple[tuple[Table, str], ...] = ((CROSS_RECESS, "ISO 7045,ISO 7046,ISO 7046-1"),)


def _by_standard(rows: tuple[tuple[Table, str], ...]) -> dict[str, Table]:
    return {standard: table for table, standards in rows for standard in standards.split(",")}


SPANNER_OF = _by_standard(_SPANNERS)
KEY_OF = _by_standard(_KEYS)
CROSS_OF = _by_standard(_CROSSES)

_NEED_BY_KIND: Mapping[str, str] = {
    "nut": "spanner",
    "lock nut": "spanner",
    "castle nut": "spanner",
    "cap nut": "spanner",
    "union nut": "spanner",
    "hexagon nut": "spanner",
    "thin hexagon nut": "spanner",
    "hexagon flange nut": "spanner",
    "hexagon collar nut": "spanner",
    "long hexagon nut": "spanner",
    "long nut": "spanner",
    "self-locking nut": "spanner",
    "square nut": "spanner",
    "hexagon bolt": "spanner",
    "hexagon screw": "spanner",
    "hexagon fit bolt": "spanner",
    "hexagon flange bolt": "spanner",
    "hexagon tapping screw": "spanner",
    "hexagon wood screw": "spanner",
    "hexagon-head plug": "spanner",
    "hexagon taper plug": "spanner",
    "slotted round nut": "hook",
    "cross-hole round nut": "hook",
    "two-hole round nut": "pin-wrench",
    "plug": "spanner",
    "grease nipple": "spanner",
    "slotted cheese-head screw": "slotted",
    "slotted pan-head screw": "slotted",
    "slotted countersunk screw": "slotted",
    "slotted tapping screw": "slotted",
    "slotted set screw": "slotted",
    "cross-recessed pan-head screw": "cross",
    "cross-recessed countersunk screw": "cross",
    "cross-recessed tapping screw": "cross",
    "external retaining ring": "external",
    "internal retaining ring": "internal",
    "retaining ring": "ring",
    "retaining washer": "pliers",
    "cotter pin": "pliers",
    "split pin": "pliers",
    "lock wire": "pliers",
    "cable tie": "pliers",
    "spring pin": "punch",
    "dowel pin": "punch",
    "taper pin": "punch",
    "grooved pin": "punch",
    "coiled spring pin": "punch",
    "hose clamp": "nut-driver",
}
"""What a kind takes where no standard says it, by the words of `Designation.kind`; common practice,
no source. A plain screw or bolt is not here: nothing is said of its head. Nor is what fingers turn
(wings, knurls, knobs), or an eye, through which any bar goes."""

_NO_SIZE = WrenchNeed("none", "", "")


def hand_need(designation: Designation) -> WrenchNeed:
    """Return the tool that turns or drives the fastener by hand; kind "none" if none is known."""
    standard, size = designation.standard, _nominal(designation)
    if standard in KEY_OF:
        found = _key_table(designation).get(size, "")
        return _sized("hex-key", _with_unit(found, designation), "hex key")
    if standard in SPANNER_OF:
        found = SPANNER_OF[standard].get(size, "")
        return _sized("spanner", _with_unit(found, designation), "spanner")
    if standard in CROSS_OF:
        found = CROSS_OF[standard].get(size, "")
        text = f"size {found} cross-recess screwdriver" if found else "cross-recess screwdriver"
        return WrenchNeed("screwdriver", found, text if found else f"a {text} that fits")
    how = _NEED_BY_KIND.get(designation.kind, "")
    return _BUILD[how](designation) if how else _NO_SIZE


def torque_need(designation: Designation) -> WrenchNeed | None:
    """Return what goes on a torque wrench for it; None when nothing does, or none is known.

    A union nut has a tube through it, so no socket goes over it.
    """
    by_hand = hand_need(designation)
    if by_hand.kind == "hex-key":
        return _sized("hex-bit", by_hand.size, "hex bit")
    if by_hand.kind in ("spanner", "nut-driver") and designation.kind != "union nut":
        return _sized("socket", by_hand.size, "socket")
    return None


def _nominal(designation: Designation) -> str:
    """Return the thread's size without its pitch: `M10` of M10×1.25, `1/4` of 1/4-20."""
    thread = designation.thread
    if thread.startswith("M"):
        return thread.partition("×")[0]
    if thread.startswith("G") or designation.diameter is None:
        return thread
    return thread.rpartition("-")[0]


def _key_table(designation: Designation) -> Table:
    # ASME B18.3 covers all socket screws; the word before it says which.
    if designation.standard == "ASME B18.3" and designation.text.split(" ")[0] == "set-screw":
        return KEY_SET_INCH
    return KEY_OF[designation.standard]


def _with_unit(size: str, designation: Designation) -> str:
    unit = "in" if designation.standard.startswith("ASME") else "mm"
    return f"{size} {unit}" if size else ""


def _sized(kind: str, size: str, name: str) -> WrenchNeed:
    return WrenchNeed(kind, size, f"{size} {name}" if size else f"a {name} that fits")


def _first_size(designation: Designation) -> str:
    """Return the diameter of what has no thread, `6 mm` of 6×30; '' for none or a range."""
    first = designation.size.partition("×")[0].strip()
    known = first and ".." not in first and "/" not in first
    return f"{first} mm" if known else ""


def _ring(kind: str, name: str, sits_on: str) -> Callable[[Designation], WrenchNeed]:
    def build(designation: Designation) -> WrenchNeed:
        size = _first_size(designation)
        return WrenchNeed(kind, size, f"{name} for a {size} {sits_on}" if size else name)

    return build


def _punch(designation: Designation) -> WrenchNeed:
    # A taper pin is driven at its small end; its nominal size does not give the punch.
    size = "" if designation.kind == "taper pin" else _first_size(designation)
    return _sized("pin-punch", size, "pin punch")


def _plain(kind: str, name: str) -> Callable[[Designation], WrenchNeed]:
    need = WrenchNeed(kind, "", name)
    return lambda designation: need


_BUILD: Mapping[str, Callable[[Designation], WrenchNeed]] = {
    "spanner": _plain("spanner", "a spanner that fits"),
    "hook": _plain("hook-spanner", "a hook spanner that fits"),
    "pin-wrench": _plain("pin-wrench", "a pin wrench that fits"),
    "cross": _plain("screwdriver", "a cross-recess screwdriver that fits"),
    "slotted": _plain("screwdriver", "a slotted screwdriver that fits"),
    "external": _ring("ring-pliers-external", "external ring pliers", "shaft"),
    "internal": _ring("ring-pliers-internal", "internal ring pliers", "bore"),
    "ring": _ring("ring-pliers", "retaining-ring pliers", "ring"),
    "pliers": _plain("pliers", "pliers"),
    "punch": _punch,
    "nut-driver": _plain("nut-driver", "a nut driver that fits"),
}
