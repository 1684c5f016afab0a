"""Units of the workshop with exact factors, quantities as written, and the second unit.

Factors follow exactly from 1 in = 25.4 mm, 1 lb = 0.453 592 37 kg and g0 = 9.806 65 m/s² (NIST
SP 811, Appendix B.8). The table serves ordinary runs without pint; a unit that is not in it is
looked up in pint's definitions, once. In pint `mil` is an angle; here, as in the shop, it is
0.001 in.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

_INCH = Fraction(254, 10_000)
_POUND = Fraction(45_359_237, 100_000_000)
_GRAVITY = Fraction(980_665, 100_000)
_POUND_FORCE = _POUND * _GRAVITY
_GALLON = 231 * _INCH**3


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: how it is printed, its dimension in shop words, factor and offset to the base unit.

    Base units: N·m, m, kg, N, Pa, s, K, turn, m³, 1 (for %), 1/s, V, A, Ω, W, J, Hz, m³/s, lx.
    """

    symbol: str
    dimension: str
    factor: Fraction
    offset: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with a unit as the author wrote it. `unit` '' is a bare number.

    `text` is the number as written ('9.50'); it is printed like that when it is given.
    """

    value: Fraction
    unit: str
    text: str = ""

    @property
    def dimension(self) -> str:
        """Return the dimension in shop words; a bare number is a ratio."""
        return _unit(self.unit).dimension if self.unit else "ratio"

    @property
    def si(self) -> Fraction:
        """Return the value in the base unit of its dimension."""
        if not self.unit:
            return self.value
        unit = _unit(self.unit)
        return self.value * unit.factor + unit.offset


# dimension -> (spellings, the first being the printed one; factor to the base unit)
_TABLE: dict[str, tuple[tuple[str, Fraction], ...]] = {
    "torque": (
        ("N·m Nm N-m N*m N.m N⋅m newton-metre newton-meter", Fraction(1)),
        ("kN·m kNm kN-m", Fraction(1000)),
        ("daN·m daNm daN-m", Fraction(10)),
        ("cN·m cNm cN-m", Fraction(1, 100)),
        # Without these, N·m would be the nearest: a hundred or a thousand times too tight.
        ("N·cm Ncm N-cm N*cm N.cm", Fraction(1, 100)),
        ("N·mm Nmm N-mm N*mm N.mm", Fraction(1, 1000)),
        ("mN·m mNm mN-m", Fraction(1, 1000)),
        (
            (
                "lbf·in in-lb in·lbf in·lb in-lbf lbf-in lb-in lb·in inlb in.lb in.lbf lb.in "
                "lbf.in in-lbs in·lbs in.lbs lbs-in lbs·in lbs.in inlbs lbin lbfin "
                "inch-pounds inch-pound inch-lb inch-lbs pound-inches pound-inch"
            ),
            _POUND_FORCE * _INCH,
        ),
        (
            (
                "lbf·ft ft-lb ft·lbf ft·lb ft-lbf lbf-ft lb-ft lb·ft ftlb ft.lb ft.lbf lb.ft "
                "lbf.ft ft-lbs ft·lbs ft.lbs lbs-ft lbs·ft lbs.ft ftlbs lbft lbfft "
                "foot-pounds foot-pound foot-lb foot-lbs pound-feet pound-foot"
            ),
            _POUND_FORCE * 12 * _INCH,
        ),
        (
            (
                "ozf·in oz-in in·ozf in-oz ozf-in oz·in ozin inoz oz.in ozf.in in.oz "
                "inch-ounces inch-ounce ounce-inches"
            ),
            _POUND_FORCE / 16 * _INCH,
        ),
        # A kilogram-force was written as a kilogram, and in some places as a kilopond.
        (
            "kgf·m kgf-m kgfm kgf.m m·kgf m-kgf kg·m kg-m kg.m kgm m·kg m-kg mkg kp·m kpm mkp",
            _GRAVITY,
        ),
        (
            "kgf·cm kgf-cm kgfcm kgf.cm kg·cm kg-cm kg.cm kgcm cm·kg cm-kg kp·cm kpcm cmkp cmkg",
            _GRAVITY / 100,
        ),
    ),
    "length": (
        ("mm", Fraction(1, 1000)),
        ("cm", Fraction(1, 100)),
        ("m", Fraction(1)),
        ("µm μm um micron microns", Fraction(1, 1_000_000)),
        ('in inch inches ″ "', _INCH),
        ("ft foot feet ′", 12 * _INCH),
        ("thou mil thous mils thousandths", _INCH / 1000),
    ),
    "mass": (
        ("kg kilo kilos", Fraction(1)),
        ("g gram grams", Fraction(1, 1000)),
        ("t tonne tonnes", Fraction(1000)),
        ("lb lbs lbm pound pounds", _POUND),
        ("oz ounce ounces", _POUND / 16),
    ),
    "force": (
        ("N", Fraction(1)),
        ("kN", Fraction(1000)),
        ("lbf", _POUND_FORCE),
        ("kip kips klbf", 1000 * _POUND_FORCE),
        ("daN", Fraction(10)),
        ("kgf kp", _GRAVITY),
    ),
    "pressure": (
        ("bar", Fraction(100_000)),
        ("mbar", Fraction(100)),
        ("Pa", Fraction(1)),
        ("kPa", Fraction(1000)),
        ("MPa N/mm² N/mm2", Fraction(1_000_000)),
        ("kgf/cm² kgf/cm2 kg/cm² kg/cm2 kp/cm² kp/cm2", _GRAVITY * 10_000),
        ("psi", _POUND_FORCE / _INCH**2),
        ("ksi", 1000 * _POUND_FORCE / _INCH**2),
    ),
    "time": (
        ("s sec second seconds", Fraction(1)),
        ("min minute minutes", Fraction(60)),
        ("h hour hours hr", Fraction(3600)),
        ("days day d", Fraction(86_400)),
        ("weeks week", Fraction(7 * 86_400)),
        ("months month", Fraction(2_629_746)),
        ("years year", Fraction(31_556_952)),
    ),
    "angle": (
        ("deg ° degree degrees", Fraction(1, 360)),
        ("turn turns rev revs", Fraction(1)),
    ),
    "volume": (
        ("L l litre litres liter liters", Fraction(1, 1000)),
        ("mL ml", Fraction(1, 1_000_000)),
        ("cm³ cc", Fraction(1, 1_000_000)),
        ("m³ m3", Fraction(1)),
        ("gal", _GALLON),
        ("qt", _GALLON / 4),
        ("fl-oz", _GALLON / 128),
    ),
    "ratio": (("%", Fraction(1, 100)), ("‰", Fraction(1, 1000))),
    "speed": (("rpm 1/min r/min", Fraction(1, 60)), ("1/s", Fraction(1))),
    "voltage": (("V", Fraction(1)), ("kV", Fraction(1000)), ("mV", Fraction(1, 1000))),
    "current": (("A", Fraction(1)), ("mA", Fraction(1, 1000))),
    "resistance": (
        ("Ω ohm ohms", Fraction(1)),
        ("kΩ kohm", Fraction(1000)),
        ("MΩ Mohm", Fraction(1_000_000)),
    ),
    "power": (
        ("W", Fraction(1)),
        ("kW", Fraction(1000)),
        ("hp", 550 * 12 * _INCH * _POUND_FORCE),
    ),
    "frequency": (("Hz", Fraction(1)), ("kHz", Fraction(1000))),
    "flow": (
        ("L/min l/min lpm", Fraction(1, 60_000)),
        ("L/s l/s", Fraction(1, 1000)),
        ("L/h l/h", Fraction(1, 3_600_000)),
        ("m³/h m3/h", Fraction(1, 3600)),
        ("gpm", _GALLON / 60),
        ("ft³/min cfm ft3/min", (12 * _INCH) ** 3 / 60),
    ),
    "velocity": (("m/s", Fraction(1)), ("mm/s", Fraction(1, 1000)), ("m/min", Fraction(1, 60))),
    "slope": (("mm/m", Fraction(1, 1000)),),
}

_TEMPERATURES: tuple[tuple[str, Fraction, Fraction], ...] = (
    ("°C degC C deg-C Celsius celsius", Fraction(1), Fraction(27_315, 100)),
    (
        "°F degF F deg-F Fahrenheit fahrenheit",
        Fraction(5, 9),
        Fraction(45_967, 100) * Fraction(5, 9),
    ),
    ("K", Fraction(1), Fraction(0)),
)


def _spelled() -> dict[str, Unit]:
    found: dict[str, Unit] = {}
    for dimension, rows in _TABLE.items():
        for spellings, factor in rows:
            words = spellings.split(" ")
            found.update((word, Unit(words[0], dimension, factor)) for word in words)
    for spellings, factor, offset in _TEMPERATURES:
        words = spellings.split(" ")
        found.update((word, Unit(words[0], "temperature", factor, offset)) for word in words)
    return found


UNITS: dict[str, Unit] = _spelled()
"""Every spelling of every unit of the table."""

_TIGHT = frozenset({"′", "″"})
"""Units that stand close to their number; all others, per cent too, do not (SI brochure)."""

_PINT_DIMENSIONS = {
    "[length]": "length",
    "[mass]": "mass",
    "[time]": "time",
    "[length] ** 3": "volume",
    "[mass] * [length] / [time] ** 2": "force",
    "[mass] / [length] / [time] ** 2": "pressure",
    "[mass] * [length] ** 2 / [time] ** 3": "power",
    "[length] / [time]": "velocity",
    "[length] ** 3 / [time]": "flow",
}


def find_unit(text: str) -> Unit | None:
    """Return the unit spelled `text`, None if neither the table nor pint knows it."""
    known = UNITS.get(text)
    return known if known is not None else _from_pint(text)


def _unit(text: str) -> Unit:
    found = find_unit(text)
    if found is None:
        raise ValueError(f"no unit {text!r}: quantities are made of known units only")
    return found


@cache
def _from_pint(text: str) -> Unit | None:
    """Look a unit up in pint, for those outside the table; pint is loaded only then."""
    if not text or len(text) > 24 or not text.replace("/", "").replace("_", "").isalpha():
        return None
    if text in _MISREAD:
        return None
    try:
        if any(prefix in _NOT_IN_SHOPS for prefix, *_ in _registry().parse_unit_name(text)[:1]):
            return None
        base = _registry().Quantity(1, text).to_base_units()
    except Exception:
        # pint raises many kinds for text that is no unit, some of them its parser's own.
        return None
    dimension = _PINT_DIMENSIONS.get(str(base.dimensionality))
    if dimension is None or not isinstance(base.magnitude, int | float):
        return None
    return Unit(text, dimension, Fraction(str(base.magnitude)))


_MISREAD = frozenset({"ton", "tons", "Min", "Mm", "a", "rd", "cwt", "ps", "kn"})
"""Spellings that pint takes for something else than a shop means: a US ton, a million inches, an
are. Whoever writes one is asked what is meant."""


_NOT_IN_SHOPS = frozenset(
    {"femto", "atto", "zepto", "yocto", "ronto", "quecto", "peta", "exa", "zetta", "yotta", "ronna"}
)
"""Prefixes that pint finds in slips of the pen, and that no shop writes on purpose."""


@cache
def _registry() -> pint.UnitRegistry[float]:
    """Return pint's definitions, read once: that takes a third of a second."""
    import pint

    return pint.UnitRegistry()


