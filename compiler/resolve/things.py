"""Makes the things of the model from declarations, as they are on one model of the machine."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from compiler import model, syntax
from compiler.resolve import arguments as args
from compiler.resolve.clauses import Clauses, checked
from compiler.resolve.context import Context
from compiler.resolve.designations import HouseTorques
from compiler.resolve.extras import extras
from compiler.resolve.fasteners import fastener
from compiler.resolve.fields import Common
from compiler.resolve.prose import prose
from compiler.resolve.scope import Kind, Named
from compiler.resolve.stacks import by_models
from compiler.resolve.tools import tool
from compiler.resolve.values import ANGLE, ANYTHING, HEIGHT, LENGTH, MASS, VOLUME_OR_MASS
from compiler.resolve.words import energy_word
from compiler.source import Span

_PART: frozenset[Kind] = frozenset(("part",))
_PLACE: frozenset[Kind] = frozenset(("place",))
_PART_OR_PLACE: frozenset[Kind] = frozenset(("part", "place"))
_BEHIND: frozenset[Kind] = frozenset(("part", "connection"))
_ENERGY: frozenset[Kind] = frozenset(("energy",))
_INSIDE: frozenset[Kind] = frozenset(("energy", "fluid"))
_JOINED: frozenset[Kind] = frozenset(("part", "place", "energy"))


def variants_of(
    ctx: Context, named: Named, thing: syntax.Thing, house: HouseTorques
) -> Mapping[str, model.AnyThing]:
    """Return the thing for each model in `ctx.models` that has it; the key '' when there is none.

    Models without values of their own share one object.
    """
    own = ctx.for_thing(named.key).for_models(named.models or ctx.models)
    base = checked(ctx.report, thing.clauses)
    plain: model.AnyThing | None = None
    found: dict[str, model.AnyThing] = {}
    others = _other_values(own, named, thing)
    uneven = _names_what_some_lack(ctx, base)
    apart = by_models(own, thing)
    for model_name in ctx.models or ("",):
        if named.models and model_name not in named.models:
            continue
        if model_name in others or (model_name and (uneven or apart)):
            clauses = base.with_others(others.get(model_name, ()))
            here, there = own.for_models((model_name,)), apart.get(model_name, thing)
            found[model_name] = _build(here, named, there, clauses, house)
        else:
            plain = plain or _build(own, named, thing, base, house)
            found[model_name] = plain
    return found


def _names_what_some_lack(ctx: Context, clauses: Clauses) -> bool:
    """Return whether the clauses name a thing that not every model has."""
    refs = (arg for clause in clauses.items for arg in clause.args if isinstance(arg, syntax.Ref))
    found = (ctx.scope.get(ref.name.text) for ref in refs)
    return any(named is not None and named.models for named in found)


def _other_values(
    ctx: Context, named: Named, thing: syntax.Thing
) -> dict[str, tuple[syntax.Clause, ...]]:
    """Return the clauses that hold for single models only."""
    from compiler.resolve.models import named_models

    found: dict[str, tuple[syntax.Clause, ...]] = {}
    for line in thing.overrides:
        clauses = checked(ctx.report, line.clauses).items
        for name in named_models(ctx.report, line.models, ctx.models, ctx.scope.lost):
            found[name] = (*found.get(name, ()), *clauses)
    return found


def _build(
    ctx: Context,
    named: Named,
    thing: syntax.Thing,
    clauses: Clauses,
    house: HouseTorques,
) -> model.AnyThing:
    common = Common(
        key=named.key,
        name=named.name,
        label=thing.label.value if thing.label is not None else named.name.replace("-", " "),
        span=thing.name.span,
        owner=named.owner,
        members=named.members,
        count=args.count_of(ctx, clauses),
        number=clauses.text("number"),
        formerly=clauses.texts("formerly"),
        renew=clauses.has("renew"),
        extras=extras(ctx, thing.attachments),
    )
    if named.kind == "fastener":
        return fastener(ctx, thing, clauses, house, common)
    if named.kind == "tool":
        return tool(ctx, thing, clauses, common)
    return _MAKERS[thing.kind](ctx, thing, clauses, common)


def _energy(ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common) -> model.AnyThing:
    level = args.amount_of(ctx, clauses, "amount", ANYTHING)
    return model.Energy(
        kind=energy_word(ctx, thing),
        level=level,
        text=prose(ctx, thing.label) if thing.label is not None else None,
        isolate_at=args.texts(ctx, clauses, "isolate-at"),
        release=args.texts(ctx, clauses, "release"),
        verify=args.texts(ctx, clauses, "verify"),
        restore=args.texts(ctx, clauses, "restore"),
        **common,
    )


def _condition(
    ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common
) -> model.AnyThing:
    states: dict[str, model.Prose | None] = {}
    first: dict[str, Span] = {}
    for state in thing.states:
        name = state.name.text
        if name in states:
            ctx.report.add(
                "duplicate-name",
                state.name.span,
                f"{common['name']} has a state {name} already.",
                (first[name], "this one"),
                hint="Give each state a word of its own.",
            )
            continue
        first[name] = state.name.span
        states[name] = prose(ctx, state.by) if state.by is not None else None
    return model.Condition(states=tuple(states.items()), **common)


def _place(ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common) -> model.AnyThing:
    return model.Place(**common)


def _grasp(clauses: Clauses) -> model.Grasp:
    return "good" if clauses.has("good-grasp") else "fair" if clauses.has("fair-grasp") else "poor"


def _part(ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common) -> model.AnyThing:
    return model.Part(
        mass=args.amount_of(ctx, clauses, "mass", MASS),
        without=args.refs(ctx, clauses, "without", _PART),
        behind=args.refs(ctx, clauses, "behind", _BEHIND),
        on=args.one_ref(ctx, clauses, "on", _PART),
        guards=args.keys(ctx, clauses, "guards", _ENERGY),
        contains=args.keys(ctx, clauses, "contains", _INSIDE),
        at=args.one_ref(ctx, clauses, "at", _PLACE),
        matched_with=args.refs(ctx, clauses, "matched-with", _PART),
        made_to_fit=clauses.has("made-to-fit"),
        spare_for=args.one_ref(ctx, clauses, "spare-for", _PART),
        lifted=args.amount_of(ctx, clauses, "lifted", HEIGHT),
        hands_out=args.amount_of(ctx, clauses, "hands-out", LENGTH),
        turned=args.amount_of(ctx, clauses, "turned", ANGLE),
        grasp=_grasp(clauses),
        **common,
    )


def _fluid(ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common) -> model.AnyThing:
    return model.Fluid(
        amount=args.amount_of(ctx, clauses, "amount", VOLUME_OR_MASS),
        within=args.one_ref(ctx, clauses, "in", _PART),
        **common,
    )


_LINES: Mapping[str, Literal["cable", "hose", "pipe"]] = {
    "cable": "cable",
    "hose": "hose",
    "pipe": "pipe",
}


def _connection(
    ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common
) -> model.AnyThing:
    word = thing.kind_word
    kind = _LINES.get(word.text) if word is not None else None
    if kind is None and word is not None:  # a missing word was reported when the file was read
        ctx.report.unknown(
            word.span,
            word.text,
            list(_LINES),
            f"{common['name']} needs to be a cable, a hose or a pipe.",
            otherwise="Write which one after the name.",
        )
    carries = args.keys(ctx, clauses, "carries", _INSIDE)
    return model.Connection(
        kind=kind or "cable",
        marked=clauses.text("marked"),
        joins=args.refs(ctx, clauses, "joins", _JOINED),
        carries=carries[0] if carries else "",
        behind=args.refs(ctx, clauses, "behind", _BEHIND),
        contains=args.keys(ctx, clauses, "contains", _INSIDE),
        at=args.one_ref(ctx, clauses, "at", _PLACE),
        length=args.amount_of(ctx, clauses, "length", LENGTH),
        **common,
    )


def _consumable(
    ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common
) -> model.AnyThing:
    return model.Consumable(amount=args.amount_of(ctx, clauses, "amount", ANYTHING), **common)


def _aid(ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common) -> model.AnyThing:
    return model.Aid(
        at=args.one_ref(ctx, clauses, "at", _PART_OR_PLACE),
        mass=args.amount_of(ctx, clauses, "mass", MASS),
        tag=clauses.text("tag"),
        lifts=args.quantity_of(ctx, clauses, "lifts", MASS),
        **common,
    )


def _role(ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common) -> model.AnyThing:
    return model.Role(signs=clauses.has("signs"), **common)


_Maker = Callable[[Context, syntax.Thing, Clauses, Common], model.AnyThing]
_MAKERS: Mapping[syntax.ThingKind, _Maker] = {
    "energy": _energy,
    "condition": _condition,
    "place": _place,
    "part": _part,
    "fluid": _fluid,
    "connection": _connection,
    "consumable": _consumable,
    "aid": _aid,
    "role": _role,
}
