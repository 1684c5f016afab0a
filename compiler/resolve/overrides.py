"""Lines under a step that give something else for some models, `for TP-60 to 0.4 mm`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeAlias

from compiler.resolve.context import Context
from compiler.source import Span

Said: TypeAlias = tuple[str, Span]
"""What is given, and where: the word of a phrase, or the kind of a limit."""


def report_twice(ctx: Context, lines: Iterable[tuple[Sequence[str], Sequence[Said]]]) -> None:
    """Report what two lines give for the same model: only one of them can be meant."""
    first: dict[tuple[str, str], Span] = {}
    for models, given in lines:
        for what, span in given:
            again = [model for model in models if (model, what) in first]
            if again:
                ctx.report.add(
                    "duplicate-name",
                    span,
                    f"For {again[0]} this is given a second time.",
                    (first[again[0], what], f"it is given here for {again[0]}"),
                    hint="Keep one of the two lines.",
                )
        for what, span in given:
            for model in models:
                first.setdefault((model, what), span)
