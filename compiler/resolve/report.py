"""Gathers findings; the one place that knows how a finding is made."""

from __future__ import annotations

from collections.abc import Iterable

from compiler.findings.model import Finding, Fix, Label, sort_and_dedupe
from compiler.findings.near import suggest
from compiler.source import Span


class Report:
    """Takes findings in any order and gives them sorted, each once.

    The same thing is resolved for several models, so the same fault is met several times.
    """

    def __init__(self) -> None:
        self._found: dict[tuple[str, Span, str], Finding] = {}
        self._slips: set[object] = set()
        self.meant: set[str] = set()
        """The names that misspelt ones were probably meant to be: somebody does use them."""

    def first(self, slip: object) -> bool:
        """Return whether a slip is told for the first time; it is from here on."""
        if slip in self._slips:
            return False
        self._slips.add(slip)
        return True

    def add(
        self,
        rule: str,
        span: Span,
        message: str,
        *others: tuple[Span, str],
        hint: str = "",
        fix: Fix | None = None,
    ) -> None:
        """Take a finding. `others` are further places, each with what is there."""
        labels = tuple(Label(place, text) for place, text in others)
        finding = Finding(rule, span, message, labels=labels, hint=hint, fix=fix)
        self._found.setdefault((rule, span, message), finding)

    def unknown(
        self,
        span: Span,
        word: str,
        known: Iterable[str],
        message: str,
        *others: tuple[Span, str],
        otherwise: str,
        rule: str = "unknown-name",
        sure: str = "",
        quoted: bool = False,
    ) -> None:
        """Take a finding about a word that nothing has, offering the nearest one that is known.

        `otherwise` is the hint when nothing is near; `sure` is what is certainly meant; `quoted`
        tells that the word stands in quotes in the file.
        """
        near = sure or suggest(word, known)
        if not near:
            self.add(rule, span, message, *others, hint=otherwise)
            return
        self.meant.add(near)
        written = f'"{near}"' if quoted else near
        hint = f"Did you mean {written}?"
        self.add(rule, span, message, *others, hint=hint, fix=Fix(span, written))

    def findings(self) -> tuple[Finding, ...]:
        """Return all findings in the order of their places."""
        return sort_and_dedupe(self._found.values())
