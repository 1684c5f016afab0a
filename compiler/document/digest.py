"""A digest of what a document says, so that a print and a record can be told from a newer one."""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Iterator

_NOT_CONTENT = frozenset({"digest", "source", "source_file", "followed_by"})
"""Fields that say where a text lies or who else speaks of it, not what is to be done."""


def content_digest(document: object) -> str:
    """Return the SHA-256 of a document's content, 64 hex digits.

    It hangs neither on where the file lies, nor on its line numbers, nor on time or machine.
    """
    whole = hashlib.sha256()
    for piece in _pieces(document):
        whole.update(piece.encode("utf-8", "surrogatepass"))
        whole.update(b"\0")
    return whole.hexdigest()


def _pieces(value: object) -> Iterator[str]:
    """Return the content in order; names of fields and brackets keep neighbours apart."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        yield f"{type(value).__name__}{{"
        for field in dataclasses.fields(value):
            if field.name not in _NOT_CONTENT:
                yield field.name
                yield from _pieces(getattr(value, field.name))
        yield "}"
    elif isinstance(value, tuple):
        yield f"({len(value)}"
        for item in value:
            yield from _pieces(item)
    else:
        yield repr(value)
