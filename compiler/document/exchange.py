"""From the second unit of an entry back to its own, exactly."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from compiler.trade.units import find_unit


@dataclass(frozen=True, slots=True)
class Exchange:
    """A number in the second unit, times `scale` and plus `shift`, is the number in the first."""

    scale: Fraction
    shift: Fraction

    def of(self, number: Fraction) -> Fraction:
        """Return a number of the second unit in the first one."""
        return number * self.scale + self.shift


def exchange(unit: str, second: str) -> Exchange | None:
    """Return how a number in `second` becomes one in `unit`; None when they do not compare."""
    one, other = find_unit(unit), find_unit(second)
    if one is None or other is None or one.dimension != other.dimension:
        return None
    return Exchange(other.factor / one.factor, (other.offset - one.offset) / one.factor)
