"""Finds procedures that say something else than what was issued under their revision."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from compiler.document.model import Document
from compiler.findings.model import Finding, Label
from compiler.issued.ledger import Issue, is_same_text, next_revision, revision_of
from compiler.model import Procedure
from compiler.source import Span


def issue_findings(
    issues: Sequence[Issue],
    documents: Sequence[Document],
    procedures: Mapping[str, Procedure],
    written: Mapping[str, str],
) -> Iterator[Finding]:
    """Yield what says something else than what was issued under its revision.

    `procedures` are those of the world, by their keys; `written` are digests of what the author
    wrote, by the name of a procedure: where that is the same, Witnessmark itself says it otherwise.
    """
    known = {(issue.procedure, issue.revision): issue for issue in issues}
    places = {one.name: one for one in procedures.values() if not one.is_block}
    for document in documents:
        issue = known.get((document.id, revision_of(document)))
        revision = places[document.id].revision
        if issue is None or revision is None or issue.digest == document.digest:
            continue
        if is_same_text(issue, written.get(document.id, "")):
            yield _worded_otherwise(document.id, revision.span, issue)
        else:
            yield _not_raised(document.id, revision.span, issue)


def _not_raised(name: str, span: Span, issue: Issue) -> Finding:
    following = next_revision(issue.revision)
    raised = f"`revision {following}`" if following else "the next revision"
    # A list of old does not tell who it was.
    unknown = "" if issue.written else (
        " If only Witnessmark words it otherwise now: `witnessmark issue --again`."
    )  # fmt: skip
    return Finding(
        "revision-not-raised",
        span,
        f"{name} says something else than what was issued as {issue.revision}, and is still called "
        f"{issue.revision}: nobody could tell the old print from the new one.",
        (Label(issue.span, f"{issue.revision} was issued"),),
        hint=f"Make it {raised}, with the day and what changed. `witnessmark changes` shows what "
        f"is different.{unknown}",
    )


def _worded_otherwise(name: str, span: Span, issue: Issue) -> Finding:
    return Finding(
        "worded-otherwise",
        span,
        f"{name} is written as it was when it was issued as {issue.revision}, but Witnessmark "
        "words it or works it out otherwise by now: prints of then and of now differ.",
        (Label(issue.span, f"{issue.revision} was issued"),),
        hint=f"`witnessmark issue --again {name}` takes the present content for {issue.revision}; "
        "then print it anew where it hangs. Without a name it does so for all procedures.",
    )
