"""The body of a procedure as one list of places, and which places of two bodies are the same."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from compiler.changes.lines import line_texts
from compiler.changes.pairs import Pair, alike, paired
from compiler.document.model import (
    BranchView,
    LanesView,
    Line,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
)
from compiler.document.numbers import steps_of
from compiler.wording.text import words_only

_REWORDED = 0.5
"""From this likeness on, a step that is new at the place of one that is gone is that one."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A node at its place.

    `around` is the id of what holds it, with the arm or lane it is in; '' at the top. `after` is
    the number of what stands before it there, '' for the first. `number` is its own, or that of
    its first step where it has none. `place` counts the nodes from the start.
    """

    node: NodeView
    around: str
    after: str
    number: str
    place: int = 0


SpotPair: TypeAlias = Pair[Spot]


def spots_of(body: Sequence[NodeView]) -> list[Spot]:
    """Return every node in order, each before what it contains."""
    return [replace(spot, place=at) for at, spot in enumerate(_spots(body, ""))]


def _spots(body: Sequence[NodeView], around: str) -> Iterator[Spot]:
    after = ""
    for node in body:
        number = number_of(node)
        yield Spot(node, around, after, number)
        for place, inside in _inside(node):
            yield from _spots(inside, place)
        after = number or after


def number_of(node: NodeView) -> str:
    """Return the number of a node; that of its first step where it has none itself."""
    if isinstance(node, StepView | SectionView):
        return node.number
    return next((step.number for step in steps_of((node,))), "")


def _inside(node: NodeView) -> Iterator[tuple[str, Sequence[NodeView]]]:
    if isinstance(node, SectionView | RepeatView):
        yield node.id, node.nodes
    elif isinstance(node, BranchView):
        for at, arm in enumerate(node.arms):
            yield f"{node.id}#{at}", arm.nodes
    elif isinstance(node, LanesView):
        for at, lane in enumerate(node.lanes):
            yield f"{node.id}#{at}", lane.nodes


def paired_spots(old: Sequence[Spot], new: Sequence[Spot]) -> list[SpotPair]:
    """Return what is the same place in both: by id, and else by what it says or contains."""
    pairs = paired(
        old,
        new,
        lambda s: (type(s.node), s.node.id, s.around, s.node.models),
        lambda s: (type(s.node), s.node.id, s.node.models),
        lambda s: (type(s.node), s.node.id),
    )
    gone = [before for before, after in pairs if after is None and before is not None]
    known = {after.node.id: before.node.id for before, after in pairs if before and after}
    made: list[SpotPair] = []
    for before, after in pairs:
        if after is None:
            continue
        if before is None:
            before = _reworded(gone, after, known)
            if before is not None:
                gone.remove(before)
                known[after.node.id] = before.node.id
        made.append((before, after))
    return made + [(spot, None) for spot in gone]


def _reworded(gone: Sequence[Spot], new: Spot, known: dict[str, str]) -> Spot | None:
    """Return what the new one was before; only where it stands in the same thing as then."""
    place, _, arm = new.around.partition("#")
    around = f"{known.get(place, place)}#{arm}" if arm else known.get(place, place)
    candidates = [
        (likeness, -at, spot)
        for at, spot in enumerate(gone)
        if type(spot.node) is type(new.node)
        and spot.around == around
        and (likeness := _likeness(spot.node, new.node)) >= _REWORDED
    ]
    return max(candidates, key=lambda one: one[:2])[2] if candidates else None


def _likeness(old: NodeView, new: NodeView) -> float:
    if isinstance(old, StepView):
        return alike(said(old), said(new))
    was, now = ({step.id for step in steps_of((node,))} for node in (old, new))
    return len(was & now) / max(len(was | now), 1)


def said(node: NodeView) -> str:
    """Return what a node says: the instructions of a step, the title or heading of the rest."""
    if isinstance(node, StepView):
        return " ".join(filter(None, line_texts(lines_of(node))))
    if isinstance(node, SectionView):
        return node.title
    if isinstance(node, RepeatView):
        return words_only(node.heading)
    if isinstance(node, BranchView):
        return " / ".join(words_only(arm.heading) for arm in node.arms)
    return " / ".join(lane.who for lane in node.lanes)


def lines_of(step: StepView) -> tuple[Line, ...]:
    """Return the instructions, without the last one when it does nothing but name a number."""
    return step.lines[:-1] if step.go_to else step.lines


def shell(node: NodeView) -> NodeView:
    """Return a node without what it contains, numbers, and bars: what is its own."""
    node = replace(node, altered=False, taken_out="")
    if isinstance(node, StepView):
        return replace(node, number="", source="", from_text="")
    if isinstance(node, SectionView):
        return replace(node, number="", nodes=(), from_text="", level=0)
    if isinstance(node, RepeatView):
        return replace(node, nodes=())
    if isinstance(node, BranchView):
        return replace(node, arms=tuple(replace(arm, nodes=()) for arm in node.arms))
    return replace(node, lanes=tuple(replace(lane, nodes=()) for lane in node.lanes))
