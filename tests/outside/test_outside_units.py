"""Units against NIST SP 811, pint and scipy.constants; printed pairs against the same."""

from __future__ import annotations

import math
from fractions import Fraction

import pint
import pytest
import scipy.constants

from compiler.trade.rounding import converted, other_unit
from compiler.trade.units import UNITS, Quantity, Unit, convert, find_unit, format_quantity

# (unit, factor to the base unit as printed, digits after the point of the E form or None if exact)
SP_811 = (
    ("lbf·in", "1.129848E-01", 6),
    ("lbf·ft", "1.355818E+00", 6),
    ("ozf·in", "7.061552E-03", 6),
    ("kgf·m", "9.80665", None),
    ("kgf·cm", "0.0980665", None),
    ("lbf", "4.448222E+00", 6),
    ("kgf", "9.80665", None),
    ("psi", "6.894757E+03", 6),
    ("in", "0.0254", None),
    ("ft", "0.3048", None),
    ("thou", "0.0000254", None),
    ("lb", "0.45359237", None),
    ("oz", "0.028349523125", None),
    ("bar", "100000", None),
    ("gal", "3.785412E-03", 6),
    ("qt", "9.463529E-04", 6),
    ("hp", "7.456999E+02", 6),
)

SCIPY = {
    "in": scipy.constants.inch,
    "ft": scipy.constants.foot,
    "thou": scipy.constants.mil,
    "lb": scipy.constants.pound,
    "oz": scipy.constants.oz,
    "lbf": scipy.constants.lbf,
    "kgf": scipy.constants.kgf,
    "psi": scipy.constants.psi,
    "bar": scipy.constants.bar,
    "gal": scipy.constants.gallon,
    "fl-oz": scipy.constants.fluid_ounce,
    "hp": scipy.constants.hp,
    "min": scipy.constants.minute,
    "h": scipy.constants.hour,
    "days": scipy.constants.day,
    "deg": scipy.constants.degree / (2 * math.pi),
    "µm": scipy.constants.micron,
    "L": scipy.constants.liter,
}

# Our dimension -> the base unit in pint's words.
PINT_BASES = {
    "torque": "newton * meter",
    "length": "meter",
    "mass": "kilogram",
    "force": "newton",
    "pressure": "pascal",
    "time": "second",
    "angle": "turn",
    "volume": "meter ** 3",
    "ratio": "dimensionless",
    "speed": "turn / second",
    "voltage": "volt",
    "current": "ampere",
    "resistance": "ohm",
    "power": "watt",
    "frequency": "hertz",
    "flow": "meter ** 3 / second",
    "velocity": "meter / second",
}

# Spellings of ours that mean something else in pint: `mil` is an angle there, `C` a charge, and
# 1/min counts radians, not turns.
PINT_MEANS_ELSE = {"mil", "C", "1/min", "1/s"}


def exact(text: str) -> Unit:
    found = find_unit(text)
    assert found is not None, text
    return found


@pytest.mark.parametrize(("unit", "printed", "digits"), SP_811)
def test_factor_is_the_printed_one(unit: str, printed: str, digits: int | None) -> None:
    """NIST SP 811, Appendix B.8 (M for the rounded forms; gal, qt and hp M as well)."""
    factor = exact(unit).factor
    if digits is None:
        assert factor == Fraction(printed)
    else:
        assert f"{float(factor):.{digits}E}" == printed


@pytest.mark.parametrize("unit", sorted(SCIPY))
def test_factor_is_that_of_scipy(unit: str) -> None:
    """scipy.constants (R)."""
    assert float(exact(unit).factor) == pytest.approx(SCIPY[unit], rel=1e-12)


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


def pint_factor(registry: pint.UnitRegistry[float], text: str, base: str) -> float | None:
    """Return pint's factor of `text`, None where pint cannot read it or means another dimension."""
    try:
        return float(registry.Quantity(1.0, text).to(base).magnitude)
    except Exception:  # many kinds for text that is no unit to pint
        return None


