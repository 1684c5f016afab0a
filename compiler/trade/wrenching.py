"""Which tool turns or drives a fastener, worked out from its designation.

Nothing is guessed: where head or size are not known, the size is '' and the text says "that fits".
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from compiler.trade.designation import Designation
from compiler.trade.drives import (
    DRIVE_OF,
    IN_INCHES,
    INCH_SOCKETS,
    NUMBERED,
    Drive,
    DriveKind,
    Table,
)
from compiler.trade.iso_threads import LOCK_NUTS

COMMON = "common practice, no source"


@dataclass(frozen=True, slots=True)
class WrenchNeed:
    """A need: its kind as in `trade/tools.py`, its size ("5 mm", "3/8 in", ''), and in words.

    Kinds: hex-key, hex-bit, hexalobular-key, hexalobular-bit, spanner, socket, screwdriver,
    nut-driver, pliers, ring-pliers,
    ring-pliers-external, ring-pliers-internal, pin-punch, hook-spanner, pin-wrench; "none"
    for what needs no such tool or is not known well enough.
    """

    kind: str
    size: str
    text: str


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
    "hexalobular socket-head screw": "lobes",
    "hexalobular countersunk screw": "lobes",
    "hexalobular pan-head screw": "lobes",
    "hexalobular tapping screw": "lobes",
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

_DRIVE_BY_WORD: Mapping[str, DriveKind] = {
    "hexagon": "hexagon",
    "square nut": "square",
    "hexalobular": "hexalobular socket",
    "cross-recessed": "cross recess",
    "slotted round": "grooves",
    "slotted": "slot",
}
"""The drive where the name of a kind begins with it, the longer beginnings first."""


def drive_of(designation: Designation) -> Drive | None:
    """Return what a fastener is turned by; None where nothing is known of its head.

    What the author says counts more than any table. A size that no table has is ''.
    """
    if designation.drive is not None:
        return designation.drive
    kind, table = _drive_table(designation)
    if kind is None:
        return None
    size = table.get(_nominal(designation), "")
    source = designation.standard or COMMON
    return Drive(kind, _as_said(kind, size, designation.standard), source)


def hand_need(designation: Designation) -> WrenchNeed:
    """Return the tool that turns or drives the fastener by hand; kind "none" if none is known."""
    known = designation.drive is not None or designation.standard in DRIVE_OF
    drive = drive_of(designation) if known else None
    if drive is not None:
        if _NEED_BY_KIND.get(designation.kind) == "nut-driver":
            return _sized("nut-driver", drive.size, "nut driver")
        return _BY_DRIVE[drive.kind](drive)
    how = _NEED_BY_KIND.get(designation.kind, "")
    return _BUILD[how](designation) if how else _NO_SIZE


def torque_need(designation: Designation) -> WrenchNeed | None:
    """Return what goes on a torque wrench for it; None when nothing does, or none is known.

    A union nut has a tube through it, so no socket goes over it.
    """
    by_hand = hand_need(designation)
    if by_hand.kind == "hex-key":
        return _sized("hex-bit", by_hand.size, "hex bit")
    if by_hand.kind == "hexalobular-key":
        return _numbered("hexalobular-bit", by_hand.size, "hexalobular bit")
    if by_hand.kind in ("spanner", "nut-driver") and designation.kind != "union nut":
        return _sized("socket", by_hand.size, "socket")
    return None


def _drive_table(designation: Designation) -> tuple[DriveKind | None, Table]:
    found = DRIVE_OF.get(designation.standard)
    if found is not None:
        if designation.standard != "ASME B18.3":
            return found
        return found[0], INCH_SOCKETS.get(designation.text.split(" ")[0], found[1])
    for word, kind in _DRIVE_BY_WORD.items():
        if designation.kind.startswith(word):
            return kind, {}
    return None, {}


def _nominal(designation: Designation) -> str:
    """Return the thread's size without its pitch: `M10` of M10×1.25, `1/4` of 1/4-20.

    That of a bearing lock nut is its sign: `KM4`.
    """
    thread = designation.thread
    if designation.standard == "DIN 981":
        return _SIGN_OF.get(thread, "")
    if thread.startswith("M"):
        return thread.partition("×")[0]
    if designation.diameter is None:
        return thread
    return thread.rpartition("-")[0]


_SIGN_OF: Mapping[str, str] = {thread: sign for sign, thread in LOCK_NUTS.items()}


def _as_said(kind: DriveKind, size: str, standard: str) -> str:
    """Return a size as it is said: `5 mm`, `3/8 in`, `No. 2`."""
    if not size:
        return ""
    if kind in NUMBERED:
        return f"No. {size}"
    return f"{size} in" if standard in IN_INCHES else f"{size} mm"


def _sized(kind: str, size: str, name: str) -> WrenchNeed:
    return WrenchNeed(kind, size, f"{size} {name}" if size else f"a {name} that fits")


def _numbered(kind: str, size: str, name: str) -> WrenchNeed:
    """Return a tool whose sizes are numbers: `size 2 cross-recess screwdriver`."""
    return WrenchNeed(kind, size, f"size {size} {name}" if size else f"a {name} that fits")


def _number_of(drive: Drive) -> str:
    return drive.size.removeprefix("No. ")


_BY_DRIVE: Mapping[DriveKind, Callable[[Drive], WrenchNeed]] = {
    "hexagon": lambda drive: _sized("spanner", drive.size, "spanner"),
    "square": lambda drive: _sized("spanner", drive.size, "spanner"),
    "hexagon socket": lambda drive: _sized("hex-key", drive.size, "hex key"),
    "cross recess": lambda drive: _numbered(
        "screwdriver", _number_of(drive), "cross-recess screwdriver"
    ),
    "hexalobular socket": lambda drive: _numbered(
        "hexalobular-key", _number_of(drive), "hexalobular key"
    ),
    "slot": lambda drive: WrenchNeed("screwdriver", "", "a slotted screwdriver that fits"),
    "grooves": lambda drive: WrenchNeed("hook-spanner", "", "a hook spanner that fits"),
}


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
    "lobes": _plain("hexalobular-key", "a hexalobular key that fits"),
    "slotted": _plain("screwdriver", "a slotted screwdriver that fits"),
    "external": _ring("ring-pliers-external", "external ring pliers", "shaft"),
    "internal": _ring("ring-pliers-internal", "internal ring pliers", "bore"),
    "ring": _ring("ring-pliers", "retaining-ring pliers", "ring"),
    "pliers": _plain("pliers", "pliers"),
    "punch": _punch,
    "nut-driver": _plain("nut-driver", "a nut driver that fits"),
}
