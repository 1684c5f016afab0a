"""Measurements, questions, records, hold points, signatures and ends as sentences."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from compiler.model import Limit, MeasureStep, Prose, QuestionStep, SignStep, Step, StopStep
from compiler.walk.nodes import Act, Deed
from compiler.wording.english import lower_first, number
from compiler.wording.nouns import name_of
from compiler.wording.operands import phrases, prose
from compiler.wording.text import Line, line, paragraph, sentence, words_only
from compiler.wording.values import limit_line, listed_lines
from compiler.wording.voice import Voice

_ASKING = ("what ", "which ", "how ", "where ", "whether ", "who ", "when ")
_LEADS = ("the ", "a ", "an ", "its ", "their ", "each ", "every ", "all ", "both ")


def check_lines(voice: Voice, act: Act, step: Step) -> tuple[Line, ...]:
    """Return the sentences of a measurement, question, signature or end; () for another act."""
    if isinstance(step, MeasureStep) and act.deed is Deed.MEASURE:
        return _measure(voice, act, step)
    if isinstance(step, QuestionStep):
        return _QUESTIONS[step.kind](voice, step)
    if isinstance(step, SignStep):
        return _sign(voice, step)
    if isinstance(step, StopStep):
        return _stop(voice, step)
    return ()


def subject(label: str) -> str:
    """Return a measurement's title inside a sentence: `Shaft runout` as `the shaft runout`."""
    words = lower_first(label)
    if words.lower().startswith((*_ASKING, *_LEADS)):
        return words
    return f"the {words}"


def _measure(voice: Voice, act: Act, step: MeasureStep) -> tuple[Line, ...]:
    said = phrases(voice, act.phrases)
    name = subject(step.label or step.name.replace("-", " "))
    comma = "," if "," in name and said else ""
    if step.sense:
        return (paragraph(_sensed(voice, step, name, said), *_verdict_lines(voice, step)),)
    where = _points(step)
    first = sentence("measure ", name, comma, said, where)
    return (paragraph(first, *limit_sentences(voice, step.limits, _readings(step))),)


def _points(step: MeasureStep) -> str:
    if step.grid:
        rows, columns = step.grid
        return f", at {number(rows * columns)} points in a grid of {rows} × {columns}"
    return f", at {number(step.points)} points" if step.points > 1 else ""


def _readings(step: MeasureStep) -> int:
    return step.grid[0] * step.grid[1] if step.grid else max(1, step.points)


def _sensed(voice: Voice, step: MeasureStep, name: str, said: Sequence[Line]) -> Line:
    if step.sense == "eye":
        return sentence("look at ", name, said)
    verb = "feel" if step.sense == "feel" else "listen to"
    return sentence(verb, " ", name, said)


def is_question(name: str) -> bool:
    """Return whether a title asks: `what hangs on the magnet`."""
    return name.startswith(_ASKING)


def _verdict_lines(voice: Voice, step: MeasureStep) -> tuple[Line, ...]:
    made: list[Line] = []
    if step.sense_text is not None:
        made.append(sentence("good: ", prose(voice, step.sense_text)))
    if step.passes:
        made.append(sentence("good: ", _choices(voice, step.passes)))
    if step.fails:
        made.append(sentence("not good: ", _choices(voice, step.fails)))
    return tuple(made)


def _choices(voice: Voice, texts: Sequence[Prose]) -> Line:
    return listed_lines([prose(voice, text) for text in texts])


def limit_sentences(voice: Voice, limits: Sequence[Limit], readings: int) -> tuple[Line, ...]:
    """Return one sentence a limit: `It must be at most 0.05 mm.`"""
    if not limits:
        return ()
    made: list[Line] = []
    for limit in limits:
        who = {
            "": "it" if readings == 1 else "each reading",
            "each": "each reading",
            "sum": "the sum of all readings",
            "spread": "the difference of the largest and the smallest",
        }[limit.scope]
        made.append(sentence(who, " must be ", limit_line(voice, limit)))
    return tuple(made)


def _ask(voice: Voice, step: QuestionStep) -> tuple[Line, ...]:
    return (sentence(prose(voice, step.text)),)


def _confirm(voice: Voice, step: QuestionStep) -> tuple[Line, ...]:
    return (line("Confirm: ", sentence(prose(voice, step.text))),)


def _record(voice: Voice, step: QuestionStep) -> tuple[Line, ...]:
    text = prose(voice, step.text)
    words = words_only(text)
    if len(text) == 1 and not words.endswith((".", "?")):
        return (sentence("write down ", subject(words)),)
    return (line("Write down: ", sentence(text)),)


_QUESTIONS: Mapping[str, Callable[[Voice, QuestionStep], tuple[Line, ...]]] = {
    "ask": _ask,
    "confirm": _confirm,
    "record": _record,
}


def role_words(voice: Voice, key: str) -> str:
    """Return a role in words: `workshop inspector`."""
    thing = voice.thing(key)
    return name_of(thing) if thing is not None else key.rsplit("/", 1)[-1].replace("-", " ")


def _sign(voice: Voice, step: SignStep) -> tuple[Line, ...]:
    role = role_words(voice, step.role)
    text = prose(voice, step.text) if step.text is not None else ()
    if step.kind == "hold":
        first = sentence(f"stop here until the {role} has signed")
        return (paragraph(first, sentence(text) if text else ()),)
    return (line(f"The {role} signs", ": " if text else ".", sentence(text) if text else ()),)


def _stop(voice: Voice, step: StopStep) -> tuple[Line, ...]:
    text = sentence(prose(voice, step.text)) if step.text is not None else ()
    if step.role:
        return (paragraph(sentence(f"hand over to the {role_words(voice, step.role)}"), text),)
    return (paragraph(sentence("stop the work here"), text),)


def go_back_line(number_text: str, is_section: bool) -> Line:
    """Return `Go back to step 2.3.`"""
    return sentence(f"go back to {'section' if is_section else 'step'} {number_text}")
