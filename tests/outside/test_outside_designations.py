"""Designations against ISO 261/262 pitches, and standards against what they describe."""

from __future__ import annotations

from fractions import Fraction

import pytest

from compiler.trade import tools
from compiler.trade.designation import Designation, describe, parse_designation
from compiler.trade.wrenching import hand_need, torque_need

# Diameter: coarse pitch (R, library data), then the fine ones of ISO 261 (M).
ISO_261 = {
    "3": ("0.5", "0.35"),
    "4": ("0.7", "0.5"),
    "5": ("0.8", "0.5"),
    "6": ("1", "0.75"),
    "8": ("1.25", "1 0.75"),
    "10": ("1.5", "1.25 1 0.75"),
    "12": ("1.75", "1.5 1.25 1"),
    "14": ("2", "1.5 1.25 1"),
    "16": ("2", "1.5 1"),
    "18": ("2.5", "2 1.5 1"),
    "20": ("2.5", "2 1.5 1"),
    "24": ("3", "2 1.5 1"),
    "30": ("3.5", "3 2 1.5 1"),
    "36": ("4", "3 2 1.5"),
    "42": ("4.5", "4 3 2 1.5"),
    "48": ("5", "4 3 2 1.5"),
    "64": ("6", "4 3 2 1.5"),
}

# Bearing lock nuts, DIN 981 (M): the thread of each by its short sign.
DIN_981 = {
    "KM0": "M10×0.75",
    "KM1": "M12×1",
    "KM2": "M15×1",
    "KM3": "M17×1",
    "KM4": "M20×1",
    "KM5": "M25×1.5",
    "KM6": "M30×1.5",
    "KM7": "M35×1.5",
    "KM8": "M40×1.5",
    "KM9": "M45×1.5",
    "KM10": "M50×1.5",
    "KM11": "M55×2",
    "KM12": "M60×2",
    "KM15": "M75×2",
    "KM20": "M100×2",
}


def read(text: str) -> Designation:
    designation, problems = parse_designation(text)
    assert problems == (), (text, problems)
    return designation


def problem(text: str) -> str:
    """Return the one thing that is wrong, with its place, as `place: message`."""
    (found,) = parse_designation(text)[1]
    return f"{text[found.start : found.end]}: {found.message}"


@pytest.mark.parametrize(
    ("size", "pitch"),
    [(d, p) for d, (coarse, fine) in ISO_261.items() for p in (coarse, *fine.split())],
)
def test_a_pitch_of_iso_261_is_read_as_one(size: str, pitch: str) -> None:
    """ISO 261: with and without a length behind it; the coarse pitch is not said again."""
    coarse = ISO_261[size][0]
    name = f"M{size}" if pitch == coarse else f"M{size}×{pitch}"
    for text, length in ((f"M{size}×{pitch}", None), (f"M{size}×{pitch}×80", Fraction(80))):
        found = read(text)
        assert (found.thread, found.pitch, found.length) == (name, Fraction(pitch), length)


@pytest.mark.parametrize("size", ISO_261)
def test_the_shortest_screws_are_no_pitches(size: str) -> None:
    """ISO 4026 to 4029 and old DIN 913 to 916 (M): set screws are made down to half a diameter."""
    for length in (Fraction(size), Fraction(size) / 2):
        if length <= Fraction(ISO_261[size][0]) or length.denominator != 1:
            continue
        found = read(f"M{size}×{length} ISO 4026")
        assert (found.thread, found.length) == (f"M{size}", length)
        assert found.pitch == Fraction(ISO_261[size][0])


