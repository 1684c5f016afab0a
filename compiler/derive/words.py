"""Short words for the lists: names of things, conditions. Sentences are made elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from compiler.model import (
    Amount,
    AnyThing,
    Energy,
    Judged,
    MeasureStep,
    Prose,
    QuestionStep,
    Selection,
    StateIs,
    Step,
    StillSo,
    Tool,
    WasDone,
    When,
)
from compiler.trade.units import format_quantity
from compiler.walk.flat import flat_steps
from compiler.walk.nodes import Act, Node, Target, prefix_of

_LIMITS: Mapping[str, str] = {
    "in": "within limits",
    "out": "out of limits",
    "above": "above the limit",
    "below": "below the limit",
}


def label_of(thing: AnyThing) -> str:
    """Return what people call a thing: its label, or its name as words.

    The text of an energy says how much of it there is, not what it is called.
    """
    spoken = thing.name.replace("-", " ")
    return spoken if isinstance(thing, Energy) else thing.label or spoken


def own_label(thing: AnyThing) -> str:
    """Return the label the author gave, '' when it is only the name in words."""
    return "" if thing.label == thing.name.replace("-", " ") else thing.label


def act_words(act: Act, step: Step, things: Mapping[str, AnyThing], *, general: bool) -> str:
    """Return in a few words what an act does: `support rotating unit`, `measure shaft runout`.

    `general` leaves members out, for a step that stands for all rounds of a repeat.
    """
    verb = act.verb.word if act.verb is not None else act.deed.value
    verb = verb.replace("-", " ")
    if isinstance(step, MeasureStep):
        return f"{verb} {_lower_first(step.label or step.name.replace('-', ' '))}"
    for target in act.targets:
        if isinstance(target, Target) and target.key in things:
            thing = things[target.key]
            if isinstance(thing, Tool):
                return f"{verb} {_about(act, things) or label_of(thing)}"
            return f"{verb} {with_members(label_of(thing), () if general else target.members)}"
        if isinstance(target, Prose):
            return f"{verb} {plain(target, things)}"
    return verb


def _about(act: Act, things: Mapping[str, AnyThing]) -> str:
    """Return what a tool is used on, when the tool itself is moved: `across fan pulley`."""
    for phrase in act.phrases:
        keys = [spot.key for spot in phrase.operands if isinstance(spot, Target)]
        if keys and phrase.word:
            return f"{phrase.word} {' and '.join(name_of_key(things, key) for key in keys)}"
    return ""


def name_of_key(things: Mapping[str, AnyThing], key: str) -> str:
    """Return what people call the thing with a key; its name in words when it is not there."""
    thing = things.get(key)
    return label_of(thing) if thing is not None else key.rsplit("/", 1)[-1].replace("-", " ")


def with_members(label: str, members: Iterable[str]) -> str:
    """Return a name with its members: `foot 1, 3`."""
    chosen = ", ".join(members)
    return f"{label} {chosen}" if chosen else label


def records_of(nodes: Iterable[Node]) -> dict[str, MeasureStep | QuestionStep]:
    """Return what is measured or asked under each name, with the prefix of its procedure."""
    found: dict[str, MeasureStep | QuestionStep] = {}
    for flat in flat_steps(nodes):
        step = flat.node.step
        if isinstance(step, MeasureStep | QuestionStep) and step.name:
            found.setdefault(f"{prefix_of(flat.node.id)}{step.name}", step)
    return found


def condition_words(
    when: When,
    things: Mapping[str, AnyThing],
    records: Mapping[str, MeasureStep | QuestionStep],
    where: str = "",
) -> str:
    """Return a condition as a short clause: `shaft runout is out of limits`.

    `where` is the prefix of the procedure that asks: it speaks of its own records.
    """
    match when:
        case Judged():
            return _lower_first(plain(when.text, things)).rstrip(".")
        case WasDone():
            members = [m for m in when.subject.members if isinstance(m, str)]
            named = with_members(name_of_key(things, when.subject.key), members)
            return f"{named} was {when.deed}"
        case StillSo():
            members = [m for m in when.subject.members if isinstance(m, str)]
            named = with_members(name_of_key(things, when.subject.key), members)
            return f"{named} is still {when.state}"
        case StateIs():
            if when.kind == "condition":
                return f"{name_of_key(things, when.subject)} is {when.state.replace('-', ' ')}"
            return _record_words(when, records.get(f"{where}{when.subject}"), things)


def _record_words(
    when: StateIs, record: MeasureStep | QuestionStep | None, things: Mapping[str, AnyThing]
) -> str:
    if isinstance(record, MeasureStep):
        name = _lower_first(record.label or record.name.replace("-", " "))
        comma = "," if "," in name else ""
        return f"{name}{comma} is {_LIMITS.get(when.state, when.state)}"
    if isinstance(record, QuestionStep):
        return f"“{plain(record.text, things)}” is {when.state.replace('-', ' ')}"
    return f"{when.subject.replace('-', ' ')} is {when.state.replace('-', ' ')}"


def plain(text: Prose, things: Mapping[str, AnyThing]) -> str:
    """Return a text as plain words."""
    words: list[str] = []
    for part in text.parts:
        if isinstance(part, str):
            words.append(part)
        elif isinstance(part, Selection):
            words.append(name_of_key(things, part.key))
        elif isinstance(part, Amount):
            words.append(format_quantity(part.low))
    return "".join(words)


def _lower_first(text: str) -> str:
    """Return the text with a small first letter, unless its first word is not written like that."""
    first = text.split(" ", 1)[0]
    return text if first[1:] != first[1:].lower() else text[:1].lower() + text[1:]
