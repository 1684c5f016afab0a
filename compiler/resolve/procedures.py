"""Procedure files, and the shared blocks of machine and shop files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from compiler import model, syntax
from compiler.resolve.bodies import Bodies
from compiler.resolve.context import Context
from compiler.resolve.declare import declare
from compiler.resolve.ends import check_contradictions, end_state
from compiler.resolve.extras import extras, merged
from compiler.resolve.heads import Head, head
from compiler.resolve.ids import Ids
from compiler.resolve.labels import collect
from compiler.resolve.machines import MachineParts, tables_of, things_by_model, variants
from compiler.resolve.models import model_name, named_models
from compiler.resolve.scope import Scope, layered
from compiler.resolve.shops import ShopParts
from compiler.resolve.values import TIME, amount
from compiler.resolve.work import Follows, Work
from compiler.trade.verbs import Verb


@dataclass(frozen=True, slots=True)
class ProcedureParts:
    """A resolved procedure, its tables, and the names it declares itself."""

    procedure: model.Procedure
    tables: Mapping[str, model.Table]
    scope: Scope


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a procedure file is resolved in."""

    shop: ShopParts
    machines: Mapping[str, MachineParts]
    can_follow: Mapping[str, Follows]
    verbs: Mapping[str, Verb]


def models_of(file: syntax.File, machine: MachineParts | None) -> tuple[str, ...]:
    """Return the models that a procedure serves, without reporting anything."""
    words = head(file.head).names("models")
    named = tuple(dict.fromkeys(model_name(word) for word in words))
    if machine is None:
        return named
    return tuple(m for m in machine.models if m in named) or machine.models


def machine_of(file: syntax.File, machines: Mapping[str, MachineParts]) -> MachineParts | None:
    """Return the machine that a procedure names, without reporting anything."""
    ref = head(file.head).arg("machine", syntax.Ref)
    return machines.get(ref.name.text) if ref is not None else None


def procedure(ctx: Context, file: syntax.File, owner: str, around: Surroundings) -> ProcedureParts:
    """Return what a procedure file says."""
    report = ctx.report
    lines = head(file.head)
    parts = _machine(ctx, lines, around)
    if parts is not None:
        named_models(report, lines.names("models"), parts.models, file.lost_words)
    models = models_of(file, parts)
    own_scope, declared = declare(file, owner, models, report)
    layers = [own_scope, *([parts.scope] if parts is not None else []), around.shop.scope]
    scope = layered(layers, report)
    inner = replace(ctx, scope=scope, models=models)
    own = things_by_model(inner, declared, around.shop.torques)
    tables = tables_of(ctx, file, owner)
    reachable = {**(parts.tables if parts is not None else {}), **tables}
    work = _work(inner, file.body, around, parts.machine.name if parts is not None else "")
    first, body = Bodies(reachable).whole(work, file.body)
    hanging = merged(extras(inner, file.attachments), first)
    due = lines.arg("every", syntax.AmountLit)
    ends = [end for line in file.ends if (end := end_state(inner, line)) is not None]
    check_contradictions(report, ends)
    _check_steps(ctx, file, body)
    resolved = model.Procedure(
        key=file.name.text,
        name=file.name.text,
        title=file.title.value if file.title is not None else file.name.text,
        span=file.name.span,
        file=file.span.file,
        machine=parts.machine.name if parts is not None else "",
        variants=variants(own, around.shop, scope, parts.things if parts is not None else None),
        revision=_revision(ctx, file),
        author=lines.text("author"),
        approved=lines.text("approved"),
        purpose=lines.text("purpose"),
        every=amount(report, due, TIME) if due is not None else None,
        people=hanging.people,
        takes=hanging.takes,
        ends=tuple(ends),
        body=body,
        extras=hanging,
    )
    return ProcedureParts(resolved, tables, own_scope)


def _check_steps(ctx: Context, file: syntax.File, body: tuple[model.Block, ...]) -> None:
    """Warn of a procedure without a step, unless lines of it could not be read."""
    if not body and not file.body and not file.lost_words:
        ctx.report.add(
            "nothing-to-do",
            file.name.span,
            f"{file.name.text} has no steps.",
            hint="Write what is to be done, one step to a line.",
        )


def _machine(ctx: Context, lines: Head, around: Surroundings) -> MachineParts | None:
    ref = lines.arg("machine", syntax.Ref)
    if ref is None:
        return None
    name = ref.name.text
    if name not in around.machines:
        ctx.report.unknown(
            ref.name.span,
            name,
            sorted(around.machines),
            f"There is no machine {name}.",
            otherwise="Put the file that describes it into this folder.",
            rule="missing-machine",
        )
    return around.machines.get(name)


def _revision(ctx: Context, file: syntax.File) -> model.Revision | None:
    line = file.revision
    if line is None:
        if "revision" not in file.lost_words:
            ctx.report.add(
                "missing-revision",
                file.name.span,
                f"{file.name.text} has no revision; nobody could tell an old print from a new one.",
                hint="Write under the first line: revision A 2026-11-20.",
            )
        return None
    change = line.change.value if line.change is not None else ""
    return model.Revision(line.span, line.revision.text, line.day.value, change)


def _work(
    ctx: Context, body: tuple[syntax.Statement, ...], around: Surroundings, machine: str
) -> Work:
    labels = collect(body, ctx.report)
    for record in labels.records.values():
        named = ctx.scope.get(record.name)
        if named is not None and named.kind == "condition":
            ctx.report.add(
                "duplicate-name",
                record.span,
                f"{record.name} is the name of a condition already.",
                (named.span, f"a condition is called {record.name} here"),
                hint="Give one of the two another name.",
            )
    return Work(ctx, labels, Ids(labels.spoken), around.verbs, around.can_follow, machine)


def block(
    ctx: Context,
    node: syntax.BlockDecl,
    file: syntax.File,
    key: str,
    parts: MachineParts | None,
    around: Surroundings,
) -> model.Procedure:
    """Return a shared block of a machine (`parts`) or of the shop as a procedure to follow."""
    layers = [*([parts.scope] if parts is not None else []), around.shop.scope]
    scope = layered(layers, ctx.report)
    models = parts.models if parts is not None else ()
    inner = replace(ctx, scope=scope, models=models)
    work = _work(inner, node.body, around, parts.machine.name if parts is not None else "")
    first, body = Bodies(parts.tables if parts is not None else {}).whole(work, node.body)
    empty: dict[str, dict[str, model.AnyThing]] = {name: {} for name in models or ("",)}
    return model.Procedure(
        key=key,
        name=node.name.text,
        title=node.title.value if node.title is not None else node.name.text.replace("-", " "),
        span=node.name.span,
        file=file.span.file,
        machine=parts.machine.name if parts is not None else "",
        variants=variants(empty, around.shop, scope, parts.things if parts is not None else None),
        people=first.people,
        takes=first.takes,
        body=body,
        extras=first,
        is_block=True,
    )
