"""The steps of a walk as the lists need them: with the id they are shown under, and on which
condition they are done.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from compiler.derive.words import condition_words, records_of
from compiler.model import AnyThing, MeasureStep, QuestionStep, When
from compiler.walk.nodes import (
    BranchNode,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
    Walk,
    prefix_of,
)


@dataclass(frozen=True, slots=True)
class Arm:
    """An arm of a branch. `of` is the number of arms when one of them is done in any case, 0 when
    it may be that none is.
    """

    branch: str
    number: int
    of: int = 0


@dataclass(frozen=True, slots=True)
class Doing:
    """A step that is done. `id` is the one it is shown under: in a repeat that is shown once, the
    id of the general body, and `general` is True.

    `only_if` is what must be the case, in words, the outermost first. `arms` are the arms that it
    stands in, the outermost first, by which what excludes each other is told apart.
    """

    node: StepNode
    id: str
    only_if: tuple[str, ...] = ()
    arms: tuple[Arm, ...] = ()
    general: bool = False


@dataclass(frozen=True, slots=True)
class _Lister:
    things: Mapping[str, AnyThing]
    records: Mapping[str, MeasureStep | QuestionStep]

    def list(
        self,
        nodes: Sequence[Node],
        shown: Sequence[Node] | None,
        only_if: tuple[str, ...] = (),
        arms: tuple[Arm, ...] = (),
    ) -> Iterator[Doing]:
        """Yield the steps of some nodes; `shown` are the nodes that stand for them, if others."""
        seen = _by_place(shown) if shown is not None else {}
        for at, node in enumerate(nodes):
            twin = seen.get(at)
            if isinstance(node, StepNode):
                yield self._step(node, twin, only_if, arms)
                continue
            for number, (when, inner, general) in enumerate(_bodies(node, twin)):
                inner_if, inner_arms = only_if, arms
                if isinstance(node, BranchNode):
                    inner_if = (*only_if, self._arm_words(node, number, when))
                    inner_arms = (*arms, Arm(node.id, number, _sure(node)))
                yield from self.list(inner, general, inner_if, inner_arms)

    def _step(
        self,
        node: StepNode,
        twin: Node | None,
        only_if: tuple[str, ...],
        arms: tuple[Arm, ...],
    ) -> Doing:
        shown_id = twin.id if isinstance(twin, StepNode) else node.id
        if node.when is not None:
            only_if = (*only_if, self._words(node.when, node))
            arms = (*arms, Arm(node.id, 0))
        return Doing(node, shown_id, only_if, arms, shown_id != node.id)

    def _arm_words(self, node: BranchNode, number: int, when: When | None) -> str:
        if when is not None:
            return self._words(when, node)
        others = [self._words(w, node) for w, _ in node.arms[:number] if w is not None]
        return f"not: {' or '.join(others)}" if others else ""

    def _words(self, when: When, node: StepNode | BranchNode) -> str:
        return condition_words(when, self.things, self.records, prefix_of(node.id))


def _sure(node: BranchNode) -> int:
    """Return how many arms there are when there is one without a condition, else 0."""
    return len(node.arms) if any(when is None for when, _ in node.arms) else 0


def doings(walk: Walk, things: Mapping[str, AnyThing]) -> tuple[Doing, ...]:
    """Return the steps of a walk in order, all rounds of repeats written out."""
    lister = _Lister(things, records_of(walk.nodes))
    return tuple(lister.list(walk.nodes, None))


def _by_place(shown: Sequence[Node]) -> Mapping[int, Node]:
    return dict(enumerate(shown))


_Body = tuple[When | None, tuple[Node, ...], "tuple[Node, ...] | None"]


def _bodies(node: Node, twin: Node | None) -> Iterator[_Body]:
    """Yield the bodies of a node, each with the body that is shown in its place."""
    match node:
        case SectionNode():
            yield None, node.nodes, twin.nodes if isinstance(twin, SectionNode) else None
        case RepeatNode():
            yield from _rounds(node, twin)
        case BranchNode():
            for number, (when, body) in enumerate(node.arms):
                same = isinstance(twin, BranchNode) and number < len(twin.arms)
                yield when, body, twin.arms[number][1] if same else None  # type: ignore[union-attr]
        case LanesNode():
            for number, (_, body) in enumerate(node.lanes):
                same = isinstance(twin, LanesNode) and number < len(twin.lanes)
                yield None, body, twin.lanes[number][1] if same else None  # type: ignore[union-attr]
        case StepNode():
            return


def _rounds(node: RepeatNode, twin: Node | None) -> Iterator[_Body]:
    """Yield the rounds; those of a repeat that is shown once are shown as its general body."""
    around = twin if isinstance(twin, RepeatNode) else None
    for number, body in enumerate(node.rounds):
        if node.shown == "once" and node.general:
            yield None, body, (around or node).general
        elif around is not None and number < len(around.rounds):
            yield None, body, around.rounds[number]
        else:
            yield None, body, None
