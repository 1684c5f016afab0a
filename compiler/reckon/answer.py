"""What an answer is: what was understood, results, how they come about, and the caution.

Its form for other programs is `to_json`; `answer.schema.json` describes that.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field


class Unclear(Exception):
    """A question that cannot be answered: the reason in shop language, and what to try."""

    def __init__(self, reason: str, hint: str = "") -> None:
        super().__init__(f"{reason} {hint}".strip())
        self.reason = reason
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Result:
    """One result. `name` is its stable key, `label` its words; `value` has full precision.

    `value` is None and `unit` '' for a result in words. `others` are the same in other units;
    `source` says where it is from when that is a table. `note` is a word on this one alone.
    """

    name: str
    label: str
    text: str
    value: float | None = None
    unit: str = ""
    others: tuple[Result, ...] = ()
    source: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of how it is worked out, with its numbers, and where it comes from."""

    text: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Results side by side for people; the first column is of words, the others of numbers."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer. `title` says in one line what the question was taken to be.

    `given` are the inputs as understood, by stable keys. `table` stands in place of the list of
    results, `drawing` before it. `more` holds what only this question has, for other programs.
    `tip` is what to ask next.
    """

    question: str
    title: str
    given: Mapping[str, str]
    results: tuple[Result, ...]
    steps: tuple[Step, ...] = ()
    cautions: tuple[str, ...] = ()
    table: Table | None = None
    drawing: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    tip: str = ""
    more: Mapping[str, object] = field(default_factory=dict)


def to_json(answer: Answer) -> dict[str, object]:
    """Return the answer as plain data with stable keys."""
    return {
        "question": answer.question,
        "understood": answer.title,
        "given": dict(answer.given),
        "results": [_result(result) for result in answer.results],
        "steps": [{"text": step.text, "source": step.source} for step in answer.steps],
        "remarks": list(answer.remarks),
        "cautions": list(answer.cautions),
        **answer.more,
    }


def _result(result: Result) -> dict[str, object]:
    return {
        "name": result.name,
        "label": result.label,
        "value": result.value,
        "unit": result.unit,
        "text": result.text,
        "source": result.source,
        "note": result.note,
        "others": _others(result.others),
    }


def _others(others: Sequence[Result]) -> list[dict[str, object]]:
    return [{"value": one.value, "unit": one.unit, "text": one.text} for one in others]
