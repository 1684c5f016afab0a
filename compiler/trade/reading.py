"""What the readers of designations share: words with their places, what was found, problems."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in a designation: a range of its text, the reason, and what to try."""

    start: int
    end: int
    message: str
    hint: str = ""


@dataclass(slots=True)
class Found:
    """What of a designation has been read so far."""

    kind: str = ""
    thread: str = ""
    diameter: Fraction | None = None
    pitch: Fraction | None = None
    length: Fraction | None = None
    standard: str = ""
    grade: str = ""
    size: str = ""
    sign: str = ""
    standard_at: tuple[int, int] | None = None
    grade_word: Word | None = None
    size_word: Word | None = None


@dataclass(frozen=True, slots=True)
class Word:
    """A word of a designation, without blanks inside, and where it stands."""

    text: str
    start: int
    end: int

    def problem(self, message: str, hint: str = "") -> Problem:
        return Problem(self.start, self.end, message, hint)
