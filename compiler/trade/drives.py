"""What a fastener is turned by: its drive and the size of it, by standard and thread.

Each table says in its docstring where it is from: read in library data, or from memory. Only
nominal sizes are here; a size on which sources or editions differ is left out, never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

AS_WRITTEN = "as written"
"""The source of what the author says."""

Table = Mapping[str, str]
"""Sizes in mm (metric) or inches, or numbers, by the nominal thread size: "M8" or "3/8"."""

DriveKind = Literal[
    "hexagon", "square", "hexagon socket", "cross recess", "slot", "hexalobular socket", "grooves"
]


@dataclass(frozen=True, slots=True)
class Drive:
    """What turns it: the form, its size ("5 mm", "3/8 in", "No. 2", '' if not known), the source.

    The size of a hexagon is across its flats, that of a slot its width, that of grooves the outside
    diameter of the nut.
    """

    kind: DriveKind
    size: str
    source: str


def _table(sizes: str) -> Table:
    """Read `M8:13 M10:16`; a blank inside an inch size is written `_`."""
    pairs = (item.split(":") for item in sizes.split())
    return {name: size.replace("_", " ") for name, size in pairs}


_BOTH_SERIES = """
    M1.6:3.2 M2:4 M2.5:5 M3:5.5 M3.5:6 M4:7 M5:8 M6:10 M8:13 M16:24 M18:27 M20:30 M24:36 M27:41
    M30:46 M33:50 M36:55 M39:60 M42:65 M45:70 M48:75 M52:80 M56:85 M60:90 M64:95