@pytest.mark.parametrize(
    ("text", "thread", "length"),
    [
        ("M6×4 ISO 4026", "M6", 4),
        ("set-screw M5×4", "M5", 4),
        ("M10×1.25×40", "M10×1.25", 40),
        ("nut M10×1.25", "M10×1.25", None),
        ("M8×25", "M8", 25),
        ("M5×8", "M5", 8),
        ("M3×3", "M3", 3),
        ("M2×2", "M2", 2),
        ("M8x1", "M8×1", None),
        ("M10 × 1.25 × 40 ISO 8765 10.9", "M10×1.25", 40),
        ("M6 × 16 ISO 4762", "M6", 16),
        ("M42×4", "M42×4", None),
        ("M30 × 3", "M30×3", None),
        ("M26×1.5", "M26×1.5", None),
    ],
)
def test_pitch_or_length(text: str, thread: str, length: int | None) -> None:
    """ISO 261: the second number is a pitch only where the thread is made with one so small."""
    found = read(text)
    assert (found.thread, found.length) == (thread, length)


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("M6×1.25", "M6×1.25: M6 is not made with a pitch of 1.25 mm."),
        ("M8×1.5×25", "M8×1.5×25: M8 is not made with a pitch of 1.5 mm."),
        ("M10×1.75 ISO 4032", "M10×1.75: M10 is not made with a pitch of 1.75 mm."),
        ("M10×0.9×25", "M10×0.9×25: M10 is not made with a pitch of 0.9 mm."),
        ("M10 × 1.75 × 40", "M10 × 1.75 × 40: M10 is not made with a pitch of 1.75 mm."),
        ("M13", "M13: M13 is no thread of ISO 261."),
        ("M6.2×16", "M6.2: M6.2 is no thread of ISO 261."),
        ("nut M10×25", "M10×25: M10 is not made with a pitch of 25 mm."),
        ("M10×25 ISO 4032", "M10×25: M10 is not made with a pitch of 25 mm."),
        ("M6×16 ISO 4762 8.7", "8.7: 8.7 is no strength class of ISO 898."),
        ("M6×16 ISO 47x62", "ISO 47x62: 47x62 is no number of a standard."),
        ("M6×16 DIN", "DIN: DIN has no number behind it."),
        ("M6×16 blunt", "blunt: blunt does not belong into a designation."),
        ("Q6×16", "Q6×16: Q6×16 is neither a thread nor a kind of fastener."),
        ("nut M6 ISO 4762", "nut: ISO 4762 is a socket-head screw, not a nut."),
        ("M6 KM4", "KM4: KM4 does not belong into a designation."),
    ],
)
def test_what_no_standard_has(text: str, wrong: str) -> None:
    """ISO 261, ISO 898-1 and -2: sizes, pitches and classes that do not exist are told apart."""
    assert problem(text) == wrong


@pytest.mark.parametrize("text", ["M6×30 DIN 6334", "long-nut M6×18", "M10×12 DIN 508"])
def test_a_few_nuts_have_a_second_size(text: str) -> None:
    """DIN 6334 (length) and DIN 508 (width of the slot), from memory."""
    assert read(text).length is not None


