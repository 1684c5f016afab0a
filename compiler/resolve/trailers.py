"""What every step has: its id, what hangs under it, and what stands at the end of its line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypedDict

from compiler import model, syntax
from compiler.resolve.conditions import condition
from compiler.resolve.extras import extras
from compiler.resolve.models import named_models
from compiler.resolve.refs import look_up
from compiler.resolve.scope import Kind
from compiler.resolve.values import TIME, quantity
from compiler.resolve.work import Work, step_id
from compiler.source import Span
from compiler.trade.units import Quantity

ROLE: frozenset[Kind] = frozenset(("role",))


class Common(TypedDict):
    """The fields of `model.StepBase`."""

    span: Span
    id: str
    extras: model.Extras
    only_for: tuple[str, ...]
    only_if: model.When | None
    timer: Quantity | None
    recorded: bool
    by: str


def common(
    work: Work,
    trailer: syntax.Trailer,
    attachments: Sequence[syntax.Attachment],
    base: str,
    span: Span,
    *,
    by_model: bool = False,
    by_hand: bool = False,
) -> Common:
    """Return what every step has. `base` is what its id is made of when it has no name.

    `work` is narrowed to the models of the step already. `by_model` tells that lines with other
    values for a model are read elsewhere; a step that cannot have them says so. `by_hand` tells
    that the step lifts a part, so that it may say how.
    """
    ctx = work.ctx
    if not by_model:
        _refuse_overrides(work, attachments)
    _refuse_handling(work, attachments, by_hand=by_hand)
    only_for = named_models(ctx.report, trailer.only_for, ctx.models, ctx.scope.lost)
    lines = [line for line in attachments if not isinstance(line, syntax.OverrideLine)]
    return Common(
        span=span,
        id=step_id(work, trailer, base),
        extras=extras(ctx, lines, trailer),
        only_for=only_for,
        only_if=condition(ctx, work.labels, trailer.only_if)
        if trailer.only_if is not None
        else None,
        timer=quantity(ctx.report, trailer.timer, TIME) if trailer.timer is not None else None,
        recorded=trailer.recorded,
        by=role_key(work, trailer.by) if trailer.by is not None else "",
    )


def _refuse_handling(
    work: Work, attachments: Sequence[syntax.Attachment], *, by_hand: bool
) -> None:
    """Find lines that say how a part is lifted where the step names none that it lifts."""
    for line in attachments:
        if isinstance(line, syntax.HandlingLine) and not by_hand:
            work.ctx.report.add(
                "wrong-kind",
                line.span,
                "How a part is lifted stands under a step that takes a part off, puts it in or "
                "carries it, and names the part.",
                hint="Say it of the part where it is declared, or write a step of its own: "
                "`remove`, `fit`, `move` or `lift` and the part.",
            )


def _refuse_overrides(work: Work, attachments: Sequence[syntax.Attachment]) -> None:
    """Find lines that would be lost: a limit that one model alone has must never be dropped."""
    for line in attachments:
        if isinstance(line, syntax.OverrideLine):
            work.ctx.report.add(
                "wrong-kind",
                line.span,
                "Only an action (`set`, `tighten`) or a measurement can have other values for a "
                "model.",
                hint="Write the step once for each model, and `only for` and the model at its end.",
            )


def narrowed(work: Work, trailer: syntax.Trailer) -> Work:
    """Return the surroundings of a step that is `only for` some models."""
    ctx = work.ctx
    return work.for_models(named_models(ctx.report, trailer.only_for, ctx.models, ctx.scope.lost))


def role_key(work: Work, word: syntax.Word) -> str:
    """Return the key of a role, '' (and a finding) when there is no such role."""
    named = look_up(work.ctx, word, ROLE, "Here stands")
    return named.key if named is not None else ""