def nearest_units(text: str) -> tuple[str, ...]:
    """Return the units that `text` was probably meant to be, as they are printed, nearest first."""
    folded = {word.casefold(): unit.symbol for word, unit in reversed(UNITS.items())}
    exact = folded.get(text.casefold())
    if exact:
        return (exact,)
    matcher = difflib.SequenceMatcher(b=_bare(text))
    shares: list[tuple[float, str]] = []
    for word in folded:
        matcher.set_seq1(_bare(word))
        shares.append((matcher.ratio(), word))
    # Far ones beside a near one only make the reader wonder: `baar` is no kind of `year`.
    least = max(_NEAR, max(share for share, _ in shares) - _AS_NEAR)
    first = text[:1].casefold()
    near = sorted((-s, not word.startswith(first), word) for s, word in shares if s >= least)
    return tuple(dict.fromkeys(folded[word] for *_, word in near))


_NEAR = 0.7
_AS_NEAR = 0.05
"""How much of two spellings must agree, and how much less a second choice may."""


def _bare(text: str) -> str:
    return "".join(c for c in text.casefold() if c not in "·⋅-.*/ ")


def convert(quantity: Quantity, unit: str) -> Quantity:
    """Return the same quantity in another unit of its dimension, exactly.

    Raises ValueError when the dimensions differ.
    """
    target = _unit(unit)
    if target.dimension != quantity.dimension:
        raise ValueError(f"{quantity.dimension} is not {target.dimension}")
    return Quantity((quantity.si - target.offset) / target.factor, unit)


