"""Checks a folder on the disk and tells what was found, in the format asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from compiler.emit.record import folders_written
from compiler.exit_codes import CLEAN, FINDINGS
from compiler.findings.model import Finding, is_error, sort_and_dedupe
from compiler.findings.render import SourceOf, render_json, render_text, summary_line
from compiler.load import Folder, load_folder
from compiler.pipeline import Compiled, compile_sources
from compiler.source import NOWHERE, SourceFile, Span
from compiler.terminal import Terminal

if TYPE_CHECKING:
    from compiler.syntax import File

ParseFile = Callable[[SourceFile], "tuple[File | None, tuple[Finding, ...]]"]


@dataclass(frozen=True, slots=True)
class Checked:
    """A folder that was read and compiled.

    `findings` are those of reading and of compiling; they and the keys of `sources` name the files
    as seen from where the command was called, so that a terminal can open them.
    """

    root: str
    folder: Folder
    compiled: Compiled
    findings: tuple[Finding, ...]
    sources: Mapping[str, SourceFile]

    @property
    def is_clean(self) -> bool:
        """Return whether outputs may be made: everything was read, and nothing is an error."""
        return not any(map(is_error, self.findings))

    @property
    def is_empty(self) -> bool:
        """Return whether there was nothing to read at all."""
        return not self.folder.sources and not self.folder.findings


def check_folder(root: Path, terminal: Terminal, parse: ParseFile | None = None) -> Checked:
    """Read and compile the folder `root`, telling how far it is. What was built stays unread."""
    folder = load_folder(root, folders_written)
    compiled = compile_sources(folder.everything, folder.probe, parse, terminal.progress)
    prefix = "" if root == Path() else f"{root.as_posix().rstrip('/')}/"
    findings = (*folder.findings, *compiled.findings)
    return Checked(
        prefix,
        folder,
        compiled,
        tuple(_seen_from_here(finding, prefix) for finding in findings),
        {prefix + path: source for path, source in compiled.sources.items()},
    )


def _seen_from_here(finding: Finding, prefix: str) -> Finding:
    """Return the finding with `prefix` before the files it names."""

    def moved(span: Span) -> Span:
        return span if span == NOWHERE else replace(span, file=prefix + span.file)

    fix = finding.fix
    return replace(
        finding,
        span=moved(finding.span),
        labels=tuple(replace(label, span=moved(label.span)) for label in finding.labels),
        fix=replace(fix, span=moved(fix.span)) if fix else None,
    )


def report(findings: Iterable[Finding], source_of: SourceOf, terminal: Terminal) -> int:
    """Print findings in the chosen format and return the exit code."""
    ordered: Sequence[Finding] = sort_and_dedupe(findings)
    if terminal.format == "json":
        terminal.print(render_json(ordered, source_of))
    else:
        for finding in ordered:
            terminal.print(render_text(finding, source_of, terminal.colour, terminal.width))
            terminal.print()
        terminal.print(summary_line(ordered))
    return FINDINGS if any(map(is_error, ordered)) else CLEAN
