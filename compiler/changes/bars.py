"""Puts bars at the margin: marks in a document what is different from an earlier issue of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from difflib import SequenceMatcher
from typing import TypeVar

from compiler.changes.pieces import ROWS, WORK, Piece, Pieces, pieces_of
from compiler.document.model import (
    BranchView,
    Document,
    EnergyView,
    LanesView,
    LiftRow,
    NodeView,
    RepeatView,
    SectionView,
    SinceView,
    SupplyView,
    ToolView,
    TorqueRow,
)
from compiler.wording.since import since_text, taken_out

_Row = TypeVar("_Row", EnergyView, ToolView, SupplyView, TorqueRow, LiftRow)


@dataclass(frozen=True, slots=True)
class Difference:
    """What is different in one part: places in the new one, and what is gone before which place.

    A place past the last one stands for the end.
    """

    altered: frozenset[int] = frozenset()
    gone: Mapping[int, tuple[Piece, ...]] = field(default_factory=dict)

    def __bool__(self) -> bool:
        return bool(self.altered or self.gone)

    @property
    def all_gone(self) -> tuple[Piece, ...]:
        """All that is gone, in its order."""
        return tuple(piece for at in sorted(self.gone) for piece in self.gone[at])


def difference(old: Sequence[Piece], new: Sequence[Piece]) -> Difference:
    """Return what is different between two issues of a part, told by their order.

    What says the same in the same order is the same. Of the rest, what has a partner of the same
    name was changed, and what says the same as before elsewhere has moved. Where as many came as
    went in one stretch, they stand for each other. What then has nobody was taken out.
    """
    matcher = SequenceMatcher(None, [p.mark for p in old], [p.mark for p in new], autojunk=False)
    stretches = [one for one in matcher.get_opcodes() if one[0] != "equal"]
    altered = [at for _, _, _, start, end in stretches for at in range(start, end)]
    waiting = list(altered)
    lost: list[tuple[int, range]] = []
    came: dict[int, int] = {}
    for _, low, high, start, end in stretches:
        lost += [(at, range(start, end)) for at in range(low, high)]
    for name in ("key", "mark"):
        lost = [one for one in lost if not _partner(old[one[0]], new, name, waiting)]
    gone: dict[int, list[Piece]] = {}
    for at, stretch in lost:
        gone.setdefault(stretch.stop, []).append(old[at])
        came[stretch.stop] = sum(place in stretch for place in waiting)
    found = {at: tuple(those) for at, those in gone.items() if len(those) != came[at]}
    return Difference(frozenset(altered), found)


def _partner(piece: Piece, new: Sequence[Piece], name: str, waiting: list[int]) -> bool:
    """Return whether something that waits for a partner is it; it waits no longer."""
    wanted = getattr(piece, name)
    for at in waiting:
        if getattr(new[at], name) == wanted:
            waiting.remove(at)
            return True
    return False


def carried(before: Pieces, worded: Pieces, anew: Pieces) -> Pieces:
    """Return the pieces of an issue as they would be worded now.

    `worded` and `anew` are those of the issue after it, as it was worded then and as it is now, of
    the same text of the author: what was the same in both issues stays the same.
    """
    return {
        part: _carried(old, worded.get(part, ()), anew.get(part, ()))
        for part, old in before.items()
    }


def _carried(
    before: Sequence[Piece], worded: Sequence[Piece], anew: Sequence[Piece]
) -> tuple[Piece, ...]:
    if len(worded) != len(anew):
        return tuple(before)
    made = list(before)
    matcher = SequenceMatcher(None, [p.mark for p in before], [p.mark for p in worded], False)
    for low, start, size in matcher.get_matching_blocks():
        for step in range(size):
            made[low + step] = replace(before[low + step], mark=anew[start + step].mark)
    return tuple(made)


def with_bars(document: Document, before: Pieces, revision: str, day: str) -> Document:
    """Return the document with what is different from an earlier issue of it marked.

    `before` are the pieces of that issue, which was `revision` of `day`.
    """
    now = pieces_of(document)
    # Of a part that was not kept then nothing is known.
    found = {part: difference(before.get(part, now[part]), now[part]) for part in now}
    parts = tuple(part for part in now if found[part] and part != WORK)
    work = found[WORK]
    places = iter(range(len(now[WORK])))
    body = tuple(_marked(document.body, work, places, revision))
    altered = [now[WORK][at].label for at in sorted(work.altered)]
    text = since_text(revision, day, parts, altered, [one.label for one in work.all_gone])
    at_end = work.gone.get(len(now[WORK]), ())
    # Rows have bars of their own; a list of which one is gone has one at its head.
    wholes = tuple(part for part in parts if part not in ROWS or found[part].gone)
    since = SinceView(revision, day, text, wholes, _told(at_end, revision))
    energies, tools, supplies, torques, lifts = (found[part] for part in ROWS)
    return replace(
        document,
        body=body,
        since=since,
        energies=_rows(document.energies, energies),
        tools=_rows(document.tools, tools),
        supplies=_rows(document.supplies, supplies),
        torques=_rows(document.torques, torques),
        lifts=_rows(document.lifts, lifts),
    )


def _rows(rows: tuple[_Row, ...], found: Difference) -> tuple[_Row, ...]:
    return tuple(
        replace(row, altered=True) if at in found.altered else row for at, row in enumerate(rows)
    )


def _told(gone: Sequence[Piece], revision: str) -> str:
    return taken_out(revision, [piece.label for piece in gone])


def _marked(
    body: Sequence[NodeView], work: Difference, places: Iterator[int], revision: str
) -> Iterator[NodeView]:
    """Yield the nodes with their marks; `places` counts them as `pieces_of` does."""

    def inside(nodes: Sequence[NodeView]) -> tuple[NodeView, ...]:
        return tuple(_marked(nodes, work, places, revision))

    for node in body:
        at = next(places)
        gone = _told(work.gone.get(at, ()), revision)
        marked = replace(node, altered=at in work.altered, taken_out=gone)
        if isinstance(marked, SectionView | RepeatView):
            yield replace(marked, nodes=inside(marked.nodes))
        elif isinstance(marked, BranchView):
            arms = tuple(replace(arm, nodes=inside(arm.nodes)) for arm in marked.arms)
            yield replace(marked, arms=arms)
        elif isinstance(marked, LanesView):
            lanes = tuple(replace(lane, nodes=inside(lane.nodes)) for lane in marked.lanes)
            yield replace(marked, lanes=lanes)
        else:
            yield marked
