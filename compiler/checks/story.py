"""The shortest story of a finding: what, after which step, on which models and which way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import TypeAlias

from compiler.checks.replay import Way
from compiler.checks.replay.way import Choice
from compiler.checks.subject import Job
from compiler.findings.model import Finding, Fix, Label
from compiler.model import Judged, Selection, StateIs, StillSo, WasDone, When
from compiler.source import Span
from compiler.walk.assembly import Unit

Choices: TypeAlias = tuple[Choice, ...]

_OPPOSITE = {"in": "out", "out": "in", "yes": "no", "no": "yes"}


@dataclass(frozen=True, slots=True)
class Told:
    """One finding about one unit on one model and way; `tell` puts those of a kind together.

    `message` has `{what}` for the things meant, and says the rest of the sentence without its full
    stop: "{what} is off at the end of the work"; `hint` may have it too. `among` are the ways on
    which it could have been found; without it, those that come to the step at `span`. `fix` is
    offered where it is found of the whole thing, on every model and way.
    """

    rule: str
    unit: Unit
    span: Span
    message: str
    hint: str
    job: Job
    way: Way
    labels: tuple[Label, ...] = ()
    among: tuple[Way, ...] = ()
    fix: Fix | None = None


@dataclass(slots=True)
class _Group:
    first: Told
    members: dict[str, None] = field(default_factory=dict)
    models: dict[str, Told] = field(default_factory=dict)
    ways: dict[tuple[str, Choices], None] = field(default_factory=dict)


def tell(stories: Iterable[Told]) -> Iterator[Finding]:
    """Yield a finding for each rule, place and thing, telling on which models and ways it is so."""
    groups: dict[tuple[str, str, Span, str, str], _Group] = {}
    for told in stories:
        key = (told.rule, told.unit[0], told.span, told.message, told.job.procedure.key)
        group = groups.setdefault(key, _Group(told))
        group.members[told.unit[1]] = None
        group.models.setdefault(told.job.model, told)
        group.ways[told.job.model, told.way.choices] = None
    for group in groups.values():
        yield _finding(group)


def _finding(group: _Group) -> Finding:
    told = group.first
    thing = told.job.things[told.unit[0]]
    chosen = [m for m in thing.members if m in group.members]
    some = chosen and len(chosen) < len(thing.members)
    what = f"{thing.name}[{', '.join(chosen)}]" if some else thing.name
    sentence = told.message.replace("{what}", what)
    hint = told.hint.replace("{what}", what)
    where = _where(group)
    fix = None if some or where else told.fix
    return Finding(told.rule, told.span, f"{where}{sentence}.", told.labels, hint, fix)


def _where(group: _Group) -> str:
    """Return `On TP-60, when runout is out, `; '' where it is so on every model and way."""
    words: list[str] = []
    serves = [v.model for v in group.first.job.procedure.variants]
    if len(group.models) < len(serves):
        words.append("on " + " and ".join(group.models))
    decisions = " and ".join(dict.fromkeys(map(_choice_words, _shortest(group))))
    words += [decisions] if decisions else []
    said = ", ".join(words)
    return f"{said[0].upper()}{said[1:]}, " if said else ""


def _shortest(group: _Group) -> Choices:
    """Return the fewest decisions after which it is always so.

    Of the way with the fewest, each decision is left out that makes no difference.
    """
    failing = group.ways
    others = {
        (model, way.choices)
        for model, told in group.models.items()
        for way in told.among or _ways_to(told)
    } - failing.keys()
    kept = min((choices for _, choices in failing), key=len)
    for choice in kept:
        fewer = tuple(other for other in kept if other is not choice)
        if not any(_can_be(fewer, choices) for _, choices in others):
            kept = fewer
    return kept


def _ways_to(told: Told) -> Iterator[Way]:
    """Yield the ways that come to the step of a finding."""
    for moment in told.job.replay.moments:
        if moment.doing.step.step.span == told.span:
            yield moment.before


def _can_be(some: Choices, choices: Choices) -> bool:
    """Return whether a way with these decisions could be one with some others as well."""
    decided = {(_same(choice), choice.taken) for choice in choices}
    return all(
        (_same(choice), choice.taken) in decided or (_same(choice), not choice.taken) not in decided
        for choice in some
    )


def _same(choice: Choice) -> tuple[object, ...]:
    """Return what is the same wherever the same is asked."""
    own = choice.where if isinstance(choice.when, StateIs) else ""
    return (type(choice.when), when_words(choice.when), own)


def _choice_words(choice: Choice) -> str:
    """Return a decision in words: `when runout is out`, `unless bush was removed`."""
    when = choice.when
    opposite = _OPPOSITE.get(when.state) if isinstance(when, StateIs) else None
    if not choice.taken and opposite is not None and isinstance(when, StateIs):
        return f"when {_name(when.subject)} is {opposite}"
    holds = " holds" if isinstance(when, Judged) else ""
    return f"{'when' if choice.taken else 'unless'} {when_words(when)}{holds}"


def when_words(when: When) -> str:
    """Return a condition as the author writes it."""
    match when:
        case StateIs():
            return f"{_name(when.subject)} is {when.state}"
        case WasDone():
            members = ", ".join(map(str, when.subject.members))
            chosen = f"[{members}]" if members else ""
            return f"{_name(when.subject.key)}{chosen} was {when.deed}"
        case StillSo():
            members = ", ".join(map(str, when.subject.members))
            chosen = f"[{members}]" if members else ""
            return f"{_name(when.subject.key)}{chosen} is still {when.state}"
        case Judged():
            return f"“{''.join(map(_part_words, when.text.parts))}”"


def _part_words(part: object) -> str:
    if isinstance(part, str):
        return part
    return _name(part.key) if isinstance(part, Selection) else "…"


def _name(key: str) -> str:
    return key.rpartition("/")[2]
