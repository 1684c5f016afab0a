"""From the syntax of all files to the model of the whole folder."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler import model, syntax
from compiler.findings.model import Finding
from compiler.resolve.circles import check_follow, check_things
from compiler.resolve.context import Context
from compiler.resolve.counts import check_counts
from compiler.resolve.elsewhere import folder_of
from compiler.resolve.follows import blocks_to_follow, first_blocks, procedures_to_follow
from compiler.resolve.machines import MachineParts, machine
from compiler.resolve.pictures import PictureProbe
from compiler.resolve.procedures import (
    ProcedureParts,
    Surroundings,
    block,
    machine_of,
    procedure,
)
from compiler.resolve.report import Report
from compiler.resolve.scope import Scope
from compiler.resolve.shops import ShopParts, shop
from compiler.resolve.unused import check_unused
from compiler.resolve.visits import Known, visit
from compiler.resolve.work import Follows

Files = dict[str, syntax.File]


def resolve(
    files: Sequence[syntax.File], pictures: PictureProbe
) -> tuple[model.World, tuple[Finding, ...]]:
    """Return the model of a folder and what is wrong with it.

    `files` is the syntax of every file, in any order; `pictures` tells of the files that picture
    and clip lines name. The model is as complete as the findings allow. Never raises for what an
    author wrote.
    """
    report = Report()
    ordered = sorted(files, key=lambda file: (file.span.file, file.span.start))
    world = _world(report, pictures, ordered)
    return world, report.findings()


def _world(report: Report, pictures: PictureProbe, files: Sequence[syntax.File]) -> model.World:
    """Resolve shop, machines, procedures and visits, each with what the ones before gave."""
    lost = frozenset[str]().union(*(file.lost_words for file in files))
    ctx = Context(report, pictures, Scope({}, lost), folder=folder_of(files))
    kinds = _by_kind(report, files)
    crib = _shop(ctx, kinds["shop"])
    homes = {name: machine(ctx, file, name, crib) for name, file in kinds["machine"].items()}
    parts, procedures = _procedures(ctx, kinds["procedure"], homes, crib)
    machines = {name: home.machine for name, home in homes.items()}
    known = Known(procedures, machines)
    visits = {name: visit(ctx, file, known) for name, file in kinds["visit"].items()}
    check_follow(procedures, report)
    variants = [v for found in machines.values() for v in found.variants]
    variants += [v for part in parts.values() if part.scope.names for v in part.procedure.variants]
    for variant in variants:
        check_things(variant.things, report)
        check_counts(variant.things, report)
    check_unused(ctx, homes, parts, procedures)
    tables = {key: table for home in homes.values() for key, table in home.tables.items()}
    tables |= {key: table for part in parts.values() for key, table in part.tables.items()}
    return model.World(
        machines=dict(sorted(machines.items())),
        procedures=dict(sorted(procedures.items())),
        visits=dict(sorted(visits.items())),
        shop=crib.shop,
        tables=dict(sorted(tables.items())),
    )


def _by_kind(report: Report, files: Sequence[syntax.File]) -> dict[str, Files]:
    """Return the files by kind and name; of two with one name, the first."""
    kinds: dict[str, Files] = {kind: {} for kind in ("shop", "machine", "procedure", "visit")}
    for file in files:
        first = kinds[file.kind].setdefault(file.name.text, file)
        if first is not file:
            report.add(
                "duplicate-name",
                file.name.span,
                f"There is a {file.kind} called {file.name.text} already.",
                (first.name.span, f"the {file.kind} {first.name.text}"),
                hint="Give one of the two another name, or take the copy away.",
            )
    return kinds


def _shop(ctx: Context, shops: Mapping[str, syntax.File]) -> ShopParts:
    """Return the shop; a second shop file is reported and left out."""
    if not shops:
        return ShopParts()
    first, *others = shops.values()
    for other in others:
        ctx.report.add(
            "duplicate-name",
            other.name.span,
            "A folder has one shop file, and this is a second one.",
            (first.name.span, f"the shop {first.name.text}"),
            hint="Put both into one file.",
        )
    return shop(ctx, first, first.name.text)


def _procedures(
    ctx: Context,
    files: Mapping[str, syntax.File],
    homes: Mapping[str, MachineParts],
    crib: ShopParts,
) -> tuple[dict[str, ProcedureParts], dict[str, model.Procedure]]:
    """Return what comes of each procedure file, and all procedures and blocks by key."""
    common = procedures_to_follow(files, homes)
    common |= blocks_to_follow(crib.file, "", common, ctx.report)
    from_machine: dict[str, dict[str, Follows]] = {
        name: {**common, **blocks_to_follow(home.file, name, common, ctx.report)}
        for name, home in homes.items()
    }
    found: dict[str, model.Procedure] = {}
    around = Surroundings(crib, homes, common, crib.verbs)
    _blocks(ctx, crib.file, None, around, found)
    for name, home in homes.items():
        around = Surroundings(crib, homes, from_machine[name], crib.verbs)
        _blocks(ctx, home.file, home, around, found)
    parts: dict[str, ProcedureParts] = {}
    for name, file in files.items():
        machine_parts = machine_of(file, homes)
        own = machine_parts.machine.name if machine_parts is not None else ""
        around = Surroundings(crib, homes, from_machine.get(own, common), crib.verbs)
        owner = f"{name}.procedure" if name in homes else name
        parts[name] = procedure(ctx, file, owner, around)
        found[name] = parts[name].procedure
    return parts, found


def _blocks(
    ctx: Context,
    file: syntax.File | None,
    home: MachineParts | None,
    around: Surroundings,
    found: dict[str, model.Procedure],
) -> None:
    """Add the shared blocks of a file to the procedures."""
    for node in first_blocks(file):
        assert file is not None, "a block stands in a file"
        key = f"{file.name.text}/{node.name.text}"
        found[key] = block(ctx, node, file, key, home, around)
