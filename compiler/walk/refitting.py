"""`refit`: the way back of a section or of everything, as a section of short steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from compiler.findings.model import Label
from compiler.model import Block, OnlyForBlock, RefitStep, SectionBlock, Step, StepBase
from compiler.walk import bind
from compiler.walk.assembly import Unit
from compiler.walk.deeds import Deeds
from compiler.walk.frame import Frame
from compiler.walk.nodes import Node, Origin, SectionNode, StepNode
from compiler.walk.putback import extras_of_job, fitting_extras, write_job
from compiler.walk.stages import Stage, stages, untold
from compiler.walk.state import State, Status
from compiler.walk.things import blocks_within
from compiler.walk.walker import Outcome, Walker, with_things
from compiler.walk.wayback import Entry, Job, Record, needs_undoing, plan, undoes_anything


def refit(walker: Walker, frame: Frame, state: State, step: RefitStep) -> Outcome:
    """Write out the way back of a section, or of everything since the procedure began."""
    record = walker.records.get((frame.procedure.key, step.section))
    if record is None:
        walker.tally.find(
            "cannot-refit",
            step.span,
            f"Nothing has been taken off in {step.section} before this line.",
            hint="Put the section before the line that undoes it.",
        )
        return Outcome((), state)
    inner = frame.deeper()
    outcome = undone(walker, inner, state, step, record, step.id, whole=False)
    if not outcome.nodes:
        return outcome
    own = bind.extras(step.extras, frame.loops)
    hanging = fitting_extras([record.extras])
    extras = replace(
        own,
        safety=(*hanging.safety, *own.safety),
        wear=tuple(dict.fromkeys((*hanging.wear, *own.wear))),
    )
    origin = (*frame.origin, Origin("refit", step.section, record.title, record.span))
    node_id = walker.tally.unique(frame.id(step.id))
    node = SectionNode(node_id, record.title, outcome.nodes, extras, origin, way_back=True)
    return replace(outcome, nodes=(node,))


def undone(
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
    if not jobs and not _is_for_others(frame, step, walker.model):
        _nothing_to_undo(walker, step, record, undoes_anything(trail, whole=whole))
    undoing = _Undoing(walker, frame, step, record.start, trail, base)
    nodes: list[Node] = []
    for job in jobs:
        if not walker.tally.count(step.span):
            break
        outcome = undoing.do(state, job)
        nodes += outcome.nodes
        state = outcome.state
    return Outcome(tuple(nodes), state)


def _is_for_others(frame: Frame, step: Step, model: str) -> bool:
    """Return whether what is undone has steps for other models: there may be something on those."""
    blocks = tuple(blocks_within(frame.procedure.body))
    name = step.section if isinstance(step, RefitStep) else ""
    section = next((b for b in blocks if isinstance(b, SectionBlock) and b.name == name), None)
    inside = blocks_within(section.body) if name and section is not None else blocks
    return any(_leaves_out(block, model) for block in inside)


def _leaves_out(block: Block, model: str) -> bool:
    if isinstance(block, OnlyForBlock):
        return model not in block.models
    return isinstance(block, StepBase) and bool(block.only_for) and model not in block.only_for


def _nothing_to_undo(walker: Walker, step: Step, record: Record, was_undone: bool) -> None:
    of_section = not isinstance(step, RefitStep) or bool(step.section)
    if was_undone:
        message = f"All that “{record.title}” took off is back in its place already."
        hint = "Take this line out, or leave the putting back to it."
    elif not of_section:
        message = "Nothing was taken off before this line, so there is nothing to put back."
        hint = "Take this line out, or put it behind the steps that take something off."
    else:
        message = f"“{record.title}” takes nothing off, so there is nothing to put back."
        hint = "Take this line out, or name another section."
    labels = (Label(record.span, "this one"),) if of_section else ()
    walker.tally.find("cannot-refit", step.span, message, *labels, hint=hint)


@dataclass(frozen=True, slots=True)
class _Undoing:
    """One way back: what was done since `start`, and the line that undoes it.

    `base` stands before the names of its steps.
    """

    walker: Walker
    frame: Frame
    step: Step
    start: State
    trail: Sequence[Entry]
    base: str

    def do(self, state: State, job: Job) -> Outcome:
        """Write out one job of it, a step for each stage; nothing when nothing is left to do."""
        walker = self.walker
        other = self._other_path(state, job) if job.when is not None else {}
        deeds = Deeds(walker.assembly, state.with_statuses(other), self.step.span)
        write_job(deeds, job, self.start, self.trail)
        if not deeds.acts:
            return Outcome((), state)
        if other:
            deeds.state = state.with_statuses(_touched(deeds))
        nodes: list[StepNode] = []
        # What is done only if something is still off is one step: after its first stage it is on.
        for stage in stages(deeds) if job.when is None else (Stage("", deeds),):
            if nodes and not walker.tally.count(self.step.span):
                break
            nodes.append(self._stage(job, stage, nodes))
        return Outcome(tuple(nodes), deeds.state)

    def _stage(self, job: Job, stage: Stage, before: Sequence[StepNode]) -> StepNode:
        """Write out one step of a job, behind the steps of it that came before."""
        walker, frame = self.walker, self.frame
        extras = extras_of_job(walker.assembly, job, self.trail)
        local = f"{self.base}/{job.name}{stage.suffix}"
        origin = Origin("refit", job.entry.node_id, "", job.entry.step.span)
        acts = stage.deeds.acts
        shown = untold(with_things(walker.assembly, extras, acts), (node.extras for node in before))
        node = StepNode(
            walker.tally.unique(frame.id(local)),
            self.step,
            tuple(acts),
            shown,
            job.when,
            by=job.entry.by or frame.role,
            origin=(*frame.origin, origin),
            binding=frame.binding,
        )
        walker.done(frame, None, node, stage.deeds, local, extras)
        return node

    def _other_path(self, state: State, job: Job) -> dict[Unit, Status]:
        """Return the states on the path on which the things of the job were taken off.

        Nothing, when that is the path that is followed.
        """
        assembly = self.walker.assembly
        if needs_undoing(assembly, self.start, replace(state, maybe={}), job.units):
            return {}
        around = set(job.units)
        for unit in job.units:
            holders = assembly.holders.get(unit, ())
            around.update(holders)
            for each in (unit, *holders):
                around.update(assembly.lockers.get(each, ()))
        return {unit: status for unit, status in state.maybe.items() if unit in around}


def _touched(deeds: Deeds) -> dict[Unit, Status]:
    """Return the states of what was acted on."""
    units = dict.fromkeys(unit for done in deeds.done for unit in done.units)
    found = {unit: deeds.state.status(unit, deeds.assembly) for unit in units}
    return {unit: status for unit, status in found.items() if status is not None}
