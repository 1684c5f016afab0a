"""Words that come from the lists of the trade: hazards, protective equipment, kinds of energy."""

from __future__ import annotations

from collections.abc import Iterable

from compiler import syntax
from compiler.resolve.context import Context
from compiler.trade.safety import ENERGIES, HAZARDS, PROTECTION
from compiler.trade.tools import KINDS


def hazard_word(ctx: Context, word: syntax.Word) -> str:
    """Return a hazard word, '' (and a finding) when there is no such hazard."""
    return known(ctx, word, HAZARDS, "hazard")


def protection_word(ctx: Context, word: syntax.Word) -> str:
    """Return a word for protective equipment, '' (and a finding) when there is none."""
    return known(ctx, word, PROTECTION, "protective equipment")


def energy_word(ctx: Context, thing: syntax.Thing) -> str:
    """Return the kind of an energy; a missing one was reported when the file was read."""
    word = thing.kind_word
    return known(ctx, word, ENERGIES, "kind of energy") if word is not None else ""


def tool_word(ctx: Context, thing: syntax.Thing) -> str:
    """Return the kind of a tool, `special` (and a finding) when there is no such kind."""
    word = thing.kind_word
    return (known(ctx, word, KINDS, "kind of tool") if word is not None else "") or "special"


def known(ctx: Context, word: syntax.Word, words: Iterable[str], what: str) -> str:
    """Return the word if it is on the list, '' with a finding otherwise."""
    listed = list(words)
    if word.text in listed:
        return word.text
    if word.text not in ctx.scope.lost:
        ctx.report.unknown(
            word.span,
            word.text,
            listed,
            f"{word.text} is no {what} that is known here.",
            otherwise=_listing(listed, of_all=what == "hazard"),
        )
    return ""


_SHOWN = 12


def _listing(words: list[str], of_all: bool) -> str:
    """Return the words there are, or how to go on when they are many and not `of_all` is told."""
    if "special" in words:
        return "A tool that is one of a kind is `special`; the language page lists the others."
    shown = words if of_all else words[:_SHOWN]
    more = " and more" if len(words) > len(shown) else ""
    return f"There is: {', '.join(shown)}{more}."
