"""Walks over statements and blocks, whatever they are nested in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler import model, syntax


def statements(body: Sequence[syntax.Statement]) -> Iterator[syntax.Statement]:
    """Yield every statement in the order of the file, those inside others after their outer one."""
    for statement in body:
        yield statement
        for inner in inner_bodies(statement):
            yield from statements(inner)


def inner_bodies(statement: syntax.Statement) -> tuple[tuple[syntax.Statement, ...], ...]:
    """Return the bodies of a statement; () for a step."""
    if isinstance(statement, syntax.Branch):
        return tuple(arm.body for arm in statement.arms)
    if isinstance(statement, syntax.SideBySide):
        return tuple(lane.body for lane in statement.lanes)
    if isinstance(
        statement,
        syntax.Section
        | syntax.RepeatTimes
        | syntax.RepeatEach
        | syntax.RepeatUntil
        | syntax.OnlyFor,
    ):
        return (statement.body,)
    return ()


def blocks(body: Sequence[model.Block]) -> Iterator[model.Block]:
    """Yield every block and step of the model in order, the inner ones after their outer one."""
    for block in body:
        yield block
        if isinstance(block, model.BranchBlock):
            for _, inner in block.arms:
                yield from blocks(inner)
        elif isinstance(block, model.LanesBlock):
            for _, inner in block.lanes:
                yield from blocks(inner)
        elif isinstance(block, model.SectionBlock | model.RepeatBlock | model.OnlyForBlock):
            yield from blocks(block.body)


def followed_by(procedure: model.Procedure) -> tuple[str, ...]:
    """Return the keys of the procedures that this one follows, each once, in order."""
    return tuple(dict.fromkeys(step.target for step in follow_steps(procedure)))


def follow_steps(procedure: model.Procedure) -> Iterator[model.FollowStep]:
    """Yield the steps that follow another procedure."""
    for block in blocks(procedure.body):
        if isinstance(block, model.FollowStep):
            yield block
