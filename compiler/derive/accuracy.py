"""How closely a torque wrench shows a torque, against how closely the joint asks for it."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from compiler.derive.tightening import ends_of, middle
from compiler.model import Amount, Stage, Tool
from compiler.trade.units import Quantity, format_number

ISO_6789_SMALL = Fraction(6, 100)
ISO_6789_LARGE = Fraction(4, 100)
_SMALL_UP_TO = Quantity(Fraction(10), "N·m")
"""Deviation that a hand torque tool may show, as a share of the reading: 6 % where its largest
torque is 10 N·m or less, 4 % above. Source: ISO 6789-1:2017, 5.1.5 (from memory)."""


def accuracy_of(wrench: Tool) -> Fraction:
    """Return how far off the reading may be, as a share of it; ISO 6789-1 where nothing is said."""
    if wrench.accuracy is not None:
        return wrench.accuracy.si
    most = wrench.range.high if wrench.range is not None else None
    small = most is not None and most.si <= _SMALL_UP_TO.si
    return ISO_6789_SMALL if small else ISO_6789_LARGE


def accuracy_words(wrench: Tool) -> str:
    """Return `±4 %`, with the standard behind it when the crib states none."""
    said = f"±{percent(accuracy_of(wrench))}"
    return said if wrench.accuracy is not None else f"{said} after ISO 6789"


def room_of(amount: Amount) -> Fraction | None:
    """Return how far off a torque may be, as a share of it; None when nothing is said.

    Of a range and of a tolerance on one side only half of the window: the wrench is set to its
    middle. Of a tolerance on two sides the smaller one.
    """
    ends, aim = ends_of(amount), middle(amount).value
    if ends is None or not aim:
        return None
    return min(aim - ends[0].value, ends[1].value - aim) / aim or None


def rooms_of(stages: Iterable[Stage]) -> tuple[tuple[Quantity, Fraction], ...]:
    """Return what the wrench is set to for each torque stage that says how far off it may be."""
    found: dict[Quantity, Fraction] = {}
    for stage in stages:
        room = room_of(stage.amount) if stage.kind == "torque" and stage.amount else None
        if stage.amount is not None and room is not None:
            torque = middle(stage.amount)
            found[torque] = min(room, found.get(torque, room))
    return tuple(found.items())


def percent(share: Fraction) -> str:
    """Return a share in per cent, rounded down to hundredths: what is asked must be kept."""
    hundredths = Fraction(int(share * 10_000), 100)
    return f"{format_number(hundredths)}\N{NO-BREAK SPACE}%"
