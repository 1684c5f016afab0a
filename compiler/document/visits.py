"""Pages of visits: several jobs in one stop, with all that has to be taken along."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from compiler.derive.lists import TimeTotal, ToolLine
from compiler.derive.tools import together
from compiler.document.context import Context
from compiler.document.digest import content_digest
from compiler.document.model import (
    Document,
    JobView,
    ProcedureRow,
    SupplyView,
    ToolView,
    TorqueRow,
    VisitPage,
    WearView,
    WhyView,
)
from compiler.document.numbers import numbers_of
from compiler.document.panels import clip_views, panels, picture_views, text_lines, wear_views
from compiler.document.rows import tool_view, whys_of
from compiler.model import Job, Visit, World
from compiler.wording.times import total_text
from compiler.wording.totals import add_quantities
from compiler.wording.voice import Voice

AllContexts = Mapping[str, Mapping[str, Context]]


def visit_pages(
    world: World,
    contexts: AllContexts,
    documents: Mapping[str, Document],
    rows: Mapping[str, ProcedureRow],
) -> tuple[VisitPage, ...]:
    """Return one page a visit, sorted by id."""
    made = [_page(world, visit, contexts, documents, rows) for visit in world.visits.values()]
    return tuple(sorted(made, key=lambda page: page.id))


def _page(
    world: World,
    visit: Visit,
    contexts: AllContexts,
    documents: Mapping[str, Document],
    rows: Mapping[str, ProcedureRow],
) -> VisitPage:
    jobs = [job for job in visit.jobs if job.procedure in documents]
    numbers = {job.id: at for at, job in enumerate(jobs, 1)}
    views = tuple(_job(world, job, numbers, rows[job.procedure]) for job in jobs)
    done = [(numbers[job.id], job, documents[job.procedure]) for job in jobs]
    shop = world.shop
    voice, extras = Voice({}), visit.extras
    page = VisitPage(
        id=visit.name,
        title=visit.title,
        day=visit.day.isoformat() if visit.day is not None else "",
        crew=visit.crew,
        jobs=views,
        time_text=_time(jobs, contexts),
        wear=_wear(visit, [document for _, _, document in done]),
        tools=_tools(done, contexts),
        supplies=_supplies(done),
        torques=_torques(done),
        notes=text_lines(voice, extras.notes),
        rules=shop.rules if shop is not None else (),
        digest="",
        shop_title=shop.title if shop is not None else "",
        safety=panels(voice, extras.safety),
        whys=text_lines(voice, extras.whys),
        pictures=picture_views(voice, extras.pictures),
        clips=clip_views(voice, extras.clips),
    )
    return replace(page, digest=content_digest(page))


Done = Sequence[tuple[int, Job, Document]]


def _job(world: World, job: Job, numbers: Mapping[str, int], row: ProcedureRow) -> JobView:
    machine = world.machines.get(job.machine)
    title = machine.title if machine is not None else row.machine_title
    after = tuple(sorted(numbers[id] for id in job.after if id in numbers))
    return JobView(numbers[job.id], row, title, job.model, job.serial, after)


def _time(jobs: Sequence[Job], contexts: AllContexts) -> str:
    """Return the sum of the jobs' times; '' when any of them gives none."""
    totals: list[TimeTotal] = []
    for job in jobs:
        found = _on_model(contexts[job.procedure], job)[:1]
        totals += [ctx.derived.time for ctx in found if ctx.derived.time is not None]
    if not totals or len(totals) != len(jobs):
        return ""
    return total_text(
        TimeTotal(
            low=sum(total.low for total in totals),
            likely=sum(total.likely for total in totals),
            high=sum(total.high for total in totals),
            expected=sum(total.expected for total in totals),
            untimed_steps=0,
        )
    )


def _on_model(found: Mapping[str, Context], job: Job) -> list[Context]:
    """Return the contexts of a job: the one of its model, all of them when no model is named."""
    return [found[job.model]] if job.model in found else list(found.values())


def _wear(visit: Visit, documents: Sequence[Document]) -> tuple[WearView, ...]:
    of_jobs = (view for document in documents for view in document.wear)
    return tuple(dict.fromkeys((*wear_views(visit.extras.wear), *of_jobs)))


def _is_on(models: Sequence[str], job: Job) -> bool:
    return not models or not job.model or job.model in models


def _why(number: int, why: WhyView) -> WhyView:
    """Return a reason of a job as one of the visit: the step number has the job's in front."""
    step = f"{number}: {why.step_number}" if why.step_number else str(number)
    return WhyView(why.text, "", step, str(number))


def _tools(done: Done, contexts: AllContexts) -> tuple[ToolView, ...]:
    """Return every tool once: one of it serves job after job, so the largest count is enough.

    A set is one line with the sizes that all jobs together take out of it.
    """
    found: dict[str, tuple[Context, ToolLine, dict[WhyView, None]]] = {}
    for number, job, document in done:
        numbers = numbers_of(document.body)
        for ctx in _on_model(contexts[job.procedure], job):
            for line in ctx.derived.tools:
                whys = [_why(number, why) for why in whys_of(ctx, line.reasons, numbers)]
                # What nothing in the crib serves is told apart by what is needed.
                _, known, told = found.get(line.key or line.need, (ctx, line, {}))
                both = together(ctx.voice.thing(line.key), known, line)
                found[line.key or line.need] = ctx, both, {**told, **dict.fromkeys(whys)}
    return tuple(
        replace(tool_view(ctx, line), whys=tuple(whys)) for ctx, line, whys in found.values()
    )


def _supplies(done: Done) -> tuple[SupplyView, ...]:
    """Return every part and supply once, quantities added up where they can be."""
    found: dict[tuple[str, str, str, str], SupplyView] = {}
    for number, job, document in done:
        for supply in document.supplies:
            if not _is_on(supply.models, job):
                continue
            key = (supply.kind, supply.text, supply.number, supply.condition)
            whys = tuple(_why(number, why) for why in supply.whys)
            known = found.get(key)
            if known is None:
                found[key] = replace(supply, models=(), whys=whys)
                continue
            quantity = add_quantities(known.quantity, supply.quantity)
            found[key] = replace(known, quantity=quantity, whys=(*known.whys, *whys))
    return tuple(found.values())


def _torques(done: Done) -> tuple[TorqueRow, ...]:
    made: list[TorqueRow] = []
    for number, job, document in done:
        for row in document.torques:
            if _is_on(row.models, job):
                steps = tuple(f"{number}: {step}" for step in row.step_numbers)
                made.append(replace(row, models=(), step_numbers=steps))
    return tuple(made)
