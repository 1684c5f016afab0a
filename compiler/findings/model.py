"""A finding: what is wrong, where, the other place when two disagree, and what to do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from compiler.source import Span


@dataclass(frozen=True, slots=True)
class Label:
    """Another place that belongs to a finding, with a few words about it."""

    span: Span
    message: str


@dataclass(frozen=True, slots=True)
class Fix:
    """A change of text that would mend the finding: `text` in place of what `span` covers.

    With `as_line` it is a line of its own behind the one at `span` and all that belongs to that;
    `placed_in` then gives it its place.
    """

    span: Span
    text: str
    as_line: bool = False

    def placed_in(self, text: str) -> Fix:
        """Return the change itself: where in `text` of the file the new line goes."""
        if not self.as_line:
            return self
        start = text.rfind("\n", 0, self.span.start) + 1
        margin = text[start : self.span.start]
        end = _line_end(text, self.span.end)
        at = end
        while at < len(text):
            start, at = at + 1, _line_end(text, at + 1)
            line = text[start:at]
            if line.strip():
                if not line.startswith(margin + " "):
                    break
                end = at
        at = end - 1 if text[end - 1 : end + 1] == "\r\n" else end
        newline = "\r\n" if at < end else "\n"
        return Fix(Span(self.span.file, at, at), f"{newline}{margin}{self.text}")


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return end if end >= 0 else len(text)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong. How much it weighs stands with its rule in the registry.

    `rule` is the name of the rule in words, `message` the reason in shop language, `hint` what to
    try. `fix` is given only where one change of text is the likely remedy.
    """

    rule: str
    span: Span
    message: str
    labels: tuple[Label, ...] = ()
    hint: str = ""
    fix: Fix | None = None


def is_error(finding: Finding) -> bool:
    """Return whether the finding keeps outputs from being made."""
    from compiler.findings.registry import Severity, rule_of

    return rule_of(finding.rule).severity is Severity.ERROR


def sort_and_dedupe(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings in the order of their places, each once."""
    return tuple(sorted(dict.fromkeys(findings), key=_place))


def _place(finding: Finding) -> tuple[str, int, int, str, str]:
    span = finding.span
    return span.file, span.start, span.end, finding.rule, finding.message
