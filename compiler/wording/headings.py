"""Headings of branches and repeats, conditions, and where a derived step comes from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from compiler.model import Judged, MeasureStep, QuestionStep, StateIs, StillSo, WasDone, When
from compiler.walk.nodes import Origin, RepeatNode, SectionNode, Target
from compiler.wording import english
from compiler.wording.checks import is_question, subject
from compiler.wording.nouns import member_list, noun
from compiler.wording.operands import prose
from compiler.wording.text import Line, Plain, line, upper_first, words_only
from compiler.wording.voice import Voice

Record = MeasureStep | QuestionStep
Records = Mapping[str, Record]


_MEASURED = {
    "in": "is within limits",
    "out": "is out of limits",
    "above": "is above the limit",
    "below": "is below the limit",
}
_JUDGED = {"in": "is good", "out": "is not good"}


def condition(voice: Voice, when: When, records: Records) -> Line:
    """Return a condition as a clause: `the shaft runout is out of limits`."""
    if isinstance(when, Judged):
        return _as_clause(prose(voice, when.text))
    if isinstance(when, WasDone):
        members = tuple(m for m in when.subject.members if isinstance(m, str))
        named = noun(voice, Target(when.subject.key, members))
        return line(named.words, " were " if named.many else " was ", when.deed)
    if isinstance(when, StillSo):
        members = tuple(m for m in when.subject.members if isinstance(m, str))
        named = noun(voice, Target(when.subject.key, members))
        return line(named.words, " are still " if named.many else " is still ", when.state)
    if when.kind == "condition":
        named = noun(voice, Target(when.subject))
        return line(named.words, " is “", when.state.replace("-", " "), "”")
    return _record_clause(voice, when, records.get(when.subject))


def _as_clause(text: Line) -> Line:
    """Return a judged condition without a capital or full stop, to stand after `If`."""
    if not text:
        return text
    first, last = text[0], text[-1]
    text = (*text[:-1], replace(last, text=last.text.rstrip(".")))
    lowered = english.lower_first(first.text)
    if isinstance(first, Plain) and lowered != first.text:
        text = (replace(text[0], text=lowered[:1] + text[0].text[1:]), *text[1:])
    return text


def _record_clause(voice: Voice, when: StateIs, record: Record | None) -> Line:
    if isinstance(record, MeasureStep):
        name = subject(record.label or english.spoken(record.name))
        verdicts = _JUDGED if record.sense else _MEASURED
        says = verdicts.get(when.state, _MEASURED.get(when.state, f"is {when.state}"))
        if english.is_plural(name) and not is_question(name):
            says = says.replace("is ", "are ", 1)
        return line(name, "," if "," in name else "", " ", says)
    if isinstance(record, QuestionStep):
        text = words_only(prose(voice, record.text)).rstrip()
        answer = when.state.replace("-", " ")
        if record.kind == "confirm":
            said = "not confirmed" if answer == "no" else "confirmed"
            return line("“", text.rstrip("."), "” is ", said)
        return line("the answer to “", text, "” is ", answer)
    return line(english.spoken(when.subject), " is ", when.state.replace("-", " "))


def branch_heading(voice: Voice, when: When | None, records: Records, first: bool) -> Line:
    """Return the heading of an arm: `If …:`, `Otherwise, if …:`, `Otherwise:`."""
    if when is None:
        return line("Otherwise:")
    lead = "If " if first else "Otherwise, if "
    return line(lead, condition(voice, when, records), ":")


def only_if(voice: Voice, when: When, records: Records) -> Line:
    """Return the condition of one step: `Only if the bush is worn:`"""
    return line("Only if ", condition(voice, when, records), ":")


def repeat_heading(voice: Voice, node: RepeatNode, records: Records, called: str = "") -> Line:
    """Return the heading of a repeat; `called` is what the items are: `levelling foot`."""
    if node.until is not None:
        most = f", at most {english.times(node.most)}" if node.most else ""
        return line("Repeat until ", condition(voice, node.until, records), most, ":")
    items = [item for item in node.items if item]
    count = len(node.rounds)
    if not items:
        return line(f"Do this {english.times(count)}:")
    if not called:
        return line(f"For each of these: {english.listed(items)}:")
    members = [item.rsplit(" ", 1)[-1] for item in items]
    if all(m.isdigit() for m in members):
        return line(f"For each {called}, {member_list(members)}:")
    return line(f"For each {called} ({english.listed(items)}):")


def round_title(item: str, count: int) -> str:
    """Return the title of one round that is written out: `Foot 1`, `Round 2`."""
    return upper_first(item) if item else f"Round {count}"


def section_title(node: SectionNode) -> str:
    """Return the title of a section; a derived or followed half says what it is a half of."""
    title = node.title
    last = node.origin[-1] if node.origin else None
    if last is not None and last.kind == "reach":
        return f"Way in to {english.with_the(title)}"
    if not node.way_back:
        return title
    if last is not None and last.kind == "refit" and not last.name:
        return "Put everything back"
    return f"Way back from “{title}”" if title and title != "Way back" else "Way back"


def origin_text(last: Origin, *, shared: bool = False) -> str:
    """Return where a followed or derived section comes from, for the small print; '' for none.

    Its title says the rest. `shared` tells that it is a block, which has no page of its own.
    """
    if not last.title:
        return ""
    if last.kind == "follow":
        return "" if shared else "a procedure of its own, taken over"
    return "worked out: the shortest safe way" if last.kind == "reach" else "worked out"


def undoes_text(number: str, *, is_section: bool = False) -> str:
    """Return where a step of the way back comes from: `worked out from step 2.3`."""
    return f"worked out from {'section' if is_section else 'step'} {number}"
