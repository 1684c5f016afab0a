"""The pieces of the latest two issues of each procedure, in a file beside the list.

They say only whether a piece is the same as in another issue. An entry counts only for the content
that the list names; without it no bars are drawn.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from compiler.changes.bars import carried
from compiler.changes.pieces import Piece, Pieces, pieces_of
from compiler.document.model import Document
from compiler.findings.model import Finding
from compiler.issued.ledger import MARK, Issue, revision_of, written_lines
from compiler.source import SourceFile, Span

KEPT_HEAD = """\
# What the latest two issues of each procedure said, piece by piece: number of the step, digits of
# its name and its words. The bars at the margin come from here. Written by: witnessmark issue
"""

_MOST_ISSUES = 2
_PIECES_A_LINE = 6
_ISSUE = re.compile(r"(\S+) (\S+) ([0-9a-f]{12})")
_PART = re.compile(r"([a-z]+)((?: \S+)*)")
_PIECE = re.compile(r"(?:(\d{1,6}(?:\.\d{1,6})*|repeat|choice|lanes):)?([0-9a-f]{4})([0-9a-f]{6})")


@dataclass(frozen=True, slots=True)
class Kept:
    """The pieces of one issue: `content` are the first twelve digits of what it said."""

    procedure: str
    revision: str
    content: str
    pieces: Pieces


def read_kept(source: SourceFile) -> tuple[tuple[Kept, ...], tuple[Finding, ...]]:
    """Return what is kept, in its order, and what is wrong with it."""
    kept: list[Kept] = []
    findings: list[Finding] = []
    pieces: dict[str, tuple[Piece, ...]] = {}
    for span, text in written_lines(source):
        issue = _ISSUE.fullmatch(text)
        part = _read_part(text) if issue is None and kept else None
        if issue is not None:
            pieces = {}
            kept.append(Kept(issue[1], issue[2], issue[3], pieces))
        elif part is not None:
            pieces[part[0]] = (*pieces.get(part[0], ()), *part[1])
        else:
            findings.append(_not_understood(span))
    return tuple(kept), tuple(findings)


def _read_part(text: str) -> tuple[str, tuple[Piece, ...]] | None:
    """Return the name and pieces of a line such as `work 1:0123456789 1.1:0123456789`."""
    part = _PART.fullmatch(text)
    found = [_PIECE.fullmatch(word) for word in part[2].split()] if part is not None else []
    if part is None or None in found:
        return None
    return part[1], tuple(Piece(one[1] or "", one[2], one[3]) for one in found if one is not None)


def _not_understood(span: Span) -> Finding:
    return Finding(
        "not-understood",
        span,
        "This line is not part of what is kept of an issue.",
        hint="Bring the file back from an older copy, or take it away: then sheets have no bars at "
        "the margin until the next issue. `witnessmark issue` writes it.",
    )


def kept_of(kept: Sequence[Kept], issue: Issue) -> Kept | None:
    """Return what is kept of an issue on the list; None when that is of another content."""
    wanted = (issue.procedure, issue.revision, issue.digest[:MARK])
    return next((k for k in kept if (k.procedure, k.revision, k.content) == wanted), None)


# --- Adding to it --------------------------------------------------------------------------------


def with_kept(
    kept: Sequence[Kept],
    old: Sequence[Issue],
    new: Sequence[Issue],
    documents: Sequence[Document],
    is_same_text: Callable[[Issue], bool],
) -> str:
    """Return the text of what is kept, with the pieces of the documents that were issued now.

    `old` and `new` are the list before and after; `documents` are those that were issued.
    `is_same_text` tells of a line of the old list whether the author's text is still the same: then
    the issue before is worded anew as well, so that the bars stay where they are.
    """
    found = {(one.procedure, one.revision, one.content): one for one in kept}
    for document in documents:
        pieces = pieces_of(document)
        revision = revision_of(document)
        anew = Kept(document.id, revision, document.digest[:MARK], pieces)
        mine = [one for one in old if one.procedure == document.id]
        at = next((at for at, one in enumerate(mine) if one.revision == revision), None)
        worded = kept_of(kept, mine[at]) if at is not None else None
        before = kept_of(kept, mine[at - 1]) if at else None
        if at is not None and worded is not None and before is not None and is_same_text(mine[at]):
            renewed = carried(before.pieces, worded.pieces, pieces)
            found[document.id, before.revision, before.content] = Kept(
                document.id, before.revision, before.content, renewed
            )
        found[document.id, revision, anew.content] = anew
    return KEPT_HEAD + "".join(_entries(found, new))


def _entries(found: Mapping[tuple[str, str, str], Kept], issues: Sequence[Issue]) -> Iterator[str]:
    """Yield the latest two issues of each procedure, in the order of the list."""
    for name in dict.fromkeys(issue.procedure for issue in issues):
        mine = [issue for issue in issues if issue.procedure == name]
        for issue in mine[-_MOST_ISSUES:]:
            one = found.get((name, issue.revision, issue.digest[:MARK]))
            if one is not None:
                yield _entry(one)


def _entry(kept: Kept) -> str:
    lines = [f"{kept.procedure} {kept.revision} {kept.content}"]
    for part, pieces in kept.pieces.items():
        words = [f"{one.label}{':' if one.label else ''}{one.key}{one.mark}" for one in pieces]
        lines += (
            " ".join((f"  {part}", *words[at : at + _PIECES_A_LINE]))
            for at in range(0, max(len(words), 1), _PIECES_A_LINE)
        )
    return "\n".join(lines) + "\n"
