"""Sizes of spanners and hex keys against the tables of the standards."""

from __future__ import annotations

from fractions import Fraction

import pytest

from compiler.trade import tools
from compiler.trade.designation import Designation, parse_designation
from compiler.trade.kinds import KINDS
from compiler.trade.standards import STANDARDS
from compiler.trade.wrenching import hand_need, torque_need

SIZES = ["M3", "M4", "M5", "M6", "M8", "M10", "M12", "M14", "M16", "M20", "M22", "M24"]
HEX_ISO = ["5.5", "7", "8", "10", "13", "16", "18", "21", "24", "30", "34", "36"]
HEX_DIN = ["5.5", "7", "8", "10", "13", "17", "19", "22", "24", "30", "32", "36"]

KEY_SIZES = ["M3", "M4", "M5", "M6", "M8", "M10", "M12", "M16", "M20", "M24"]
KEYS = {
    "ISO 4762": "2.5 3 4 5 6 8 10 14 17 19",
    "DIN 912": "2.5 3 4 5 6 8 10 14 17 19",
    "ISO 7380-1": "2 2.5 3 4 5 6",
    "ISO 10642": "2 2.5 3 4 5 6 8 10 12",
    "ISO 4026": "1.5 2 2.5 3 4 5 6 8 10 12",
    "ISO 4027": "1.5 2 2.5 3 4 5 6 8 10 12",
    "ISO 4028": "1.5 2 2.5 3 4 5 6 8 10 12",
    "ISO 4029": "1.5 2 2.5 3 4 5 6 8 10 12",
    "DIN 7984": "2 2.5 3 4 5 7 8 12 14 17",
    "DIN 6912": "- 3 4 5 6 8 10 14 17",
}

# size: socket cap, set screw, hex cap screw
INCH = (
    ("#10-24", "5/32", "3/32", ""),
    ("1/4-20", "3/16", "1/8", "7/16"),
    ("5/16-18", "1/4", "5/32", "1/2"),
    ("3/8-16", "5/16", "3/16", "9/16"),
    ("1/2-13", "3/8", "1/4", "3/4"),
    ("3/4-10", "5/8", "3/8", "1 1/8"),
    ("1-8", "3/4", "9/16", "1 1/2"),
)


def read(text: str) -> Designation:
    designation, problems = parse_designation(text)
    assert problems == (), text
    return designation


@pytest.mark.parametrize(
    ("standard", "row"),
    [
        *((s, HEX_ISO) for s in ("ISO 4014", "ISO 4017", "ISO 4032", "ISO 4035")),
        *((s, HEX_DIN) for s in ("DIN 931", "DIN 933", "DIN 934", "DIN 439")),
    ],
)
def test_across_flats(standard: str, row: list[str]) -> None:
    """ISO 4014/4017/4032 and old DIN 931/933/934, library data (R). ISO 4035 (R, one library).

    Both libraries with a fault are left aside: one gives DIN 439 sizes as ISO 4035, one M14 as 22.
    """
    for size, flats in zip(SIZES, row, strict=True):
        assert hand_need(read(f"{size} {standard}")).text == f"{flats} mm spanner"
        socket = torque_need(read(f"{size} {standard}"))
        assert socket is not None
        assert (socket.kind, socket.size) == ("socket", f"{flats} mm")


def test_only_four_sizes_differ_between_the_series() -> None:
    """Library data, 3 of 3 (R): M10, M12, M14 and M22."""
    differ = [
        size
        for size in SIZES
        if hand_need(read(f"{size} ISO 4032")) != hand_need(read(f"{size} DIN 934"))
    ]
    assert differ == ["M10", "M12", "M14", "M22"]


@pytest.mark.parametrize("standard", sorted(KEYS))
def test_hex_key(standard: str) -> None:
    """ISO 4762, 7380-1, 10642, 4026 to 4029, DIN 7984 and DIN 6912, library data (R)."""
    for size, key in zip(KEY_SIZES, KEYS[standard].split(), strict=False):
        if key == "-":
            continue
        found = hand_need(read(f"{size} {standard}"))
        assert (found.kind, found.size) == ("hex-key", f"{key} mm"), size
        bit = torque_need(read(f"{size} {standard}"))
        assert bit is not None
        assert bit.text == f"{key} mm hex bit"


