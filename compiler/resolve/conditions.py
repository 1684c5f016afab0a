"""What comes after `if`, `only if` and `repeat until`."""

from __future__ import annotations

from typing import Literal, get_args

from compiler import model, syntax
from compiler.resolve.context import Context
from compiler.resolve.labels import Labels, record_words
from compiler.resolve.prose import prose
from compiler.resolve.refs import select
from compiler.resolve.scope import Kind, Named, with_article

_Deed = Literal["removed", "fitted", "renewed"]
_DEEDS: dict[str, _Deed] = {deed: deed for deed in get_args(_Deed)}
_CAN_BE_DONE: frozenset[Kind] = frozenset(("part", "fastener", "connection", "aid", "fluid"))


def condition(ctx: Context, labels: Labels, given: syntax.Condition) -> model.When | None:
    """Return what must hold; None (and a finding) when it cannot be told."""
    if isinstance(given, syntax.JudgedCondition):
        return model.Judged(given.span, prose(ctx, given.text))
    if isinstance(given, syntax.HistoryCondition):
        return _history(ctx, given)
    return _check(ctx, labels, given)


def _history(ctx: Context, given: syntax.HistoryCondition) -> model.When | None:
    selection = select(ctx, given.subject, _CAN_BE_DONE, "`was removed` is said of")
    deed = _DEEDS.get(given.deed.text)
    if deed is None:
        ctx.report.unknown(
            given.deed.span,
            given.deed.text,
            list(_DEEDS),
            f"Nobody can look back for what was {given.deed.text}.",
            otherwise="A thing was removed, fitted or renewed.",
        )
    if selection is None or deed is None:
        return None
    return model.WasDone(given.span, selection, deed)


def _check(ctx: Context, labels: Labels, given: syntax.CheckCondition) -> model.When | None:
    name = given.subject.name.text
    record = labels.records.get(name)
    if record is not None:
        if not record.answers:
            ctx.report.add(
                "wrong-kind",
                given.subject.span,
                f"{name} is written down as it is, so there is nothing to compare.",
                (record.span, f"{name} is {record_words(record)}"),
                hint='Let the reader judge, in quotes: if "it is worn".',
            )
            return None
        if not _is_one_of(ctx, given.state, name, record.answers):
            return None
        return model.StateIs(given.span, "record", name, given.state.text)
    return _condition(ctx, labels, given, ctx.scope.get(name))


def _condition(
    ctx: Context, labels: Labels, given: syntax.CheckCondition, named: Named | None
) -> model.When | None:
    """Return the check of a condition of the machine."""
    name = given.subject.name.text
    if named is None:
        if name not in ctx.scope.lost:
            ctx.report.unknown(
                given.subject.name.span,
                name,
                [*labels.records, *ctx.scope.of(frozenset(("condition",)))],
                f"Nothing is measured, asked or confirmed under the name {name}.",
                otherwise=f'Let the reader judge, in quotes: if "{name} is {given.state.text}".',
            )
        return None
    ctx.usage.note(ctx.user, named.key)
    if named.kind != "condition" or named.thing is None:
        ctx.report.add(
            "wrong-kind",
            given.subject.span,
            f"{name} is {with_article(named.kind)}; `is` asks for a measurement, an answer or a "
            f"condition of the machine.",
            (named.span, f"{name} is declared here"),
            hint=f"Write `{name} was removed`, or put it in quotes for the reader to judge.",
        )
        return None
    states = tuple(state.name.text for state in named.thing.states)
    if not _is_one_of(ctx, given.state, name, states):
        return None
    return model.StateIs(given.span, "condition", named.key, given.state.text)


def _is_one_of(ctx: Context, word: syntax.Word, name: str, allowed: tuple[str, ...]) -> bool:
    if word.text in allowed:
        return True
    if word.text not in ctx.scope.lost:
        ctx.report.unknown(
            word.span,
            word.text,
            allowed,
            f"{name} is never {word.text}.",
            otherwise=f"It can be: {', '.join(allowed)}.",
        )
    return False
