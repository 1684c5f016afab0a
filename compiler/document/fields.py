"""What a step asks to be written down: readings, answers, torques reached, signatures."""

from __future__ import annotations

from compiler.derive.tightening import stages_of, target_of
from compiler.document.context import Context
from compiler.document.limits import bounds_of, has_window, window
from compiler.document.model import Bounds, Field
from compiler.model import (
    Amount,
    AnyThing,
    Fastener,
    Fluid,
    Limit,
    MeasureStep,
    QuestionStep,
    SignStep,
)
from compiler.trade.units import UNITS, format_number
from compiler.walk.assembly import turns
from compiler.walk.nodes import Act, Deed, StepNode, Target
from compiler.wording.checks import role_words
from compiler.wording.english import spoken
from compiler.wording.nouns import name_of, with_members
from compiler.wording.operands import prose
from compiler.wording.phrases import LABELS
from compiler.wording.seconds import second_unit
from compiler.wording.text import Measure, plain_text, upper_first, words_only
from compiler.wording.values import amount_text, limit_line, limit_text, measure
from compiler.wording.voice import count_meant, members_meant


def fields(ctx: Context, node: StepNode, items: tuple[str, ...]) -> tuple[Field, ...]:
    """Return the fields of a step; `items` are the rounds of a repeat that is shown once."""
    step = node.step
    if isinstance(step, MeasureStep):
        return (measure_field(ctx, node.id, step, items),)
    if isinstance(step, QuestionStep):
        return (_question(ctx, node.id, step, items),)
    if isinstance(step, SignStep):
        return (_sign(ctx, node.id, step),)
    return (*_torques(ctx, node, items), *_amounts(ctx, node, items))


def measure_field(ctx: Context, id: str, step: MeasureStep, items: tuple[str, ...]) -> Field:
    """Return the field of a measurement: a number, or a choice for eye, ear and feel."""
    label = step.label or upper_first(spoken(step.name))
    if step.sense:
        return _sensed(ctx, id, step, label, items)
    unit = _unit(step)
    each = bounds_of(step.limits, ("", "each"), unit) or Bounds()
    whole = [limit for limit in step.limits if limit.scope in ("", "each")]
    rest = [limit for limit in step.limits if limit.scope not in ("", "each")]
    # All of them in the other unit, or none: half of them there would be misread.
    seconds = [_second_limit(ctx, limit) for limit in whole]
    count = step.grid[0] * step.grid[1] if step.grid else max(1, step.points)
    return Field(
        id=id,
        kind="number",
        label=label,
        unit=_printed(unit),
        second_unit=_second_unit(ctx, step),
        low=each.low,
        high=each.high,
        low_open=each.low_open,
        high_open=each.high_open,
        limit_text=", ".join(map(_first_limit, whole)),
        second_limit=", ".join(
            f"{_scope(limit.scope)}{second}" for limit, second in zip(whole, seconds, strict=True)
        )
        if all(seconds)
        else "",
        scope_texts=tuple(_both(_first_limit(limit), _second_limit(ctx, limit)) for limit in rest),
        sums=bounds_of(step.limits, ("sum",), unit),
        spreads=bounds_of(step.limits, ("spread",), unit),
        count=count,
        items=items,
        grid=step.grid,
    )


def _first_limit(limit: Limit) -> str:
    return f"{_scope(limit.scope)}{limit_text(limit)}"


def _second_limit(ctx: Context, limit: Limit) -> str:
    """Return a limit in the other unit: `at most 0.0019 in`; '' for none."""
    said = limit_line(ctx.voice, limit)
    seconds = [one.second for one in said if isinstance(one, Measure)]
    if not seconds or not all(seconds):
        return ""
    return "".join(one.second if isinstance(one, Measure) else plain_text((one,)) for one in said)


def _both(first: str, second: str) -> str:
    return f"{first} ({second})" if second else first


def _scope(scope: str) -> str:
    return {"": "", "each": "each ", "sum": "sum ", "spread": "largest less smallest "}[scope]


def _unit(step: MeasureStep) -> str:
    return step.limits[0].low.low.unit if step.limits else ""


def _printed(unit: str) -> str:
    known = UNITS.get(unit)
    return known.symbol if known is not None else unit


def _second_unit(ctx: Context, step: MeasureStep) -> str:
    return _unit_beside(ctx, step.limits[0].low) if step.limits else ""


def _unit_beside(ctx: Context, amount: Amount) -> str:
    """Return the other unit as it is printed: that of the author's own pair if there is one."""
    if amount.twin is not None:
        return _printed(amount.twin.low.unit)
    return _printed(second_unit(ctx.voice, amount.low))


