"""A finding as people read it on a screen, and as JSON."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Sequence

from compiler.findings.model import Finding, is_error
from compiler.findings.registry import Severity, rule_of
from compiler.source import SourceFile, Span

SourceOf = Callable[[str], SourceFile | None]

_MOST_COLUMNS = 96
"""How much of a long line is shown around the marked place."""

_COMMENT = re.compile(r"\s*(?:\s#(?![0-9])[^\"“”]*)?$")

_STYLES = {"error": "\x1b[1;31m", "warning": "\x1b[1;33m", "mark": "\x1b[1m", "soft": "\x1b[2m"}
_PLAIN = "\x1b[0m"


def render_text(finding: Finding, source_of: SourceOf, colour: bool, width: int) -> str:
    """Return a finding as several lines of text, without a newline at the end.

    Place and weight first, then the reason, the line with the marked place, other places, and what
    to try. Control characters and marks that turn the writing direction are made visible.
    """
    rule = rule_of(finding.rule)
    paint = _painter(colour)
    weight = paint(rule.severity.value, rule.severity.value)
    lines = [
        f"{weight}  {_place(finding.span, source_of)}  [{rule.name}]",
        f"  {visible(finding.message)}",
        *_marked(finding.span, "", source_of, paint, width),
    ]
    for label in finding.labels:
        lines.append(f"  {paint('soft', 'see')} {_place(label.span, source_of)}")
        lines += _marked(label.span, label.message, source_of, paint, width)
    if finding.hint:
        lines.append(f"  {paint('mark', 'Try:')} {visible(finding.hint)}")
    return "\n".join(lines)


def _painter(colour: bool) -> Callable[[str, str], str]:
    def paint(style: str, text: str) -> str:
        return f"{_STYLES[style]}{text}{_PLAIN}" if colour else text

    return paint


def _place(span: Span, source_of: SourceOf) -> str:
    source = source_of(span.file)
    if source is None:
        return visible(span.file)
    at = source.position(span.start)
    return f"{visible(span.file)}:{at.line}:{at.column}"


def _marked(
    span: Span, words: str, source_of: SourceOf, paint: Callable[[str, str], str], width: int
) -> list[str]:
    """Return the line of the place and, below it, a rule under the marked characters."""
    source = source_of(span.file)
    if source is None:
        return [f"    {visible(words)}"] if words else []
    at = source.position(span.start)
    text = source.line_text(at.line)
    first = min(at.column - 1, len(text))
    last = min(first + max(span.end - span.start, 1), max(len(text), first + 1))
    room = max(20, min(width - 12, _MOST_COLUMNS))
    left = max(0, min(first - room // 3, len(text) - room))
    right = min(len(text), left + room)
    if last == len(text) and span.end - span.start > last - first:
        # It goes on below: what is marked of this line are its words, not the comment behind them.
        last = first + max(1, len(_COMMENT.sub("", text[first:right])))
    shown = ("…" if left else "") + visible(text[left:right]) + ("…" if right < len(text) else "")
    before = ("…" if left else "") + visible(text[left:first])
    under = visible(text[first : min(last, right)]) or " "
    number = f"{at.line:>5} "
    mark = "─" * max(1, _columns(under))
    gap = " " * (len(number) + 2 + _columns(before))
    tail = f" {visible(words)}" if words else ""
    return [f"{paint('soft', number + '│')} {shown}", f"{gap}{paint('mark', mark)}{tail}"]


def visible(text: str) -> str:
    """Return text that cannot move a cursor, change a colour or turn the direction of writing."""
    return "".join(_shown(character) for character in text)


def _shown(character: str) -> str:
    if character == "\t":
        return "→   "
    if unicodedata.category(character) in ("Cc", "Cf", "Cs", "Co", "Zl", "Zp"):
        return f"<{ord(character):02X}>"
    return character


def _columns(text: str) -> int:
    """Return how many columns of a terminal the text takes."""
    wide = sum(unicodedata.east_asian_width(c) in "WF" for c in text)
    none = sum(unicodedata.combining(c) != 0 for c in text)
    return len(text) + wide - none


def summary_line(findings: Sequence[Finding]) -> str:
    """Return the last line of a report: how many of each weight."""
    errors = sum(map(is_error, findings))
    warnings = len(findings) - errors
    if not findings:
        return "Nothing found: all is well."
    counts = [_count(errors, "error"), _count(warnings, "warning")]
    return "Found " + " and ".join(c for c in counts if c) + "."


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'s' if number != 1 else ''}" if number else ""


def render_json(findings: Sequence[Finding], source_of: SourceOf) -> str:
    """Return the findings as a JSON document; `findings.schema.json` describes it.

    Lines and columns count from 1, offsets from 0, all in characters.
    """
    body = {
        "findings": [_as_json(finding, source_of) for finding in findings],
        "errors": sum(map(is_error, findings)),
        "warnings": sum(not is_error(finding) for finding in findings),
    }
    return json.dumps(body, ensure_ascii=True, indent=1)


def _as_json(finding: Finding, source_of: SourceOf) -> dict[str, object]:
    fix = finding.fix
    return {
        "rule": finding.rule,
        "severity": Severity(rule_of(finding.rule).severity).value,
        "message": finding.message,
        **_span_json(finding.span, source_of),
        "hint": finding.hint,
        "labels": [
            {"message": label.message, **_span_json(label.span, source_of)}
            for label in finding.labels
        ],
        "fix": None if fix is None else {"text": fix.text, **_span_json(fix.span, source_of)},
    }


def _span_json(span: Span, source_of: SourceOf) -> dict[str, object]:
    source = source_of(span.file) or SourceFile(span.file, "")
    start, end = source.position(span.start), source.position(span.end)
    return {
        "file": span.file,
        "start": span.start,
        "end": span.end,
        "line": start.line,
        "column": start.column,
        "endLine": end.line,
        "endColumn": end.column,
    }
