"""Numbers for people: sections 1, 2, …, steps 1.1; and the sentences that name a number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from compiler.document.model import (
    BranchView,
    LanesView,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
)
from compiler.wording.checks import go_back_line
from compiler.wording.headings import undoes_text


@dataclass(slots=True)
class _Counter:
    """Counts within one section. Views of one id for several models share their number.

    They stand behind one another; where models do things in another order they do not, and then
    each has a number of its own.
    """

    prefix: str
    last: int = 0
    current: str = ""

    def number(self, id: str) -> str:
        if id != self.current:
            self.last += 1
            self.current = id
        return f"{self.prefix}{self.last}"


Undone: TypeAlias = Mapping[str, Mapping[str, str]]
"""By model: from the id of a step or section of the way back to that of what it undoes."""


def numbered(body: Sequence[NodeView], undone: Undone) -> tuple[NodeView, ...]:
    """Return the body with numbers, and with the words that name a number.

    `undone` has all models of the body.
    """
    made = _nodes(body, _Counter(""))
    models = tuple(undone)
    numbers = {model: _numbers_on(made, model) for model in models}
    sections = frozenset(node.id for node in _every(made) if isinstance(node, SectionView))
    naming = _Naming(numbers, sections, undone)
    return tuple(naming.node(node, models) for node in made)


def _numbers_on(body: Sequence[NodeView], model: str) -> dict[str, str]:
    """Return the numbers that a reader of one model sees, by id."""
    found: dict[str, str] = {}
    for node in body:
        if node.models and model not in node.models:
            continue
        if isinstance(node, StepView | SectionView):
            found.setdefault(node.id, node.number)
        for inner in _bodies(node):
            for id, number in _numbers_on(inner, model).items():
                found.setdefault(id, number)
    return found


def _bodies(node: NodeView) -> tuple[Sequence[NodeView], ...]:
    if isinstance(node, SectionView | RepeatView):
        return (node.nodes,)
    if isinstance(node, BranchView):
        return tuple(arm.nodes for arm in node.arms)
    return tuple(lane.nodes for lane in node.lanes) if isinstance(node, LanesView) else ()


def _nodes(body: Sequence[NodeView], counter: _Counter) -> tuple[NodeView, ...]:
    return tuple(_node(node, counter) for node in body)


def _node(node: NodeView, counter: _Counter) -> NodeView:
    if isinstance(node, StepView):
        return replace(node, number=counter.number(node.id))
    if isinstance(node, SectionView):
        number = counter.number(node.id)
        return replace(node, number=number, nodes=_nodes(node.nodes, _Counter(f"{number}.")))
    if isinstance(node, RepeatView):
        return replace(node, nodes=_nodes(node.nodes, counter))
    if isinstance(node, BranchView):
        arms = tuple(replace(arm, nodes=_nodes(arm.nodes, counter)) for arm in node.arms)
        return replace(node, arms=arms)
    lanes = tuple(replace(lane, nodes=_nodes(lane.nodes, counter)) for lane in node.lanes)
    return replace(node, lanes=lanes)


@dataclass(frozen=True, slots=True)
class _Naming:
    """Puts numbers into words: where a step leads back to, which step it undoes.

    What stands for several models names a number only where it is the same on all of them.
    """

    numbers: Mapping[str, Mapping[str, str]]
    sections: frozenset[str]
    undone: Undone

    def node(self, node: NodeView, around: Sequence[str]) -> NodeView:
        """Return the node with the numbers it speaks of."""
        models = node.models or around
        if isinstance(node, StepView):
            return self._step(node, models)
        if isinstance(node, BranchView):
            arms = tuple(replace(arm, nodes=self._nodes(arm.nodes, models)) for arm in node.arms)
            return replace(node, arms=arms)
        if isinstance(node, LanesView):
            lanes = tuple(
                replace(lane, nodes=self._nodes(lane.nodes, models)) for lane in node.lanes
            )
            return replace(node, lanes=lanes)
        if isinstance(node, SectionView):
            number = self._undone(node.id, models)
            if number:
                node = replace(node, from_text=undoes_text(number, is_section=True))
        return replace(node, nodes=self._nodes(node.nodes, models))

    def _nodes(self, body: Sequence[NodeView], models: Sequence[str]) -> tuple[NodeView, ...]:
        return tuple(self.node(one, models) for one in body)

    def _step(self, step: StepView, models: Sequence[str]) -> StepView:
        if step.go_to:
            found = (self.numbers[model].get(step.go_to, "") for model in models)
            to = " or ".join(dict.fromkeys(filter(None, found)))
            line = go_back_line(to, step.go_to in self.sections)
            return replace(step, lines=(*step.lines, line))
        # The way in may be another job, weeks ago: then there is no number to name.
        number = self._undone(step.id, models)
        return replace(step, from_text=undoes_text(number)) if number else step

    def _undone(self, id: str, models: Sequence[str]) -> str:
        """Return the number of what a node undoes; '' for none, or where it differs by model."""
        found = {self.numbers[m].get(self.undone[m].get(id, ""), "") for m in models}
        return found.pop() if len(found) == 1 else ""


def every_node(body: Sequence[NodeView]) -> Iterator[NodeView]:
    """Return every node of a body, each before what it contains."""
    return _every(body)


def _every(body: Sequence[NodeView]) -> Iterator[NodeView]:
    for node in body:
        yield node
        if isinstance(node, SectionView | RepeatView):
            yield from _every(node.nodes)
        elif isinstance(node, BranchView):
            for arm in node.arms:
                yield from _every(arm.nodes)
        elif isinstance(node, LanesView):
            for lane in node.lanes:
                yield from _every(lane.nodes)


def steps_of(body: Sequence[NodeView]) -> tuple[StepView, ...]:
    """Return every step in order."""
    return tuple(node for node in _every(body) if isinstance(node, StepView))


def numbers_of(body: Sequence[NodeView]) -> dict[str, str]:
    """Return the number of every step and section by its id."""
    found: dict[str, str] = {}
    for node in _every(body):
        if isinstance(node, StepView | SectionView):
            found.setdefault(node.id, node.number)
    return found
