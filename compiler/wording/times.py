"""The time of a whole job in words."""

from __future__ import annotations

from typing import Protocol

from compiler.wording.values import minutes_text


class Total(Protocol):
    """Minutes of a job: least, most, expected, spread; how many steps say nothing, how many do."""

    @property
    def low(self) -> float:
        """Return the least."""

    @property
    def high(self) -> float:
        """Return the most."""

    @property
    def expected(self) -> float:
        """Return the expectation."""

    @property
    def untimed_steps(self) -> int:
        """Return how many steps give no time."""

    @property
    def timed_steps(self) -> int:
        """Return how many steps give one."""

    @property
    def spread(self) -> float:
        """Return one standard deviation."""


def total_text(total: Total) -> str:
    """Return `about 1 h 30 min`, with its range when there is one.

    Where most of the steps give no time it is only `at least` what the others take, or ''.
    """
    if total.untimed_steps > total.timed_steps:
        return f"at least {minutes_text(total.low)}" if total.low else ""
    about = f"about {minutes_text(total.expected)}"
    if total.low == total.high:
        return about
    return f"{about} ({minutes_text(total.low)} to {minutes_text(total.high)})"


def total_note(total: Total) -> str:
    """Return the spread of a time, and how much of the job it leaves out; '' for nothing."""
    notes: list[str] = []
    count = total.untimed_steps
    if total.spread >= 0.5 and count <= total.timed_steps:
        notes.append(f"give or take {minutes_text(total.spread)}")
    if count:
        notes.append("1 step gives no time" if count == 1 else f"{count} steps give no time")
    return "; ".join(notes)