def test_every_spelling_that_pint_knows_has_its_factor(registry: pint.UnitRegistry[float]) -> None:
    """pint 0.25 (R). `mil` is left out on purpose: an angle in pint, 0.001 in here."""
    compared = set[str]()
    for spelling, unit in UNITS.items():
        base = PINT_BASES.get(unit.dimension)
        if spelling in PINT_MEANS_ELSE or base is None:
            continue
        theirs = pint_factor(registry, spelling, base)
        if theirs is not None:
            # Months and years: pint takes the Julian year of 365.25 days, ours is 365.2425.
            near = 3e-5 if unit.symbol in ("months", "years") else 1e-9
            assert float(unit.factor) == pytest.approx(theirs, rel=near), spelling
            compared.add(spelling)
    # The comparison must not shrink unseen: these are the ones a workshop lives by.
    assert {"N·m", "mm", "in", "ft", "thou", "kg", "lb", "oz", "lbf", "bar", "psi"} <= compared
    assert {"kPa", "MPa", "min", "h", "deg", "rpm", "L", "gal", "qt", "W", "hp", "%"} <= compared


@pytest.mark.parametrize(
    ("ours", "theirs", "base"),
    [
        ("lbf·in", "force_pound * inch", "newton * meter"),
        ("lbf·ft", "force_pound * foot", "newton * meter"),
        ("ozf·in", "force_ounce * inch", "newton * meter"),
        ("kgf·cm", "force_kilogram * centimeter", "newton * meter"),
        ("kN·m", "kilonewton * meter", "newton * meter"),
        ("cN·m", "centinewton * meter", "newton * meter"),
        ("fl-oz", "fluid_ounce", "meter ** 3"),
        ("gpm", "gallon / minute", "meter ** 3 / second"),
        ("L/min", "liter / minute", "meter ** 3 / second"),
        ("m³/h", "meter ** 3 / hour", "meter ** 3 / second"),
        ("mbar", "millibar", "pascal"),
    ],
)
def test_units_that_pint_spells_otherwise(
    registry: pint.UnitRegistry[float], ours: str, theirs: str, base: str
) -> None:
    """pint 0.25 (R)."""
    wanted = float(registry.Quantity(1.0, theirs).to(base).magnitude)
    assert float(exact(ours).factor) == pytest.approx(wanted, rel=1e-12)


def test_mil_is_a_length() -> None:
    """Shop use; in pint the same word is an angle (R)."""
    assert exact("mil").dimension == "length"
    assert exact("mil").factor == Fraction(254, 10_000_000)


def test_torque_is_no_energy() -> None:
    """SI brochure: N·m and J have one dimension but are not the same quantity."""
    assert exact("N·m").dimension == "torque"
    joule = find_unit("J")
    assert joule is None or joule.dimension != "torque"


@pytest.mark.parametrize(
    ("value", "unit", "kelvin"),
    [("0", "°C", 273.15), ("100", "°C", 373.15), ("32", "°F", 273.15), ("212", "°F", 373.15)],
)
def test_temperature_has_an_offset(value: str, unit: str, kelvin: float) -> None:
    """scipy.constants.convert_temperature (R): ice point and boiling point."""
    ours = Quantity(Fraction(value), unit, value).si
    theirs = scipy.constants.convert_temperature(float(value), unit[-1], "Kelvin")
    assert float(ours) == pytest.approx(theirs, abs=1e-9)
    assert float(ours) == pytest.approx(kelvin, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "unit", "second", "printed"),
    [
        # 20 / 1.355818 = 14.75; 9 / 1.355818 = 6.64; 2.5 × 14.5038 = 36.26; 250 / 25.4 = 9.84.
        ("20", "N·m", "lbf·ft", 14.7512),
        ("9", "N·m", "lbf·ft", 6.63806),
        ("2.5", "bar", "psi", 36.2594),
        ("250", "mm", "in", 9.84252),
        ("35", "kg", "lb", 77.1618),
    ],
)
def test_second_unit_is_right_within_its_last_digit(
    text: str, unit: str, second: str, printed: float
) -> None:
    """NIST SP 811, B.7 and B.8: rounded, but by no more than what the first number claims."""
    written = Quantity(Fraction(text), unit, text)
    assert other_unit(written, (unit,), (second,)) == second
    twin = converted(written, second).quantity
    assert float(twin.value) == pytest.approx(printed, rel=0.01)
    assert float(convert(written, second).value) == pytest.approx(printed, rel=1e-5)


