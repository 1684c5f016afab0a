"""Which other units a trade usually gives a value in, and how a result is rounded and printed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from compiler.trade.units import Quantity, convert, find_unit, format_quantity, rounded

Rows = tuple[tuple[str, float, float], ...]

_USUAL: Mapping[str, Rows] = {
    # unit, and the sizes of number in it that anybody says
    "torque": (
        ("N·m", 0.05, 1e6),
        ("lbf·ft", 5, 1e6),
        ("lbf·in", 0.5, 400),
        ("ozf·in", 0.1, 200),
        ("kgf·m", 0.5, 1e5),
        ("kgf·cm", 0.5, 100),
    ),
    "length": (
        ("mm", 0.001, 10_000),
        ("in", 0.0005, 400),
        ("thou", 0.05, 250),
        ("µm", 0.05, 1000),
        ("m", 1, 1e6),
        ("ft", 1, 1e6),
    ),
    "mass": (
        ("kg", 0.05, 20_000),
        ("lb", 0.1, 50_000),
        ("g", 0.01, 1000),
        ("oz", 0.01, 32),
        ("t", 1, 1e6),
    ),
    "force": (("N", 0.01, 10_000), ("kN", 0.5, 1e6), ("lbf", 0.01, 1e6), ("kgf", 0.1, 1e5)),
    "pressure": (
        ("bar", 0.05, 1000),
        ("psi", 0.1, 1e6),
        ("kPa", 0.1, 2000),
        ("MPa", 0.5, 1e5),
        ("mbar", 0.01, 100),
    ),
    "temperature": (("°C", -300, 1e5), ("°F", -460, 1e5), ("K", 0, 1e5)),
    "volume": (
        ("L", 0.05, 1e5),
        ("gal", 0.2, 1e5),
        ("qt", 0.2, 16),
        ("mL", 0.01, 1000),
        ("fl-oz", 0.05, 64),
        ("m³", 0.5, 1e6),
    ),
    "time": (("s", 0.01, 600), ("min", 0.1, 600), ("h", 0.5, 1000), ("days", 1, 1e5)),
    "angle": (("deg", 0.01, 1e5), ("turn", 0.01, 1e5)),
    "speed": (("rpm", 0.1, 1e6), ("1/s", 0.1, 1e5)),
    "power": (("kW", 0.05, 1e5), ("hp", 0.05, 1e5), ("W", 0.1, 1000)),
    "flow": (("L/min", 0.05, 1e5), ("gpm", 0.05, 1e5), ("m³/h", 0.05, 1e5)),
    "velocity": (("m/s", 0.05, 1e4), ("m/min", 0.5, 1e5), ("mm/s", 0.01, 1000)),
    "voltage": (("V", 0.5, 1000), ("kV", 0.5, 1e4), ("mV", 0.01, 1000)),
    "current": (("A", 0.1, 1e5), ("mA", 0.01, 1000)),
    "resistance": (("Ω", 0.01, 1000), ("kΩ", 0.5, 1000), ("MΩ", 0.5, 1e5)),
    "frequency": (("Hz", 0.01, 10_000), ("kHz", 0.5, 1e5)),
}
"""Common practice, no source: an inch-pound is said below some 30 foot-pounds, a thou of gaps."""


def other_units(quantity: Quantity, first: Sequence[str] = ()) -> tuple[str, ...]:
    """Return the units that the trade would give the quantity in, its own left out.

    `first` are those of the house; they are given whatever the size of the number.
    """
    dimension, own = quantity.dimension, find_unit(quantity.unit)
    house = [u for u in first if (known := find_unit(u)) and known.dimension == dimension]
    rows = _USUAL.get(dimension, ())
    fitting = [
        unit
        for unit, least, most in rows
        if least <= abs(convert(quantity, unit).value) < most or dimension == "temperature"
    ]
    names = house + (fitting if len(fitting) > 1 or house else [unit for unit, *_ in rows[:3]])
    found = {known.symbol: name for name in reversed(names) if (known := find_unit(name))}
    ordered = dict.fromkeys(known.symbol for name in names if (known := find_unit(name)))
    return tuple(found[symbol] for symbol in ordered if own is None or symbol != own.symbol)


def in_unit(quantity: Quantity, unit: str) -> tuple[Quantity, Quantity]:
    """Return the quantity in another unit: exactly, and rounded as NIST SP 811 B.7 asks.

    A temperature keeps the places that it is written with, and a written kelvin is a temperature.
    """
    exact = convert(quantity, unit)
    if quantity.dimension != "temperature":
        return exact, rounded(exact, quantity)
    places = len(quantity.text.partition(".")[2])
    return exact, Quantity(
        exact.value, exact.unit, f"{float(round(exact.value, places)):.{places}f}"
    )


def worked_out(value: float, unit: str, digits: int = 3) -> tuple[Quantity, Quantity]:
    """Return what was worked out in floats: as it is, and to as many digits as its inputs bear."""
    exact = Fraction(f"{value:.12g}")
    return Quantity(exact, unit), Quantity(exact, unit, significant(value, digits))


def significant(value: float, digits: int = 3) -> str:
    """Return a number to so many significant digits, in plain decimal digits."""
    if value == 0:
        return "0"
    places = digits - 1 - int(f"{abs(value):.{digits - 1}e}".partition("e")[2])
    whole = round(value, places)
    return f"{whole:.{max(0, places)}f}"


def said(quantity: Quantity) -> str:
    """Return a quantity for a terminal, whose search would not find a no-break space."""
    return format_quantity(quantity).replace("\N{NO-BREAK SPACE}", " ")


def symbol(unit: str) -> str:
    """Return a unit as it is printed."""
    found = find_unit(unit)
    return found.symbol if found is not None else unit
