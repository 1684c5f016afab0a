"""Pages of visits: several jobs in one stop, with all that has to be taken along."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from compiler.derive import derive_visit
from compiler.derive.lists import Derived, Reason, VisitLists
from compiler.document.context import Context, make_voice
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
from compiler.document.rows import tool_view, torque_rows
from compiler.document.schedules import plan_view
from compiler.model import Job, Visit, World
from compiler.walk.nodes import Walk
from compiler.wording.times import total_text
from compiler.wording.totals import add_quantities
from compiler.wording.values import minutes_text
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
    lists = _lists(world, visit, contexts)
    page = VisitPage(
        id=visit.name,
        title=visit.title,
        day=visit.day.isoformat() if visit.day is not None else "",
        crew=visit.crew,
        jobs=views,
        time_text=_time(lists),
        wear=_wear(visit, [document for _, _, document in done]),
        tools=_tools(lists, done, contexts),
        supplies=_supplies(done),
        torques=_torques(lists, done, contexts),
        notes=text_lines(voice, extras.notes),
        rules=shop.rules if shop is not None else (),
        digest="",
        shop_title=shop.title if shop is not None else "",
        safety=panels(voice, extras.safety),
        whys=text_lines(voice, extras.whys),
        pictures=picture_views(voice, extras.pictures),
        clips=clip_views(voice, extras.clips),
        plan=plan_view(lists, dict(zip((job.id for job in jobs), views, strict=True))),
    )
    return replace(page, digest=content_digest(page))


Done = Sequence[tuple[int, Job, Document]]


def _job(world: World, job: Job, numbers: Mapping[str, int], row: ProcedureRow) -> JobView:
    machine = world.machines.get(job.machine)
    title = machine.title if machine is not None else row.machine_title
    after = tuple(sorted(numbers[id] for id in job.after if id in numbers))
    return JobView(numbers[job.id], row, title, job.model, job.serial, after)


def _time(lists: VisitLists) -> str:
    """Return the sum of the jobs' times; '' when any of them gives none.

    Where a job gives too few times, only the least of what all give is sure.
    """
    if lists.time is None:
        return ""
    if lists.open_times and lists.time.low:
        return f"at least {minutes_text(lists.time.low)}"
    return total_text(lists.time)


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


def _lists(world: World, visit: Visit, contexts: AllContexts) -> VisitLists:
    on_all = [ctx for on_models in contexts.values() for ctx in on_models.values()]
    walks: dict[tuple[str, str], Walk] = {}
    derived: dict[tuple[str, str], Derived] = {}
    for ctx in on_all:
        walks[ctx.procedure.key, ctx.variant.model] = ctx.walk
        derived[ctx.procedure.key, ctx.variant.model] = ctx.derived
    return derive_visit(world, visit, walks, derived)


def _tools(lists: VisitLists, done: Done, contexts: AllContexts) -> tuple[ToolView, ...]:
    """Return the fewest tools for all jobs, each once, with the jobs and steps that need it."""
    all_models = [ctx for _, job, _ in done for ctx in _on_model(contexts[job.procedure], job)]
    if not all_models:
        return ()
    things = {key: one for ctx in reversed(all_models) for key, one in ctx.voice.things.items()}
    ctx = all_models[0]
    # A tool of one job may do as well as one of another: all are known by name.
    any_job = replace(ctx, voice=make_voice(ctx.world, things, ""))
    whys = _Whys(done, contexts)
    return tuple(
        replace(tool_view(any_job, line), whys=whys.of(line.reasons)) for line in lists.tools
    )


class _Whys:
    """Puts the reasons of a visit's tools into words: `2: 4.1` is step 4.1 of job 2."""

    def __init__(self, done: Done, contexts: AllContexts) -> None:
        self._jobs = {
            job.id: (
                number,
                tuple(_on_model(contexts[job.procedure], job)),
                numbers_of(document.body),
            )
            for number, job, document in done
        }

    def of(self, reasons: Sequence[Reason]) -> tuple[WhyView, ...]:
        """Return reasons with the numbers of jobs and steps, each once."""
        made: dict[WhyView, None] = {}
        for reason in reasons:
            job_id, _, step_id = reason.step_id.partition(": ")
            number, contexts, numbers = self._jobs[job_id]
            shown = (ctx.shown_id(step_id) for ctx in contexts)
            step = next((numbers[id] for id in shown if id in numbers), "")
            made[_why(number, WhyView(reason.text, "", step))] = None
        return tuple(made)


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


def _torques(lists: VisitLists, done: Done, contexts: AllContexts) -> tuple[TorqueRow, ...]:
    """Return the torques job by job, each with the wrench that the visit takes along."""
    made: list[TorqueRow] = []
    for number, job, document in done:
        torques = {one.model: one.torques for one in lists.on_models if one.job_id == job.id}
        on_models = {
            model: replace(ctx, derived=replace(ctx.derived, torques=torques[model]))
            for model, ctx in contexts[job.procedure].items()
            if model in torques
        }
        for row in torque_rows(on_models, numbers_of(document.body)):
            steps = tuple(f"{number}: {step}" for step in row.step_numbers)
            made.append(replace(row, models=(), step_numbers=steps))
    return tuple(made)
