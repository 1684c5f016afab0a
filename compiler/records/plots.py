"""Where the points of a plot lie: values over the records, with the limits as lines."""

from __future__ import annotations

from dataclasses import dataclass

from compiler.records.summary import Series

WIDTH, HEIGHT = 640, 200
_LEFT, _RIGHT, _TOP, _BOTTOM = 64, 12, 12, 28


@dataclass(frozen=True, slots=True)
class Dot:
    """A reading; `good` is drawn as a disc, what is out of limits as a cross."""

    x: float
    y: float
    good: bool
    text: str


@dataclass(frozen=True, slots=True)
class Level:
    """A line across the plot, with what it says at its left end."""

    y: float
    text: str
    is_limit: bool


@dataclass(frozen=True, slots=True)
class Plot:
    """All of one series, in user units of a drawing of `WIDTH` by `HEIGHT`."""

    dots: tuple[Dot, ...]
    levels: tuple[Level, ...]
    left: float
    right: float
    first: str
    last: str


def plot(series: Series) -> Plot:
    """Return the plot of a series: one place a reading, in the order of time."""
    values = [one.value for one in series.values]
    limits = [float(text) for text in (series.low, series.high) if text]
    low, high = min([*values, *limits]), max([*values, *limits])
    margin = (high - low or abs(high) or 1.0) * 0.08
    low, high = low - margin, high + margin
    right = WIDTH - _RIGHT
    step = (right - _LEFT) / len(values)

    def y_of(value: float) -> float:
        return round(_TOP + (high - value) / (high - low) * (HEIGHT - _TOP - _BOTTOM), 1)

    dots = tuple(
        Dot(
            round(_LEFT + step * (place + 0.5), 1),
            y_of(one.value),
            one.verdict in ("in", ""),
            f"{one.at[:10]} {one.serial}: {one.value:g} {series.unit}".strip(),
        )
        for place, one in enumerate(series.values)
    )
    levels = [Level(y_of(float(text)), text, True) for text in (series.low, series.high) if text]
    levels.append(Level(y_of(series.mean), f"{series.mean:.4g}", False))
    first, last = series.values[0].at[:10], series.values[-1].at[:10]
    return Plot(dots, tuple(levels), _LEFT, right, first, last)
