"""The weight that one person may lift with two hands: the revised NIOSH lifting equation.

Source: NIOSH, Applications Manual for the Revised NIOSH Lifting Equation, publication 94-110
(formulas, tables and limits from transcriptions that agree; what it is not for partly from memory).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite, prod

SOURCE = "NIOSH publication 94-110, revised lifting equation"

SHORT, MODERATE, LONG = "up to 1 h", "1 to 2 h", "2 to 8 h"
DURATIONS = (SHORT, MODERATE, LONG)
"""How long the lifting goes on in a shift, as the columns of the frequency table are headed."""

GOOD, FAIR, POOR = "good", "fair", "poor"
COUPLINGS = (GOOD, FAIR, POOR)
"""How well the hands hold the load: handles, an edge to hook the fingers under, or neither."""

ONE_HANDED, SEATED, CONFINED, UNSTABLE = "one-handed", "seated", "confined", "unstable"
NOT_FOR: Mapping[str, str] = {
    ONE_HANDED: "lifted with one hand",
    SEATED: "lifted sitting or kneeling",
    CONFINED: "lifted where there is no room to stand upright",
    UNSTABLE: "a load that shifts, such as a liquid in an open vessel",
}
"""Ways of lifting that the equation says nothing about. More than 8 h of it in a day is another."""

LONGEST_HOURS = 8.0
RAREST = 0.2
"""Lifts a minute; what is lifted less often counts as often as this."""


@dataclass(frozen=True, slots=True)
class Constants:
    """The constants of the equation in one system of units: lengths in `length`, loads in `load`.

    `near` and `far` limit H, `highest` V; `shortest` and `longest` limit D; `waist` is the height
    where lifting is easiest, and where the tables for coupling and frequency change column.
    """

    length: str
    load: str
    most: float
    near: float
    far: float
    waist: float
    height_slope: float
    highest: float
    travel_slope: float
    shortest: float
    longest: float


METRIC = Constants("cm", "kg", 23, 25, 63, 75, 0.003, 175, 4.5, 25, 175)
US = Constants("in", "lb", 51, 10, 25, 30, 0.0075, 70, 1.8, 10, 70)

STEEPEST = 135.0
"""Degrees; nobody lifts with the body turned further."""

_TABLE: Sequence[tuple[float, Sequence[float], Sequence[float]]] = (
    # Lifts a minute; short, moderate, long with the hands below the waist, then at it or above.
    (0.2, (1.00, 0.95, 0.85), (1.00, 0.95, 0.85)),
    (0.5, (0.97, 0.92, 0.81), (0.97, 0.92, 0.81)),
    (1, (0.94, 0.88, 0.75), (0.94, 0.88, 0.75)),
    (2, (0.91, 0.84, 0.65), (0.91, 0.84, 0.65)),
    (3, (0.88, 0.79, 0.55), (0.88, 0.79, 0.55)),
    (4, (0.84, 0.72, 0.45), (0.84, 0.72, 0.45)),
    (5, (0.80, 0.60, 0.35), (0.80, 0.60, 0.35)),
    (6, (0.75, 0.50, 0.27), (0.75, 0.50, 0.27)),
    (7, (0.70, 0.42, 0.22), (0.70, 0.42, 0.22)),
    (8, (0.60, 0.35, 0.18), (0.60, 0.35, 0.18)),
    (9, (0.52, 0.30, 0.00), (0.52, 0.30, 0.15)),
    (10, (0.45, 0.26, 0.00), (0.45, 0.26, 0.13)),
    (11, (0.41, 0.00, 0.00), (0.41, 0.23, 0.00)),
    (12, (0.37, 0.00, 0.00), (0.37, 0.21, 0.00)),
    (13, (0.00, 0.00, 0.00), (0.34, 0.00, 0.00)),
    (14, (0.00, 0.00, 0.00), (0.31, 0.00, 0.00)),
    (15, (0.00, 0.00, 0.00), (0.28, 0.00, 0.00)),
)

_COUPLING: Mapping[str, tuple[float, float]] = {
    GOOD: (1.00, 1.00),
    FAIR: (0.95, 1.00),
    POOR: (0.90, 0.90),
}


@dataclass(frozen=True, slots=True)
class Lift:
    """One lift at one of its ends; lengths and load in the units of `constants`.

    `out` (H): from midway between the ankles to the hands; `height` (V): of the hands above the
    floor; `travel` (D): up or down, whichever; `turned` (A): degrees away from straight ahead;
    `per_minute` (F); `load` (L), None when only the weight limit is asked for.
    `conditions`: keys of NOT_FOR that are true here.
    """

    out: float
    height: float
    travel: float
    turned: float = 0.0
    per_minute: float = RAREST
    duration: str = SHORT
    coupling: str = FAIR
    load: float | None = None
    constants: Constants = METRIC
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WeightLimit:
    """What the equation gives: multipliers HM, VM, DM, AM, FM, CM, the limit (RWL), the index (LI).

    `index` is None without a load and where the limit is 0. `beyond` says which inputs lie past the
    edge of the equation, so that the limit is 0: nobody should lift anything so. `unfit` says why
    the equation does not hold for this lift at all; the numbers are then no guide.
    """

    lift: Lift
    hm: float
    vm: float
    dm: float
    am: float
    fm: float
    cm: float
    limit: float
    index: float | None
    beyond: tuple[str, ...] = ()
    unfit: tuple[str, ...] = ()

    @property
    def multipliers(self) -> tuple[tuple[str, float], ...]:
        """Return the six multipliers with their short names, in the order of the equation."""
        values = (self.hm, self.vm, self.dm, self.am, self.fm, self.cm)
        return tuple(zip(("HM", "VM", "DM", "AM", "FM", "CM"), values, strict=True))

    @property
    def formula(self) -> str:
        """Return the equation with its numbers, as the publication writes it."""
        unit = self.lift.constants.load
        factors = " × ".join(f"{value:.2f}" for _, value in self.multipliers)
        return (
            f"RWL = LC·HM·VM·DM·AM·FM·CM = {self.lift.constants.most:g} {unit} × {factors} "
            f"= {self.limit:.1f} {unit}"
        )


def weight_limit(lift: Lift) -> WeightLimit:
    """Return the recommended weight limit of a lift, NIOSH publication 94-110.

    Raises ValueError for a length, an angle, a frequency or a load below 0 or not finite, and for a
    duration, a coupling or a condition that is not in the tables.
    """
    _refuse(lift)
    known = lift.constants
    values = (
        _horizontal(lift.out, known),
        _vertical(lift.height, known),
        _distance(lift.travel, known),
        1 - 0.0032 * lift.turned if lift.turned <= STEEPEST else 0.0,
        frequency_multiplier(lift.per_minute, lift.duration, lift.height >= known.waist),
        _COUPLING[lift.coupling][lift.height >= known.waist],
    )
    limit = known.most * prod(values)
    index = lift.load / limit if lift.load is not None and limit else None
    unfit = tuple(NOT_FOR[key] for key in lift.conditions)
    return WeightLimit(lift, *values, limit, index, _beyond(lift, values[4]), unfit)


def duration_of(hours: float) -> str | None:
    """Return the column of the table for hours of lifting; None past 8 h, where there is none.

    A column shorter than the last also asks for lighter work afterwards, 1.2 times as long after up
    to 1 h and 0.3 times after up to 2 h (from memory).
    """
    if not 0 <= hours <= LONGEST_HOURS:
        return None
    return SHORT if hours <= 1 else MODERATE if hours <= 2 else LONG


def frequency_multiplier(per_minute: float, duration: str, high: bool) -> float:
    """Return FM for lifts a minute, between rows by a straight line (NIOSH publication 94-110).

    `high`: the hands at the waist or above.
    """
    column = DURATIONS.index(duration)
    often = max(RAREST, per_minute)
    rows = [(at, (above if high else below)[column]) for at, below, above in _TABLE]
    for (low, at_low), (top, at_top) in pairwise(rows):
        if low <= often <= top:
            return at_low + (at_top - at_low) * (often - low) / (top - low)
    return 0.0


def _horizontal(out: float, known: Constants) -> float:
    if out > known.far:
        return 0.0
    return min(1.0, known.near / out) if out else 1.0


def _vertical(height: float, known: Constants) -> float:
    if height > known.highest:
        return 0.0
    return 1 - known.height_slope * abs(height - known.waist)


def _distance(travel: float, known: Constants) -> float:
    if travel > known.longest:
        return 0.0
    return 1.0 if travel < known.shortest else min(1.0, 0.82 + known.travel_slope / travel)


def _beyond(lift: Lift, frequency: float) -> tuple[str, ...]:
    known = lift.constants
    limits = (
        ("the hands reach further out than", lift.out, known.far, known.length),
        ("the hands are higher than", lift.height, known.highest, known.length),
        ("it travels more than", lift.travel, known.longest, known.length),
        ("the body is turned more than", lift.turned, STEEPEST, "deg"),
    )
    found = tuple(f"{words} {most:g} {unit}" for words, given, most, unit in limits if given > most)
    often = f"{lift.per_minute:g} lifts a minute are too many for {lift.duration}"
    return found if frequency else (*found, often)


def _refuse(lift: Lift) -> None:
    numbers = (lift.out, lift.height, lift.travel, lift.turned, lift.per_minute, lift.load or 0.0)
    if not all(isfinite(number) and number >= 0 for number in numbers):
        raise ValueError("lengths, angle, frequency and load are 0 or more")
    for given, table in ((lift.duration, DURATIONS), (lift.coupling, COUPLINGS)):
        if given not in table:
            raise ValueError(f"{given!r} is none of {', '.join(table)}")
    for key in lift.conditions:
        if key not in NOT_FOR:
            raise ValueError(f"{key!r} is none of {', '.join(NOT_FOR)}")
