"""The work of `witnessmark issue`: what is clean is written into the list of what was issued."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from compiler.document.model import Document
from compiler.findings.model import Finding, is_error
from compiler.findings.near import suggest
from compiler.issued import (
    Listed,
    is_same_text,
    read_issues,
    read_kept,
    revision_of,
    with_issues,
    with_kept,
    written_digests,
)
from compiler.replacing import replace_file
from compiler.reporting import Checked
from compiler.source import KEPT, LEDGER, SourceFile


class CannotIssue(Exception):
    """What was named is not there, or the list cannot be written; the message says which."""


@dataclass(frozen=True, slots=True)
class Held:
    """Findings that keep the procedures from being issued."""

    findings: tuple[Finding, ...]


def issue(checked: Checked, names: Sequence[str], again: bool) -> Listed | Held:
    """Write the procedures (all, when none is named) into the list of the folder.

    With `again` the lines of their present revisions get the present content. Nothing is written
    while an error stands. Raises `CannotIssue`.
    """
    wanted = set(names)
    errors = filter(is_error, checked.findings)
    if not all(_is_waived(one, checked, names, again) for one in errors):
        return Held(checked.findings)
    documents = checked.compiled.library().documents
    known = [document.id for document in documents]
    for name in names:
        if name not in known:
            near = suggest(name, known)
            hint = f" Did you mean {near}?" if near else f" There are: {', '.join(known)}."
            raise CannotIssue(f"There is no procedure {name!r} here.{hint}")
    chosen = [document for document in documents if not wanted or document.id in wanted]
    _write_down(checked, chosen, listed := _listed(checked, chosen, again))
    return listed


def _listed(checked: Checked, chosen: Sequence[Document], again: bool) -> Listed:
    """Return the new list, without writing it."""
    ledger = checked.folder.ledger
    written = written_digests(checked.compiled.world, checked.compiled.sources)
    names = [one.id for one in chosen] if again else ()
    return with_issues(ledger.text if ledger is not None else "", chosen, names, written)


def _write_down(checked: Checked, chosen: Sequence[Document], listed: Listed) -> None:
    """Write the list and what is kept of the issues, where anything is new in them."""
    folder = checked.folder
    old = folder.ledger or SourceFile(LEDGER, "")
    kept = folder.kept or SourceFile(KEPT, "")
    before, _ = read_issues(old)
    after, _ = read_issues(SourceFile(LEDGER, listed.text))
    written = written_digests(checked.compiled.world, checked.compiled.sources)
    as_listed = {(one.procedure, one.revision, one.digest) for one in after}
    issued = [one for one in chosen if (one.id, revision_of(one), one.digest) in as_listed]
    pieces = with_kept(
        read_kept(kept)[0],
        before,
        after,
        issued,
        lambda issue: is_same_text(issue, written.get(issue.procedure, "")),
    )
    # The pieces first: without their line they do no harm, but a line without pieces has no bars.
    for file, text in ((kept, pieces), (old, listed.text)):
        if text != file.text:
            _write(folder.root / file.path, text)


def _is_waived(finding: Finding, checked: Checked, names: Sequence[str], again: bool) -> bool:
    """Return whether issuing again is the answer to a finding."""
    if not again or finding.rule != "revision-not-raised":
        return False
    file = finding.span.file.removeprefix(checked.root)
    procedures = checked.compiled.world.procedures.values()
    return not names or any(p.file == file and p.name in names for p in procedures)


def _write(path: Path, text: str) -> None:
    """Write a file of issues whole or not at all. Raises `CannotIssue` when the disk refuses."""
    try:
        replace_file(path, text.encode())
    except OSError as error:
        raise CannotIssue(f"{path} cannot be written: {error.strerror}.") from error