def test_a_no_break_space_stands_before_the_unit() -> None:
    """SI brochure: a space before the unit symbol, but none before ° of an angle."""
    assert format_quantity(Quantity(Fraction(20), "Nm", "20")) == "20\N{NO-BREAK SPACE}N·m"
    assert format_quantity(Quantity(Fraction(90), "deg", "90")) == "90°"


@pytest.mark.parametrize("spelling", ["ton", "Min", "a", "cwt"])
def test_a_spelling_that_pint_means_otherwise_is_asked_for(spelling: str) -> None:
    """A US ton of 907 kg, a million inches, an are, a US hundredweight (pint's own definitions)."""
    assert find_unit(spelling) is None


@pytest.mark.parametrize(
    ("spellings", "theirs"),
    [
        ("in-lb in-lbs in·lbf lbf·in lbf.in inlbs lbin inch-pounds", "force_pound * inch"),
        ("ft-lb ft-lbs ft·lbf lbf·ft ft.lb ftlbs lbft foot-pounds", "force_pound * foot"),
        ("oz-in ozin inch-ounces", "force_ounce * inch"),
        ("kgf·m kgfm kg-m kgm mkp", "force_kilogram * meter"),
        ("kgf·cm kg-cm kgcm", "force_kilogram * centimeter"),
        ("Ncm N-cm N·cm cNm cN·m", "newton * centimeter"),
        ("Nmm N·mm mNm mN·m", "newton * millimeter"),
        ("daNm daN·m", "decanewton * meter"),
    ],
)
def test_torques_as_technicians_write_them(
    registry: pint.UnitRegistry[float], spellings: str, theirs: str
) -> None:
    """Factors by pint 0.25 (R); the spellings are common practice, no source."""
    wanted = float(registry.Quantity(1.0, theirs).to("newton * meter").magnitude)
    for spelling in spellings.split():
        unit = exact(spelling)
        assert unit.dimension == "torque", spelling
        assert float(unit.factor) == pytest.approx(wanted, rel=1e-12), spelling


@pytest.mark.parametrize(
    ("ours", "theirs", "base"),
    [
        ("N/mm²", "newton / millimeter ** 2", "pascal"),
        ("kg/cm2", "force_kilogram / centimeter ** 2", "pascal"),
        ("cfm", "foot ** 3 / minute", "meter ** 3 / second"),
        ("L/h", "liter / hour", "meter ** 3 / second"),
        ("daN", "decanewton", "newton"),
        ("thousandths", "thou", "meter"),
    ],
)
def test_other_units_as_technicians_write_them(
    registry: pint.UnitRegistry[float], ours: str, theirs: str, base: str
) -> None:
    """pint 0.25 (R). pint itself takes `cfm` for a length and `kilos` for a time."""
    wanted = float(registry.Quantity(1.0, theirs).to(base).magnitude)
    assert float(exact(ours).factor) == pytest.approx(wanted, rel=1e-12)
    assert exact("kilos") == exact("kg")


def test_prefixes_of_physicists_are_slips() -> None:
    """In pint (R) slips of the pen become femto-units: whoever writes one is asked."""
    assert pint.UnitRegistry().parse_unit_name("ftlb")[0][0] == "femto"
    assert find_unit("fkg") is None
    assert find_unit("hPa") is not None
