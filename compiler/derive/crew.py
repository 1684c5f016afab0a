"""Who is needed: people, roles; and the energies that are isolated."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from compiler.derive.doings import Doing
from compiler.model import Procedure
from compiler.walk.nodes import (
    BranchNode,
    Deed,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
    Target,
)

_ENERGY_DEEDS = frozenset({Deed.ISOLATE, Deed.LOCK_OUT, Deed.DISCHARGE, Deed.VERIFY, Deed.ENERGIZE})
_ROLE_DEEDS = frozenset({Deed.HOLD, Deed.SIGN, Deed.HAND_OVER})


def energies(steps: Iterable[Doing]) -> tuple[str, ...]:
    """Return the keys of the energies that are isolated, proved or restored, in that order."""
    return tuple(dict.fromkeys(_targets(steps, _ENERGY_DEEDS)))


def roles(steps: Sequence[Doing]) -> tuple[str, ...]:
    """Return the keys of the roles that sign, take over or do a step, in the order of the work."""
    found: dict[str, None] = {}
    for step in steps:
        found.update(dict.fromkeys(_targets([step], _ROLE_DEEDS)))
        if step.node.by:
            found[step.node.by] = None
    return tuple(found)


def _targets(steps: Iterable[Doing], deeds: frozenset[Deed]) -> Iterator[str]:
    for step in steps:
        for act in step.node.acts:
            if act.deed in deeds:
                yield from (t.key for t in act.targets if isinstance(t, Target))


def people(procedure: Procedure, nodes: Iterable[Node]) -> int:
    """Return how many people the job needs: the most that any part of it asks for, at least one."""
    return max(1, procedure.people, procedure.extras.people, _most(nodes))


def _most(nodes: Iterable[Node]) -> int:
    return max((_people(node) for node in nodes), default=0)


def _people(node: Node) -> int:
    match node:
        case StepNode():
            return node.extras.people
        case SectionNode():
            return max(node.extras.people, _most(node.nodes))
        case RepeatNode():
            return max(node.extras.people, *(_most(body) for body in node.rounds), 0)
        case BranchNode():
            return max((_most(body) for _, body in node.arms), default=0)
        case LanesNode():
            return sum(max(1, _most(body)) for _, body in node.lanes)
