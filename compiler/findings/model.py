"""A finding: what is wrong, where, the other place when two disagree, and what to do."""

from __future__ import annotations

import difflib
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


def suggest(name: str, candidates: Iterable[str]) -> str | None:
    """Return the candidate that `name` was probably meant to be, None if nothing is near.

    Slips of case, hyphen and underscore count as nothing.
    """
    known = sorted(set(candidates))
    plain = _plain(name)
    same = [word for word in known if _plain(word) == plain and word != name]
    if same:
        return same[0]
    by_plain = {_plain(word): word for word in reversed(known)}
    near = difflib.get_close_matches(plain, list(by_plain), n=1, cutoff=0.7)
    return by_plain[near[0]] if near and by_plain[near[0]] != name else None


def _plain(word: str) -> str:
    return word.casefold().replace("_", "").replace("-", "").replace(" ", "")
