"""Lockout order against the rule's text; signal words and their contrast against ANSI and WCAG."""

from __future__ import annotations

import pytest

from compiler.trade.isolation import LOCKING_OUT, RELEASE
from compiler.trade.safety import ENERGIES, HAZARDS, PROTECTION, SIGNALS
from compiler.walk.nodes import Deed

# ISO 7010 ids of references checked against their drawings.
ISO_7010 = {"W001", "W012", "W017", "W018", "W024", "W025", "M001", "M002", "M003", "M004"} | {
    "M008",
    "M009",
    "M014",
    "M021",
    "M028",
}


def luminance(colour: str) -> float:
    """Return the relative luminance of `#rrggbb`, as WCAG 2 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_formula_gives_the_known_values() -> None:
    """WCAG 2.2, 1.4.3: #767676 on white 4.54, #777777 4.48, white and black on #FF8200 (C)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)
    assert contrast("#ff8200", "#ffffff") == pytest.approx(2.49, abs=0.005)
    assert contrast("#ff8200", "#000000") == pytest.approx(8.45, abs=0.02)


@pytest.mark.parametrize("word", ["danger", "warning", "caution", "notice"])
def test_signal_words_can_be_read_on_their_panels(word: str) -> None:
    """WCAG 2.2, 1.4.3 (R2): 4.5 to 1 for text."""
    signal = SIGNALS[word]
    assert contrast(signal.panel, signal.text) >= 4.5


def test_signal_words_mean_what_the_standard_says() -> None:
    """ANSI Z535.4/.6 (R2): order, meaning; the alert symbol stands never with NOTICE."""
    by_rank = sorted(SIGNALS.values(), key=lambda s: s.rank)
    assert [s.word for s in by_rank] == ["danger", "warning", "caution", "notice"]
    assert by_rank[0].meaning.startswith("will cause death or serious injury")
    assert by_rank[1].meaning.startswith("could cause death or serious injury")
    assert by_rank[2].meaning.startswith("could cause minor or moderate injury")
    assert [s.alert for s in by_rank] == [True, True, True, False]


def test_panels_have_the_colours_of_the_standard() -> None:
    """ANSI Z535.4 (R2): red, orange, yellow, blue panels; texts white, black, black, white (M)."""
    import colorsys

    hues = {
        word: colorsys.rgb_to_hsv(*(int(s.panel[i : i + 2], 16) / 255 for i in (1, 3, 5)))[0] * 360
        for word, s in SIGNALS.items()
    }
    assert min(hues["danger"], 360 - hues["danger"]) < 15
    assert 20 <= hues["warning"] <= 40
    assert 45 <= hues["caution"] <= 60
    assert 200 <= hues["notice"] <= 240
    white = {word for word, s in SIGNALS.items() if s.text == "#ffffff"}
    assert white == {"danger", "notice"}


def test_signs_are_those_that_were_checked() -> None:
    """ISO 7010 ids, each checked against its drawing (R); all others are left empty."""
    used = {h.sign for h in HAZARDS.values()} | {p.sign for p in PROTECTION.values()}
    used |= {e.sign for e in ENERGIES.values()}
    assert used - {""} <= ISO_7010
    assert HAZARDS["crush"].sign == "W024"
    assert HAZARDS["burn"].sign == "W017"
    assert PROTECTION["gloves"].sign == "M009"
    assert all(h.sign[:1] in ("", "W") for h in HAZARDS.values())
    assert all(p.sign[:1] in ("", "M") for p in PROTECTION.values())


def test_lockout_follows_the_rule() -> None:
    """29 CFR 1910.147 (d)(2) to (d)(6) (R), "in the following sequence"."""
    assert [deed for _, deed in LOCKING_OUT] == [
        "shut-down",
        "isolate",
        "lock-out",
        "discharge",
        "verify",
    ]
    clauses = [clause for clause, _ in LOCKING_OUT]
    assert clauses == ["(d)(2)", "(d)(3)", "(d)(4)", "(d)(5)", "(d)(6)"]


def test_release_follows_the_rule() -> None:
    """29 CFR 1910.147 (e) (R): people are told after the locks are off and before the start."""
    deeds = [deed for _, deed in RELEASE]
    assert deeds == ["clear", "unlock-out", "tell", "energize"]
    assert {deed: clause for clause, deed in RELEASE}["tell"] == "(e)(2)(ii)"


def test_deeds_of_the_order_are_deeds_of_the_walk() -> None:
    """The order is plain data; the words must be those of the walk-through."""
    values = {deed.value for deed in Deed}
    assert {deed for _, deed in (*LOCKING_OUT, *RELEASE)} <= values
