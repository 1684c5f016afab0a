"""What a walk counts and collects: findings, steps against the limits, ids that are taken."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from compiler.findings.model import Finding, Label
from compiler.model import Block
from compiler.source import Span
from compiler.walk.size import DEEPEST, MOST_STEPS, Sizes


@dataclass(slots=True)
class Tally:
    """The findings of one walk, how many steps were written out, and the ids in use."""

    sizes: Sizes
    findings: list[Finding] = field(default_factory=list)
    steps: int = 0
    full: bool = False
    _silent: int = 0
    _ids: dict[str, int] = field(default_factory=dict)

    def find(self, rule: str, span: Span, message: str, *labels: Label, hint: str = "") -> None:
        """Take a finding, unless this is only a trial."""
        if rule == "cannot-refit" and any(f.rule == "cannot-reach" for f in self.findings):
            return  # What could not be taken off is not there to be put back: no second fault.
        if not self._silent:
            self.findings.append(Finding(rule, span, message, tuple(labels), hint))

    @contextmanager
    def trial(self) -> Iterator[None]:
        """Walk something only to see what it does: no findings, and nothing counts.

        Its ids stay taken, for a general body is shown.
        """
        kept = self.steps, self.full
        self._silent += 1
        try:
            yield
        finally:
            self._silent -= 1
            self.steps, self.full = kept

    def has_room(self, block: Block, depth: int, span: Span) -> bool:
        """Return whether there is room for a block; say so when there is not.

        The steps are counted, not written out, so this is quick however many there would be.
        """
        if self.full:
            return False
        if depth >= DEEPEST:
            self._too_many(span, f"This is the {DEEPEST + 1}st level of steps within steps")
            return False
        steps = self.steps + self.sizes.steps(block)
        if steps > MOST_STEPS:
            self._too_many(span, f"This would come to {spaced(steps)} steps")
            return False
        return True

    def count(self, span: Span) -> bool:
        """Count one step; False when there are too many already."""
        self.steps += 1
        if self.steps > MOST_STEPS and not self.full:
            self.full = True
            self._too_many(span, f"There are more than {spaced(MOST_STEPS)} steps")
        return not self.full

    def _too_many(self, span: Span, what: str) -> None:
        most = f"at most {spaced(MOST_STEPS)} in {DEEPEST} levels can be written out"
        self.find(
            "too-many-steps",
            span,
            f"{what}; {most}.",
            hint="Repeat less often, or split the work into several procedures.",
        )

    def unique(self, wanted: str) -> str:
        """Return the id, with a number behind it when it is taken."""
        found, number = wanted, self._ids.get(wanted, 0)
        while found in self._ids:
            number += 1
            found = f"{wanted}-{number}"
        self._ids[wanted] = max(number, 1)
        self._ids.setdefault(found, 1)
        return found

    def is_taken(self, node_id: str) -> bool:
        """Return whether a node has this id."""
        return node_id in self._ids


def spaced(number: int) -> str:
    """Return a number with its thousands apart: `20 000`; a huge one by its size alone."""
    if number >= 10**12:
        return f"more than 10^{len(str(number)) - 1}"
    return f"{number:,}".replace(",", " ")
