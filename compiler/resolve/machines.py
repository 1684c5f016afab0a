"""Machine files: what there is, once for all of a machine's procedures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from compiler import model, syntax
from compiler.resolve.context import Context
from compiler.resolve.declare import declare
from compiler.resolve.designations import HouseTorques
from compiler.resolve.extras import extras
from compiler.resolve.heads import head
from compiler.resolve.models import model_name
from compiler.resolve.scope import Named, Scope, layered
from compiler.resolve.shops import ShopParts
from compiler.resolve.tables import table
from compiler.resolve.things import variants_of


@dataclass(frozen=True, slots=True)
class MachineParts:
    """A resolved machine file, with what its procedures need of it.

    `scope` is only its own names; `things` are its own, by model.
    """

    machine: model.Machine
    file: syntax.File
    scope: Scope
    models: tuple[str, ...]
    things: Mapping[str, Mapping[str, model.AnyThing]]
    tables: Mapping[str, model.Table] = field(default_factory=dict)


def machine(ctx: Context, file: syntax.File, owner: str, shop: ShopParts) -> MachineParts:
    """Return what a machine file says."""
    lines = head(file.head)
    models = _models(ctx, lines.names("models"))
    scope, declared = declare(file, owner, models, ctx.report)
    whole = layered((scope, shop.scope), ctx.report)
    inner = replace(ctx, scope=whole, models=models)
    own = things_by_model(inner, declared, shop.torques)
    tables = tables_of(ctx, file, owner)
    resolved = model.Machine(
        name=file.name.text,
        title=file.title.value if file.title is not None else file.name.text,
        span=file.name.span,
        models=models,
        location=lines.text("location"),
        variants=variants(own, shop, whole),
        extras=extras(inner, file.attachments),
    )
    return MachineParts(resolved, file, scope, models, own, tables)


def _models(ctx: Context, words: Sequence[syntax.Word | syntax.Text]) -> tuple[str, ...]:
    """Return the models of a machine, each once."""
    found: dict[str, syntax.Word | syntax.Text] = {}
    for word in words:
        first = found.setdefault(model_name(word), word)
        if first is not word:
            ctx.report.add(
                "duplicate-name",
                word.span,
                f"The model {model_name(word)} is listed twice.",
                (first.span, "here already"),
                hint="List each model once.",
            )
    return tuple(found)


def things_by_model(
    ctx: Context,
    declared: Sequence[tuple[Named, syntax.Thing]],
    house: HouseTorques,
) -> dict[str, dict[str, model.AnyThing]]:
    """Return the things of each model by key; the model '' when there is none."""
    found: dict[str, dict[str, model.AnyThing]] = {name: {} for name in ctx.models or ("",)}
    for named, thing in declared:
        for name, one in variants_of(ctx, named, thing, house).items():
            found[name][named.key] = one
    return found


def variants(
    own: Mapping[str, Mapping[str, model.AnyThing]],
    shop: ShopParts,
    scope: Scope,
    under: Mapping[str, Mapping[str, model.AnyThing]] | None = None,
) -> tuple[model.Variant, ...]:
    """Return one variant a model: the shop's things, the machine's (`under`), and its own."""
    names = {name: named.key for name, named in scope.names.items() if named.kind != "table"}
    names = dict(sorted(names.items()))
    crib = shop.shop.things if shop.shop is not None else {}
    return tuple(
        model.Variant(name, {**crib, **_layer(under, name), **things}, names)
        for name, things in own.items()
    )


def _layer(
    under: Mapping[str, Mapping[str, model.AnyThing]] | None, name: str
) -> Mapping[str, model.AnyThing]:
    if under is None:
        return {}
    return under.get(name, under.get("", {}))


def tables_of(ctx: Context, file: syntax.File, owner: str) -> dict[str, model.Table]:
    """Return the tables of a file by key; of two with one name, the first."""
    found: dict[str, model.Table] = {}
    for node in file.tables:
        made = table(ctx.report, owner, node)
        found.setdefault(made.key, made)
    return found
