"""What is taken along to a visit: the lists of its jobs put together."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import sqrt

from compiler.derive.crib import is_run_out
from compiler.derive.doings import Doing, doings
from compiler.derive.lists import (
    Derived,
    OnModel,
    PartLine,
    Reason,
    TimeTotal,
    TorqueLine,
    VisitLists,
)
from compiler.derive.needs import Need, NeedFinder
from compiler.derive.schedule import Task, plan
from compiler.derive.supplies import by_kind
from compiler.derive.tools import Choice, as_sets, choose, tool_lines
from compiler.derive.torques import torque_lines
from compiler.model import AnyThing, Job, Procedure, Visit, World
from compiler.walk.nodes import Walk
from compiler.walk.things import gather_things

WalkKey = tuple[str, str]


@dataclass(frozen=True, slots=True)
class _Done:
    """One job on one model, with its steps and what they need."""

    job: Job
    procedure: Procedure
    walk: Walk
    derived: Derived
    things: Mapping[str, AnyThing]
    steps: tuple[Doing, ...]
    alone: Choice


def visit_lists(
    world: World,
    visit: Visit,
    walks: Mapping[WalkKey, Walk],
    derived: Mapping[WalkKey, Derived],
) -> VisitLists:
    """Return the lists of a visit.

    Tools are laid out for a job on every model it may be on; supplies, times and people of a job
    without a model are counted on the first that is walked.
    """
    all_done = [one for job in visit.jobs for one in _done(world, job, walks, derived)]
    first = list({one.job.id: one for one in reversed(all_done)}.values())[::-1]
    things: dict[str, AnyThing] = {}
    for one in all_done:
        for key, thing in one.things.items():
            things.setdefault(key, thing)
    choice = _choose(things, all_done, visit.day)
    lines = tool_lines(things, choice)
    on_each = tuple(_on_model(world, one, choice, visit.day) for one in all_done)
    return VisitLists(
        tools=lines if world.shop is not None else as_sets(lines),
        parts=_parts(first),
        torques=_torques(on_each, first),
        energies=_each_once(key for one in first for key in one.derived.energies),
        roles=_each_once(key for one in first for key in one.derived.roles),
        time=_time([one.derived.time for one in first]),
        people=max((one.derived.people for one in first), default=1),
        on_models=on_each,
        schedule=plan([_task(one) for one in first], visit.crew) if first else None,
        open_times=tuple(one.job.id for one in first if _is_open(one.derived.time)),
    )


def _task(one: _Done) -> Task:
    """Return a job as a task: one machine has one job at a time, its isolation is not shared."""
    job, time = one.job, one.derived.time
    place = " ".join(filter(None, (job.machine, job.model, job.serial))) if job.machine else ""
    minutes, spread = (time.expected, time.spread) if time is not None else (0.0, 0.0)
    return Task(job.id, minutes, one.derived.people, job.after, place, spread)


def _is_open(time: TimeTotal | None) -> bool:
    return time is None or time.untimed_steps > time.timed_steps


def _done(
    world: World,
    job: Job,
    walks: Mapping[WalkKey, Walk],
    derived: Mapping[WalkKey, Derived],
) -> list[_Done]:
    """Return a job on its model; on every model that is walked when it does not say which."""
    procedure = world.procedures.get(job.procedure)
    if procedure is None:
        return []
    models = [variant.model for variant in procedure.variants]
    found: list[_Done] = []
    for model in [job.model] if job.model in models else models:
        key = procedure.key, model
        if key in walks and key in derived:
            things = gather_things(world, procedure, model)
            steps = doings(walks[key], things)
            alone = choose(things, NeedFinder(things).find(steps))
            found.append(_Done(job, procedure, walks[key], derived[key], things, steps, alone))
    return found


def _choose(things: Mapping[str, AnyThing], done: Sequence[_Done], day: date | None) -> Choice:
    """Return the fewest tools for all jobs, out of those that are in calibration on the day.

    Of sets of one size the one with what the sheets of the jobs name anyway; and each step has the
    tool that its sheet names, if that one comes along.
    """
    needs = {
        replace(need, step_id=_step(one.job, need.step_id)): option
        for one in done
        for need, option in zip(one.alone.needs, one.alone.used, strict=True)
    }
    run_out = {key for key, thing in things.items() if is_run_out(thing, day)}
    named = {line.key: None for one in done for line in one.derived.tools if line.key}
    fit = [_in_calibration(need, run_out) for need in needs]
    return choose(things, fit, tuple(named), tuple(needs.values()))


def _in_calibration(need: Need, run_out: Container[str]) -> Need:
    """Leave out what has run out, unless nothing else would serve."""
    good = tuple(o for o in need.options if not any(key in run_out for key in o))
    return replace(need, options=good or need.options)


def _on_model(world: World, one: _Done, choice: Choice, day: date | None) -> OnModel:
    """Return the torques of one job with the wrenches that the visit takes along.

    A wrench that is another than on the sheet of the job is told, and why.
    """
    here = choice.of_steps(f"{one.job.id}: ")
    lines = torque_lines(one.things, one.steps, here, world.shop)
    on_sheet = {(line.key, line.step_ids, line.target): line.wrench for line in one.derived.torques}
    told: list[TorqueLine] = []
    for line in lines:
        usual = on_sheet.get((line.key, line.step_ids, line.target), "")
        if usual and usual != line.wrench:
            gone = is_run_out(one.things[usual], day)
            line = replace(line, instead_of=usual, is_run_out=gone)
        told.append(line)
    return OnModel(one.job.id, one.walk.model, tuple(told))


def _step(job: Job, step_id: str) -> str:
    return f"{job.id}: {step_id}"


def _reasons(job: Job, reasons: Iterable[Reason]) -> tuple[Reason, ...]:
    return tuple(Reason(_step(job, one.step_id), one.text) for one in reasons)


def _parts(done: Sequence[_Done]) -> tuple[PartLine, ...]:
    """Add up the supplies of all jobs; what has another number or condition is another line.

    Amounts of a fluid are not added: each job takes its own, so each is a line.
    """
    found: dict[tuple[object, ...], PartLine] = {}
    for one in done:
        for line in one.derived.parts:
            alone = one.job.id if line.amount is not None else ""
            key = (line.kind, line.key, line.number, line.only_if, alone)
            reasons = _reasons(one.job, line.reasons)
            known = found.get(key)
            if known is None:
                found[key] = replace(line, reasons=reasons)
            else:
                count = known.count + line.count
                found[key] = replace(known, count=count, reasons=(*known.reasons, *reasons))
    return by_kind(found.values())


def _torques(on_each: Sequence[OnModel], first: Sequence[_Done]) -> tuple[TorqueLine, ...]:
    """Return the torques job by job: the same fastener of two machines is two lines."""
    wanted = {(one.job.id, one.walk.model) for one in first}
    return tuple(
        replace(line, step_ids=tuple(f"{one.job_id}: {step}" for step in line.step_ids))
        for one in on_each
        if (one.job_id, one.model) in wanted
        for line in one.torques
    )


def _each_once(keys: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(keys))


def _time(totals: Sequence[TimeTotal | None]) -> TimeTotal | None:
    known = [total for total in totals if total is not None]
    if not known or len(known) != len(totals):
        return None
    return TimeTotal(
        sum(total.low for total in known),
        sum(total.likely for total in known),
        sum(total.high for total in known),
        sum(total.expected for total in known),
        sum(total.untimed_steps for total in known),
        sum(total.timed_steps for total in known),
        sqrt(sum(total.spread**2 for total in known)),
    )
