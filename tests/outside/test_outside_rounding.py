"""Second units against NIST SP 811 B.7, pint, and what a limit must never do: let more through."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.trade.rounding import (
    Sense,
    converted,
    converted_range,
    converted_tolerance,
    narrower,
    other_unit,
)
from compiler.trade.units import Quantity, convert, format_quantity, written_step

PAIRS = (
    ("N·m", "lbf·ft"),
    ("N·m", "lbf·in"),
    ("lbf·ft", "N·m"),
    ("lbf·in", "N·m"),
    ("kgf·m", "N·m"),
    ("mm", "in"),
    ("in", "mm"),
    ("mm", "thou"),
    ("bar", "psi"),
    ("psi", "bar"),
    ("kg", "lb"),
    ("lb", "kg"),
    ("L", "gal"),
)
PINT = {"N·m": "N*m", "lbf·ft": "lbf*ft", "lbf·in": "lbf*inch", "kgf·m": "kgf*m", "in": "inch"}


def q(text: str, unit: str) -> Quantity:
    return Quantity(Fraction(text), unit, text)


def written(value: Fraction, places: int) -> str:
    """Return a number with so many places, exactly."""
    return str(Decimal(int(value * 10**places)).scaleb(-places))


@st.composite
def quantities(draw: st.DrawFn) -> tuple[Quantity, str]:
    """A number as people write one: up to three digits, up to three places; a pair of units."""
    unit, other = draw(st.sampled_from(PAIRS))
    digits, places = draw(st.integers(1, 999)), draw(st.integers(0, 3))
    return q(written(Fraction(digits, 10**places), places), unit), other


def wider(low: Quantity, more: int) -> Quantity:
    """Return a quantity so many of the last place above another one."""
    places = len(low.text.partition(".")[2])
    return q(written(low.value + more * written_step(low), places), low.unit)


@pytest.mark.parametrize(
    ("text", "unit", "other", "printed"),
    [
        # NIST SP 811, B.7.1, worked example (M, from memory): 36 ft claims half a foot in 36, so
        # 10.9728 m is 11.0 m; "11" would claim less than was known.
        ("36", "ft", "m", "11.0"),
        # From the rule of the first digits in the same place (M): smaller ones ask for one more.
        ("66", "lb", "kg", "29.9"),
        ("31", "kg", "lb", "68"),
        ("60", "N·m", "lbf·ft", "44.3"),
        ("20", "N·m", "lbf·ft", "14.8"),
        # Common practice, no source: a tenth of a millimetre is four thou.
        ("0.1", "mm", "in", "0.004"),
        ("2.5", "bar", "psi", "36"),
    ],
)
def test_worked_examples(text: str, unit: str, other: str, printed: str) -> None:
    assert converted(q(text, unit), other).quantity.text == printed


@pytest.mark.parametrize(
    ("text", "unit", "other", "most", "least"),
    [
        # Factors of NIST SP 811 B.8: 0.3 mm = 0.011811 in; 20 N·m = 14.7512 lbf·ft.
        ("0.3", "mm", "in", "0.0118", "0.012"),
        ("0.05", "mm", "in", "0.0019", "0.0020"),
        ("20", "N·m", "lbf·ft", "14.7", "15"),
        ("25", "kg", "lb", "55", "56"),
        ("5", "bar", "psi", "72", "73"),
        ("65", "degC", "degF", "149", "149"),
        ("37", "degC", "degF", "98", "99"),
    ],
)
def test_limits_are_rounded_to_their_safe_side(
    text: str, unit: str, other: str, most: str, least: str
) -> None:
    """NIST SP 811, B.7: a limit that must be respected is rounded so that it is not passed (M)."""
    assert converted(q(text, unit), other, "at most").quantity.text == most
    assert converted(q(text, unit), other, "at least").quantity.text == least


@pytest.mark.parametrize(
    ("low", "high", "unit", "other", "printed"),
    [
        ("200", "260", "N·m", "lbf·ft", ("148", "191")),
        ("18", "22", "N·m", "lbf·ft", ("13.3", "16.2")),
        ("8", "10", "N·m", "lbf·ft", ("6.0", "7.3")),
        ("0.25", "0.40", "mm", "in", ("0.0099", "0.0157")),
        ("20", "25", "degC", "degF", ("68", "77")),
        ("0", "0.3", "mm", "in", ("0", "0.0118")),
    ],
)
def test_ranges_shrink_and_claim_no_false_digits(
    low: str, high: str, unit: str, other: str, printed: tuple[str, str]
) -> None:
    """Whole N·m answer whole lbf·ft: 147.5 to 191.8 would claim a tenth that nobody wrote."""
    ends = converted_range(q(low, unit), q(high, unit), other)
    assert tuple(end.text for end in ends) == printed


@given(quantities())
def test_a_value_stays_within_one_or_two_per_cent(given_: tuple[Quantity, str]) -> None:
    """NIST SP 811, B.7.1: the rounded value is as exact as the written one; exact value by pint."""
    quantity, other = given_
    found = converted(quantity, other)
    share = Fraction(2 if quantity.dimension == "length" else 1, 100)
    assert abs(found.quantity.value - found.exact.value) <= share * abs(found.exact.value)
    back = convert(found.quantity, quantity.unit).value
    assert abs(back - quantity.value) <= share * abs(quantity.value)


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("unit", "other"), PAIRS)
def test_the_exact_value_is_that_of_pint(
    registry: pint.UnitRegistry[float], unit: str, other: str
) -> None:
    """pint 0.25 (R)."""
    theirs = registry.Quantity(7.3, PINT.get(unit, unit)).to(PINT.get(other, other)).magnitude
    assert float(converted(q("7.3", unit), other).exact.value) == pytest.approx(theirs, rel=1e-9)


@given(quantities(), st.sampled_from(("at most", "at least")))
def test_a_limit_never_lets_more_through(given_: tuple[Quantity, str], sense: Sense) -> None:
    quantity, other = given_
    back = convert(converted(quantity, other, sense).quantity, quantity.unit).value
    lost = (quantity.value - back) * (1 if sense == "at most" else -1)
    most = Fraction(4 if quantity.dimension == "length" else 2, 100) * quantity.value
    assert 0 <= lost <= most


@given(quantities(), st.integers(1, 400))
def test_a_range_never_widens_and_loses_little(given_: tuple[Quantity, str], more: int) -> None:
    low, other = given_
    high = wider(low, more)
    ends = converted_range(low, high, other)
    back = [convert(end, low.unit).value for end in ends]
    width = high.value - low.value
    assert low.value <= back[0] <= back[1] <= high.value
    assert back[0] - low.value <= width / 10
    assert high.value - back[1] <= width / 10


@given(quantities(), st.integers(1, 200))
def test_ends_of_a_range_have_the_fewest_digits_that_fit(
    given_: tuple[Quantity, str], more: int
) -> None:
    """Nobody reads digits that say nothing: a place less would be too coarse in one of the ways."""
    low, other = given_
    high = wider(low, more)
    ends = converted_range(low, high, other)
    shown = len(ends[0].text.partition(".")[2] or ends[1].text.partition(".")[2])
    exact = [convert(end, other).value for end in (low, high)]
    step = convert(Quantity(written_step(low), low.unit), other).value
    coarser = Fraction(10) ** -(shown - 1)
    up, down = -(-exact[0] // coarser) * coarser, exact[1] // coarser * coarser
    width = exact[1] - exact[0]
    too_coarse = (
        coarser > 2 * step
        or up > down
        or max(up - exact[0], exact[1] - down) > width / 10
        or up - exact[0] > exact[0] / 20
        or exact[1] - down > exact[1] / 20
    )
    assert shown == 0 or too_coarse


@given(quantities(), st.integers(1, 100))
def test_value_and_tolerance_stay_in_the_written_window(
    given_: tuple[Quantity, str], off: int
) -> None:
    quantity, other = given_
    side = Quantity(off * written_step(quantity), quantity.unit)
    found = converted_tolerance(quantity, side, side, other)
    high = convert(Quantity(found.quantity.value + found.plus.value, other), quantity.unit).value
    low = convert(Quantity(found.quantity.value - found.minus.value, other), quantity.unit).value
    assert quantity.value - side.value <= low
    assert high <= quantity.value + side.value
    assert high - low >= Fraction(9, 10) * 2 * side.value


@given(quantities(), st.integers(1, 20))
def test_a_share_stays_in_the_written_window_too(
    given_: tuple[Quantity, str], per_cent: int
) -> None:
    """What is printed allows no more (NIST SP 811, B.7.2), and no side less than nine tenths."""
    quantity, other = given_
    share = q(str(per_cent), "%")
    found = converted_tolerance(quantity, share, share, other)
    exact = convert(quantity, other).value
    side = exact * per_cent / 100
    value, plus, minus = (Fraction(x.text) for x in (found.quantity, found.plus, found.minus))
    assert exact - side <= value - minus
    assert value + plus <= exact + side
    assert min(plus, minus) >= side * Fraction(9, 10)


def test_a_share_beside_a_rounded_value_would_allow_more() -> None:
    """9 N·m are 79.66 lbf·in (NIST SP 811, B.8); 80 + 10 % would be 88, and 87.62 are allowed."""
    found = converted_tolerance(q("9", "N·m"), q("10", "%"), q("10", "%"), "lbf·in")
    assert [format_quantity(x) for x in (found.quantity, found.plus, found.minus)] == [
        "79.7\xa0lbf·in", "7.9\xa0lbf·in", "7.9\xa0lbf·in"
    ]  # fmt: skip


def test_one_sided_tolerances_open_to_one_side() -> None:
    up = converted_tolerance(q("10", "mm"), q("0.2", "mm"), q("0", "mm"), "in")
    assert [x.text for x in (up.quantity, up.plus, up.minus)] == ["0.3938", "0.0077", "0"]
    down = converted_tolerance(q("10", "mm"), q("0", "mm"), q("0.2", "mm"), "in")
    assert [x.text for x in (down.quantity, down.plus, down.minus)] == ["0.3937", "0", "0.0078"]
    assert narrower(q("0.2", "mm"), q("0", "mm")) is None


def test_a_difference_of_temperatures_has_no_zero() -> None:
    """NIST SP 811, B.8: 1 °C of difference is 1.8 °F (R by scipy and pint for the scales)."""
    assert format_quantity(converted(q("5", "degC"), "degF", difference=True).quantity) == "9\xa0°F"
    kept = converted_tolerance(q("20", "degC"), q("5", "degC"), q("5", "degC"), "degF")
    assert [x.text for x in (kept.quantity, kept.plus)] == ["68", "9"]


def test_the_reason_is_said_in_words() -> None:
    assert converted(q("65", "degC"), "degF").reason == "65\xa0°C is 149\xa0°F, exactly."
    plain = converted(q("36", "ft"), "m").reason
    assert plain == (
        "36\xa0ft is 10.9728\xa0m. Rounded to 11.0: as exact as the number that was written."
    )
    most = converted(q("20", "N·m"), "lbf·ft", "at most").reason
    assert most.endswith("Rounded down to 14.7, so that the limit does not grow.")
    room = converted(q("9", "N·m"), "lbf·ft", room=q("5", "%")).reason
    assert room.endswith("off by less than a tenth of the tolerance.")


def test_the_other_unit_of_a_shop() -> None:
    units, second = ("N·m", "mm"), ("lbf·ft", "in")
    assert other_unit(q("9", "N·m"), units, second) == "lbf·ft"
    assert other_unit(q("9", "lbf·in"), units, second) == "N·m"
    assert other_unit(q("9", "bar"), units, second) is None


def test_units_of_two_kinds_do_not_convert() -> None:
    with pytest.raises(ValueError, match="torque is not length"):
        converted(q("9", "N·m"), "mm")
