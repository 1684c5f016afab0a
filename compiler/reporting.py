"""Tells the findings of a run in the format asked for, and the exit code that they give."""

from __future__ import annotations

from collections.abc import Sequence

from compiler.exit_codes import CLEAN, FINDINGS
from compiler.findings.model import Finding, is_error, sort_and_dedupe
from compiler.findings.render import SourceOf, render_json, render_text, summary_line
from compiler.terminal import Terminal


def report(findings: Sequence[Finding], source_of: SourceOf, terminal: Terminal) -> int:
    """Print findings in the chosen format and return the exit code."""
    ordered = sort_and_dedupe(findings)
    if terminal.format == "json":
        terminal.print(render_json(ordered, source_of))
    else:
        for finding in ordered:
            terminal.print(render_text(finding, source_of, terminal.colour, terminal.width))
            terminal.print()
        terminal.print(summary_line(ordered))
    return FINDINGS if any(map(is_error, ordered)) else CLEAN
