"""Steps that come to a whole section: `follow`, `refit` and `reach`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from compiler.findings.model import Label
from compiler.model import (
    ActionStep,
    Energy,
    Extras,
    FollowStep,
    Procedure,
    RefitStep,
    Selection,
    Step,
)
from compiler.trade.verbs import Effect
from compiler.walk import bind
from compiler.walk.assembly import Unit
from compiler.walk.deeds import Deeds
from compiler.walk.effects import write_out
from compiler.walk.frame import Frame, slug
from compiler.walk.nodes import Node, Origin, SectionNode, StepNode, Target
from compiler.walk.reach import Blocked, shortest_way
from compiler.walk.size import half_of
from compiler.walk.start import initial_state
from compiler.walk.state import State, Status
from compiler.walk.steps import mean
from compiler.walk.walker import Outcome, Record, Walker, with_things
from compiler.walk.wayback import Entry, Job, fitting_extras, plan, undoes_anything, write_job


def expand(walker: Walker, frame: Frame, state: State, step: Step) -> Outcome | None:
    """Write out a step that comes to a whole section; None for any other step."""
    if isinstance(step, FollowStep):
        return follow(walker, frame, state, step)
    if isinstance(step, RefitStep):
        return refit(walker, frame, state, step)
    if isinstance(step, ActionStep) and step.verb.effect is Effect.REACH:
        return reach(walker, frame, state, step)
    return None


# --- follow -----------------------------------------------------------------------------------


def follow(walker: Walker, frame: Frame, state: State, step: FollowStep) -> Outcome:
    """Walk another procedure here, whole or half; a way back that is not written is worked out."""
    called = walker.world.procedures.get(step.target)
    if called is None or called.key in frame.stack or not walker.fits_in(step, frame, step.span):
        return Outcome((), state)
    node_id = walker.unique(frame.id(step.id))
    inner = _inside(frame, step, called)
    body = half_of(called, step.half)
    back = step.half == "way back"
    if back and (called.key, "") not in walker.records:
        _rehearse(walker, inner, called)
    if back and not body:
        record = walker.records[called.key, ""]
        outcome = _undone(walker, inner, state, step, record, "way-back", whole=True)
    elif back:
        outcome = walker.body(inner, state, body)
    else:
        outcome = walker.procedure(inner, state, body)
    extras = _called_extras(bind.extras(step.extras, frame.loops), called, step.half)
    node = SectionNode(node_id, called.title, outcome.nodes, extras, inner.origin, back)
    return replace(outcome, nodes=(node,))


def _inside(frame: Frame, step: FollowStep, called: Procedure) -> Frame:
    return replace(
        frame,
        procedure=called,
        prefix=f"{frame.prefix}{called.name}/",
        origin=(*frame.origin, Origin("follow", called.key, called.title, step.span)),
        loops={},
        role=step.by or frame.role,
        depth=frame.depth + 1,
        stack=(*frame.stack, called.key),
    )


def _rehearse(walker: Walker, frame: Frame, called: Procedure) -> None:
    """Walk a way in that is not part of this walk, to know what its way back has to undo.

    The other half of a job may have been done weeks ago: then the start is what that half started
    with, not what is the case now.
    """
    start = initial_state(walker.assembly, called.ends)
    with walker.trial():
        walker.procedure(frame, start, half_of(called, "way in"))
        rehearsed = dict(walker.records)
    for key, record in rehearsed.items():
        walker.records.setdefault(key, record)


def _called_extras(own: Extras, called: Procedure, half: str) -> Extras:
    """Return what hangs on the section made for `follow`.

    Messages in the head of a procedure belong to the whole job and go there; those of a shared
    block stand before its steps. On the way back only what the line itself says is shown.
    """
    if half == "way back":
        return own
    theirs = called.extras if called.is_block else replace(called.extras, safety=())
    return Extras(
        safety=(*theirs.safety, *own.safety),
        notes=(*theirs.notes, *own.notes),
        whys=(*theirs.whys, *own.whys),
        wear=tuple(dict.fromkeys((*theirs.wear, *own.wear))),
        pictures=(*theirs.pictures, *own.pictures),
        clips=(*theirs.clips, *own.clips),
        takes=own.takes or (theirs.takes if not half else None),
        people=max(theirs.people, own.people),
    )


# --- refit ------------------------------------------------------------------------------------


def refit(walker: Walker, frame: Frame, state: State, step: RefitStep) -> Outcome:
    """Write out the way back of a section, or of everything since the procedure began."""
    record = walker.records.get((frame.procedure.key, step.section))
    if record is None:
        walker.find(
            "cannot-refit",
            step.span,
            f"Nothing has been taken off in {step.section} before this line.",
            hint="Put the section before the line that undoes it.",
        )
        return Outcome((), state)
    inner = frame.deeper()
    outcome = _undone(walker, inner, state, step, record, step.id, whole=False)
    if not outcome.nodes:
        return outcome
    own = bind.extras(step.extras, frame.loops)
    hanging = fitting_extras(record.extras)
    extras = replace(
        own,
        safety=(*hanging.safety, *own.safety),
        wear=tuple(dict.fromkeys((*hanging.wear, *own.wear))),
    )
    origin = (*frame.origin, Origin("refit", step.section, record.title, record.span))
    node_id = walker.unique(frame.id(step.id))
    node = SectionNode(node_id, record.title, outcome.nodes, extras, origin, way_back=True)
    return replace(outcome, nodes=(node,))


def _undone(
    walker: Walker,
    frame: Frame,
    state: State,
    step: Step,
    record: Record,
    base: str,
    *,
    whole: bool,
) -> Outcome:
    """Return the steps that undo what was done in `record`, as far as it is not undone already."""
    trail = record.trail if record.since < 0 else tuple(walker.trail[record.since :])
    jobs = plan(walker.assembly, record.start, state, trail, whole=whole)
    if not jobs:
        _nothing_to_undo(walker, step, record, undoes_anything(trail, whole=whole))
    nodes: list[Node] = []
    for job in jobs:
        if not walker.counted(step.span):
            break
        outcome = _undo_one(walker, frame, state, step, job, record.start, trail, base)
        nodes += outcome.nodes
        state = outcome.state
    return Outcome(tuple(nodes), state)


def _nothing_to_undo(walker: Walker, step: Step, record: Record, was_undone: bool) -> None:
    if was_undone:
        message = f"All that “{record.title}” took off is back in its place already."
        hint = "Take this line out, or leave the putting back to it."
    else:
        message = f"“{record.title}” takes nothing off, so there is nothing to put back."
        hint = "Take this line out, or name another section."
    walker.find("cannot-refit", step.span, message, Label(record.span, "this one"), hint=hint)


def _undo_one(
    walker: Walker,
    frame: Frame,
    state: State,
    step: Step,
    job: Job,
    start: State,
    trail: Sequence[Entry],
    base: str,
) -> Outcome:
    assembly = walker.assembly
    other = _other_path(walker, state, job) if job.when is not None else {}
    deeds = Deeds(assembly, state.with_statuses(other), step.span)
    write_job(deeds, job, start, trail)
    if not deeds.acts:
        return Outcome((), state)
    if other:
        touched = {u for done in deeds.done for u in done.units}
        after = {u: s for u in touched if (s := deeds.state.status(u, assembly)) is not None}
        deeds.state = state.with_statuses(after)
    undone = job.entry
    extras = fitting_extras(undone.extras)
    origin = Origin("refit", undone.node_id, "", undone.step.span)
    node = StepNode(
        walker.unique(frame.id(f"{base}/{job.name}")),
        step,
        tuple(deeds.acts),
        with_things(assembly, extras, deeds.acts),
        job.when,
        by=undone.by or frame.role,
        origin=(*frame.origin, origin),
        binding=frame.binding,
    )
    return walker.done(frame, None, node, deeds, f"{base}/{job.name}", extras)


def _other_path(walker: Walker, state: State, job: Job) -> dict[Unit, Status]:
    """Return the states on the path on which the things of the job were taken off."""
    assembly = walker.assembly
    around = dict.fromkeys(job.units)
    for unit in job.units:
        holders = assembly.holders.get(unit, ())
        around.update(dict.fromkeys(holders))
        for each in (unit, *holders):
            around.update(dict.fromkeys(assembly.lockers.get(each, ())))
    touched = {u: s for u, s in state.maybe.items() if u in around}
    return (
        {u: s for u, s in touched.items() if s != _calm(state, u)} if _settled(state, job) else {}
    )


def _calm(state: State, unit: Unit) -> Status | None:
    return state.units.get(unit)


def _settled(state: State, job: Job) -> bool:
    """Return whether on the path that is followed the things are in their place."""
    return all(u in state.maybe for u in job.units)


# --- reach ------------------------------------------------------------------------------------


def reach(walker: Walker, frame: Frame, state: State, step: ActionStep) -> Outcome:
    """Write out the shortest safe way to a part."""
    nodes: list[Node] = []
    title = ""
    inner = frame.deeper()
    for target in step.targets:
        deeds = Deeds(walker.assembly, state, step.span)
        meant = mean(deeds, target, bind.concrete(frame.loops))
        for unit in meant.units:
            title = title or deeds.label(unit)
            way = shortest_way(walker.assembly, state, unit)
            if isinstance(way, Blocked):
                _cannot_reach(walker, step, unit, way)
                continue
            for _, group in groupby(way.units, key=lambda u: u[0]):
                if walker.counted(step.span):
                    outcome = _take_off(walker, inner, state, step, list(group))
                    nodes += outcome.nodes
                    state = outcome.state
    if not nodes:
        return Outcome((), state)
    origin = (*frame.origin, Origin("reach", _first_key(step), title, step.span))
    extras = bind.extras(step.extras, frame.loops)
    node_id = walker.unique(frame.id(step.id))
    return Outcome((SectionNode(node_id, title, tuple(nodes), extras, origin),), state)


def _first_key(step: ActionStep) -> str:
    return next((t.key for t in step.targets if isinstance(t, Selection)), "")


def _take_off(
    walker: Walker, frame: Frame, state: State, step: ActionStep, units: Iterable[Unit]
) -> Outcome:
    deeds = Deeds(walker.assembly, state, step.span, general=frame.generals())
    (meant,) = deeds.implied(units)
    write_out(deeds, Effect.REMOVE, [meant], ())
    name = walker.assembly.things[meant.units[0][0]].name
    members = meant.spot.members if isinstance(meant.spot, Target) else ()
    local = f"{step.id}/{'-'.join((name, *map(slug, members)))}"
    origin = Origin("reach", _first_key(step), "", step.span)
    node = StepNode(
        walker.unique(frame.id(local)),
        step,
        tuple(deeds.acts),
        with_things(walker.assembly, Extras(), deeds.acts),
        by=step.by or frame.role,
        origin=(*frame.origin, origin),
        binding=frame.binding,
    )
    return walker.done(frame, state, node, deeds, local, Extras())


def _cannot_reach(walker: Walker, step: ActionStep, unit: Unit, why: Blocked) -> None:
    things = walker.assembly.things
    goal = things[unit[0]]
    if why.unit is None or why.because is None:
        walker.find(
            "cannot-reach",
            step.span,
            f"No way to {goal.name} can be worked out: what is behind what goes round in a circle.",
            Label(goal.span, f"{goal.name} is declared here"),
            hint="Write the steps out, or mend what is said to be behind what.",
        )
        return
    stays, source = things[why.unit[0]], things[why.because[0]]
    if isinstance(source, Energy):
        state, hint = "is not isolated here", f"Put `isolate {source.name}` before this line."
    else:
        state, hint = "is still in", f"Put `drain {source.name}` before this line."
    walker.find(
        "cannot-reach",
        step.span,
        f"The way to {goal.name} leads past {stays.name}, which must stay on: "
        f"{source.name} {state}.",
        Label(stays.span, f"{stays.name} is declared here"),
        Label(source.span, f"{source.name} is declared here"),
        hint=hint,
    )
