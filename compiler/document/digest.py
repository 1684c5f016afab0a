"""A digest of what a document says, so that a print and a record can be told from a newer one."""

from __future__ import annotations

import dataclasses
import hashlib
import re
from collections.abc import Callable, Mapping
from functools import cache
from types import MappingProxyType

from compiler.document.model import ToolView
from compiler.wording.english import lower_first
from compiler.wording.phrases import LABELS

_NOT_CONTENT = frozenset(
    {"digest", "source", "source_file", "followed_by", "issues", "since", "altered", "taken_out"}
)
"""Fields that say where a text lies, who else speaks of it, or what was issued before: not what is
to be done."""

_NOT_OF_A_PIECE: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        "StepView": frozenset({"id", "number", "from_text", "go_to"}),
        "SectionView": frozenset({"id", "number", "from_text", "level", "nodes"}),
        "RepeatView": frozenset({"id", "nodes"}),
        "BranchView": frozenset({"id"}),
        "ArmView": frozenset({"field", "nodes"}),
        "LanesView": frozenset({"id"}),
        "LaneView": frozenset({"nodes"}),
        "Field": frozenset({"id"}),
        "Link": frozenset({"anchor"}),
        "EnergyView": frozenset({"anchor"}),
        "ToolView": frozenset({"anchor", "whys"}),
        "SupplyView": frozenset({"whys"}),
        "TorqueRow": frozenset({"step_numbers", "workings"}),
        "LiftRow": frozenset({"step_numbers", "workings"}),
    }
)
"""What a reader does not see of a piece itself: names for records and links, what it contains, and
numbers of steps, which are others as soon as there is one more step before."""

_CALIBRATED = re.compile(
    rf"(?:^|, ){re.escape(lower_first(LABELS.calibrated_until))} \d{{4}}-\d\d-\d\d$"
)
_Names = Callable[[type], tuple[str, ...]]


def content_digest(document: object) -> str:
    """Return the SHA-256 of a document's content, 64 hex digits.

    It hangs neither on where the file lies, nor on its line numbers, nor on time or machine; and
    not on until when a tool is calibrated, since the work is the same with a fresh certificate.
    """
    return _digest(document, _names)


def piece_digest(piece: object) -> str:
    """Return the SHA-256 of what a reader sees of one piece itself: a step, a row, a heading."""
    return _digest(piece, _names_of_piece)


def _digest(value: object, names: _Names) -> str:
    pieces: list[str] = []
    _add(value, pieces, names)
    text = "\0".join((*pieces, ""))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _add(value: object, pieces: list[str], names: _Names) -> None:
    """Add the content in order; names of fields and brackets keep neighbours apart."""
    # By far the most pieces are texts and tuples, so they are asked for first.
    if isinstance(value, str):
        pieces.append(repr(value))
    elif isinstance(value, tuple):
        pieces.append(f"({len(value)}")
        for item in value:
            _add(item, pieces, names)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        kind = type(value)
        pieces.append(f"{kind.__name__}{{")
        for name in names(kind):
            pieces.append(name)
            content = getattr(value, name)
            if kind is ToolView and name == "detail":
                content = _CALIBRATED.sub("", content)
            _add(content, pieces, names)
        pieces.append("}")
    else:
        pieces.append(repr(value))


@cache
def _names(kind: type) -> tuple[str, ...]:
    """Return the fields of a dataclass that hold content."""
    fields = dataclasses.fields(kind) if dataclasses.is_dataclass(kind) else ()
    return tuple(field.name for field in fields if field.name not in _NOT_CONTENT)


@cache
def _names_of_piece(kind: type) -> tuple[str, ...]:
    """Return the fields of a dataclass that a reader sees of a piece itself."""
    unseen = _NOT_OF_A_PIECE.get(kind.__name__, frozenset())
    return tuple(name for name in _names(kind) if name not in unseen)
