"""What a procedure needs, starts with and leaves: a thing and a state it can be in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler import model, syntax
from compiler.resolve.context import Context
from compiler.resolve.refs import select
from compiler.resolve.report import Report
from compiler.resolve.scope import Kind, Named, with_article

STATES: Mapping[Kind, tuple[str, ...]] = {
    "part": ("fitted", "off", "aside", "open"),
    "fastener": ("torqued", "hand-tight", "slackened", "fitted", "out"),
    "energy": ("live", "isolated"),
    "fluid": ("filled", "drained"),
    "connection": ("connected", "disconnected"),
    "aid": ("out", "in"),
}
"""The states by kind of thing, the normal one first; a condition has its own."""

_CAN_END: frozenset[Kind] = frozenset((*STATES, "condition"))


def end_state(ctx: Context, line: syntax.EndLine) -> model.EndState | None:
    """Return the state of a thing at the start or end; None with a finding."""
    selection = select(ctx, line.subject, _CAN_END, f"`{_WORDS[line.key]}` takes")
    named = ctx.scope.get(line.subject.name.text)
    place = _place(ctx, line)
    if selection is None or named is None:
        return None
    if line.state.text == "at":
        return _at(ctx, line, selection, named, place)
    states = STATES.get(named.kind, ())
    if named.kind == "condition" and named.thing is not None:
        states = tuple(state.name.text for state in named.thing.states)
    if line.state.text not in states:
        if line.state.text not in ctx.scope.lost:
            ctx.report.unknown(
                line.state.span,
                line.state.text,
                states,
                f"{named.name} is {with_article(named.kind)} and is never {line.state.text}.",
                otherwise=f"It can be: {', '.join(states)}.",
            )
        return None
    return model.EndState(line.span, line.key, selection, line.state.text)


def _place(ctx: Context, line: syntax.EndLine) -> model.Selection | None:
    if line.place is None:
        return None
    return select(ctx, line.place, frozenset(("place",)), "`at` takes")


def _at(
    ctx: Context,
    line: syntax.EndLine,
    selection: model.Selection,
    named: Named,
    place: model.Selection | None,
) -> model.EndState | None:
    """Return that a part is in another place."""
    if named.kind not in ("part", "aid", "connection"):
        ctx.report.add(
            "wrong-kind",
            line.subject.span,
            f"{named.name} is {with_article(named.kind)}; only a part can be at a place.",
            (named.span, f"{named.name} is declared here"),
        )
        return None
    if place is None:
        return None
    return model.EndState(line.span, line.key, selection, "at", place)


def check_contradictions(report: Report, ends: Sequence[model.EndState]) -> None:
    """Report two states of one thing at the same end of the work."""
    for at, end in enumerate(ends):
        for first in ends[:at]:
            if first.kind == end.kind and _same_thing(first.subject, end.subject):
                report.add(
                    "duplicate-name",
                    end.span,
                    "Its state is said twice.",
                    (first.span, "said here already"),
                    hint="Keep one of them.",
                )
                break


def _same_thing(first: model.Selection, second: model.Selection) -> bool:
    if first.key != second.key:
        return False
    shared = set(first.members) & set(second.members)
    return not first.members or not second.members or bool(shared)


_WORDS = {"needs": "needs", "starts": "starts with", "leaves": "leaves"}
