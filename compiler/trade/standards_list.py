"""The list of standards: what each describes, in the words of the shop.

All from memory; those that a reference library has are cross-checked in the tests.
"""

from __future__ import annotations

from collections.abc import Mapping

NUMBERS_OF: Mapping[str, str] = {
    # Screws and bolts.
    "socket-head screw": "ISO 4762, DIN 912, ISO 12474, ASME B18.3, ASME B18.3.1M, BS 4168, "
    "BS 4168-1, BS 2470, JIS B1176, GB/T 70.1, UNI 5931, NF E25-125, GOST 11738",
    "low-head socket screw": "DIN 7984, DIN 6912",
    "button-head screw": "ISO 7380, ISO 7380-1, ASME B18.3.4M, JIS B1174, GB/T 70.2, BS 4168-4",
    "flanged button-head screw": "ISO 7380-2",
    "countersunk socket screw": "ISO 10642, DIN 7991, ASME B18.3.5M, JIS B1194, GB/T 70.3, "
    "UNI 5933",
    "hexalobular socket-head screw": "ISO 14579, ISO 14580",
    "hexalobular countersunk screw": "ISO 14581, ISO 14582, ISO 14584",
    "hexalobular pan-head screw": "ISO 14583",
    "hexalobular tapping screw": "ISO 14585, ISO 14586, ISO 14587",
    "external hexalobular screw": "DIN 34800, DIN 34801",
    "hexagon bolt": "ISO 4014, ISO 8765, ISO 4015, ISO 4016, DIN 931, DIN 960, DIN 601, "
    "EN 14399-3, EN 14399-4, DIN 6914, DIN 7990, ISO 7411, ISO 7412, JIS B1180, GB/T 5782, "
    "GB/T 5785, GB/T 5780, ASME B18.2.3.5M, ASME B18.2.3.7M, UNI 5737, UNI 5738, NF E25-112, "
    "GOST 7798",
    "hexagon fastener": "BS 3692, BS 4190, BS 1768, BS 1083, ASME B18.2.6",
    "hexagon screw": "ISO 4017, ISO 8676, ISO 4018, DIN 933, DIN 961, DIN 558, ASME B18.2.1, "
    "ASME B18.2.3.1M, ASME B18.2.3.2M, GB/T 5783, GB/T 5786, GB/T 5781, UNI 5739, UNI 5740, "
    "NF E25-114",
    "hexagon fit bolt": "DIN 609, DIN 610, DIN 7968, DIN 7999, EN 14399-8",
    "hexagon flange bolt": "ISO 4162, ISO 15071, ISO 15072, EN 1662, EN 1665, DIN 6921, DIN 6922, "
    "JIS B1189, GB/T 5789, GB/T 16674.1, ASME B18.2.3.4M, ASME B18.2.3.9M",
    "hexagon screw with pilot": "DIN 561, DIN 564",
    "square-head bolt": "DIN 478, DIN 479, DIN 480, DIN 21346, JIS B1182",
    "shoulder screw": "ISO 7379, DIN 923, DIN 927, ASME B18.3.3M",
    "slotted screw": "ASME B18.6.2, JIS B1101",
    "machine screw": "ASME B18.6.3, ASME B18.6.7M, BS 57, BS 4183",
    "captive screw": "DIN 7964",
    "slotted cheese-head screw": "ISO 1207, DIN 84, DIN 404, DIN 920, DIN 921, GB/T 65",
    "slotted pan-head screw": "ISO 1580, DIN 85, GB/T 67",
    "slotted countersunk screw": "DIN 7969, DIN 925, ISO 2009, ISO 2010, DIN 963, DIN 964, "
    "GB/T 68, GB/T 69",
    "cross-recessed screw": "JIS B1111",
    "cross-recessed pan-head screw": "ISO 7045, DIN 7985, DIN 967, GB/T 818, UNI 7687",
    "cross-recessed cheese-head screw": "ISO 7048",
    "cross-recessed countersunk screw": "ISO 7046, ISO 7046-1, ISO 7046-2, ISO 7047, DIN 965, "
    "DIN 966, GB/T 819.1, GB/T 819.2, GB/T 820, UNI 7688",
    "screw with washer": "ISO 10644, DIN 6900, DIN 6900-1, ASME B18.13, GB/T 9074.1, JIS B1188",
    "tapping screw": "ISO 10510, ASME B18.6.4, ASME B18.6.5M, BS 4174",
    "slotted tapping screw": "ISO 1481, ISO 1482, ISO 1483, DIN 7971, DIN 7972, DIN 7973, "
    "GB/T 5282, GB/T 5283, JIS B1115",
    "cross-recessed tapping screw": "ISO 7049, ISO 7050, ISO 7051, DIN 7981, DIN 7982, DIN 7983, "
    "JIS B1122, GB/T 845, GB/T 846, GB/T 847",
    "hexagon tapping screw": "ISO 1479, ISO 7053, ISO 10509, DIN 7976, DIN 6928, GB/T 5285",
    "thread-forming screw": "DIN 7500, DIN 7500-1, DIN 7513, DIN 7516, ISO 7085",
    "hexagon drilling screw": "ISO 15480",
    "drilling screw": "DIN 7504, ISO 15481, ISO 15482, ISO 15483",
    "hexagon wood screw": "DIN 571",
    "wood screw": "DIN 95, DIN 96, DIN 97, DIN 7995, DIN 7996, DIN 7997, ASME B18.6.1, BS 1210",
    "carriage bolt": "DIN 603, DIN 607, ISO 8677, ISO 8678, ASME B18.5, BS 4933, GB/T 12, "
    "GB/T 14, JIS B1171",
    "plough bolt": "DIN 604, DIN 605, DIN 608, DIN 11014, ASME B18.9",
    "knurled screw": "DIN 464, DIN 653, DIN 465, GB/T 834, GB/T 835",
    "wing screw": "DIN 316",
    "wing fastener": "ASME B18.17",
    "eye bolt": "DIN 444, GB/T 798",
    "lifting eye bolt": "DIN 580, ISO 3266, JIS B1168, GB/T 825, ASME B18.15, BS 4278",
    "T-slot bolt": "DIN 787, ISO 299, JIS B1166, GB/T 37",
    "T-head bolt": "DIN 186, DIN 188, DIN 261, DIN 7992",
    "U-bolt": "DIN 3570, ASME B18.31.5",
    "stud": "DIN 833, DIN 834, DIN 835, DIN 836, DIN 938, DIN 939, DIN 940, DIN 2509, DIN 2510, "
    "DIN 6379, BS 4439, JIS B1173, GB/T 897, GB/T 898, GB/T 899, GB/T 900, GB/T 901, ASME B18.31.2",
    "threaded rod": "DIN 975, DIN 976, DIN 976-1, ASME B18.31.3",
    "foundation bolt": "DIN 529, DIN 797",
    "set screw": "ISO 4026, ISO 4027, ISO 4028, ISO 4029, DIN 913, DIN 914, DIN 915, DIN 916, "
    "ASME B18.3.6M, JIS B1177, GB/T 77, GB/T 78, GB/T 79, GB/T 80, UNI 5923, UNI 5925, UNI 5927, "
    "UNI 5929",
    "thrust screw": "DIN 6332",
    "tommy screw": "DIN 6304, DIN 6306",
    "slotted set screw": "ISO 4766, ISO 7434, ISO 7435, ISO 7436, ISO 2342, DIN 551, DIN 553, "
    "DIN 417, DIN 427, DIN 438, DIN 926, GB/T 71, GB/T 73, GB/T 74, GB/T 75, JIS B1117",
    "square-head set screw": "JIS B1118, GB/T 83, GB/T 84, GB/T 85",
    "hexagon-head plug": "DIN 910, DIN 7604, JIS D2101",
    "hexagon taper plug": "DIN 909",
    "socket plug": "DIN 908, DIN 906, ISO 6149-4",
    "grease nipple": "DIN 71412, DIN 3404, DIN 3405, ISO 6392-1, JIS B1575, GB/T 1152",
    # Nuts.
    "hexagon nut": "ISO 4032, ISO 4033, ISO 4034, ISO 8673, ISO 8674, ISO 4775, DIN 934, DIN 555, "
    "DIN 970, DIN 971, DIN 6330, DIN 6915, EN 14399-10, ASME B18.2.2, ASME B18.2.4.1M, "
    "ASME B18.2.4.2M, ASME B18.2.4.6M, JIS B1181, GB/T 41, GB/T 6170, GB/T 6171, GB/T 6175, "
    "GB/T 6176, UNI 5587, UNI 5588, NF E25-401, GOST 5915",
    "thin hexagon nut": "ISO 4035, ISO 4036, ISO 8675, DIN 439, DIN 936, DIN 431, DIN 972, "
    "GB/T 6172.1, GB/T 6173, ASME B18.2.4.5M, UNI 5589",
    "hexagon flange nut": "ISO 4161, ISO 10663, EN 1661, DIN 6923, JIS B1190, GB/T 6177.1, "
    "GB/T 6177.2, ASME B18.2.4.4M",
    "hexagon collar nut": "DIN 6331, DIN 74361",
    "long hexagon nut": "DIN 6334",
    "self-locking nut": "ISO 7040, ISO 7041, ISO 7042, ISO 7719, ISO 7720, ISO 10512, ISO 10513, "
    "DIN 980, DIN 982, DIN 985, DIN 6924, DIN 6925, ASME B18.16.3M, ASME B18.16.6, JIS B1199, "
    "GB/T 889.1, GB/T 6182, GB/T 6184, BS 4929, BS 4929-1, BS 4929-2",
    "self-locking flange nut": "ISO 7043, ISO 7044, ISO 12125, ISO 12126, EN 1663, EN 1664, "
    "EN 1666, EN 1667, DIN 6926, DIN 6927, GB/T 6183.1, GB/T 6187.1",
    "thin self-locking nut": "ISO 10511, GB/T 6172.2",
    "sheet-steel lock nut": "DIN 7967",
    "castle nut": "DIN 935, ISO 7035, ISO 7036, ISO 7037, JIS B1170, GB/T 6178, GB/T 6179",
    "thin castle nut": "DIN 937, DIN 979, ISO 7038, GB/T 6181",
    "cap nut": "DIN 1587, DIN 917, JIS B1183, GB/T 923, GB/T 802.1",
    "self-locking cap nut": "DIN 986, GB/T 802.3",
    "square nut": "DIN 557, DIN 562, JIS B1163, GB/T 39",
    "weld nut": "DIN 928, DIN 929, DIN 977, ISO 21670, JIS B1196, GB/T 13680, GB/T 13681",
    "wing nut": "DIN 315, JIS B1185, GB/T 62.1, GB/T 62.2",
    "knurled nut": "DIN 466, DIN 467, DIN 6303, GB/T 806, GB/T 807",
    "lifting eye nut": "DIN 582, JIS B1169",
    "T-slot nut": "DIN 508, JIS B1167",
    "slotted round nut": "DIN 981, DIN 1804, DIN 70852, ISO 2982-2, JIS B1554, GB/T 812, GB/T 810",
    "slot-face round nut": "DIN 546",
    "cross-hole round nut": "DIN 1816, DIN 548, GB/T 816",
    "two-hole round nut": "DIN 547, GB/T 815",
    "blind rivet nut": "GB/T 17880.1",
    "slotted union nut": "DIN 11851",
    "union nut": "DIN 3870, ISO 8434, ISO 8434-1",
    "knob": "DIN 319, DIN 6335, DIN 6336, DIN 99, DIN 39, DIN 98, DIN 6337",
    # Pins.
    "pin": "ASME B18.8.1, ASME B18.8.2",
    "cotter pin": "ISO 1234, DIN 94, BS 1574, JIS B1351, GB/T 91, UNI 1336",
    "spring pin": "ISO 8752, ISO 13337, DIN 1481, DIN 7346, ASME B18.8.4M, JIS B2808, GB/T 879.1, "
    "GB/T 879.2, GB/T 879.3",
    "coiled spring pin": "ISO 8748, ISO 8750, ISO 8751, DIN 7343, DIN 7344, ASME B18.8.3M, "
    "GB/T 879.4, GB/T 879.5",
    "dowel pin": "ISO 8733, ISO 8734, ISO 8735, ISO 2338, DIN 6325, DIN 6321, DIN 7979, DIN 7, "
    "ASME B18.8.5M, BS 1804, JIS B1354, JIS B1355, GB/T 119.1, GB/T 119.2, GB/T 120.1, "
    "GB/T 120.2, UNI 6364",
    "taper pin": "ISO 2339, ISO 8736, ISO 8737, DIN 1, DIN 258, DIN 7977, DIN 7978, JIS B1352, "
    "GB/T 117, GB/T 118, GB/T 881",
    "clevis pin": "ISO 2340, ISO 2341, DIN 1443, DIN 1444, DIN 1433, DIN 1434, DIN 1435, "
    "DIN 1436, GB/T 880, GB/T 882",
    "threaded pin": "DIN 1445",
    "grooved pin": "ISO 8739, ISO 8740, ISO 8741, ISO 8742, ISO 8743, ISO 8744, ISO 8745, "
    "ISO 8746, ISO 8747, DIN 1469, DIN 1470, DIN 1471, DIN 1472, DIN 1473, DIN 1474, DIN 1475, "
    "DIN 1476, DIN 1477, GB/T 13829.1",
    "spring cotter": "DIN 11024",
    "linch pin": "DIN 11023",
    # Keys, rings, washers, and what clamps or is riveted.
    "parallel key": "DIN 6885, DIN 6885-1, ISO 773, ISO 2491, ASME B17.1, BS 4235, BS 4235-1, "
    "JIS B1301, GB/T 1096, UNI 6604",
    "taper key": "DIN 6886, DIN 6887, DIN 6881, DIN 6883, DIN 6884, DIN 6889, ISO 774, ISO 2492, "
    "GB/T 1564, GB/T 1565",
    "woodruff key": "DIN 6888, ISO 3912, ASME B17.2, BS 4235-2, GB/T 1099.1",
    "retaining ring": "JIS B2804, BS 3673, BS 3673-1, ASME B18.27, ASME B18.27.1",
    "external retaining ring": "DIN 471, DIN 983, GB/T 894, GB/T 894.1, UNI 7435",
    "internal retaining ring": "DIN 472, DIN 984, GB/T 893, GB/T 893.1, UNI 7437",
    "retaining washer": "DIN 6799, GB/T 896, UNI 7434",
    "snap ring": "DIN 7993, DIN 5417, DIN 9045, ISO 464, GB/T 895.1, GB/T 895.2",
    "shaft collar": "DIN 705, DIN 703",
    "shim ring": "DIN 988",
    "tab washer": "DIN 93, DIN 432, DIN 462, DIN 463, DIN 5406, DIN 70952, GB/T 854, GB/T 858",
    "washer": "ASME B18.21.1",
    "flat washer": "ISO 7089, ISO 7090, ISO 7091, ISO 7092, ISO 7093, ISO 7093-1, ISO 7094, "
    "ISO 887, ISO 8738, ISO 10669, ISO 10673, ISO 7415, DIN 125, DIN 126, DIN 433, DIN 440, "
    "DIN 1052, DIN 1440, DIN 1441, DIN 6340, DIN 6902, DIN 6903, DIN 6916, DIN 7349, DIN 7989, "
    "DIN 9021, EN 14399-5, EN 14399-6, ASME B18.22, ASME B18.22.1, ASME B18.22M, BS 4320, "
    "JIS B1256, GB/T 95, GB/T 96.1, GB/T 97.1, GB/T 97.2, GB/T 848, UNI 6592, UNI 6593, "
    "NF E25-513, NF E25-514, ISO 7416",
    "sealing washer": "DIN 7603",
    "spring lock washer": "DIN 6905, DIN 127, DIN 128, DIN 7980, BS 4464, JIS B1251, GB/T 93, "
    "GB/T 859, GB/T 7244, UNI 1751",
    "curved spring washer": "DIN 137, GB/T 860, GB/T 955, DIN 6904",
    "conical spring washer": "DIN 6796, DIN 6908, NF E25-511",
    "toothed lock washer": "DIN 6797, DIN 6906, GB/T 861.1, GB/T 862.1",
    "serrated lock washer": "DIN 6798, DIN 6907, GB/T 861.2, GB/T 862.2",
    "wedge-locking washer": "DIN 25201",
    "disc spring": "DIN 2093, EN 16983, GB/T 1972",
    "spherical washer": "DIN 6319, GB/T 849, GB/T 850",
    "countersunk finishing washer": "NF E27-619",
    "square taper washer": "DIN 434, DIN 435, DIN 6917, DIN 6918, GB/T 852, GB/T 853",
    "square washer": "DIN 436",
    "slotted washer": "DIN 6371, DIN 6372",
    "hose clamp": "DIN 3017, DIN 3017-1, BS 5315",
    "pipe clamp": "DIN 32676, ISO 2852, DIN 3015, DIN 3016, DIN 3567",
    "wire rope grip": "EN 13411-5, DIN 741",
    "turnbuckle": "DIN 1480",
    "shackle": "DIN 82101, ISO 2415, EN 13889",
    "rivet": "ISO 1051, DIN 124, DIN 302, DIN 660, DIN 661, DIN 662, DIN 674, DIN 7338, DIN 7340, "
    "ASME B18.1.1, ASME B18.1.2, GB/T 867, GB/T 869",
    "blind rivet": "ISO 15973, ISO 15974, ISO 15975, ISO 15976, ISO 15977, ISO 15978, ISO 15979, "
    "ISO 15980, ISO 15981, ISO 15982, ISO 15983, ISO 15984, ISO 16582, ISO 16583, ISO 16584, "
    "ISO 16585, DIN 7337, GB/T 12618.1",
}
"""Numbers of standards by what they describe."""

_STRENGTH_TEXT = """
    DIN 962, EN 15048, ISO 898, ISO 2320, ISO 2702, ISO 3506, EN 20898, SAE J429, SAE J995,
    SAE J82, SAE J1199,
    ASTM A193, ASTM A194, ASTM A307, ASTM A320, ASTM A325, ASTM A354, ASTM A449, ASTM A490,
    ASTM A563, ASTM A574, ASTM F593, ASTM F594, ASTM F738, ASTM F835, ASTM F837, ASTM F3125,
    BS 6104, JIS B1051, JIS B1052, JIS B1054, GB/T 3098
"""
GENERIC = frozenset(
    ("hexagon fastener", "wing fastener", "pin", "retaining ring", "washer", "captive screw")
)
"""Kinds of standards that hold several things, so that what the author says tells which it is."""

STRENGTH_ONLY = frozenset(name.strip() for name in _STRENGTH_TEXT.split(","))
"""Standards that say how strong a fastener is and nothing of its head; from memory."""
