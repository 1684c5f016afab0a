"""Designations against ISO 261/262 pitches, and standards against what they describe."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.trade import tools
from compiler.trade.designation import Designation, describe, parse_designation
from compiler.trade.geometry import geometry_of
from compiler.trade.standards import STANDARDS, is_listed, kind_of, nearest
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
        ("M6×16 ISO 476200", "ISO 476200: 476200 has more digits than the number of any standard."),
        ("M6×160000 ISO 4762", "M6×160000: This number has more digits than any size has."),
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
        ("M10 DIN 436", "square washer"),
        ("M10 DIN 434", "square taper washer"),
        ("M6×16 JIS B 1176 12.9", "socket-head screw"),
        ("M6×16 JIS B1176 12.9", "socket-head screw"),
        ("M6×16 GB/T 70.1 8.8", "socket-head screw"),
        ("1/4-20 × 3/4 UNC ANSI B18.2.1 grade 5", "hexagon screw"),
        ("1/4-20 × 3/4 UNC ANSI/ASME B18.2.1 grade 5", "hexagon screw"),
        # Standards that hold several things: the word before, or a length, tells which.
        ("M10×40 BS 3692 8.8", "hexagon bolt"),
        ("M10 BS 3692 8", "hexagon nut"),
        ("clevis-pin 8×30 ASME B18.8.1", "clevis pin"),
        ("cotter-pin 4×40 ASME B18.8.1", "cotter pin"),
        ("stud 5/8-11 × 4 ASTM A193 B7", "stud"),
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
        ("wing-nut M8 DIN 5299", "wing nut"),
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


# Titles that a reference library gives the standards it has (bd_warehouse 0.4.0; R), in its words.
LIBRARY_TITLES = {
    "ISO 4762": "socket head cap screw", "ISO 7380-1": "button head screw",
    "ISO 7380-2": "button head screw with collar", "ISO 1207": "cheese head screw",
    "ISO 7048": "cheese head screw", "ISO 14580": "cheese head screw",
    "ISO 10642": "countersunk screw", "ISO 14581": "countersunk screw",
    "ISO 14582": "countersunk screw", "ISO 2009": "countersunk screw",
    "ISO 7046": "countersunk screw", "ISO 4014": "hex head screw", "ISO 4017": "hex head screw",
    "DIN 931": "hex head screw", "ISO 1580": "pan head screw", "ISO 14583": "pan head screw",
    "DIN 967": "pan head screw with collar", "ISO 2010": "raised countersunk oval head screw",
    "ISO 7047": "raised countersunk oval head screw",
    "ISO 14584": "raised countersunk oval head screw", "ISO 4026": "set screw",
    "ISO 7379": "shoulder screw", "DIN 1587": "domed cap nut", "ISO 4032": "hex nut",
    "ISO 4033": "hex nut", "ISO 4035": "hex nut", "ISO 4036": "unchamfered hexagon nut",
    "DIN 557": "square nut", "ISO 7089": "plain washer", "ISO 7091": "plain washer",
    "ISO 7093": "plain washer", "ISO 7094": "plain washer", "DIN 471": "external retaining ring",
    "DIN 472": "internal retaining ring", "DIN 6885": "key",
}  # fmt: skip
SAME_WORDS = {
    "plain": "flat", "domed": "cap", "hex": "hexagon", "unchamfered": "thin",
    "button": "button-head", "cheese": "head", "socket": "socket-head", "pan": "pan-head",
}  # fmt: skip


@pytest.mark.parametrize(("standard", "title"), LIBRARY_TITLES.items())
def test_what_a_library_says_of_a_standard(standard: str, title: str) -> None:
    """Titles read in library data; the first word and the last name the same thing as ours."""
    kind = kind_of(standard)
    words = title.replace(" with collar", "").split()
    assert kind.split()[-1] in (words[-1], "bolt")
    first = words[0] if words[0] != "raised" else "countersunk"
    assert SAME_WORDS.get(first, first) in kind


def test_the_list_is_long_and_of_one_mind() -> None:
    """Titles from memory; every standard has a kind in words, and stands in the list once."""
    assert len(STANDARDS) > 700
    assert all(kind and kind == kind.strip() for kind in STANDARDS.values())
    for body, least in (("ISO", 150), ("DIN", 250), ("ASME", 40), ("EN", 10), ("JIS", 30)):
        assert sum(name.startswith(f"{body} ") for name in STANDARDS) > least, body


@pytest.mark.parametrize(
    ("wrong", "meant"),
    [
        ("ISO 94762", "ISO 4762"),
        ("ISO 4726", "ISO 4762"),
        ("ISO 47622", "ISO 4762"),
        ("ISO 476", "ISO 4762"),
        ("ISO 4763", "ISO 4762"),
        ("ISO 4023", "ISO 4032"),
        ("ISO 912", "DIN 912"),
        ("DIN 4762", "ISO 4762"),
        ("ISO 7381", "ISO 7380"),
        ("DIN 9333", "DIN 933"),
    ],
)
def test_a_mistyped_standard_is_known_again(wrong: str, meant: str) -> None:
    """One sign too many, too few, wrong, or two in the wrong order; the wrong body."""
    assert not is_listed(wrong)
    assert meant in nearest(wrong)


@given(st.sampled_from(sorted(STANDARDS)), st.data())
def test_any_single_slip_is_known_again(standard: str, data: st.DataObject) -> None:
    """Whatever digit is hit twice or beside: what was meant is among the likely ones."""
    body, _, number = standard.partition(" ")
    if len(number) < 4:
        return
    at = data.draw(st.integers(0, len(number) - 1))
    digit = data.draw(st.sampled_from("0123456789"))
    wrong = data.draw(
        st.sampled_from([number[:at] + digit + number[at:], number[:at] + digit + number[at + 1 :]])
    )
    if wrong != number:
        assert standard in nearest(f"{body} {wrong}", most=len(STANDARDS))


@pytest.mark.parametrize(
    ("text", "wrong", "hint"),
    [
        # ISO 898-5: set screws have classes of hardness.
        ("M6×10 ISO 4029 8.8", "8.8 is a class of screws", "14H, 22H, 33H or 45H"),
        ("set-screw M6×10 12.9", "12.9 is a class of screws", "45H"),
        ("M6×10 ISO 4026 46H", "46H is no class of set screws", "45H"),
        ("M6×16 ISO 4762 45H", "45H is a class of set screws", "8.8, 10.9 or 12.9"),
        # ISO 898-2: nuts have one number, which is the first of the screw that goes with them.
        ("M12 ISO 4032 8.8", "8.8 is a class of screws", "Write 8."),
        ("M12 ISO 4032 10.9", "10.9 is a class of screws", "Write 10."),
        ("nut M12 5.6", "5.6 is a class of screws", "Write 5."),
        ("M6×16 ISO 4762 8", "8 is a class of nuts", "Write 8.8."),
        ("M12 ISO 4032 04", "04 is a class of thin nuts", "ISO 4035"),
        # DIN 6885: width and height go together.
        ("key 8×8×40 DIN 6885", "8 mm wide is not 8 mm high", "8×7"),
        ("key 10×7×40 DIN 6885-1", "10 mm wide is not 7 mm high", "10×8"),
        ("key 9×8×40 DIN 6885", "no key 9 mm wide", "8 mm"),
    ],
)
def test_what_contradicts_itself(text: str, wrong: str, hint: str) -> None:
    """ISO 898-1, -2 and -5, DIN 6885 (M)."""
    (found,) = parse_designation(text)[1]
    assert wrong in found.message
    assert hint in found.hint


@pytest.mark.parametrize(
    "text",
    [
        "M6×10 ISO 4029 45H", "M6×10 ISO 4029 A2-70", "M6×10 ISO 4026 A1-12H",
        "M6×16 ISO 4762 A4-80", "M6×16 ISO 4762 grade 8.8", "M16 ISO 4035 04", "M16 ISO 4035 05",
        "M12 ISO 4032 A2-70", "3/8-16 ASME B18.2.2 grade 8", "M12 DIN 934 CuZn",
        "threaded-rod M12 DIN 976 8.8", "stud M12×60 DIN 938 8.8", "8 DIN 127 St",
        "key 8×7×40 DIN 6885", "key 12×6×50 DIN 6885-3", "key 9×9×40",
    ],
)  # fmt: skip
def test_what_is_made_is_not_doubted(text: str) -> None:
    """Classes and sizes of ISO 898, ISO 3506 and DIN 6885 (M)."""
    read(text)


def test_the_geometry_of_a_screw_is_whole() -> None:
    """M8 8.8 by ISO 4762: ISO 261, 724 (M), 898-1 (R2), key in library data (R)."""
    rows = {name: (fact.text, fact.source) for name, fact in geometry_of(read(CAP)).rows()}
    assert rows == {
        "nominal diameter": ("8 mm", "ISO 261"),
        "pitch": ("1.25 mm", "ISO 261"),
        "pitch diameter": ("7.188 mm", "ISO 724"),
        "minor diameter": ("6.647 mm", "ISO 724"),
        "stress area": ("36.6 mm²", "ISO 898-1"),
        "proof stress": ("580 MPa", "ISO 898-1"),
        "proof load": ("21200 N", "ISO 898-1"),
        "drive": ("hexagon socket", "ISO 4762"),
        "wrench size": ("6 mm", "ISO 4762"),
        "by hand": ("6 mm hex key", "ISO 4762"),
        "on a torque wrench": ("6 mm hex bit", "ISO 4762"),
    }


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("ISO 4762-M6x16-8.8", "socket-head screw, M6, 16, 8.8"),
        ("ISO 4017 - M12 × 80 - 8.8 - A2K", "hexagon screw, M12, 80, 8.8"),
        ("ISO 4017 – M12 × 80 – 10.9 – tZn", "hexagon screw, M12, 80, 10.9"),
        ("DIN 912-M6x16-A4-80", "socket-head screw, M6, 16, A4-80"),
        ("M8×25 ISO 4017 8.8 flZnnc", "hexagon screw, M8, 25, 8.8"),
    ],
)
def test_designations_as_the_standards_write_them(text: str, parts: str) -> None:
    """ISO 4762, ISO 4017 (M): hyphens between the parts, the coating at the end (ISO 4042)."""
    found = read(text)
    assert f"{found.kind}, {found.thread}, {found.length}, {found.grade}" == parts


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("ISO 8734 - 6 × 20 - A - St", "6×20"),
        ("ISO 8752-6×30-St", "6×30"),
        ("cotter-pin ISO 1234-4×40", "4×40"),
    ],
)
def test_pins_as_the_standards_write_them(text: str, size: str) -> None:
    """ISO 8734, 8752 and 1234 (M)."""
    found = read(text)
    assert found.size == size
    assert found.kind.endswith("pin")


CAP = "M8×25 ISO 4762 8.8"


@pytest.mark.parametrize(
    ("text", "name", "value"),
    [
        ("retaining-ring 35 DIN 471", "ring pliers for", "19 to 60 mm"),
        ("retaining-ring 85 DIN 471", "ring pliers for", "85 to 140 mm"),
        ("retaining-ring 8 DIN 472", "ring pliers for", "8 to 13 mm"),
        ("key 8×7×40 DIN 6885", "for a shaft", "over 22 to 30 mm"),
        ("key 14×9×40 DIN 6885", "for a shaft", "over 44 to 50 mm"),
        ("M12 ISO 4032 8", "wrench size", "18 mm across flats"),
        ("M12 ISO 4032 8", "proof load", "74200 N"),
        ("KM4 DIN 981", "wrench size", "32 mm outside"),
        ("M5×12 ISO 1207 4.8", "wrench size", "1.2 mm wide"),
        ("1/4-20 × 3/4 UNC ASME B18.2.1 grade 5", "pitch", "1.27 mm"),
    ],
)
def test_geometry_of_other_things(text: str, name: str, value: str) -> None:
    """DIN 471, 472, 6885 (R, library data; DIN 5254 and 5256, M); ISO 898-2 and DIN 981 (M)."""
    assert dict(geometry_of(read(text)).rows())[name].text == value


def test_a_washer_has_no_thread_of_its_own() -> None:
    """ISO 7089: named after the bolt that goes through it."""
    assert [name for name, _ in geometry_of(read("M8 ISO 7089")).rows()] == ["nominal diameter"]


@given(st.text(max_size=40))
def test_no_text_stops_the_geometry(text: str) -> None:
    """Never raises; each value has a source."""
    for name, fact in geometry_of(parse_designation(text)[0]).rows():
        assert name
        assert fact.text
        assert fact.source
