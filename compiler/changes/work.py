"""Compares the work itself: steps that are new, gone, moved, or say something else."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from compiler.changes.lines import line_texts, panel_line
from compiler.changes.model import Change
from compiler.changes.pairs import moved
from compiler.changes.rows import Told
from compiler.changes.spots import Spot, SpotPair, paired_spots, said, shell, spots_of
from compiler.changes.steps import node_changes
from compiler.document.model import (
    BranchView,
    LanesView,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
)
from compiler.document.numbers import every_node
from compiler.wording.changing import START_OF, only_for, quoted, step_place


def work_changes(old: Sequence[NodeView], new: Sequence[NodeView], told: Told) -> Iterator[Change]:
    """Yield the changes of the work in the order of the new one, what is gone at the end.

    What is new, gone or moved as a whole is told as a whole.
    """
    work = _Work.of(paired_spots(spots_of(old), spots_of(new)))
    shifted = work.moved()
    for before, after in work.pairs:
        if before is None and after is not None and not work.is_within_new(after):
            yield _new(after)
        elif after is None and before is not None and not work.is_within_gone(before):
            yield _gone(before)
        elif before is not None and after is not None:
            if after.place in shifted:
                yield _moved(before, after)
            if shell(before.node) != shell(after.node):
                yield from node_changes(place_of(after, before), before.node, after.node, told)


@dataclass(frozen=True, slots=True)
class _Work:
    """The pairs, and what can be asked about them; the sets hold ids of nodes."""

    pairs: Sequence[SpotPair]
    both: Sequence[tuple[Spot, Spot]]
    came: frozenset[str]
    went: frozenset[str]

    @classmethod
    def of(cls, pairs: Sequence[SpotPair]) -> _Work:
        """Return the pairs with what follows from them."""
        return cls(
            pairs,
            [(old, new) for old, new in pairs if old is not None and new is not None],
            frozenset(new.node.id for old, new in pairs if old is None and new is not None),
            frozenset(old.node.id for old, new in pairs if new is None and old is not None),
        )

    def moved(self) -> frozenset[int]:
        """Return the places of the new spots that stand elsewhere than before.

        What stands in something that moved did not move in it.
        """
        out_of_order = moved([old.place for old, _ in self.both])
        renamed = {old.node.id: new.node.id for old, new in self.both}
        found: set[int] = set()
        carried: set[str] = set()
        for at, (old, new) in enumerate(self.both):
            holder, _, arm = old.around.partition("#")
            stays = _holder(renamed.get(holder, ""), arm) == new.around
            if stays and at in out_of_order and _id_of(new.around) in carried:
                carried.add(new.node.id)
            elif at in out_of_order or not (stays or self._holder_came_or_went(old, new)):
                found.add(new.place)
                carried.add(new.node.id)
        return frozenset(found)

    def _holder_came_or_went(self, old: Spot, new: Spot) -> bool:
        """Return whether a step has another holder only because that is new, or one is gone."""
        return _id_of(old.around) in self.went or _id_of(new.around) in self.came

    def is_within_new(self, spot: Spot) -> bool:
        """Return whether what holds a new spot is new as well, so that it is told with that."""
        return _id_of(spot.around) in self.came

    def is_within_gone(self, spot: Spot) -> bool:
        """Return whether what held a spot that is gone is gone as well."""
        return _id_of(spot.around) in self.went


def _id_of(around: str) -> str:
    return around.partition("#")[0]


def _holder(place: str, arm: str) -> str:
    return f"{place}#{arm}" if arm else place


def place_of(spot: Spot, was: Spot | None = None) -> str:
    """Return where a node is, in words: `Step 2.4 (was 2.3)`."""
    node = spot.node
    kind = "Section" if isinstance(node, SectionView) else "Step"
    if isinstance(node, RepeatView):
        kind = "Repeat from step"
    elif isinstance(node, BranchView):
        kind = "Choice at step"
    elif isinstance(node, LanesView):
        kind = "Work side by side from step"
    return step_place(kind, spot.number, was.number if was is not None else "")


def _in_words(node: NodeView) -> str:
    """Return what a node says; of a step that only leads elsewhere, where it leads."""
    if isinstance(node, StepView):
        return said(node) or " ".join(line_texts(node.lines))
    return said(node)


def _new(spot: Spot) -> Change:
    text = f"new, {_after(spot)}: {quoted(_in_words(spot.node))}{only_for(spot.node.models)}"
    details = tuple(_details(spot.node))
    return Change("step", "new", place_of(spot), text, "", said(spot.node), spot.node.id, details)


def _after(spot: Spot) -> str:
    return f"after {spot.after}" if spot.after else START_OF


def _gone(spot: Spot) -> Change:
    text = f"gone: {quoted(_in_words(spot.node))}{only_for(spot.node.models)}"
    details = tuple(_details(spot.node))
    where = f"Old {place_of(spot)[:1].lower()}{place_of(spot)[1:]}"
    return Change("step", "gone", where, text, said(spot.node), "", spot.node.id, details)


def _moved(before: Spot, after: Spot) -> Change:
    text = f"moved, now {_after(after)}: {quoted(_in_words(after.node))}"
    return Change(
        "step", "moved", place_of(after, before), text, before.number, after.number, after.node.id
    )


def _details(node: NodeView) -> Iterator[str]:
    """Yield what a new or gone node warns of, the limits it gives, and the steps inside it."""
    for inner in every_node((node,)):
        if isinstance(inner, StepView):
            if inner is not node:
                yield f"{inner.number}  {_in_words(inner)}{only_for(inner.models)}"
            for field in inner.fields:
                limits = ", ".join(filter(None, (field.limit_text, *field.scope_texts)))
                if limits and field.kind != "torque":
                    yield f"{field.label}: {limits}"
        elif isinstance(inner, SectionView) and inner is not node:
            yield f"{inner.number}  {inner.title}"
        if isinstance(inner, StepView | SectionView | RepeatView):
            yield from (panel_line(panel) for panel in inner.safety)
