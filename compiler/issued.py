"""The list of what was issued, beside the procedures: which content went out under which revision.

`issued.txt` has a line for each: procedure, revision, day, digest of the content. Content that is
another one under a revision that was issued is found; without the file nobody is held to anything.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from compiler.document.model import Document, IssueView
from compiler.findings.model import Finding, Label
from compiler.model import Procedure
from compiler.source import SourceFile, Span

HEAD = """\
# What was issued: procedure, revision, day, content. The first twelve digits of the content stand
# on each print as its content mark. Written by: witnessmark issue
"""

MARK = 12
"""How many digits of the content a print carries."""

_LINE = re.compile(r"(\S+) (\S+) (\d{4}-\d\d-\d\d|-) ([0-9a-f]{64})")
_WRITTEN = re.compile(r"[^\r\n]+")
_LINE_END = re.compile(r"\r\n|\r|\n")
_REVISION_LETTERS = "ABCDEFGHJKLMNPRTUVWY"
"""ASME Y14.35 leaves out I, O, Q, S, X and Z, which are taken for figures (from memory)."""


@dataclass(frozen=True, slots=True)
class Issue:
    """One line of the list, and where it stands."""

    procedure: str
    revision: str
    day: str
    digest: str
    span: Span


def read_issues(source: SourceFile) -> tuple[tuple[Issue, ...], tuple[Finding, ...]]:
    """Return the lines of the list in their order, and what is wrong with them."""
    issues: dict[tuple[str, str], Issue] = {}
    findings: list[Finding] = []
    for span, text in _lines(source):
        found = _LINE.fullmatch(" ".join(text.split()))
        if found is None:
            findings.append(_not_understood(span))
            continue
        issue = Issue(found[1], found[2], found[3], found[4], span)
        first = issues.setdefault((issue.procedure, issue.revision), issue)
        if first is not issue:
            findings.append(_twice(first, issue))
    return tuple(issues.values()), tuple(findings)


def _lines(source: SourceFile) -> Iterator[tuple[Span, str]]:
    """Yield the lines that say something, without the comment behind them."""
    for line in _WRITTEN.finditer(source.text):
        text = line[0].partition("#")[0].strip()
        if text:
            start = line.start() + len(line[0]) - len(line[0].lstrip())
            yield Span(source.path, start, start + len(text)), text


def _not_understood(span: Span) -> Finding:
    return Finding(
        "not-understood",
        span,
        "This line is not procedure, revision, day and content, as the list of issues has them.",
        hint="Bring it back from an older copy of the file, or take it out. "
        "`witnessmark issue` writes the list.",
    )


def _twice(first: Issue, second: Issue) -> Finding:
    return Finding(
        "duplicate-name",
        second.span,
        f"Revision {second.revision} of {second.procedure} stands here twice.",
        (Label(first.span, "here it is first"),),
        hint="One revision has one content: take out the line that was not issued.",
    )


def issue_findings(
    issues: Sequence[Issue], documents: Sequence[Document], procedures: Mapping[str, Procedure]
) -> Iterator[Finding]:
    """Yield the procedures that say something else than what was issued under their revision.

    `procedures` are those of the world, by their keys.
    """
    known = {(issue.procedure, issue.revision): issue for issue in issues}
    places = {one.name: one for one in procedures.values() if not one.is_block}
    for document in documents:
        issue = known.get((document.id, revision_of(document)))
        revision = places[document.id].revision
        if issue is not None and revision is not None and issue.digest != document.digest:
            yield _not_raised(document.id, revision.span, issue)


def with_history(issues: Sequence[Issue], document: Document) -> Document:
    """Return the document with what was issued of it before, and whether it is issued itself."""
    mine = [issue for issue in issues if issue.procedure == document.id]
    shown = [IssueView(one.revision, one.day.strip("-"), one.digest[:MARK]) for one in mine]
    revision = document.revision
    if revision is not None and revision.name not in {one.revision for one in mine}:
        present = IssueView(revision.name, revision.day, document.digest[:MARK], is_issued=False)
        shown.append(present)
    return replace(document, issues=tuple(shown))


def _not_raised(name: str, span: Span, issue: Issue) -> Finding:
    following = next_revision(issue.revision)
    raised = f"`revision {following}`" if following else "the next revision"
    return Finding(
        "revision-not-raised",
        span,
        f"{name} says something else than what was issued as {issue.revision}, and is still called "
        f"{issue.revision}: nobody could tell the old print from the new one.",
        (Label(issue.span, f"{issue.revision} was issued"),),
        hint=f"Make it {raised}, with the day and what changed. `witnessmark changes` shows what "
        "is different. If only Witnessmark words it otherwise now: `witnessmark issue --again`.",
    )


def revision_of(document: Document) -> str:
    """Return the revision of a document; '' when it has none."""
    return document.revision.name if document.revision is not None else ""


def next_revision(name: str) -> str:
    """Return the revision that comes after: 3 → 4, E → F, H → J, Y → AA; '' when nobody knows."""
    if name.isdecimal() and name.isascii():
        return str(int(name) + 1) if len(name) < 9 else ""
    if len(name) != 1 or not ("A" <= name <= "Z"):
        return ""
    return next((letter for letter in _REVISION_LETTERS if letter > name), "AA")


# --- Adding to the list --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Listed:
    """The new text of the list, and what was added or written again: (procedure, revision)."""

    text: str
    added: tuple[tuple[str, str], ...]
    again: tuple[tuple[str, str], ...]


def with_issues(text: str, documents: Sequence[Document], again: Collection[str] = ()) -> Listed:
    """Return the list with the documents in it that it did not have.

    Lines that are there stay as they are, but for the procedures named in `again`: the line of
    their present revision gets the present content. Each procedure's lines stay together, in the
    order of issue; the procedures are in the order of their names.
    """
    lines = _LINE_END.split((text if text.strip() else HEAD).rstrip("\r\n"))
    added: list[tuple[str, str]] = []
    written: list[tuple[str, str]] = []
    for document in sorted(documents, key=lambda one: one.id):
        revision = revision_of(document)
        day = document.revision.day if document.revision is not None else ""
        line = f"{document.id} {revision} {day or '-'} {document.digest}"
        there = [at for at, one in enumerate(lines) if one.split()[:2] == [document.id, revision]]
        if not there:
            lines.insert(_place(lines, document.id), line)
            added.append((document.id, revision))
        elif document.id in again and lines[there[0]].split()[:4] != line.split():
            lines[there[0]] = line
            written.append((document.id, revision))
    return Listed("\n".join(lines) + "\n", tuple(added), tuple(written))


def _place(lines: Sequence[str], name: str) -> int:
    """Return where a new line of a procedure goes: behind its last, or behind smaller names."""
    place = len(lines)
    names = [line.split()[0] if line.split() else "#" for line in lines]
    for at, other in enumerate(names):
        if not other.startswith("#") and other > name:
            return at
    return place
