"""The time of a whole job in words."""

from __future__ import annotations

from typing import Protocol

from compiler.wording.values import minutes_text


class Total(Protocol):
    """Minutes of a job: least, likely, most, expected; and how many steps say nothing."""

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


def total_text(total: Total) -> str:
    """Return `about 1 h 30 min`, with its range when there is one."""
    about = f"about {minutes_text(total.expected)}"
    if total.low == total.high:
        return about
    return f"{about} ({minutes_text(total.low)} to {minutes_text(total.high)})"


def total_note(total: Total) -> str:
    """Return how much of the job the time leaves out; '' for nothing."""
    count = total.untimed_steps
    if not count:
        return ""
    return "1 step gives no time" if count == 1 else f"{count} steps give no time"