def format_quantity(quantity: Quantity) -> str:
    """Return `9.5 N·m`: the number as written, a no-break space, the unit as it is printed."""
    number = quantity.text or format_number(quantity.value)
    if not quantity.unit:
        return number
    symbol = _unit(quantity.unit).symbol
    if symbol == "deg":
        return f"{number}°"
    gap = "" if symbol in _TIGHT else "\N{NO-BREAK SPACE}"
    return f"{number}{gap}{symbol}"


def format_number(value: Fraction) -> str:
    """Return a number in plain decimal digits, at most six after the point, without idle zeros."""
    text = f"{float(value):.6f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def rounded(exact: Quantity, written: Quantity) -> Quantity:
    """Return `exact` rounded to the precision that `written` claims (NIST SP 811 B.7).

    The relative step of the rounding is never coarser than that of the written number, and the
    rounding moves the value by less than one per cent, which is inside any tolerance that a
    workshop asks for; two for a length, so that 0.1 mm is 0.004 in as every shop says. So 31 kg is
    68 lb, 60 N·m is 44.3 lbf·ft.
    """
    if exact.value == 0:
        return Quantity(Fraction(0), exact.unit, "0")
    step = abs(exact.value) * _relative_step(written)
    off = abs(exact.value) * Fraction(2 if exact.dimension == "length" else 1, 100)
    places = -6
    while places < 6 and (
        Fraction(10) ** -places > step or abs(round(exact.value, places) - exact.value) > off
    ):
        places += 1
    value = round(exact.value, places)
    text = f"{float(value):.{max(0, places)}f}"
    return Quantity(Fraction(value), exact.unit, text)


