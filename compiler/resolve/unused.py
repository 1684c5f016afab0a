"""Warns of what is declared and never used: it may be a slip, and it distracts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from compiler import model, syntax
from compiler.resolve.blocks import followed_by
from compiler.resolve.context import Context
from compiler.resolve.follows import first_blocks
from compiler.resolve.machines import MachineParts
from compiler.resolve.procedures import ProcedureParts
from compiler.resolve.report import Report
from compiler.resolve.scope import Named, Scope, Usage, with_article


def check_unused(
    ctx: Context,
    machines: Mapping[str, MachineParts],
    parts: Mapping[str, ProcedureParts],
    procedures: Mapping[str, model.Procedure],
) -> None:
    """Warn of what machines and procedures declare and nothing uses.

    What the shop lists is there to be used some day; a machine whose procedures are not in this
    folder cannot tell what they use.
    """
    followed = {key for procedure in procedures.values() for key in followed_by(procedure)}
    for name, home in machines.items():
        if any(part.procedure.machine == name for part in parts.values()):
            _check_file(ctx, home.scope, home.things, of_machine=True)
            _check_blocks(ctx, home, followed)
    for part in parts.values():
        own = {variant.model: variant.things for variant in part.procedure.variants}
        _check_file(ctx, part.scope, own, of_machine=False)


def _check_file(
    ctx: Context,
    scope: Scope,
    things: Mapping[str, Mapping[str, model.AnyThing]],
    of_machine: bool,
) -> None:
    if not scope.names:
        return
    everything = [thing for of_model in things.values() for thing in of_model.values()]
    used = touched(ctx.usage, everything, of_machine)
    lost = scope.lost | ctx.scope.lost if of_machine else scope.lost
    report_unused(scope.names.values(), used, lost, ctx.report)


def _check_blocks(ctx: Context, home: MachineParts, followed: set[str]) -> None:
    """Warn of shared blocks that nothing follows."""
    for node in first_blocks(home.file):
        key = f"{home.machine.name}/{node.name.text}"
        name = node.name.text
        if key not in followed and name not in home.scope.lost and name not in ctx.report.meant:
            ctx.report.add(
                "unused-name",
                node.name.span,
                f"Nothing follows the block {name}.",
                hint=f"Write `follow {name}` where it is done, or take it out.",
            )


def touched(usage: Usage, things: Sequence[model.AnyThing], of_machine: bool) -> set[str]:
    """Return the keys of what steps use, what that needs, and what is touched along with it.

    A machine describes more than one procedure needs, so there (`of_machine`) it is enough that
    another thing speaks of it; in a procedure that other thing must be used itself.
    """
    used = set(usage.by_steps)
    if of_machine:
        used |= set(usage.by_things)
    before = -1
    while len(used) != before:
        before = len(used)
        used |= {key for key, users in usage.by_things.items() if not users.isdisjoint(used)}
        used |= {thing.key for thing in things if _comes_along(thing, used)}
    return used


def _comes_along(thing: model.AnyThing, used: set[str]) -> bool:
    """Return whether work on something in `used` touches this thing without naming it."""
    return any(key in used for key in _companions(thing))


def _companions(thing: model.AnyThing) -> Iterable[str]:
    """Yield the keys of the things whose use is the use of this one."""
    if isinstance(thing, model.Fastener):
        yield from (s.key for s in thing.holds)
        yield from thing.seals
        if thing.locks is not None:
            yield thing.locks.key
    elif isinstance(thing, model.Part):
        for selection in (thing.on, thing.spare_for, *thing.matched_with):
            if selection is not None:
                yield selection.key
    elif isinstance(thing, model.Connection):
        yield from (s.key for s in thing.joins)
        if thing.carries:
            yield thing.carries
    elif isinstance(thing, model.Fluid) and thing.within is not None:
        yield thing.within.key


def report_unused(
    declared: Iterable[Named], used: set[str], lost: frozenset[str], report: Report
) -> None:
    """Warn of each declared name that nothing uses.

    Silent for words on lines nobody could read, and for what a misspelt name was meant to be.
    """
    silent = lost | report.meant
    for named in declared:
        if named.key in used or named.name in silent or _is_tool(named):
            continue
        report.add(
            "unused-name",
            named.span,
            f"{named.name} is declared as {with_article(named.kind)}, but nothing uses it.",
            hint=_what_to_do(named),
        )


def _what_to_do(named: Named) -> str:
    """Return a hint; none that takes away what someone could be hurt or let down by."""
    thing = named.thing
    if named.kind == "energy":
        return (
            f"Say what it has to do with: the part that keeps it in (`contains {named.name}`) or "
            f"people away from it (`guards {named.name}`). Or isolate it in the job that needs "
            f"it: `isolate {named.name}`. Do not take it out if the machine has it."
        )
    if isinstance(thing, syntax.Thing) and any(clause.key == "renew" for clause in thing.clauses):
        return (
            f"It is single use (`renew`): write `replace {named.name}` where it comes to light. "
            "If the machine does not have it, take the line out."
        )
    return "Use it in a step, or take the line out."


def _is_tool(named: Named) -> bool:
    """Return whether it is a tool, whose use is known only when the tool lists are worked out."""
    return named.kind == "tool"
