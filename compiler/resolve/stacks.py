"""What is stacked on a fastener: how many of each, and on which models."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from compiler import model, syntax
from compiler.resolve import arguments as args
from compiler.resolve.clauses import Clauses, checked
from compiler.resolve.context import Context
from compiler.resolve.models import named_models
from compiler.resolve.numbers import whole


def stack_of(ctx: Context, thing: syntax.Thing) -> tuple[model.StackItem, ...]:
    """Return the items of the stack, from the head inwards."""
    return tuple(_item(ctx, item) for item in thing.stack)


def by_models(ctx: Context, thing: syntax.Thing) -> Mapping[str, syntax.Thing]:
    """Return the thing with the stack that each of `ctx.models` has; {} when all have the same."""
    only = [_models_of(ctx, item) for item in thing.stack]
    if not any(only):
        return {}
    pairs = list(zip(thing.stack, only, strict=True))
    return {
        name: replace(thing, stack=tuple(item for item, on in pairs if not on or name in on))
        for name in ctx.models
    }


def _models_of(ctx: Context, item: syntax.StackItem) -> tuple[str, ...]:
    """Return the models that `only for` leaves, () when it says nothing."""
    words = [
        arg
        for clause in item.clauses
        if clause.key == "only-for"
        for arg in clause.args
        if isinstance(arg, syntax.Word | syntax.Text)
    ]
    return named_models(ctx.report, words, ctx.models, ctx.scope.lost)


def _item(ctx: Context, item: syntax.StackItem) -> model.StackItem:
    clauses = checked(ctx.report, item.clauses)
    few = _few(ctx, clauses)
    return model.StackItem(
        span=item.span,
        name=item.name.text,
        label=item.label.value if item.label is not None else item.name.text.replace("-", " "),
        low=few.low,
        high=few.high,
        facing=clauses.text("facing"),
        renew=clauses.has("renew"),
        number=clauses.text("number"),
        formerly=clauses.texts("formerly"),
        sizes=args.sizes(ctx, clauses),
    )


@dataclass(frozen=True, slots=True)
class _Few:
    """How many there may be."""

    low: int
    high: int


def _few(ctx: Context, clauses: Clauses) -> _Few:
    """Return how many of a stack item there may be: `0..4 ×`, `2 ×`, or one."""
    clause = clauses.get("count")
    arg = clause.args[0] if clause is not None and clause.args else None
    if isinstance(arg, syntax.IndexRange):
        low = whole(ctx.report, arg.first, "How many there may be", least=0)
        high = whole(ctx.report, arg.last, "How many there may be", least=0)
        if low is None or high is None:
            return _Few(1, 1)
        if low > high:
            ctx.report.add(
                "count-sanity",
                arg.span,
                f"{low} to {high} runs backwards.",
                hint=f"Write {high}..{low} ×.",
            )
            low, high = high, low
        return _Few(low, high)
    if isinstance(arg, syntax.NumberLit):
        number = whole(ctx.report, arg, "How many there are") or 1
        return _Few(number, number)
    return _Few(1, 1)