def three_digits(exact: Quantity) -> Quantity:
    """Return what was worked out to three digits, which is finer than a torque wrench shows."""
    if exact.value == 0:
        return Quantity(Fraction(0), exact.unit, "0")
    places = 2 - int(f"{abs(float(exact.value)):.2e}".partition("e")[2])
    value = round(exact.value, places)
    return Quantity(value, exact.unit, f"{float(value):.{max(0, places)}f}")


def _relative_step(written: Quantity) -> Fraction:
    """Return the last written place as a share of the number; a whole number is good to one."""
    return written_step(written) / (abs(written.value) or Fraction(1))


def written_step(written: Quantity) -> Fraction:
    """Return the last place a number is written to, in its unit: 0.1 of `9.5 N·m`.

    A whole number is good to one. A fraction (`1/3 turn`) is good to one of its parts; one of an
    inch names a size that is made and measured to a 64th at least, so `1 1/2 in` is 38.1 mm, and no
    step of half an inch (title blocks of inch drawings: common practice, no source).
    """
    text = written.text or format_number(written.value)
    if "/" in text:
        part = Fraction(1, written.value.denominator)
        return min(part, _FINEST_FRACTION) if written.dimension == "length" else part
    return Fraction(1, 10 ** (len(text.split(".")[1]) if "." in text else 0))


_FINEST_FRACTION = Fraction(1, 64)
