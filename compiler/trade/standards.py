"""Standards of fasteners and what each describes, in the words of the shop.

From memory, cross-checked against the size tables of reference libraries in the tests where they
have the standard. A standard that is not listed is no mistake: no such list is whole.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

_NUMBERS_OF: Mapping[str, str] = {
    # Screws and bolts.
    "socket-head screw": "ISO 4762, DIN 912, ISO 12474, ASME B18.3",
    "low-head socket screw": "DIN 7984, DIN 6912",
    "button-head screw": "ISO 7380, ISO 7380-1",
    "flanged button-head screw": "ISO 7380-2",
    "countersunk socket screw": "ISO 10642, DIN 7991",
    "hexalobular socket-head screw": "ISO 14579, ISO 14580",
    "hexalobular countersunk screw": "ISO 14581",
    "hexalobular pan-head screw": "ISO 14583",
    "hexagon bolt": "ISO 4014, ISO 8765, ISO 4016, DIN 931, DIN 960, DIN 601, EN 14399-4, DIN 6914",
    "hexagon screw": "ISO 4017, ISO 8676, ISO 4018, DIN 933, DIN 961, DIN 558, ASME B18.2.1",
    "hexagon fit bolt": "DIN 609, DIN 610",
    "hexagon flange bolt": "ISO 4162, ISO 15071, ISO 15072, EN 1662, EN 1665, DIN 6921",
    "shoulder screw": "ISO 7379",
    "slotted cheese-head screw": "ISO 1207, DIN 84",
    "slotted pan-head screw": "ISO 1580, DIN 85",
    "slotted countersunk screw": "ISO 2009, ISO 2010, DIN 963, DIN 964",
    "cross-recessed pan-head screw": "ISO 7045, DIN 7985",
    "cross-recessed countersunk screw": "ISO 7046, ISO 7046-1, ISO 7047, DIN 965, DIN 966",
    "slotted tapping screw": "ISO 1481, ISO 1482, DIN 7971, DIN 7972",
    "cross-recessed tapping screw": "ISO 7049, ISO 7050, ISO 7051, DIN 7981, DIN 7982, DIN 7983",
    "hexagon tapping screw": "ISO 1479, DIN 7976",
    "hexagon wood screw": "DIN 571",
    "carriage bolt": "DIN 603, ISO 8677",
    "knurled screw": "DIN 464, DIN 653, DIN 465",
    "wing screw": "DIN 316",
    "eye bolt": "DIN 444",
    "lifting eye bolt": "DIN 580, ISO 3266",
    "T-slot bolt": "DIN 787",
    "T-head bolt": "DIN 186, DIN 188, DIN 261",
    "U-bolt": "DIN 3570",
    "stud": "DIN 835, DIN 938, DIN 939, DIN 940, DIN 6379",
    "threaded rod": "DIN 975, DIN 976, DIN 976-1",
    "set screw": "ISO 4026, ISO 4027, ISO 4028, ISO 4029, DIN 913, DIN 914, DIN 915, DIN 916",
    "slotted set screw": "ISO 4766, ISO 7434, ISO 7435, ISO 7436, DIN 551, DIN 553, DIN 417, "
    "DIN 438",
    "hexagon-head plug": "DIN 910, DIN 7604",
    "hexagon taper plug": "DIN 909",
    "socket plug": "DIN 908, DIN 906",
    "grease nipple": "DIN 71412, DIN 3404",
    # Nuts.
    "hexagon nut": "ISO 4032, ISO 4033, ISO 4034, ISO 8673, ISO 8674, DIN 934, DIN 555, DIN 6330, "
    "DIN 6915, ASME B18.2.2",
    "thin hexagon nut": "ISO 4035, ISO 8675, DIN 439, DIN 936, DIN 431",
    "hexagon flange nut": "ISO 4161, EN 1661, DIN 6923",
    "hexagon collar nut": "DIN 6331",
    "long hexagon nut": "DIN 6334",
    "self-locking nut": "ISO 7040, ISO 7042, ISO 7719, ISO 7720, ISO 10512, ISO 10513, DIN 980, "
    "DIN 982, DIN 985, DIN 6924, DIN 6925",
    "thin self-locking nut": "ISO 10511",
    "castle nut": "DIN 935, ISO 7035, ISO 7036, ISO 7037",
    "thin castle nut": "DIN 937, DIN 979, ISO 7038",
    "cap nut": "DIN 1587, DIN 917",
    "self-locking cap nut": "DIN 986",
    "square nut": "DIN 557, DIN 562",
    "weld nut": "DIN 928, DIN 929",
    "wing nut": "DIN 315",
    "knurled nut": "DIN 466, DIN 467, DIN 6303",
    "lifting eye nut": "DIN 582",
    "T-slot nut": "DIN 508",
    "slotted round nut": "DIN 981, DIN 1804, DIN 70852, ISO 2982-2",
    "cross-hole round nut": "DIN 1816, DIN 548",
    "two-hole round nut": "DIN 547",
    "union nut": "DIN 3870, ISO 8434-1",
    "knob": "DIN 319, DIN 6335, DIN 6336",
    # Pins.
    "cotter pin": "ISO 1234, DIN 94",
    "spring pin": "ISO 8752, ISO 13337, DIN 1481, DIN 7346",
    "coiled spring pin": "ISO 8748, ISO 8750, ISO 8751, DIN 7343, DIN 7344",
    "dowel pin": "ISO 8733, ISO 8734, ISO 8735, ISO 2338, DIN 6325, DIN 7979, DIN 7",
    "taper pin": "ISO 2339, ISO 8736, ISO 8737, DIN 1, DIN 258, DIN 7977, DIN 7978",
    "clevis pin": "ISO 2340, ISO 2341, DIN 1443, DIN 1444, DIN 1433, DIN 1434, DIN 1435, DIN 1436",
    "grooved pin": "ISO 8739, ISO 8740, ISO 8741, ISO 8742, ISO 8743, ISO 8744, ISO 8745, "
    "ISO 8746, ISO 8747, DIN 1469, DIN 1470, DIN 1471, DIN 1472, DIN 1473, DIN 1474, DIN 1475, "
    "DIN 1476, DIN 1477",
    "spring cotter": "DIN 11024",
    "linch pin": "DIN 11023",
    # Keys, rings, washers, and what clamps or is riveted.
    "parallel key": "DIN 6885, DIN 6885-1, ASME B17.1",
    "taper key": "DIN 6886, DIN 6887",
    "woodruff key": "DIN 6888, ISO 3912, ASME B17.2",
    "external retaining ring": "DIN 471, DIN 983",
    "internal retaining ring": "DIN 472, DIN 984",
    "retaining washer": "DIN 6799",
    "snap ring": "DIN 7993, DIN 5417, ISO 464",
    "shaft collar": "DIN 705, DIN 703",
    "shim ring": "DIN 988",
    "tab washer": "DIN 93, DIN 432, DIN 462, DIN 463, DIN 5406",
    "flat washer": "ISO 7089, ISO 7090, ISO 7091, ISO 7092, ISO 7093, ISO 7094, DIN 125, DIN 126, "
    "DIN 433, DIN 440, DIN 9021, DIN 7349",
    "spring lock washer": "DIN 127, DIN 128, DIN 7980",
    "curved spring washer": "DIN 137",
    "conical spring washer": "DIN 6796",
    "toothed lock washer": "DIN 6797",
    "serrated lock washer": "DIN 6798",
    "disc spring": "DIN 2093",
    "spherical washer": "DIN 6319",
    "square taper washer": "DIN 434, DIN 435, DIN 436",
    "hose clamp": "DIN 3017",
    "rivet": "ISO 1051, DIN 660, DIN 661",
    "blind rivet": "ISO 15977, ISO 15978, ISO 15983, DIN 7337",
}

STANDARDS: Mapping[str, str] = {
    number: kind for kind, numbers in _NUMBERS_OF.items() for number in numbers.split(", ")
}
"""What each standard describes, by its number."""

BODIES = frozenset(("ISO", "DIN", "EN", "ASME", "SAE", "ANSI", "BS", "JIS", "GOST", "GB"))
"""Who issues standards. Several before a number (DIN EN ISO) mean that one took over another's."""

