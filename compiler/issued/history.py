"""What a document shows of its issues: which there were, and bars at what changed since."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from compiler.changes.bars import carried, with_bars
from compiler.changes.pieces import pieces_of
from compiler.document.model import Document, IssueView
from compiler.issued.kept import Kept, kept_of
from compiler.issued.ledger import MARK, Issue, is_same_text, revision_of


def with_history(
    issues: Sequence[Issue], document: Document, kept: Sequence[Kept] = (), written: str = ""
) -> Document:
    """Return the document with what was issued of it before, and whether it is issued itself.

    `kept` is what is kept of the latest issues, for the bars at the margin; `written` is the digest
    of what the author wrote.
    """
    mine = [issue for issue in issues if issue.procedure == document.id]
    shown = [_view(one, document) for one in mine]
    revision = document.revision
    is_listed = any(
        (one.revision, one.digest) == (revision_of(document), document.digest) for one in mine
    )
    if revision is not None and not is_listed:
        shown.append(
            IssueView(revision.name, revision.day, document.digest[:MARK], False, revision.change)
        )
    marked = _with_bars(mine, document, kept, written)
    return replace(marked, issues=tuple(shown))


def _view(issue: Issue, document: Document) -> IssueView:
    """Return a line of the list as it is shown; an old list does not say what changed."""
    change = issue.change
    if not change and document.revision is not None and document.revision.name == issue.revision:
        change = document.revision.change
    return IssueView(issue.revision, issue.day.strip("-"), issue.digest[:MARK], change=change)


def _with_bars(
    mine: Sequence[Issue], document: Document, kept: Sequence[Kept], written: str
) -> Document:
    """Return the document with bars at what is different from the issue before it.

    That is the one before its own on the list; for a draft the latest one.
    """
    names = [one.revision for one in mine]
    own = names.index(revision_of(document)) if revision_of(document) in names else len(mine)
    issue = mine[own - 1] if own else None
    before = kept_of(kept, issue) if issue is not None else None
    if issue is None or before is None:
        return document
    pieces = before.pieces
    worded = kept_of(kept, mine[own]) if own < len(mine) else None
    if worded is not None and (
        mine[own].digest == document.digest or is_same_text(mine[own], written)
    ):
        pieces = carried(pieces, worded.pieces, pieces_of(document))
    return with_bars(document, pieces, issue.revision, issue.day.strip("-"))
