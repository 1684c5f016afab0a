"""Numbers for people: sections 1, 2, …, steps 1.1; and the sentences that name a number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from compiler.document.model import (
    BranchView,
    LanesView,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
    WhyView,
)
from compiler.wording.checks import go_back_line


@dataclass(slots=True)
class _Counter:
    """Counts within one section. Views of one id for several models share their number."""

    prefix: str
    last: int = 0
    given: dict[str, str] = field(default_factory=dict)

    def number(self, id: str) -> str:
        if id not in self.given:
            self.last += 1
            self.given[id] = f"{self.prefix}{self.last}"
        return self.given[id]


def numbered(body: Sequence[NodeView]) -> tuple[NodeView, ...]:
    """Return the body with numbers, and with the sentences that name a number."""
    made = _nodes(body, _Counter(""))
    numbers = numbers_of(made)
    sections = {node.id for node in _every(made) if isinstance(node, SectionView)}
    return tuple(_go_back(node, numbers, sections) for node in made)


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


def _go_back(node: NodeView, numbers: Mapping[str, str], sections: set[str]) -> NodeView:
    """Return the node with the number in every sentence that leads back."""
    if isinstance(node, StepView):
        if not node.go_to:
            return node
        line = go_back_line(numbers.get(node.go_to, ""), node.go_to in sections)
        return replace(node, lines=(*node.lines, line))

    def inside(body: Sequence[NodeView]) -> tuple[NodeView, ...]:
        return tuple(_go_back(one, numbers, sections) for one in body)

    if isinstance(node, BranchView):
        return replace(node, arms=tuple(replace(arm, nodes=inside(arm.nodes)) for arm in node.arms))
    if isinstance(node, LanesView):
        return replace(
            node, lanes=tuple(replace(lane, nodes=inside(lane.nodes)) for lane in node.lanes)
        )
    return replace(node, nodes=inside(node.nodes))


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
    return {
        node.id: node.number for node in _every(body) if isinstance(node, StepView | SectionView)
    }


def with_number(why: WhyView, numbers: Mapping[str, str]) -> WhyView:
    """Return a reason with the number of its step."""
    return replace(why, step_number=numbers.get(why.step_id, ""))
