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
    """A change of text that would mend the finding: `text` in place of what `span` covers."""

    span: Span
    text: str


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
