"""Puts the values of loop variables into operands, texts, attachments and steps."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from compiler.model import (
    ActionStep,
    Amount,
    Clip,
    Extras,
    Judged,
    Limit,
    LoopUse,
    Mark,
    MeasureStep,
    Operand,
    Phrase,
    Picture,
    Prose,
    ProseStep,
    QuestionStep,
    Safety,
    Selection,
    SignStep,
    Step,
    StopStep,
    When,
)
from compiler.walk.nodes import Spot, Target, WalkPhrase

Binding: TypeAlias = "str | Selection | tuple[tuple[str, str | Amount], ...]"


@dataclass(frozen=True, slots=True)
class Loop:
    """What a loop variable stands for in one round.

    `general` marks the general body of a repeat that is shown once: there the acts are those of the
    first round, but what is said stays general. `members` are all that the variable runs over.
    """

    value: Binding
    general: bool = False
    members: frozenset[str] = frozenset()


Loops: TypeAlias = Mapping[str, Loop]


def concrete(loops: Loops) -> Loops:
    """Return the loops with the value of the round in place of what is general."""
    if not any(loop.general for loop in loops.values()):
        return loops
    return {name: replace(loop, general=False) for name, loop in loops.items()}


def spot(operand: Operand, loops: Loops) -> Spot:
    """Return an operand with loop variables put in."""
    if isinstance(operand, Selection):
        return _target(operand, loops)
    if isinstance(operand, LoopUse):
        return _loop_spot(operand, loops)
    if isinstance(operand, Prose):
        return prose(operand, loops)
    return operand


def _target(selection: Selection, loops: Loops) -> Target:
    members: dict[str, None] = {}
    for member in selection.members:
        if isinstance(member, str):
            members[member] = None
            continue
        loop = loops.get(member.variable)
        if loop is not None and loop.general:
            return Target(selection.key, (), selection.age, each=True)
        members.update(dict.fromkeys(members_of(loop.value) if loop is not None else ()))
    return Target(selection.key, tuple(members), selection.age)


def members_of(value: Binding) -> tuple[str, ...]:
    """Return the members that a value names; () for a row."""
    if isinstance(value, str):
        return (value,)
    if isinstance(value, Selection):
        return tuple(m for m in value.members if isinstance(m, str))
    return ()


def _loop_spot(use: LoopUse, loops: Loops) -> Spot:
    loop = loops.get(use.variable)
    if loop is None:
        return use.column or use.variable
    if isinstance(loop.value, Selection):
        target = _target(loop.value, {})
        return replace(target, members=(), each=True) if loop.general else target
    if loop.general:
        return Prose(use.span, (use,))
    return _value(use, loop)


def _value(use: LoopUse, loop: Loop) -> str | Amount:
    if isinstance(loop.value, tuple):
        return next((cell for column, cell in loop.value if column == use.column), use.column)
    return loop.value if isinstance(loop.value, str) else use.variable


def prose(text: Prose, loops: Loops) -> Prose:
    """Return a text with loop variables put in; general ones stay."""
    if not loops or all(isinstance(part, str | Amount) for part in text.parts):
        return text
    return Prose(text.span, tuple(_prose_part(part, loops) for part in text.parts))


def _prose_part(
    part: str | Selection | LoopUse | Amount, loops: Loops
) -> str | Selection | LoopUse | Amount:
    if isinstance(part, LoopUse):
        loop = loops.get(part.variable)
        if loop is None or loop.general:
            return part
        return loop.value if isinstance(loop.value, Selection) else _value(part, loop)
    if isinstance(part, Selection) and any(isinstance(m, LoopUse) for m in part.members):
        if any(isinstance(m, LoopUse) and _is_general(m, loops) for m in part.members):
            return part
        return replace(part, members=_target(part, loops).members)
    return part


def _is_general(use: LoopUse, loops: Loops) -> bool:
    loop = loops.get(use.variable)
    return loop is None or loop.general


def phrases(given: Iterable[Phrase], loops: Loops) -> tuple[WalkPhrase, ...]:
    """Return phrases with loop variables put in."""
    return tuple(
        WalkPhrase(p.word, tuple(spot(o, loops) for o in p.operands), p.joined, p.end)
        for p in given
    )


def on_model(step: Step, model: str) -> Step:
    """Return a step with what it gives for one model put in, and nothing for any other.

    A phrase given for the model stands in for all of the same word, a limit for all that give the
    same end; the others stay.
    """
    match step:
        case ActionStep(overrides=(_, *_)):
            said = _phrases_on(step.phrases, step.overrides, model)
            return replace(step, phrases=said, overrides=())
        case MeasureStep(overrides=(_, *_)):
            said = _phrases_on(step.phrases, [(m, p) for m, p, _ in step.overrides], model)
            limits = _limits_on(step, model)
            return replace(step, phrases=said, limits=limits, overrides=())
        case _:
            return step


def _limits_on(step: MeasureStep, model: str) -> tuple[Limit, ...]:
    """Return the limits on one model, each of its own where the one that it replaces stands."""
    waiting = [one for models, _, given in step.overrides if model in models for one in given]
    others = tuple(waiting)
    said: list[Limit] = []
    for usual in step.limits:
        instead = [one for one in others if usual.scope == one.scope and usual.ends & one.ends]
        said += [one for one in instead if one in waiting] if instead else [usual]
        waiting = [one for one in waiting if one not in instead]
    return (*said, *waiting)


def _phrases_on(
    said: tuple[Phrase, ...],
    overrides: Iterable[tuple[tuple[str, ...], tuple[Phrase, ...]]],
    model: str,
) -> tuple[Phrase, ...]:
    for models, others in overrides:
        if model not in models:
            continue
        words = {phrase.word for phrase in others}
        at = next((n for n, p in enumerate(said) if p.word in words), len(said))
        kept = [p for p in said if p.word not in words]
        before = sum(1 for p in said[:at] if p.word not in words)
        said = (*kept[:before], *others, *kept[before:])
    return said


def extras(given: Extras, loops: Loops) -> Extras:
    """Return what hangs on a step with loop variables put in."""
    if not loops or given == Extras():
        return given
    return replace(
        given,
        safety=tuple(_safety(one, loops) for one in given.safety),
        notes=tuple(prose(text, loops) for text in given.notes),
        whys=tuple(prose(text, loops) for text in given.whys),
        pictures=tuple(_picture(one, loops) for one in given.pictures),
        clips=tuple(_clip(one, loops) for one in given.clips),
    )


def _optional(text: Prose | None, loops: Loops) -> Prose | None:
    return prose(text, loops) if text is not None else None


def _safety(one: Safety, loops: Loops) -> Safety:
    return replace(
        one,
        text=prose(one.text, loops),
        consequence=_optional(one.consequence, loops),
        avoid=_optional(one.avoid, loops),
    )


def _picture(one: Picture, loops: Loops) -> Picture:
    marks = tuple(_mark(mark, loops) for mark in one.marks)
    return replace(one, caption=_optional(one.caption, loops), marks=marks)


def _mark(mark: Mark, loops: Loops) -> Mark:
    target = mark.target
    if isinstance(target, Prose):
        return replace(mark, target=prose(target, loops))
    part = _prose_part(target, loops)
    return replace(mark, target=part) if isinstance(part, Selection) else mark


def _clip(one: Clip, loops: Loops) -> Clip:
    return replace(one, caption=_optional(one.caption, loops))


def when(given: When | None, loops: Loops) -> When | None:
    """Return a condition with loop variables put in."""
    return replace(given, text=prose(given.text, loops)) if isinstance(given, Judged) else given


def step(given: Step, loops: Loops) -> Step:
    """Return a step whose own texts have the loop variables put in."""
    if not loops:
        return given
    match given:
        case ProseStep() | QuestionStep():
            return replace(given, text=prose(given.text, loops))
        case SignStep() | StopStep():
            return replace(given, text=_optional(given.text, loops))
        case MeasureStep():
            return replace(
                given,
                sense_text=_optional(given.sense_text, loops),
                passes=tuple(prose(text, loops) for text in given.passes),
                fails=tuple(prose(text, loops) for text in given.fails),
            )
        case _:
            return given
