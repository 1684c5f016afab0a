"""Measurements: what is measured with what, the limits, and other limits for some models."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from compiler import model, syntax
from compiler.resolve.context import Context
from compiler.resolve.ids import join
from compiler.resolve.models import named_models
from compiler.resolve.numbers import whole
from compiler.resolve.overrides import Said, report_twice
from compiler.resolve.phrases import phrases
from compiler.resolve.prose import prose
from compiler.resolve.trailers import common
from compiler.resolve.values import limit
from compiler.resolve.work import Work
from compiler.source import Span
from compiler.trade.units import Quantity
from compiler.trade.verbs import Effect


def measure(work: Work, node: syntax.Measure) -> model.MeasureStep:
    """Return a measurement with its limits, and those for some models."""
    ctx = work.ctx
    base = join("measure", node.name.text)
    shared = common(work, node.trailer, node.attachments, base, node.span, by_model=True)
    said, limits = _held_against(ctx, node.phrases, node.limits)
    values = [*_targets(ctx, said), *[(one.span, one.low.low) for one in limits]]
    overrides = _overrides(ctx, node, limits)
    others = [(one.span, one.low.low) for _, _, other in overrides for one in other]
    _one_dimension(work, [*values, *others])
    points = whole(ctx.report, node.points, "How many readings", most=1000) if node.points else 0
    grid: tuple[int, int] | None = None
    if node.grid is not None:
        rows, columns = (whole(ctx.report, n, "A side of the grid", most=100) for n in node.grid)
        grid = (rows, columns) if rows and columns else None
    return model.MeasureStep(
        name=node.name.text,
        label=node.label.value if node.label is not None else node.name.text.replace("-", " "),
        phrases=said,
        limits=limits,
        points=points or 0,
        grid=grid,
        sense=node.sense,
        sense_text=prose(ctx, node.sense_text) if node.sense_text is not None else None,
        passes=tuple(prose(ctx, text) for text in node.passes),
        fails=tuple(prose(ctx, text) for text in node.fails),
        overrides=overrides,
        **shared,
    )


Override: TypeAlias = tuple[tuple[str, ...], tuple[model.Phrase, ...], tuple[model.Limit, ...]]


def _held_against(
    ctx: Context, said: Sequence[syntax.Phrase], limits: Sequence[syntax.LimitLit]
) -> tuple[tuple[model.Phrase, ...], tuple[model.Limit, ...]]:
    found = [one for given in limits if (one := limit(ctx.report, given)) is not None]
    return phrases(ctx, Effect.NEUTRAL, said), tuple(found)


def _overrides(
    ctx: Context, node: syntax.Measure, limits: Sequence[model.Limit]
) -> tuple[Override, ...]:
    """Return the other limits for some models, `for TP-60 at most 0.4 mm`."""
    found: list[Override] = []
    for line in node.attachments:
        if not isinstance(line, syntax.OverrideLine):
            continue
        models = named_models(ctx.report, line.models, ctx.models, ctx.scope.lost)
        inner = ctx.for_models(models) if models else ctx
        said, others = _held_against(inner, line.phrases, line.limits)
        _one_end(ctx, limits, others)
        if models:
            found.append((models, said, others))
    report_twice(ctx, ((models, _given(said, others)) for models, said, others in found))
    return tuple(found)


def _given(said: Sequence[model.Phrase], limits: Sequence[model.Limit]) -> list[Said]:
    words = [(phrase.word, phrase.span) for phrase in said]
    return [*words, *((f"{one.scope} {end}", one.span) for one in limits for end in one.ends)]


def _one_end(ctx: Context, limits: Sequence[model.Limit], others: Sequence[model.Limit]) -> None:
    """Report a limit that gives one end where two are given for the other models."""
    for one in others:
        ends = {end for other in others if other.scope == one.scope for end in other.ends}
        for usual in limits:
            lost = usual.scope == one.scope and usual.ends & one.ends and usual.ends - ends
            if lost:
                ctx.report.add(
                    "wrong-kind",
                    one.span,
                    "For this model only one end is given, where the others have two.",
                    (usual.span, "both ends are given here"),
                    hint="Give both ends here as well: between 1 mm and 2 mm.",
                )


def _targets(ctx: Context, said: Sequence[model.Phrase]) -> list[tuple[Span, Quantity]]:
    """Return the values that a measurement is held against: `against 0.3 mm`, `against row.gap`."""
    found: list[tuple[Span, Quantity]] = []
    for one in (operand for given in said if given.word == "against" for operand in given.operands):
        if isinstance(one, model.Amount):
            found.append((one.span, one.low))
        elif isinstance(one, model.LoopUse) and (loop := ctx.loops.get(one.variable)) is not None:
            rows = (dict(row) for row in loop.bindings if isinstance(row, tuple))
            cells = (row.get(one.column) for row in rows)
            found += [(one.span, cell.low) for cell in cells if isinstance(cell, model.Amount)][:1]
    return found


def _one_dimension(work: Work, limits: Sequence[tuple[Span, Quantity]]) -> None:
    """Report limits of one measurement that cannot be compared."""
    for span, value in limits[1:]:
        first_span, first = limits[0]
        if value.dimension != first.dimension:
            work.ctx.report.add(
                "wrong-dimension",
                span,
                f"This is a limit of {value.dimension}, but another one of the same "
                f"measurement is of {first.dimension}.",
                (first_span, "the other limit"),
                hint="Measure each of the two under a name of its own.",
            )