_NUMBER = re.compile(r"[A-Z]{0,2}/?\d+(?:\.\d+)*(?:-\d+)*$")

_BY_FINGERS = ("pin", "key", "ring", "washer", "cotter", "collar", "clamp", "rivet", "spring")
"""What ends the name of a thing that has no thread, though a thread may give its size: a flat
washer M8 goes with a bolt M8."""

_FAMILY: Mapping[str, str] = {
    "nut": "nut",
    "screw": "screw",
    "bolt": "screw",
    "stud": "screw",
}


def kind_of(standard: str) -> str:
    """Return what a standard describes, '' when it is not listed; a part stands for the whole."""
    return STANDARDS.get(standard) or STANDARDS.get(standard.rpartition("-")[0], "")


def is_number(text: str) -> bool:
    """Return whether this can be the number of a standard: `4762`, `7380-1`, `B18.3`, `J429`."""
    return bool(_NUMBER.match(text))


def has_thread(kind: str) -> bool:
    """Return whether a thing of this kind is one with a thread, as far as its name tells."""
    return not kind.endswith(_BY_FINGERS)


def contradict(said: str, described: str) -> bool:
    """Return whether a kind that an author says cannot be what a standard describes.

    Only a nut and a screw are held against each other; the rest has too many names.
    """
    one, other = _family(said), _family(described)
    return bool(one and other and one != other)


def family_of(kind: str) -> str:
    """Return which family a kind belongs to: "nut", "screw", "set screw", '' for the rest."""
    if kind.replace("-", " ").endswith("set screw"):
        return "set screw"
    return _family(kind)


def _family(kind: str) -> str:
    return _FAMILY.get(kind.replace("-", " ").rpartition(" ")[2], "")
