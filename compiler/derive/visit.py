"""What is taken along to a visit: the lists of its jobs put together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from compiler.derive.doings import doings
from compiler.derive.lists import (
    Derived,
    PartLine,
    Reason,
    TimeTotal,
    TorqueLine,
    VisitLists,
)
from compiler.derive.needs import Need, NeedFinder
from compiler.derive.supplies import by_kind
from compiler.derive.tools import choose, tool_lines
from compiler.model import AnyThing, Job, Procedure, Visit, World
from compiler.walk.nodes import Walk
from compiler.walk.things import gather_things

WalkKey = tuple[str, str]


@dataclass(frozen=True, slots=True)
class _Done:
    """One job on one model."""

    job: Job
    procedure: Procedure
    walk: Walk
    derived: Derived


def visit_lists(
    world: World,
    visit: Visit,
    walks: Mapping[WalkKey, Walk],
    derived: Mapping[WalkKey, Derived],
) -> VisitLists:
    """Return the lists of a visit. A job without a model is counted on the first that is walked."""
    done = [one for job in visit.jobs if (one := _done(world, job, walks, derived)) is not None]
    things, needs = _needs(world, done)
    return VisitLists(
        tools=tool_lines(things, choose(things, needs)),
        parts=_parts(done),
        torques=_torques(done),
        energies=_each_once(key for one in done for key in one.derived.energies),
        roles=_each_once(key for one in done for key in one.derived.roles),
        time=_time([one.derived.time for one in done]),
        people=max((one.derived.people for one in done), default=1),
    )


def _done(
    world: World,
    job: Job,
    walks: Mapping[WalkKey, Walk],
    derived: Mapping[WalkKey, Derived],
) -> _Done | None:
    procedure = world.procedures.get(job.procedure)
    if procedure is None:
        return None
    for model in (job.model, *(variant.model for variant in procedure.variants)):
        key = procedure.key, model
        if key in walks and key in derived:
            return _Done(job, procedure, walks[key], derived[key])
    return None


def _needs(world: World, done: Sequence[_Done]) -> tuple[dict[str, AnyThing], list[Need]]:
    """Return the needs of all jobs; together they may take fewer tools than each for itself."""
    all_things: dict[str, AnyThing] = {}
    needs: list[Need] = []
    for one in done:
        things = gather_things(world, one.procedure, one.walk.model)
        found = NeedFinder(things).find(doings(one.walk, things))
        needs += [replace(need, step_id=_step(one.job, need.step_id)) for need in found]
        for key, thing in things.items():
            all_things.setdefault(key, thing)
    return all_things, needs


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


def _torques(done: Sequence[_Done]) -> tuple[TorqueLine, ...]:
    """Return the torques job by job: the same fastener of two machines is two lines."""
    return tuple(
        replace(line, step_ids=tuple(_step(one.job, step) for step in line.step_ids))
        for one in done
        for line in one.derived.torques
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
    )
