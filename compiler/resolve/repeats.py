"""What a repeat runs over: numbers, words, things, or the rows of a table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from compiler import model, syntax
from compiler.resolve.context import Binding, Context, Loop
from compiler.resolve.numbers import index_members
from compiler.resolve.refs import look_up, operand
from compiler.resolve.scope import EVERY_KIND, Kind, Named

SHOWN_EACH_UP_TO = 4
"""Up to so many times each one is shown; above, one with a count."""

_IN_A_ROW: frozenset[Kind] = EVERY_KIND | {"table"}


@dataclass(frozen=True, slots=True)
class Source:
    """What a variable runs over. `set_key` is the set, when it is one."""

    bindings: tuple[Binding, ...] = ()
    columns: tuple[str, ...] = ()
    kinds: frozenset[Kind] = frozenset()
    set_key: str = ""


def each(ctx: Context, node: syntax.RepeatEach, tables: Mapping[str, model.Table]) -> Source:
    """Return what `repeat for each … in` runs over; empty, with a finding, for nothing."""
    _new_variable(ctx, node.variable)
    refs = [given for given in node.source if isinstance(given, syntax.Ref)]
    if len(refs) == 1 and len(node.source) == 1:
        named = ctx.scope.get(refs[0].name.text)
        if named is not None and named.kind == "table":
            look_up(ctx, refs[0].name, _IN_A_ROW)
            return _rows(tables.get(named.key))
        return _things(ctx, refs, only_one=True)
    if refs and any(_is_known(ctx, ref) for ref in refs):
        return _things(ctx, refs, only_one=False)
    words: list[str] = []
    for given in node.source:
        if isinstance(given, syntax.Ref):
            words.append(given.name.text)
        else:
            words += index_members(ctx.report, given)
    return Source(tuple(dict.fromkeys(words)))


def _is_known(ctx: Context, ref: syntax.Ref) -> bool:
    return ctx.scope.get(ref.name.text) is not None or ref.name.text in ctx.loops


def _new_variable(ctx: Context, word: syntax.Word) -> None:
    """Report a variable whose name has a meaning already."""
    outer = ctx.loops.get(word.text)
    named = ctx.scope.get(word.text)
    first = outer.span if outer is not None else named.span if named is not None else None
    if first is not None:
        ctx.report.add(
            "duplicate-name",
            word.span,
            f"{word.text} means something already.",
            (first, f"{word.text} is made here"),
            hint="Use another letter or word for what is repeated.",
        )


def _rows(table: model.Table | None) -> Source:
    if table is None:
        return Source()
    rows = tuple(tuple(zip(table.columns, row, strict=False)) for row in table.rows)
    return Source(rows, table.columns, set_key=table.key)


def _things(ctx: Context, refs: list[syntax.Ref], only_one: bool) -> Source:
    """Return one selection for each member of each of these things."""
    bindings: list[Binding] = []
    kinds: set[Kind] = set()
    sets: list[str] = []
    for ref in refs:
        selection = operand(ctx, ref)
        named = ctx.scope.get(ref.name.text)
        if not isinstance(selection, model.Selection) or named is None:
            continue
        kinds.add(named.kind)
        sets.append(selection.key)
        members = selection.members or named.members
        if not members and only_one:
            _no_set(ctx, ref, named)
        if members:
            bindings += [model.Selection(ref.span, selection.key, (m,)) for m in members]
        else:
            bindings.append(selection)
    one_set = sets[0] if len(sets) == 1 else ""
    return Source(tuple(bindings), (), frozenset(kinds), one_set)


def _no_set(ctx: Context, ref: syntax.Ref, named: Named) -> None:
    ctx.report.add(
        "wrong-kind",
        ref.span,
        f"{named.name} is one thing, so there is nothing to repeat for.",
        (named.span, "declared without members"),
        hint=f"Declare a set, {named.name}[1..4], or write: repeat 4 times.",
    )


def loop_of(node: syntax.RepeatEach, source: Source) -> Loop:
    """Return the variable as it is known below."""
    return Loop(
        node.variable.text, node.variable.span, source.bindings, source.columns, source.kinds
    )