"""
HEX_ISO = _table(f"{_BOTH_SERIES} M10:16 M12:18 M14:21 M22:34")
"""Across flats, ISO 4014/4017/4032 and those that follow them; read in library data. The rows
outside M3 to M24 are in one library only."""

HEX_DIN = _table(f"{_BOTH_SERIES} M7:11 M10:17 M12:19 M14:22 M22:32")
"""Across flats, old DIN 931/933/934; read in library data (M7 from memory, the rows above M36 as in
ISO 4014). Only M10, M12, M14 and M22 differ."""

HEX_EITHER = _table(_BOTH_SERIES)
"""For standards whose editions follow the one series or the other (castle and cap nuts)."""

HEX_STRUCTURAL = _table("M12:22 M16:27 M20:32 M22:36 M24:41 M27:46 M30:50 M36:60")
"""Across flats of structural bolting, EN 14399-3/-4, old DIN 6914/6915; from memory."""

FLANGE_NUT = _table("M5:8 M6:10 M8:13 M12:18 M14:21 M16:24 M20:30")
"""Across flats, ISO 4161; from memory, M12 and up as in library data for EN 1661. M10 is left out:
15 in older editions, 16 in newer ones."""

FLANGE_NUT_EN = _table("M5:8 M6:10 M8:13 M10:15 M12:18 M14:21 M16:24 M20:30")
"""Across flats, EN 1661, read in library data; old DIN 6923 likewise, from memory."""

FLANGE_BOLT = _table("M5:7 M6:8 M8:10 M10:13 M14:18 M16:21")
"""Across flats, ISO 4162 and ISO 15071, small series; from memory, as in library data for EN 1662.
M12 is left out: sources differ."""

FLANGE_BOLT_HEAVY = _table("M5:8 M6:10 M8:13 M12:18 M14:21 M16:24 M20:30")
"""Across flats, EN 1665; read in library data. M10 is left out: sources differ."""

FLANGE_BOLT_DIN = _table("M5:8 M8:13 M10:15")
"""Across flats, DIN 6921; from memory. Sources differ on M6 and from M12 on."""

SQUARE_NUT = _table("M5:8 M6:10 M8:13 M16:24")
"""Across flats, DIN 557; read in library data. M10 and M12 differ by edition."""

HEX_PLUG = _table(
    "G1/8:10 G1/4:13 G3/8:17 G1/2:19 G3/4:24 G1:27 "
    "M10:10 M12:13 M14:13 M16:17 M18:17 M20:19 M22:19 M24:22 M26:24"
)
"""Across flats, DIN 910; from memory."""

HEX_TAPPING = _table("ST2.9:5 ST3.5:5.5 ST4.2:7 ST4.8:8 ST5.5:8 ST6.3:10 ST8:13")
"""Across flats, ISO 1479; from memory."""

HEX_TAPPING_DIN = _table("ST4.2:7 ST4.8:8 ST5.5:8 ST6.3:10")
"""Across flats, DIN 7976; from memory."""

HEX_WASHER_TAPPING = _table("ST2.9:4 ST3.5:5 ST3.9:5 ST4.2:5.5 ST4.8:7 ST5.5:7 ST6.3:8")
"""Across flats, ISO 7053 and ISO 10509; from memory."""

KEY_CAP = _table(
    "M1.6:1.5 M2:1.5 M2.5:2 M3:2.5 M4:3 M5:4 M6:5 M8:6 M10:8 M12:10 M14:12 M16:14 M18:14 M20:17 "
    "M22:17 M24:19 M27:19 M30:22 M33:24 M36:27 M42:32 M48:36 M56:41 M64:46"
)
"""Hex key, ISO 4762 (old DIN 912); read in library data; M18, M22, M27 and M33 (DIN 912 only) from
memory."""

KEY_BUTTON = _table("M3:2 M4:2.5 M5:3 M6:4 M8:5 M10:6 M12:8 M16:10")
"""Hex key, ISO 7380-1 and ISO 7380-2; read in library data."""

KEY_COUNTERSUNK = _table("M3:2 M4:2.5 M5:3 M6:4 M8:5 M10:6 M12:8 M14:10 M16:10 M20:12")
"""Hex key, ISO 10642; read in library data. Old DIN 7991 likewise, from memory."""

KEY_SET = _table(
    "M1.6:0.7 M2:0.9 M2.5:1.3 M3:1.5 M4:2 M5:2.5 M6:3 M8:4 M10:5 M12:6 M16:8 M20:10 M24:12"
)
"""Hex key, ISO 4026 to 4029; read in library data. Old DIN 913 to 916 likewise, from memory."""

KEY_LOW = _table("M3:2 M4:2.5 M5:3 M6:4 M8:5 M10:7 M12:8 M16:12 M20:14 M24:17")
"""Hex key, DIN 7984; read in library data."""

KEY_LOW_PILOT = _table("M4:3 M5:4 M6:5 M8:6 M10:8 M12:10 M16:14 M20:17")
"""Hex key, DIN 6912; read in library data."""

KEY_SHOULDER = _table("M5:3 M6:4 M8:5 M10:6 M12:8 M16:10 M20:12")
"""Hex key by the thread, ISO 7379; read in library data."""

KEY_PLUG = _table(
    "G1/8:5 G1/4:6 G3/8:8 G1/2:10 G3/4:12 G1:17 G1-1/4:22 G1-1/2:24 "
    "M8:4 M10:5 M12:6 M14:6 M16:8 M18:8 M20:10 M22:10 M24:12 M26:12"
)
"""Hex key, DIN 908; from memory."""

KEY_TAPER_PLUG = _table(
    "R1/8:5 R1/4:7 R3/8:8 R1/2:10 R3/4:12 R1:17 M8:4 M10:5 M12:6 M14:7 M16:8 M20:10 M22:10"
)
"""Hex key, DIN 906; from memory."""

CROSS_RECESS = _table("M1.6:0 M2:0 M2.5:1 M3:1 M3.5:2 M4:2 M5:2 M6:3 M8:4 M10:4")
"""Number of the cross recess, ISO 7045 and 7046 with ISO 4757; read in library data. Old DIN 7985
and 965 likewise, from memory."""

CROSS_OVAL = {size: number for size, number in CROSS_RECESS.items() if size != "M2"}
"""Number of the cross recess, ISO 7047; read in library data. Sources differ on M2."""

CROSS_CHEESE = _table("M2.5:1 M3:2 M3.5:2 M4:2 M5:2 M6:3 M8:3")
"""Number of the cross recess, ISO 7048; read in library data."""

CROSS_COLLAR = _table("M3:1 M3.5:2 M4:2 M5:2 M6:3 M8:4")
"""Number of the cross recess, DIN 967; read in library data."""

CROSS_TAPPING = _table("ST2.9:1 ST3.5:2 ST3.9:2 ST4.2:2 ST4.8:2 ST5.5:3 ST6.3:3 ST8:4 ST9.5:4")
"""Number of the cross recess, ISO 7049 to 7051, old DIN 7981 to 7983; from memory."""

SLOT = _table(
    "M1.6:0.4 M2:0.5 M2.5:0.6 M3:0.8 M3.5:1 M4:1.2 M5:1.2 M6:1.6 M8:2 M10:2.5"
)  # fmt: skip
"""Width of the slot, ISO 1207, 1580, 2009 and 2010; nominal sizes from memory, no wider than the
limits in library data for ISO 1207 and 1580."""

LOBES_CAP = _table(
    "M2:6 M2.5:8 M3:10 M4:20 M5:25 M6:30 M8:45 M10:50 M12:55 M14:60 M16:70 M18:80 M20:90"
)
"""Number of the hexalobular socket, ISO 14579 with ISO 10664; from memory."""

LOBES = _table("M2:6 M2.5:8 M3:10 M3.5:15 M4:20 M5:25 M6:30 M8:45 M10:50")
"""Number of the hexalobular socket, ISO 14580, 14581, 14583 and 14584; read in library data."""

LOBES_RAISED = _table("M3:10 M4:20 M5:25 M6:30 M8:45 M10:50")
"""Number of the hexalobular socket, ISO 14582; read in library data."""

LOBES_TAPPING = _table("ST2.9:10 ST3.5:15 ST4.2:20 ST4.8:25 ST5.5:25 ST6.3:30")
"""Number of the hexalobular socket, ISO 14585 to 14587; from memory."""

KEY_CAP_INCH = _table(
    "#4:3/32 #5:3/32 #6:7/64 #8:9/64 #10:5/32 1/4:3/16 5/16:1/4 3/8:5/16 7/16:3/8 1/2:3/8 5/8:1/2 "
    "3/4:5/8 7/8:3/4 1:3/4 1-1/4:7/8 1-1/2:1"
)
"""Hex key of socket head cap screws, ASME B18.3; read in library data up to 1 in, from memory
above."""

KEY_SET_INCH = _table(
    "#4:0.050 #5:1/16 #6:1/16 #8:5/64 #10:3/32 1/4:1/8 5/16:5/32 3/8:3/16 7/16:7/32 1/2:1/4 "
    "5/8:5/16 3/4:3/8 7/8:1/2 1:9/16"
)
"""Hex key of set screws, ASME B18.3; read in library data."""

KEY_FLAT_INCH = _table(
    "#4:1/16 #5:5/64 #6:5/64 #8:3/32 #10:1/8 1/4:5/32 5/16:3/16 3/8:7/32 1/2:5/16 5/8:3/8"
)
"""Hex key of button head and of flat countersunk socket screws, ASME B18.3; read in library data
from #10 to 1/2, the rest from memory."""

