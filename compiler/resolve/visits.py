"""Visits: which procedures are done in one stop, on which machine and model, in which order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from compiler import model, syntax
from compiler.resolve.circles import circles, round_in_words
from compiler.resolve.context import Context
from compiler.resolve.extras import extras
from compiler.resolve.heads import Head, head
from compiler.resolve.models import model_name
from compiler.resolve.numbers import whole


@dataclass(frozen=True, slots=True)
class Known:
    """What a visit may name."""

    procedures: Mapping[str, model.Procedure]
    machines: Mapping[str, model.Machine]


def visit(ctx: Context, file: syntax.File, known: Known) -> model.Visit:
    """Return a visit; jobs that name nothing are reported and left out."""
    lines = head(file.head)
    date_line = lines.arg("date", syntax.DateLit)
    crew = lines.arg("crew", syntax.NumberLit)
    ids = _ids(file.jobs)
    jobs: list[model.Job] = []
    for node, job_id in zip(file.jobs, ids, strict=True):
        job = _job(ctx, node, job_id, known, ids)
        if job is not None:
            jobs.append(job)
    if not file.jobs:
        ctx.report.add(
            "count-sanity",
            file.name.span,
            f"The visit {file.name.text} does nothing.",
            hint="Name what is done: do seal-change on transfer-pump.",
        )
    _check_order(ctx, jobs)
    return model.Visit(
        file.name.text,
        file.title.value if file.title is not None else file.name.text,
        file.name.span,
        date_line.value if date_line is not None else None,
        (whole(ctx.report, crew, "The crew", most=100) or 0) if crew is not None else 0,
        tuple(jobs),
        extras(ctx, file.attachments),
    )


def _ids(jobs: Sequence[syntax.Job]) -> list[str]:
    """Return the id of each job: its name, or its procedure's, with a number when that repeats."""
    named = [job.name.text if job.name is not None else "" for job in jobs]
    taken = {name for name in named if name}
    found: list[str] = []
    for job, name in zip(jobs, named, strict=True):
        base = name or job.procedure.name.text
        candidate, number = base, 1
        while candidate in (found if name else (*found, *taken)):
            number += 1
            candidate = f"{base}-{number}"
        found.append(candidate)
    return found


def _job(
    ctx: Context, node: syntax.Job, job_id: str, known: Known, ids: Sequence[str]
) -> model.Job | None:
    lines = head(node.lines)
    machine = _machine(ctx, node, known)
    procedure = _procedure(ctx, node, known)
    if procedure is None:
        return None
    if machine and procedure.machine and machine != procedure.machine and node.machine is not None:
        ctx.report.add(
            "wrong-kind",
            node.machine.span,
            f"{procedure.name} is for {procedure.machine}, not for {machine}.",
            (procedure.span, f"{procedure.name} is here"),
            hint=f"Write: do {procedure.name} on {procedure.machine}.",
        )
    models = tuple(variant.model for variant in procedure.variants if variant.model)
    if not procedure.machine and machine:
        models = known.machines[machine].models
    return model.Job(
        node.span,
        job_id,
        procedure.key,
        machine or procedure.machine,
        _model(ctx, node, lines, procedure, models),
        lines.text("serial"),
        _after(ctx, node, lines, job_id, ids),
    )


def _machine(ctx: Context, node: syntax.Job, known: Known) -> str:
    if node.machine is None:
        return ""
    name = node.machine.name.text
    if name in known.machines:
        return name
    if name not in ctx.scope.lost:
        ctx.report.unknown(
            node.machine.name.span,
            name,
            sorted(known.machines),
            f"There is no machine {name}.",
            otherwise="Put the file that describes it into this folder.",
            rule="missing-machine",
        )
    return ""


def _procedure(ctx: Context, node: syntax.Job, known: Known) -> model.Procedure | None:
    name = node.procedure.name.text
    found = known.procedures.get(name)
    if found is not None and not found.is_block:
        return found
    if name not in ctx.scope.lost:
        names = sorted(p.name for p in known.procedures.values() if not p.is_block)
        ctx.report.unknown(
            node.procedure.name.span,
            name,
            names,
            f"There is no procedure {name}.",
            otherwise="Its file may be missing from this folder.",
        )
    return None


def _model(
    ctx: Context,
    node: syntax.Job,
    lines: Head,
    procedure: model.Procedure,
    models: Sequence[str],
) -> str:
    """Return the model a job is done on; it must be said when there are several."""
    words = lines.names("model")
    if not words:
        if not procedure.machine:
            return ""
        if len(models) > 1:
            ctx.report.add(
                "unknown-model",
                node.span,
                f"{procedure.name} is for {', '.join(models)}; which one is it here?",
                hint=f"Write on the line below, indented: model {models[0]}.",
            )
        return models[0] if models else ""
    name = model_name(words[0])
    if name in models:
        return name
    ctx.report.unknown(
        words[0].span,
        name,
        models,
        f"{procedure.name} is not for a model {name}.",
        otherwise=f"It is for {', '.join(models)}." if models else "Its machine has no models.",
        rule="unknown-model",
    )
    return models[0] if models else ""


def _after(
    ctx: Context, node: syntax.Job, lines: Head, job_id: str, ids: Sequence[str]
) -> tuple[str, ...]:
    """Return the jobs that must be done before this one."""
    found: list[str] = []
    for ref in lines.args("after", syntax.Ref):
        name = ref.name.text
        if name not in ids or name == job_id:
            ctx.report.unknown(
                ref.name.span,
                name,
                [other for other in ids if other != job_id],
                f"No other job of this visit is called {name}.",
                otherwise="A job is called as its procedure, or as `as NAME` says.",
            )
        else:
            found.append(name)
    return tuple(dict.fromkeys(found))


def _check_order(ctx: Context, jobs: Sequence[model.Job]) -> None:
    """Report jobs that wait for each other."""
    by_id = {job.id: job for job in jobs}
    for circle in circles({job.id: job.after for job in jobs}):
        ring = [by_id[name] for name in circle if name in by_id]
        if not ring:
            continue
        ctx.report.add(
            "circular-follow",
            ring[0].span,
            f"{round_in_words(circle, 'waits for')}: none of them can begin.",
            *((job.span, f"{job.id} is here") for job in ring[1:]),
            hint="Take one of the `after` lines out.",
        )