def _sensed(ctx: Context, id: str, step: MeasureStep, label: str, items: tuple[str, ...]) -> Field:
    good = tuple(words_only(prose(ctx.voice, text)) for text in step.passes)
    bad = tuple(words_only(prose(ctx.voice, text)) for text in step.fails)
    right = words_only(prose(ctx.voice, step.sense_text)) if step.sense_text is not None else ""
    good = good or (LABELS.good.lower(),)
    bad = bad or (LABELS.not_good.lower(),)
    limit = f"{LABELS.good}: {right}" if right else ""
    return Field(
        id, "choice", label, limit_text=limit, choices=(*good, *bad), pass_choices=good, items=items
    )


def _question(ctx: Context, id: str, step: QuestionStep, items: tuple[str, ...]) -> Field:
    label = words_only(prose(ctx.voice, step.text))
    if step.kind == "record":
        return Field(id, "text", label, items=items)
    if step.answers:
        answers = tuple(answer_text(answer) for answer in step.answers)
        return Field(id, "choice", label, choices=answers, items=items)
    # What has to be confirmed holds the work up when it is not so; a question may go either way.
    wanted = ("yes",) if step.kind == "confirm" else ()
    return Field(id, "yes-no", label, items=items, pass_choices=wanted)


def answer_text(answer: str) -> str:
    """Return an answer as it is offered: hyphens are spaces."""
    return spoken(answer)


def _sign(ctx: Context, id: str, step: SignStep) -> Field:
    role = role_words(ctx.voice, step.role)
    text = words_only(prose(ctx.voice, step.text)) if step.text is not None else ""
    return Field(
        id, "sign", f"{upper_first(role)}: {text}" if text else upper_first(role), role=role
    )


# --- Torques and amounts reached --------------------------------------------------------------


def _torques(ctx: Context, node: StepNode, items: tuple[str, ...]) -> list[Field]:
    made: list[Field] = []
    for act in node.acts:
        for spot in act.targets:
            amount = _asked(ctx, act, spot) if isinstance(spot, Target) else None
            if amount is not None and isinstance(spot, Target):
                made.append(_torque(ctx, node, spot, amount, items, len(made)))
    return made


def _asked(ctx: Context, act: Act, spot: Target) -> Amount | None:
    """Return the torque that an act asks for; None when it is done by hand, or until snug."""
    thing = ctx.voice.thing(spot.key)
    if not isinstance(thing, Fastener):
        return None
    tightened = act.deed is Deed.TIGHTEN or (act.deed is Deed.LOCK and turns(thing))
    return target_of(stages_of(thing, act)) if tightened else None


def _torque(
    ctx: Context,
    node: StepNode,
    target: Target,
    amount: Amount,
    items: tuple[str, ...],
    before: int,
) -> Field:
    thing = ctx.voice.things[target.key]
    unit = amount.low.unit
    low, high = window(amount, unit)
    bounded = has_window(amount)
    count = count_meant(thing, target)
    number = f"-{before + 1}" if before else ""
    return Field(
        id=f"{node.id}-torque{number}",
        kind="torque",
        label=f"Torque reached: {_named(thing, target)}",
        unit=_printed(unit),
        second_unit=_unit_beside(ctx, amount),
        low=format_number(low) if bounded else "",
        high=format_number(high) if bounded else "",
        limit_text=amount_text(amount),
        second_limit=measure(ctx.voice, amount).second,
        count=count if node.recorded else 1,
        items=items,
        optional=not node.recorded,
    )


def _named(thing: AnyThing, target: Target) -> str:
    """Return the name of what is tightened, with the members meant: `foot nut 1`."""
    members = members_meant(thing, target)
    return with_members(name_of(thing), members, len(members))[0]


def _amounts(ctx: Context, node: StepNode, items: tuple[str, ...]) -> list[Field]:
    """Return fields for amounts of fluid that are to be written down."""
    if not node.recorded:
        return []
    made: list[Field] = []
    for act in node.acts:
        for spot in act.targets:
            thing = ctx.voice.thing(spot.key) if isinstance(spot, Target) else None
            if act.deed in (Deed.FILL, Deed.DRAIN) and isinstance(thing, Fluid):
                unit = thing.amount.low.unit if thing.amount is not None else "L"
                label = f"Amount: {name_of(thing)}"
                second = _unit_beside(ctx, thing.amount) if thing.amount is not None else ""
                made.append(
                    Field(
                        id=f"{node.id}-amount",
                        kind="number",
                        label=label,
                        unit=_printed(unit),
                        second_unit=second,
                        items=items,
                    )
                )
    return made
