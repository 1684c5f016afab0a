"""A digest of what a document says, so that a print and a record can be told from a newer one."""

from __future__ import annotations

import dataclasses
import hashlib
import re
from functools import cache

from compiler.document.model import ToolView
from compiler.wording.english import lower_first
from compiler.wording.phrases import LABELS

_NOT_CONTENT = frozenset({"digest", "source", "source_file", "followed_by", "issues"})
"""Fields that say where a text lies or who else speaks of it, not what is to be done."""

_CALIBRATED = re.compile(
    rf"(?:^|, ){re.escape(lower_first(LABELS.calibrated_until))} \d{{4}}-\d\d-\d\d$"
)


def content_digest(document: object) -> str:
    """Return the SHA-256 of a document's content, 64 hex digits.

    It hangs neither on where the file lies, nor on its line numbers, nor on time or machine; and
    not on until when a tool is calibrated, since the work is the same with a fresh certificate.
    """
    pieces: list[str] = []
    _add(document, pieces)
    text = "\0".join((*pieces, ""))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _add(value: object, pieces: list[str]) -> None:
    """Add the content in order; names of fields and brackets keep neighbours apart."""
    # By far the most pieces are texts and tuples, so they are asked for first.
    if isinstance(value, str):
        pieces.append(repr(value))
    elif isinstance(value, tuple):
        pieces.append(f"({len(value)}")
        for item in value:
            _add(item, pieces)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        kind = type(value)
        pieces.append(f"{kind.__name__}{{")
        for name in _names(kind):
            pieces.append(name)
            content = getattr(value, name)
            if kind is ToolView and name == "detail":
                content = _CALIBRATED.sub("", content)
            _add(content, pieces)
        pieces.append("}")
    else:
        pieces.append(repr(value))


@cache
def _names(kind: type) -> tuple[str, ...]:
    """Return the fields of a dataclass that hold content."""
    fields = dataclasses.fields(kind) if dataclasses.is_dataclass(kind) else ()
    return tuple(field.name for field in fields if field.name not in _NOT_CONTENT)
