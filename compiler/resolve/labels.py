"""The names that a procedure itself makes: its sections, named steps and records."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from compiler import syntax
from compiler.resolve.blocks import statements
from compiler.resolve.report import Report
from compiler.source import Span


@dataclass(frozen=True, slots=True)
class Label:
    """A section or step that can be spoken of. Its name is its id."""

    name: str
    kind: Literal["section", "step"]
    span: Span


@dataclass(frozen=True, slots=True)
class Record:
    """What is measured, asked, confirmed or written down under a name."""

    name: str
    kind: Literal["measure", "ask", "confirm", "record"]
    span: Span
    answers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Labels:
    """Sections and steps by name, and records by name; `way_back` is the ids of that part."""

    spoken: Mapping[str, Label]
    records: Mapping[str, Record]


_ANSWERS: Mapping[str, tuple[str, ...]] = {
    "measure": ("in", "out", "above", "below"),
    "ask": ("yes", "no"),
    "confirm": ("yes", "no"),
    "record": (),
}


def collect(body: Sequence[syntax.Statement], report: Report) -> Labels:
    """Gather the labels and records of a body; report names that two of them have."""
    spoken: dict[str, Label] = {}
    records: dict[str, Record] = {}
    for statement in statements(body):
        label = _label(statement)
        if label is not None:
            first = spoken.setdefault(label.name, label)
            if first is not label:
                _twice(report, label.name, label.kind, label.span, first.kind, first.span)
        record = _record(statement)
        if record is not None:
            known = records.setdefault(record.name, record)
            if known is not record:
                _twice(report, record.name, record.kind, record.span, known.kind, known.span)
    return Labels(spoken, records)


def _label(statement: syntax.Statement) -> Label | None:
    if isinstance(statement, syntax.Section):
        name = statement.name
        return Label(name.text, "section", name.span) if name is not None else None
    name = _step_name(statement)
    return Label(name.text, "step", name.span) if name is not None else None


def _step_name(statement: syntax.Statement) -> syntax.Word | None:
    """Return the name after `as`."""
    trailer = getattr(statement, "trailer", None)
    return trailer.name if isinstance(trailer, syntax.Trailer) else None


def _record(statement: syntax.Statement) -> Record | None:
    if isinstance(statement, syntax.Measure):
        name = statement.name
        return Record(name.text, "measure", name.span, _ANSWERS["measure"])
    if isinstance(statement, syntax.Question) and statement.name is not None:
        answers = tuple(word.text for word in statement.answers) or _ANSWERS[statement.kind]
        return Record(statement.name.text, statement.kind, statement.name.span, answers)
    return None


_WORDS = {
    "section": "a section",
    "step": "a step",
    "measure": "a measurement",
    "ask": "a question",
    "confirm": "a confirmation",
    "record": "something written down",
}


def record_words(record: Record) -> str:
    """Return what the record is, with an article."""
    return _WORDS[record.kind]


def _twice(report: Report, name: str, kind: str, span: Span, first_kind: str, first: Span) -> None:
    report.add(
        "duplicate-name",
        span,
        f"{name} is the name of {_WORDS[first_kind]} already.",
        (first, f"{_WORDS[first_kind]} is called {name} here"),
        hint="Give one of the two another name.",
    )