KEY_COUNTERSUNK_INCH = {**KEY_FLAT_INCH, **_table("7/16:1/4 3/4:1/2 7/8:9/16 1:5/8")}
"""The same for flat heads, which go on to 1 in; 3/4 and 1 read in library data."""

_HEX_INCH = """
    1/4:7/16 5/16:1/2 3/8:9/16 1/2:3/4 5/8:15/16 3/4:1_1/8 7/8:1_5/16 1:1_1/2 1-1/8:1_11/16
    1-1/4:1_7/8 1-3/8:2_1/16 1-1/2:2_1/4
"""
HEX_INCH = _table(f"{_HEX_INCH} 7/16:5/8 9/16:13/16")
"""Across flats of hex cap screws, ASME B18.2.1; read in library data, 7/16, 9/16, 5/8, 7/8 and
above 1 in from memory."""

HEX_NUT_INCH = _table(f"{_HEX_INCH} 7/16:11/16 9/16:7/8")
"""Across flats of hex nuts (not the heavy ones), ASME B18.2.2; from memory."""

ROUND_NUT = _table(
    "KM0:18 KM1:22 KM2:25 KM3:28 KM4:32 KM5:38 KM6:45 KM7:52 KM8:58 KM9:65 KM10:70 KM11:75 KM12:80 "
    "KM13:85 KM14:92 KM15:98 KM16:105 KM17:110 KM18:120 KM19:125 KM20:130"
)
"""Outside diameter of bearing lock nuts by their sign, DIN 981; from memory."""

