"""The shop file: crib, units, limits, house verbs, house torques, rules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from compiler import model, syntax
from compiler.resolve.address import site_address
from compiler.resolve.context import Context
from compiler.resolve.declare import declare
from compiler.resolve.designations import HouseTorques, house_torques
from compiler.resolve.heads import head
from compiler.resolve.prose import plain_prose
from compiler.resolve.scope import Scope
from compiler.resolve.things import variants_of
from compiler.resolve.values import MASS, known_unit, quantity
from compiler.trade.verbs import VERBS, Verb, house_verb


@dataclass(frozen=True, slots=True)
class ShopParts:
    """A resolved shop file, with what other files need of it."""

    shop: model.Shop | None = None
    scope: Scope = field(default_factory=Scope)
    file: syntax.File | None = None
    torques: HouseTorques = field(default_factory=HouseTorques)
    verbs: dict[str, Verb] = field(default_factory=dict)


def shop(ctx: Context, file: syntax.File, owner: str) -> ShopParts:
    """Return what a shop file says."""
    lines = head(file.head)
    scope, declared = declare(file, owner, (), ctx.report)
    inner = Context(ctx.report, ctx.pictures, scope, ctx.usage)
    torques = house_torques(inner, file.house_torques)
    things: dict[str, model.AnyThing] = {}
    for named, thing in declared:
        found = variants_of(inner, named, thing, torques)
        for one in found.values():
            things[named.key] = one
    limit = lines.arg("lift-limit", syntax.AmountLit)
    verbs = _verbs(ctx, file.house_verbs)
    resolved = model.Shop(
        name=file.name.text,
        title=file.title.value if file.title is not None else file.name.text,
        span=file.name.span,
        things=things,
        units=_units(ctx, lines.args("units", syntax.Word)),
        second_units=_units(ctx, lines.args("second-units", syntax.Word)),
        lift_limit=quantity(ctx.report, limit.low, MASS) if limit is not None else None,
        site=site_address(ctx.report, lines.arg("site", syntax.Text)),
        rules=tuple(rule.text.value for rule in file.rules),
        written=tuple(plain_prose(rule.text) for rule in file.rules),
        verbs=verbs,
        threads=_threads(ctx, lines.arg("threads", syntax.Word)),
        torques=torques.lines,
    )
    return ShopParts(resolved, scope, file, torques, verbs)


_THREADS: dict[str, Literal["dry", "oiled"]] = {"dry": "dry", "oiled": "oiled"}


def _threads(ctx: Context, word: syntax.Word | None) -> Literal["", "dry", "oiled"]:
    """Return how the house leaves threads of which nothing is said."""
    if word is not None and word.text not in _THREADS:
        ctx.report.unknown(
            word.span,
            word.text,
            list(_THREADS),
            f"The threads of a house are dry or oiled, not {word.text}.",
            otherwise="Write: threads dry, or threads oiled.",
        )
    return _THREADS.get(word.text, "") if word is not None else ""


def _units(ctx: Context, words: Sequence[syntax.Word]) -> tuple[str, ...]:
    """Return the units that are known, as the file writes them."""
    return tuple(word.text for word in words if known_unit(ctx.report, word))


def _verbs(ctx: Context, given: Sequence[syntax.HouseVerb]) -> dict[str, Verb]:
    """Return the house verbs by word."""
    found: dict[str, Verb] = {}
    places: dict[str, syntax.Word] = {}
    for line in given:
        word = line.word.text
        if word in VERBS:
            ctx.report.add(
                "duplicate-name",
                line.word.span,
                f"{word} is a verb of the language already.",
                hint="Take the line out, or choose another word.",
            )
            continue
        if word in places:
            ctx.report.add(
                "duplicate-name",
                line.word.span,
                f"{word} is a verb of the house already.",
                (places[word].span, "said here"),
                hint="Keep one of the two lines.",
            )
            continue
        places[word] = line.word
        like = VERBS.get(line.like.text)
        if like is None:
            ctx.report.unknown(
                line.like.span,
                line.like.text,
                sorted(VERBS),
                f"{line.like.text} is no verb of the language.",
                otherwise="Name a verb of the language that has the same effect.",
                rule="unknown-verb",
            )
        found[word] = house_verb(word, like or VERBS["adjust"])
    return dict(sorted(found.items()))
