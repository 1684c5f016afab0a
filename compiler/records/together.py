"""Limits of all readings of a field together, worked out anew as the page does it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from compiler.document.model import Bounds, Field
from compiler.records.limits import reading
from compiler.records.model import Entry

_PLACE = re.compile(r"-(\d{1,6})-\d{1,6}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Whole:
    """What the readings of one round come to: `what` says how, `verdict` is `below` or `above`."""

    round: str
    what: str
    value: Fraction
    verdict: str


def out_together(field: Field, entries: Iterable[Entry]) -> Iterator[Whole]:
    """Yield what is out of limits; `entries` are those of this field, all rounds of it.

    A round counts once it has all its readings: half of them say nothing of their sum.
    """
    for number, values in sorted(_by_round(field, entries).items()):
        if len(values) < field.count:
            continue
        name = field.items[number - 1] if 0 < number <= len(field.items) else ""
        for what, bounds, value in (
            ("sum", field.sums, sum(values, Fraction(0))),
            ("largest less smallest", field.spreads, max(values) - min(values)),
        ):
            said = _verdict(bounds, value) if bounds is not None else ""
            if said:
                yield Whole(name, what, value, said)


def _by_round(field: Field, entries: Iterable[Entry]) -> dict[int, list[Fraction]]:
    found: dict[int, list[Fraction]] = {}
    for entry in entries:
        place = _PLACE.fullmatch(entry.name.removeprefix(field.id))
        value = reading(entry.entered, field.unit, field.second_unit)
        if place is not None and value is not None:
            found.setdefault(int(place[1]), []).append(value)
    return found


def _verdict(bounds: Bounds, value: Fraction) -> str:
    low, high = bounds.low, bounds.high
    if low and (value < Fraction(low) or (bounds.low_open and value == Fraction(low))):
        return "below"
    if high and (value > Fraction(high) or (bounds.high_open and value == Fraction(high))):
        return "above"
    return ""
