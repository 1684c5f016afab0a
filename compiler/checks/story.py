"""The shortest story of a finding: what, after which step, on which models and which way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from compiler.checks.replay import Way
from compiler.checks.subject import Job
from compiler.findings.model import Finding, Label
from compiler.model import Judged, StateIs, WasDone, When
from compiler.source import Span
from compiler.walk.assembly import Unit


@dataclass(frozen=True, slots=True)
class Told:
    """One finding about one unit on one model and way; `tell` puts those of a kind together.

    `message` has `{what}` for the things meant, and says the rest of the sentence without its full
    stop: "{what} is off when the work ends".
    """

    rule: str
    unit: Unit
    span: Span
    message: str
    hint: str
    job: Job
    way: Way
    labels: tuple[Label, ...] = ()


@dataclass(slots=True)
class _Group:
    first: Told
    members: dict[str, None] = field(default_factory=dict)
    models: dict[str, None] = field(default_factory=dict)
    ways: list[tuple[str, ...]] = field(default_factory=list)


def tell(stories: Iterable[Told]) -> Iterator[Finding]:
    """Yield a finding for each rule, place and thing, telling on which models and ways it is so."""
    groups: dict[tuple[str, str, Span, str, str], _Group] = {}
    for told in stories:
        key = (told.rule, told.unit[0], told.span, told.message, told.job.procedure.key)
        group = groups.setdefault(key, _Group(told))
        group.members[told.unit[1]] = None
        group.models[told.job.model] = None
        group.ways.append(choice_words(told.way))
    for group in groups.values():
        yield _finding(group)


def _finding(group: _Group) -> Finding:
    told = group.first
    thing = told.job.things[told.unit[0]]
    chosen = [m for m in thing.members if m in group.members]
    some = chosen and len(chosen) < len(thing.members)
    what = f"{thing.name}[{', '.join(chosen)}]" if some else thing.name
    sentence = told.message.format(what=what) + _where(group)
    return Finding(told.rule, told.span, f"{sentence}.", told.labels, told.hint)


def _where(group: _Group) -> str:
    """Return ` on TP-60, when runout is out`; '' where it is so on every model and way."""
    words: list[str] = []
    serves = [v.model for v in group.first.job.procedure.variants]
    if len(group.models) < len(serves):
        words.append("on " + " and ".join(group.models))
    shortest = min(group.ways, key=len)
    words += shortest
    return " " + ", ".join(words) if words else ""


def choice_words(way: Way) -> tuple[str, ...]:
    """Return the decisions of a way in words: `when runout is out`, `unless bush is worn`."""
    return tuple(
        f"{'when' if choice.taken else 'unless'} {when_words(choice.when)}"
        for choice in way.choices
    )


def when_words(when: When) -> str:
    """Return a condition as the author writes it."""
    match when:
        case StateIs():
            return f"{when.subject.rpartition('/')[2]} is {when.state}"
        case WasDone():
            return f"{when.subject.key.rpartition('/')[2]} was {when.deed}"
        case Judged():
            text = "".join(p if isinstance(p, str) else "…" for p in when.text.parts)
            return f"“{text}”"