@pytest.mark.parametrize(("thread", "cap", "set_screw", "hexagon"), INCH)
def test_inch_sizes(thread: str, cap: str, set_screw: str, hexagon: str) -> None:
    """ASME B18.3 (R, two libraries) and ASME B18.2.1 (R, one library)."""
    assert hand_need(read(f"{thread} ASME B18.3")).text == f"{cap} in hex key"
    assert hand_need(read(f"set-screw {thread} ASME B18.3")).text == f"{set_screw} in hex key"
    if hexagon:
        assert hand_need(read(f"{thread} ASME B18.2.1")).text == f"{hexagon} in spanner"


def test_the_pitch_does_not_change_the_spanner() -> None:
    """ISO 8765/8676 with ISO 4014/4017: fine threads have the same heads (M)."""
    assert hand_need(read("M10×1.25 ISO 8676")) == hand_need(read("M10 ISO 4017"))
    assert hand_need(read("M10×1.25×30 ISO 8676 8.8")).size == "16 mm"


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("retaining-ring 35 DIN 471", "ring-pliers-external", "for a 35 mm shaft"),
        ("retaining-ring 62 DIN 472", "ring-pliers-internal", "for a 62 mm bore"),
        ("spring-pin 6×30 ISO 8752", "pin-punch", "6 mm pin punch"),
        ("dowel-pin 8×40", "pin-punch", "8 mm pin punch"),
        ("cotter-pin 4×40", "pliers", "pliers"),
        ("hose-clamp 20..32", "nut-driver", "nut driver"),
        ("M4×10 ISO 7045", "screwdriver", "size 2 cross-recess"),
        ("M4×10 ISO 1207", "screwdriver", "slotted"),
    ],
)
def test_what_takes_no_spanner(text: str, kind: str, words: str) -> None:
    """Common practice, no source; DIN 471 sits on shafts, DIN 472 in bores; ISO 4757 recess (M)."""
    found = hand_need(read(text))
    assert found.kind == kind
    assert words in found.text


@pytest.mark.parametrize(
    "text", ["M8×25 8.8", "screw M8", "bolt M8", "stud M8", "knob M8", "latch"]
)
def test_an_unknown_head_is_not_guessed(text: str) -> None:
    """No standard is named, so none is assumed."""
    assert hand_need(read(text)).kind == "none"
    assert torque_need(read(text)) is None


@pytest.mark.parametrize("text", ["nut M10", "plug G1/4", "M10 ISO 4161", "M7 ISO 4032"])
def test_an_unknown_size_is_not_guessed(text: str) -> None:
    """ISO 4161 gives 15 or 16 for M10 by its edition (M); the others name no standard or size."""
    found = hand_need(read(text))
    assert (found.kind, found.size, found.text) == ("spanner", "", "a spanner that fits")


def test_what_a_torque_wrench_cannot_take() -> None:
    """Common practice, no source: pliers and punches give no torque, a tube stops a socket."""
    for text in ("union-nut G1/2", "cotter-pin 4×40", "retaining-ring 35 DIN 471"):
        assert torque_need(read(text)) is None


def test_every_need_of_every_fastener_is_served_by_some_tool() -> None:
    """Our own two tables agree, for every standard and kind in every size of ISO 261 we know."""
    texts = [f"{size} {standard}" for standard in STANDARDS for size in ("M8", "M36", "1/4-20")]
    for text in [*texts, *KINDS]:
        designation, _ = parse_designation(text)
        for need in (hand_need(designation), torque_need(designation)):
            if need is not None and need.kind != "none":
                assert any(tools.serves(kind, need.kind) for kind in tools.KINDS), need
                assert need.text


def test_odd_designations_do_no_harm() -> None:
    """A designation made by hand, with fields that do not go together."""
    for standard in STANDARDS:
        odd = Designation("", thread="", diameter=Fraction(8), standard=standard, size="../×")
        assert hand_need(odd).size == ""
