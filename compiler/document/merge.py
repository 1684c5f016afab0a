"""One body for all models: what is the same on all of them stands once, the rest says for which.

Steps that differ in what a part weighs, and in nothing else, are the same: they give all masses.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from typing import TypeAlias, TypeVar

from compiler.document.masses import with_masses, without_masses
from compiler.document.model import (
    ArmView,
    BranchView,
    LanesView,
    LaneView,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
)

Models: TypeAlias = tuple[str, ...]
Bodies: TypeAlias = Mapping[str, Sequence[NodeView]]
Written: TypeAlias = Mapping[str, int]
"""Where the author wrote what a node comes from, by its id."""

_NOWHERE: Written = {}
_T = TypeVar("_T")


def merge(bodies: Bodies, written: Written = _NOWHERE) -> tuple[NodeView, ...]:
    """Return one body made of one a model.

    Nodes are the same when they have the same id; the order of each walk-through is kept, and
    between what only some models have, that of the author. `models` of a node is empty when it
    stands on all models of what surrounds it.
    """
    models = tuple(bodies)
    made: list[NodeView] = []
    for place in _places(bodies, written):
        made += _merged(place.nodes, models, written)
    return tuple(made)


@dataclass(slots=True)
class _Place:
    """One place in the merged order: a node, on the models that come to it there."""

    id: str
    nodes: dict[str, NodeView]


def _places(bodies: Bodies, written: Written) -> list[_Place]:
    """Return places in an order that is each model's own, whichever of them is read.

    What two models do in another order stands once for each of them, at its own place: a cover that
    comes off first on one model must never be shown as coming off last.
    """
    places: list[_Place] = []
    for model, body in bodies.items():
        places = _woven(places, model, body, written)
    return places


def _woven(
    places: list[_Place], model: str, body: Sequence[NodeView], written: Written
) -> list[_Place]:
    """Return the places with one more model: at those it shares, and at new ones of its own."""
    known, own = [place.id for place in places], [node.id for node in body]
    woven: list[_Place] = []
    at = mine = 0
    for block in SequenceMatcher(None, known, own, autojunk=False).get_matching_blocks():
        own_places = [_Place(node.id, {model: node}) for node in body[mine : block.b]]
        woven += _in_turn(places[at : block.a], own_places, written)
        for offset in range(block.size):
            place = places[block.a + offset]
            place.nodes[model] = body[block.b + offset]
            woven.append(place)
        at, mine = block.a + block.size, block.b + block.size
    return woven


def _in_turn(some: list[_Place], others: list[_Place], written: Written) -> Iterator[_Place]:
    """Yield the places of two rows, each in its own order, what was written first before."""
    at = 0
    for other in others:
        here = written.get(other.id)
        while at < len(some) and (here is None or written.get(some[at].id, here) <= here):
            yield some[at]
            at += 1
        yield other
    yield from some[at:]


@dataclass(frozen=True, slots=True)
class _Group:
    """The models on which a node is the same, and the node on each of them."""

    models: Models
    nodes: Mapping[str, NodeView]


def _merged(here: Mapping[str, NodeView], around: Models, written: Written) -> list[NodeView]:
    """Return the views of one id: one for each group of models that see the same."""
    made: list[NodeView] = []
    for group in _groups(here):
        models = () if len(group.models) == len(around) else group.models
        first = group.nodes[group.models[0]]
        made.append(_together(first, group, models, written))
    return made


def _groups(here: Mapping[str, NodeView]) -> list[_Group]:
    """Group models by the node without what stands inside it."""
    found: dict[NodeView, list[str]] = {}
    for model, node in here.items():
        found.setdefault(_shell(node), []).append(model)
    return [
        _Group(tuple(models), {model: here[model] for model in models}) for models in found.values()
    ]


def _shell(node: NodeView) -> NodeView:
    """Return a node emptied: two of them that are equal can share what they contain."""
    if isinstance(node, StepView):
        return without_masses(node)
    if isinstance(node, BranchView):
        return replace(node, arms=tuple(replace(arm, nodes=()) for arm in node.arms))
    if isinstance(node, LanesView):
        return replace(node, lanes=tuple(replace(lane, nodes=()) for lane in node.lanes))
    return replace(node, nodes=())


def _together(first: NodeView, group: _Group, models: Models, written: Written) -> NodeView:
    """Return one node of a group, its insides merged."""
    if isinstance(first, StepView):
        steps = {m: node for m, node in group.nodes.items() if isinstance(node, StepView)}
        return replace(with_masses(steps), models=models)
    if isinstance(first, BranchView):
        arms = tuple(_arm(group, at, arm, written) for at, arm in enumerate(first.arms))
        return replace(first, arms=arms, models=models)
    if isinstance(first, LanesView):
        lanes = tuple(_lane(group, at, lane, written) for at, lane in enumerate(first.lanes))
        return replace(first, lanes=lanes, models=models)
    bodies = {
        model: node.nodes
        for model, node in group.nodes.items()
        if isinstance(node, SectionView | RepeatView)
    }
    return replace(first, nodes=merge(bodies, written), models=models)


def _arm(group: _Group, at: int, arm: ArmView, written: Written) -> ArmView:
    bodies = {
        model: node.arms[at].nodes
        for model, node in group.nodes.items()
        if isinstance(node, BranchView)
    }
    return replace(arm, nodes=merge(bodies, written))


def _lane(group: _Group, at: int, lane: LaneView, written: Written) -> LaneView:
    bodies = {
        model: node.lanes[at].nodes
        for model, node in group.nodes.items()
        if isinstance(node, LanesView)
    }
    return replace(lane, nodes=merge(bodies, written))


def by_models(rows: Mapping[str, Sequence[_T]]) -> list[tuple[_T, Models]]:
    """Return each different row with the models that have it, () for all, in order of first use."""
    found: dict[_T, list[str]] = {}
    for model, body in rows.items():
        for row in body:
            models = found.setdefault(row, [])
            if model not in models:
                models.append(model)
    return [
        (row, () if len(models) == len(rows) else tuple(models)) for row, models in found.items()
    ]
