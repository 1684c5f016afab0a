"""The acts of a walk in order, each with its step and the branches, rounds and lanes around it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from compiler.model import When
from compiler.walk.nodes import (
    Act,
    BranchNode,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
    Walk,
)


@dataclass(frozen=True, slots=True)
class Place:
    """One level of where a step stands.

    `index` is the arm of a branch, the round of a repeat or the lane, from 0; `when` is the
    condition of the arm.
    """

    kind: Literal["section", "branch", "repeat", "lanes"]
    id: str
    index: int = 0
    when: When | None = None


@dataclass(frozen=True, slots=True)
class FlatStep:
    """A step with the places it stands in, the outermost first."""

    node: StepNode
    within: tuple[Place, ...] = ()

    @property
    def conditional(self) -> bool:
        """Return whether the step is done on some paths only."""
        return self.node.when is not None or any(p.kind == "branch" for p in self.within)


@dataclass(frozen=True, slots=True)
class FlatAct:
    """An act with its step."""

    act: Act
    step: FlatStep


def flat_steps(walk: Walk | Iterable[Node]) -> Iterator[FlatStep]:
    """Yield every step in order: all rounds written out, arms one after the other."""
    nodes = walk.nodes if isinstance(walk, Walk) else walk
    yield from _steps(nodes, ())


def flat_acts(walk: Walk | Iterable[Node]) -> Iterator[FlatAct]:
    """Yield every act in the order it is done."""
    for step in flat_steps(walk):
        for act in step.node.acts:
            yield FlatAct(act, step)


def _steps(nodes: Iterable[Node], within: tuple[Place, ...]) -> Iterator[FlatStep]:
    for node in nodes:
        if isinstance(node, StepNode):
            yield FlatStep(node, within)
            continue
        for place, inner in _inner(node):
            yield from _steps(inner, (*within, place))


def _inner(node: Node) -> Iterator[tuple[Place, tuple[Node, ...]]]:
    match node:
        case SectionNode():
            yield Place("section", node.id), node.nodes
        case RepeatNode():
            for number, body in enumerate(node.rounds):
                yield Place("repeat", node.id, number), body
        case BranchNode():
            for number, (when, body) in enumerate(node.arms):
                yield Place("branch", node.id, number, when), body
        case LanesNode():
            for number, (_, body) in enumerate(node.lanes):
                yield Place("lanes", node.id, number), body
        case StepNode():
            return


def sections(walk: Walk | Iterable[Node]) -> Iterator[SectionNode]:
    """Yield every section in order, the outer ones first."""
    nodes = walk.nodes if isinstance(walk, Walk) else walk
    for node in nodes:
        if isinstance(node, SectionNode):
            yield node
        if not isinstance(node, StepNode):
            for _, inner in _inner(node):
                yield from sections(inner)