@pytest.mark.parametrize(("sign", "thread"), DIN_981.items())
def test_bearing_lock_nuts(sign: str, thread: str) -> None:
    """DIN 981 (M); a hook spanner turns them, which no torque wrench takes."""
    found = read(f"{sign} DIN 981")
    assert found.thread == thread == read(sign).thread
    assert describe(found)[1] == "slotted round nut"
    assert hand_need(found).kind == "hook-spanner"
    assert torque_need(found) is None


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("M8 DIN 315", "wing nut"),
        ("M8×20 DIN 316", "wing screw"),
        ("M12 DIN 580", "lifting eye bolt"),
        ("M12 DIN 582", "lifting eye nut"),
        ("M8×40 DIN 835", "stud"),
        ("M8×40 DIN 938", "stud"),
        ("M8×40 DIN 939", "stud"),
        ("M12×14×50 DIN 787", "T-slot bolt"),
        ("M6×16 DIN 464", "knurled screw"),
        ("M6 DIN 466", "knurled nut"),
        ("M6 DIN 467", "knurled nut"),
        ("M8 DIN 1587", "cap nut"),
        ("M8 ISO 7089", "flat washer"),
        ("8 DIN 127", "spring lock washer"),
        ("25..40 DIN 3017", "hose clamp"),
        ("8×30 ISO 2341", "clevis pin"),
        *((f"6×30 ISO {n}", "grooved pin") for n in range(8739, 8748)),
        ("6×40 ISO 2339", "taper pin"),
        ("6×40 ISO 8734", "dowel pin"),
        ("5×6.5 DIN 6888", "woodruff key"),
        ("8×7×40 DIN 6885", "parallel key"),
        ("8 DIN 6799", "retaining washer"),
        ("20 DIN 93", "tab washer"),
        ("20 DIN 462", "tab washer"),
        ("35 DIN 705", "shaft collar"),
        ("M10 DIN 935-1", "castle nut"),
        ("ST4.2×13 ISO 7049", "cross-recessed tapping screw"),
        ("DIN EN ISO 4762 M6×16", "socket-head screw"),
        ("M6×16 DIN EN ISO 4762 8.8", "socket-head screw"),
        ("M6×16 ISO4762", "socket-head screw"),
        ("form A 8×7×40 DIN 6885", "parallel key"),
    ],
)
def test_what_a_standard_describes(text: str, kind: str) -> None:
    """The titles of the standards, from memory."""
    assert read(text).kind == kind


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("M6×16 ISO 4726 8.8", "screw"),
        ("nut M8 ISO 19999", "nut"),
        ("DIN 99999", "fastener"),
        ("wing-nut M8 JIS B1185", "wing nut"),
        ("M6×16 EN 14399-4", "hexagon bolt"),
    ],
)
def test_a_standard_that_is_not_listed_is_taken_as_it_is(text: str, kind: str) -> None:
    """No list of standards is whole: what is said is kept, and no head is guessed from it."""
    assert read(text).kind == kind


@pytest.mark.parametrize(
    "text",
    ["20 DIN 93", "M20 DIN 93", "8 ISO 7089", "M8 ISO 7089", "6×30 ISO 8734", "M6 ISO 1234"],
)
def test_what_is_named_after_a_thread_need_not_have_one(text: str) -> None:
    """Washers and pins are named after the bolt they go with (ISO 7089 and others, M)."""
    assert not read(text).threaded


@pytest.mark.parametrize(
    ("text", "need"),
    [
        ("M8 DIN 315", "none"),
        ("M8×20 DIN 316", "none"),
        ("M6×16 DIN 464", "none"),
        ("M8×40 DIN 938", "none"),
        ("M20×1.5 DIN 1804", "hook-spanner"),
        ("M20×1.5 DIN 70852", "hook-spanner"),
        ("M16 DIN 547", "pin-wrench"),
        ("4×30 ISO 8740", "pin-punch"),
        ("M10×40 DIN 960", "spanner"),
        ("M8 DIN 982", "spanner"),
        ("M8×20 ISO 14583", "hexalobular-key"),
    ],
)
def test_what_turns_them(text: str, need: str) -> None:
    """Common practice, no source: wings and knurls are turned by hand, grooves by a hook."""
    assert hand_need(read(text)).kind == need


def test_what_an_adjustable_spanner_is_not_laid_out_for() -> None:
    """Common practice, no source: it rounds corners; the author may name it all the same."""
    for need in ("spanner", "hook-spanner", "pin-wrench"):
        serving = [kind for kind in tools.KINDS if tools.serves(kind, need)]
        assert serving == ["spanners" if need == "spanner" else need]


def test_a_nut_with_a_length_is_told_that_it_has_none() -> None:
    """ISO 4032: the designation of a nut has a thread and no length."""
    (found,) = parse_designation("M10×25 ISO 4032 8")[1]
    assert found.hint == "A nut has no length: write M10, or M10 and a pitch below 1.5 mm."
