"""A document as pieces with short marks: all that is kept of an issue to tell what changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from compiler.changes.spots import lines_of
from compiler.document.digest import piece_digest
from compiler.document.model import (
    BranchView,
    Document,
    LanesView,
    Line,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
)
from compiler.document.numbers import steps_of

WORK = "work"
ROWS = ("energies", "tools", "supplies", "torques", "lifts")
"""The lists of a document of which each row is a piece."""

_KEY_DIGITS = 4
_MARK_DIGITS = 6
"""One change in sixteen millions goes unseen."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece: its label, who it is, and what it says.

    `label` is for people: the number of a step, a word where it has none, '' for a row. `key` is
    the same for the same step in another issue, `mark` for the same words; both are short digests.
    """

    label: str
    key: str
    mark: str


Pieces: TypeAlias = Mapping[str, tuple[Piece, ...]]
"""The pieces of one issue, by the part of the document they are in."""


def pieces_of(document: Document) -> dict[str, tuple[Piece, ...]]:
    """Return the pieces of a document; the work is in the order in which it is printed."""
    revision = document.revision
    wholes: dict[str, tuple[object, ...]] = {
        "title": (document.title, document.machine_title, document.location, document.models),
        "purpose": (document.purpose,),
        "facts": (
            document.people, document.time_text, document.time_note, document.every,
            document.author, document.approved, revision is not None,
        ),
        "safety": document.safety,
        "needs": document.needs,
        "wear": document.wear,
        "notes": document.notes,
        "pictures": (*document.pictures, *document.clips),
        "leaves": document.leaves,
        "signatures": document.signatures,
        "rules": document.rules,
    }  # fmt: skip
    found: dict[str, tuple[Piece, ...]] = {
        name: (_piece("", name, value),) for name, value in wholes.items()
    }
    for name in ROWS:
        found[name] = tuple(_piece("", "", row) for row in getattr(document, name))
    # The last line of a step that leads back names a number, which is another one as soon as there
    # is one more step before: what stands there counts in its place.
    lines = {step.id: step.lines for step in steps_of(document.body)}
    found[WORK] = tuple(_of_work(document.body, (), lines))
    return found


def _of_work(
    body: Sequence[NodeView], around: tuple[str, ...], lines: Mapping[str, tuple[Line, ...]]
) -> Iterator[Piece]:
    """Yield the pieces of the work; `around` are the repeats and arms of choices they are in.

    A step that leaves its choice is another one, even if it says the same.
    """
    for node in body:
        value: object = node
        if isinstance(node, StepView) and node.go_to:
            value = (replace(node, lines=lines_of(node)), lines.get(node.go_to, ()))
        yield _piece(_label(node), f"{type(node).__name__} {node.id}", (around, value))
        if isinstance(node, SectionView):
            yield from _of_work(node.nodes, around, lines)
        elif isinstance(node, RepeatView):
            yield from _of_work(node.nodes, (*around, "repeat"), lines)
        elif isinstance(node, BranchView):
            for at, arm in enumerate(node.arms):
                yield from _of_work(arm.nodes, (*around, f"arm {at}"), lines)
        elif isinstance(node, LanesView):
            for at, lane in enumerate(node.lanes):
                yield from _of_work(lane.nodes, (*around, f"lane {at}"), lines)


def _label(node: NodeView) -> str:
    if isinstance(node, StepView | SectionView):
        return node.number
    if isinstance(node, RepeatView):
        return "repeat"
    return "choice" if isinstance(node, BranchView) else "lanes"


def _piece(label: str, name: str, value: object) -> Piece:
    return Piece(label, piece_digest(name)[:_KEY_DIGITS], piece_digest(value)[:_MARK_DIGITS])