_Rows = tuple[tuple[DriveKind, Table, str], ...]

_ROWS: _Rows = (
    ("hexagon", HEX_ISO, "ISO 4014,ISO 4017,ISO 8765,ISO 8676,ISO 4032,ISO 4033,ISO 8673,ISO 4035"),
    ("hexagon", HEX_ISO, "ISO 8675,ISO 4015,ISO 4016,ISO 4018,ISO 4034,ISO 4036,ISO 8674"),
    ("hexagon", HEX_ISO, "ISO 7040,ISO 7041,ISO 7042,ISO 10511,ISO 7719,ISO 7720,ISO 10512"),
    ("hexagon", HEX_ISO, "ISO 10513,ISO 7035,ISO 7036,ISO 7037,ISO 7038"),
    ("hexagon", HEX_ISO, "ASME B18.2.3.1M,ASME B18.2.4.1M,ASME B18.2.4.2M"),
    ("hexagon", HEX_ISO, "GB/T 5782,GB/T 5783,GB/T 5785,GB/T 5786,GB/T 6170,GB/T 6172.1"),
    ("hexagon", HEX_DIN, "DIN 931,DIN 933,DIN 934,DIN 439,DIN 985,DIN 960,DIN 961"),
    ("hexagon", HEX_DIN, "DIN 555,DIN 558,DIN 601,DIN 936,DIN 982,DIN 980"),
    ("hexagon", HEX_EITHER, "DIN 935,DIN 935-1,DIN 937,DIN 979,DIN 1587,DIN 917,DIN 986,DIN 6334"),
    ("hexagon", HEX_EITHER, "DIN 6330,DIN 6331,DIN 6924,DIN 6925,DIN 609,DIN 7990,BS 3692"),
    ("hexagon", HEX_EITHER, "JIS B1180,JIS B1181"),
    ("hexagon", HEX_STRUCTURAL, "EN 14399-3,EN 14399-4,EN 14399-8,DIN 6914,DIN 6915,DIN 7999"),
    ("hexagon", FLANGE_NUT, "ISO 4161,ISO 7043,ISO 7044,ISO 12125,ISO 12126,ISO 10663"),
    ("hexagon", FLANGE_NUT_EN, "EN 1661,EN 1663,EN 1664,EN 1666,EN 1667,DIN 6923"),
    ("hexagon", FLANGE_BOLT, "ISO 4162,ISO 15071,EN 1662"),
    ("hexagon", FLANGE_BOLT_HEAVY, "EN 1665"),
    ("hexagon", FLANGE_BOLT_DIN, "DIN 6921"),
    ("hexagon", HEX_PLUG, "DIN 910"),
    ("hexagon", HEX_TAPPING, "ISO 1479"),
    ("hexagon", HEX_TAPPING_DIN, "DIN 7976"),
    ("hexagon", HEX_WASHER_TAPPING, "ISO 7053,ISO 10509"),
    ("hexagon", HEX_INCH, "ASME B18.2.1"),
    ("hexagon", HEX_NUT_INCH, "ASME B18.2.2"),
    ("square", SQUARE_NUT, "DIN 557"),
    ("hexagon socket", KEY_CAP, "ISO 4762,DIN 912,ISO 12474,ASME B18.3.1M,JIS B1176,GB/T 70.1"),
    ("hexagon socket", KEY_BUTTON, "ISO 7380,ISO 7380-1,ISO 7380-2,ASME B18.3.4M,JIS B1174"),
    ("hexagon socket", KEY_BUTTON, "GB/T 70.2"),
    ("hexagon socket", KEY_COUNTERSUNK, "ISO 10642,DIN 7991,ASME B18.3.5M,JIS B1194,GB/T 70.3"),
    ("hexagon socket", KEY_SET, "ISO 4026,ISO 4027,ISO 4028,ISO 4029,DIN 913,DIN 914,DIN 915"),
    ("hexagon socket", KEY_SET, "DIN 916,ASME B18.3.6M,JIS B1177"),
    ("hexagon socket", KEY_SET, "GB/T 77,GB/T 78,GB/T 79,GB/T 80"),
    ("hexagon socket", KEY_LOW, "DIN 7984"),
    ("hexagon socket", KEY_LOW_PILOT, "DIN 6912"),
    ("hexagon socket", KEY_SHOULDER, "ISO 7379"),
    ("hexagon socket", KEY_PLUG, "DIN 908"),
    ("hexagon socket", KEY_TAPER_PLUG, "DIN 906"),
    ("hexagon socket", KEY_CAP_INCH, "ASME B18.3"),
    ("cross recess", CROSS_RECESS, "ISO 7045,ISO 7046,ISO 7046-1,DIN 7985,DIN 965,GB/T 818"),
    ("cross recess", CROSS_OVAL, "ISO 7047,DIN 966"),
    ("cross recess", CROSS_CHEESE, "ISO 7048"),
    ("cross recess", CROSS_COLLAR, "DIN 967"),
    ("cross recess", CROSS_TAPPING, "ISO 7049,ISO 7050,ISO 7051,DIN 7981,DIN 7982,DIN 7983"),
    ("slot", SLOT, "ISO 1207,ISO 1580,ISO 2009,ISO 2010,DIN 84,DIN 85,DIN 963,DIN 964"),
    ("hexalobular socket", LOBES_CAP, "ISO 14579"),
    ("hexalobular socket", LOBES, "ISO 14580,ISO 14581,ISO 14583,ISO 14584"),
    ("hexalobular socket", LOBES_RAISED, "ISO 14582"),
    ("hexalobular socket", LOBES_TAPPING, "ISO 14585,ISO 14586,ISO 14587"),
    ("grooves", ROUND_NUT, "DIN 981"),
)

INCH_SOCKETS: Mapping[str, Table] = {
    "set-screw": KEY_SET_INCH,
    "button-head-screw": KEY_FLAT_INCH,
    "countersunk-screw": KEY_COUNTERSUNK_INCH,
}
"""ASME B18.3 covers all socket screws; the word before it says which, a cap screw without one."""


def _by_standard(rows: _Rows) -> Iterator[tuple[str, tuple[DriveKind, Table]]]:
    for kind, table, standards in rows:
        for standard in standards.split(","):
            yield standard, (kind, table)


DRIVE_OF: Mapping[str, tuple[DriveKind, Table]] = dict(_by_standard(_ROWS))
"""Form and sizes of the drive by the number of the standard."""

NUMBERED = frozenset(("cross recess", "hexalobular socket"))
"""Drives whose sizes are no lengths: ISO 4757 and ISO 10664 number them."""

IN_INCHES = frozenset(("ASME B18.2.1", "ASME B18.2.2", "ASME B18.3"))
"""Standards whose sizes are in inches."""
