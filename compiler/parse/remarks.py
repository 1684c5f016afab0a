"""What the parser has to say about something it could read: place, message, what to try."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from compiler.source import Span


@dataclass(frozen=True, slots=True)
class Remark:
    """`replacement` is what to write in place of `span`; None when only the author can tell.

    `first` is where the same was said before, when it may be said only once. `rule` is the rule of
    the finding that comes of it.
    """

    span: Span
    message: str
    hint: str
    replacement: str | None = None
    first: Span | None = None
    rule: str = "not-understood"


class Report(Protocol):
    """Takes a remark in the making."""

    def __call__(
        self,
        span: Span,
        message: str,
        hint: str,
        replacement: str | None = None,
        first: Span | None = None,
        rule: str = "not-understood",
    ) -> None:
        """Keep it."""
