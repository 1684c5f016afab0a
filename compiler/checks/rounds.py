"""A whole set that is renewed in each round of a repeat, where one of it was meant."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding, Label
from compiler.walk.nodes import (
    Act,
    BranchNode,
    Deed,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
    Target,
)


def renewed_each_round(subject: Subject) -> Iterator[Finding]:
    """Find new sets that go in as often as they have members: four times four seals.

    Other numbers are not judged: for each of three sizes both filters may well be renewed.
    """
    for job in subject.jobs:
        for repeat in _repeats(job.walk.nodes):
            for act in _acts(repeat.rounds[0] if repeat.rounds else ()):
                yield from _of_act(job, repeat, act)


def _of_act(job: Job, repeat: RepeatNode, act: Act) -> Iterator[Finding]:
    for target in act.targets:
        if not isinstance(target, Target) or target.members or act.deed is not Deed.FIT:
            continue
        count, thing = len(job.assembly.units_of(target)), job.things.get(target.key)
        if not act.new_part or count < 2 or count != len(repeat.rounds) or thing is None:
            continue
        yield Finding(
            "renewed-each-round",
            act.span,
            f"All {count} of {thing.name} are renewed here in each of {count} rounds, which makes "
            f"{count * count} new ones.",
            labels=(Label(repeat.span, "the repeat"),),
            hint="Name the one of this round, by the word that the repeat gives it: "
            f"`{thing.name}[n]` in `repeat for each n in 1..{count}`.",
        )


def _repeats(nodes: Sequence[Node]) -> Iterator[RepeatNode]:
    """Yield the repeats that run over something, those within others as well."""
    for node in nodes:
        if isinstance(node, RepeatNode):
            if node.until is None and any(node.items):
                yield node
            yield from _repeats(node.rounds[0] if node.rounds else ())
        else:
            yield from _repeats(_below(node))


def _acts(nodes: Sequence[Node]) -> Iterator[Act]:
    """Yield what one round does, without what a repeat within it does or what is followed."""
    for node in nodes:
        if isinstance(node, StepNode):
            yield from () if node.origin else node.acts
        elif not isinstance(node, RepeatNode):
            yield from _acts(_below(node))


def _below(node: Node) -> Sequence[Node]:
    match node:
        case SectionNode():
            return node.nodes
        case BranchNode():
            return [below for _, arm in node.arms for below in arm]
        case LanesNode():
            return [below for _, lane in node.lanes for below in lane]
        case _:
            return ()
