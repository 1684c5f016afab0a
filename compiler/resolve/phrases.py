"""The phrases of an action: `with seal-driver end "32 mm"`, `to 60 N·m`, `onto shaft`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler import model, syntax
from compiler.resolve.context import Context
from compiler.resolve.prose import prose
from compiler.resolve.refs import operand
from compiler.resolve.scope import EVERY_KIND, Kind
from compiler.resolve.values import ANYTHING, TIGHTNESS, TIME, Expected, amount, missing_unit
from compiler.trade.verbs import Effect

_MEANS: frozenset[Kind] = frozenset(
    ("tool", "consumable", "aid", "part", "fastener", "connection", "fluid")
)
_TAKES: Mapping[str, frozenset[Kind]] = {
    "with": _MEANS,
    "without": _MEANS,
    "via": frozenset(("tool",)),
    "holding": frozenset(("part", "fastener", "aid", "tool", "connection")),
}
_TO: Mapping[Effect, frozenset[Kind]] = {
    Effect.MOVE: frozenset(("place",)),
    Effect.TRANSFER: frozenset(("part",)),
}


def phrases(
    ctx: Context,
    effect: Effect,
    given: Sequence[syntax.Phrase],
    states: tuple[str, ...] | None = None,
) -> tuple[model.Phrase, ...]:
    """Return the phrases with their names looked up. `states` are given for `bring X to STATE`."""
    found: list[model.Phrase] = []
    for phrase in given:
        if phrase.word == "to" and states is not None:
            found.append(_to_state(ctx, phrase, states))
        else:
            found.append(_phrase(ctx, effect, phrase))
    return tuple(found)


def _phrase(ctx: Context, effect: Effect, phrase: syntax.Phrase) -> model.Phrase:
    kinds = _TAKES.get(phrase.word, EVERY_KIND)
    if phrase.word == "to":
        kinds = _TO.get(effect, EVERY_KIND)
    expected = _expected(effect, phrase.word)
    what = f"`{phrase.word}` takes" if phrase.word in _TAKES or phrase.word == "to" else ""
    operands = tuple(
        resolved
        for given in phrase.operands
        if (resolved := operand_of(ctx, given, kinds, what, expected)) is not None
    )
    if phrase.end is not None:
        _check_end(ctx, phrase, phrase.end)
    end = phrase.end.value if phrase.end is not None else ""
    return model.Phrase(phrase.span, phrase.word, operands, phrase.joined, end)


def _expected(effect: Effect, word: str) -> Expected:
    """Return what a value after the word must be."""
    if word == "to" and effect is Effect.TIGHTEN:
        return TIGHTNESS
    return TIME if word == "for" else ANYTHING


def operand_of(
    ctx: Context,
    given: syntax.Operand,
    kinds: frozenset[Kind] = EVERY_KIND,
    what: str = "",
    expected: Expected = ANYTHING,
) -> model.Operand | None:
    """Return what an operand names or says; None with a finding."""
    if isinstance(given, syntax.Ref):
        return operand(ctx, given, kinds, what)
    if isinstance(given, syntax.Text):
        return prose(ctx, given)
    if isinstance(given, syntax.NumberLit):
        if expected.dimensions:
            missing_unit(ctx.report, given, expected)
            return None
        return model.Prose(given.span, (given.text,))
    return amount(ctx.report, given, expected)


def _to_state(ctx: Context, phrase: syntax.Phrase, states: tuple[str, ...]) -> model.Phrase:
    """Return `to set`: the state as a word, checked against those of the condition."""
    operands: list[model.Operand] = []
    for given in phrase.operands:
        if not isinstance(given, syntax.Ref):
            ctx.report.add(
                "unknown-name",
                given.span,
                "After `to` stands the name of a state.",
                hint=f"One of: {', '.join(states)}." if states else "",
            )
        elif states and given.name.text not in states:
            ctx.report.unknown(
                given.span,
                given.name.text,
                states,
                f"There is no state {given.name.text} here; there is {', '.join(states)}.",
                otherwise=f"One of: {', '.join(states)}.",
            )
        else:
            operands.append(model.Prose(given.span, (given.name.text,)))
    return model.Phrase(phrase.span, phrase.word, tuple(operands), phrase.joined)


def _check_end(ctx: Context, phrase: syntax.Phrase, end: syntax.Text) -> None:
    """Check `with seal-driver end "32 mm"` against the ends the tool has."""
    for given in phrase.operands:
        named = ctx.scope.get(given.name.text) if isinstance(given, syntax.Ref) else None
        if named is None or named.thing is None or named.kind != "tool":
            continue
        ends = [
            arg.value
            for clause in named.thing.clauses
            if clause.key == "ends"
            for arg in clause.args
            if isinstance(arg, syntax.Text)
        ]
        if end.value not in ends:
            ctx.report.unknown(
                end.span,
                end.value,
                ends,
                f'{named.name} has no end "{end.value}".',
                otherwise=_ends_hint(ends),
                quoted=True,
            )


def _ends_hint(ends: Sequence[str]) -> str:
    if not ends:
        return 'Declare them on the tool: ends "24 mm", "32 mm".'
    listed = ", ".join(f'"{end}"' for end in ends)
    return f"It has: {listed}."
