"""Measuring two things side by side: in turns, each pair a ratio, and of the ratios the median.

A busy machine slows both of a pair down alike, so a ratio holds where milliseconds do not.
"""

from __future__ import annotations

import gc
import math
import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

Work: TypeAlias = Callable[[], object]


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the report. `bar` is the most that `ratio` may be; `why` is said when it is more.

    `spread` are the quarters of the single ratios: half of them lie between the two.
    """

    what: str
    baseline: str
    ratio: float
    bar: float
    spread: tuple[float, float]
    why: str = ""

    @property
    def is_met(self) -> bool:
        """Return whether the ratio keeps to its bar."""
        return self.ratio <= self.bar


def seconds(work: Work) -> float:
    """Return how long one run takes, without what the collector happens to do in it."""
    gc.collect()
    gc.disable()
    try:
        begun = time.perf_counter()
        work()
        return time.perf_counter() - begun
    finally:
        gc.enable()


def processor_seconds(work: Work) -> float:
    """Return the time of the processor that one run takes, with what the collector does in it.

    For what runs long: another program that takes its turn meanwhile is not counted.
    """
    gc.collect()
    begun = time.process_time()
    work()
    return time.process_time() - begun


def against(
    what: str,
    work: Work,
    baseline: str,
    base: Work,
    bar: float,
    rounds: int,
    timed: Callable[[Work], float] = seconds,
) -> Row:
    """Run both in turns, `rounds` times after one that does not count, and return the row."""
    work(), base()
    ratios = []
    for _ in range(rounds):
        before = timed(base)
        ratios.append(timed(work) / before)
    return row_of(what, baseline, ratios, bar)


def row_of(what: str, baseline: str, ratios: Sequence[float], bar: float) -> Row:
    """Return the row of some ratios: their median, and the quarters about it."""
    if len(ratios) > 1:
        low, _, high = statistics.quantiles(ratios, n=4, method="inclusive")
    else:
        low = high = ratios[0]
    return Row(what, baseline, statistics.median(ratios), bar, (low, high))


def exponent(sizes: Sequence[int], times: Sequence[float]) -> float:
    """Return the power of the size that the time grows with: 1 linear, 2 quadratic.

    The slope of the straight line of least squares through the logarithms.
    """
    xs, ys = [math.log(s) for s in sizes], [math.log(t) for t in times]
    return statistics.linear_regression(xs, ys).slope
