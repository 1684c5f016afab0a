"""What was issued: the list, the pieces of the latest issues, and what of both a document shows."""

from compiler.issued.findings import issue_findings
from compiler.issued.history import with_history
from compiler.issued.kept import Kept, read_kept, with_kept
from compiler.issued.ledger import (
    HEAD,
    MARK,
    Issue,
    Listed,
    is_same_text,
    next_revision,
    read_issues,
    revision_of,
    with_issues,
)
from compiler.issued.written import written_digests

__all__ = [
    "HEAD",
    "MARK",
    "Issue",
    "Kept",
    "Listed",
    "is_same_text",
    "issue_findings",
    "next_revision",
    "read_issues",
    "read_kept",
    "revision_of",
    "with_history",
    "with_issues",
    "with_kept",
    "written_digests",
]
