"""Adding up quantities that are in words already: `2` and `3`, `2.4 L` and `1 L`."""

from __future__ import annotations

import re
from fractions import Fraction

from compiler.trade.units import format_number

_PLAIN = re.compile(r"(\d+(?:\.\d+)?)(?:\s(\S+))?")


def add_quantities(one: str, other: str) -> str:
    """Return the sum when both are numbers of one unit, otherwise both: `2.4 L + about 1 L`."""
    first, second = _PLAIN.fullmatch(one), _PLAIN.fullmatch(other)
    if first is not None and second is not None and first[2] == second[2]:
        total = format_number(Fraction(first[1]) + Fraction(second[1]))
        return f"{total}\N{NO-BREAK SPACE}{first[2]}" if first[2] else total
    return one if one == other else f"{one} + {other}"
