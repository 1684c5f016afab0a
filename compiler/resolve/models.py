"""The models of a machine where they are named: `models`, `only for`, `for TP-60 …`."""

from __future__ import annotations

from collections.abc import Sequence

from compiler import syntax
from compiler.resolve.report import Report


def named_models(
    report: Report,
    words: Sequence[syntax.Word | syntax.Text],
    known: Sequence[str],
    lost: frozenset[str] = frozenset(),
) -> tuple[str, ...]:
    """Return those of the named models that there are, in the order of the machine."""
    found: set[str] = set()
    for word in words:
        name = model_name(word)
        if name in known:
            found.add(name)
        elif name not in lost:
            _unknown(report, word, name, known)
    return tuple(model for model in known if model in found)


def model_name(word: syntax.Word | syntax.Text) -> str:
    """Return a model's name, however it is written."""
    return word.text if isinstance(word, syntax.Word) else word.value


def _unknown(
    report: Report, word: syntax.Word | syntax.Text, name: str, known: Sequence[str]
) -> None:
    if known:
        report.unknown(
            word.span,
            name,
            known,
            f"{name} is not among the models here.",
            otherwise=f"Here: {', '.join(known)}.",
            rule="unknown-model",
        )
        return
    report.add(
        "unknown-model",
        word.span,
        f"{name} cannot be told apart: no models are listed here.",
        hint=f"List them in the machine's file: models {name}.",
    )
