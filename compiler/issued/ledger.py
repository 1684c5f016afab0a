"""The list of what was issued, beside the procedures: which content went out under which revision.

`issued.txt` has a line for each: procedure, revision, day, digest of the content, digest of what
the author wrote, what changed. Lists of old have neither of the last two.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from compiler.document.model import Document
from compiler.findings.model import Finding, Label
from compiler.source import SourceFile, Span

HEAD = """\
# What was issued: procedure, revision, day, content, text of the author, what changed. The first
# twelve digits of the content stand on each print as its mark. Written by: witnessmark issue
"""

MARK = 12
"""How many digits of the content a print carries."""

_LINE = re.compile(
    r"(\S+) (\S+) (\d{4}-\d\d-\d\d|-) ([0-9a-f]{64})(?: ([0-9a-f]{16}))?(?: \"(.*)\")?"
)
_SAID = re.compile(r'(?:[^#"]|"[^"]*"?)*')
_WRITTEN = re.compile(r"[^\r\n]+")
_LINE_END = re.compile(r"\r\n|\r|\n")
_REVISION_LETTERS = "ABCDEFGHJKLMNPRTUVWY"
"""ASME Y14.35 leaves out I, O, Q, S, X and Z, which are taken for figures (from memory)."""


@dataclass(frozen=True, slots=True)
class Issue:
    """One line of the list, and where it stands.

    `written` is a digest of what the author wrote, `change` what was said to have changed; '' in a
    list of old.
    """

    procedure: str
    revision: str
    day: str
    digest: str
    span: Span
    written: str = ""
    change: str = ""


def read_issues(source: SourceFile) -> tuple[tuple[Issue, ...], tuple[Finding, ...]]:
    """Return the lines of the list in their order, and what is wrong with them."""
    issues: dict[tuple[str, str], Issue] = {}
    findings: list[Finding] = []
    for span, text in written_lines(source):
        found = _LINE.fullmatch(text)
        if found is None:
            findings.append(_not_understood(span))
            continue
        change = (found[6] or "").strip()
        issue = Issue(found[1], found[2], found[3], found[4], span, found[5] or "", change)
        first = issues.setdefault((issue.procedure, issue.revision), issue)
        if first is not issue:
            findings.append(_twice(first, issue))
    return tuple(issues.values()), tuple(findings)


def written_lines(source: SourceFile) -> Iterator[tuple[Span, str]]:
    """Yield the lines that say something, with single spaces, without the comment behind them."""
    for line in _WRITTEN.finditer(source.text):
        said = _SAID.match(line[0])
        text = said[0].strip() if said is not None else ""
        if text:
            start = line.start() + len(line[0]) - len(line[0].lstrip())
            yield Span(source.path, start, start + len(text)), " ".join(text.split())


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


def is_same_text(issue: Issue, written: str) -> bool:
    """Return whether the author's text is still the one that was issued; no, if nobody knows."""
    return bool(written) and issue.written == written


# --- Adding to the list --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Listed:
    """The new text of the list, and what was added or written again: (procedure, revision)."""

    text: str
    added: tuple[tuple[str, str], ...]
    again: tuple[tuple[str, str], ...]


def with_issues(
    text: str,
    documents: Sequence[Document],
    again: Collection[str] = (),
    written: Mapping[str, str] | None = None,
) -> Listed:
    """Return the list with the documents in it that it did not have.

    Lines that are there keep their content, but for the procedures named in `again`: the line of
    their present revision gets the present content. Each procedure's lines stay together, in the
    order of issue; the procedures are in the order of their names. `written` are digests of what
    the author wrote; the line of the present content gets the present one.
    """
    lines = _LINE_END.split((text if text.strip() else HEAD).rstrip("\r\n"))
    added: list[tuple[str, str]] = []
    anew: list[tuple[str, str]] = []
    for document in sorted(documents, key=lambda one: one.id):
        name = (document.id, revision_of(document))
        line = _line(document, (written or {}).get(document.id, ""))
        there = [at for at, one in enumerate(lines) if one.split()[:2] == list(name)]
        if not there:
            lines.insert(_place(lines, document.id), line)
            added.append(name)
            continue
        is_same = lines[there[0]].split()[:4] == line.split()[:4]
        if is_same or document.id in again:
            lines[there[0]] = f"{line}{_comment(lines[there[0]])}"
        if not is_same and document.id in again:
            anew.append(name)
    return Listed("\n".join(lines) + "\n", tuple(added), tuple(anew))


def _line(document: Document, written: str) -> str:
    """Return the line of a document. Quotation marks and comments cannot stand in what changed."""
    revision = document.revision
    day, change = (revision.day, revision.change) if revision is not None else ("", "")
    said = " ".join(change.replace('"', "\u201d").split())
    words = (document.id, revision_of(document), day or "-", document.digest, written)
    return " ".join(filter(None, (*words, f'"{said}"' if said else "")))


def _comment(line: str) -> str:
    """Return what somebody noted behind a line, with what parts it from the line."""
    said = _SAID.match(line)
    return line[len(said[0].rstrip()) :].rstrip() if said is not None else ""


def _place(lines: Sequence[str], name: str) -> int:
    """Return where a new line of a procedure goes: behind its last, or behind smaller names."""
    place = len(lines)
    names = [line.split()[0] if line.split() else "#" for line in lines]
    for at, other in enumerate(names):
        if not other.startswith("#") and other > name:
            return at
    return place
