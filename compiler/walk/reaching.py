"""`reach`: the shortest safe way to a part, written out."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from compiler.findings.model import Label
from compiler.model import ActionStep, Energy, Extras, Selection
from compiler.trade.verbs import Effect
from compiler.walk import bind
from compiler.walk.assembly import Unit
from compiler.walk.deeds import Deeds
from compiler.walk.effects import write_out
from compiler.walk.frame import Frame, slug
from compiler.walk.nodes import Node, Origin, SectionNode, StepNode, Target
from compiler.walk.reach import Blocked, shortest_way
from compiler.walk.state import State
from compiler.walk.steps import mean
from compiler.walk.walker import Outcome, Walker, with_things


def reach(walker: Walker, frame: Frame, state: State, step: ActionStep) -> Outcome:
    """Write out the shortest safe way to a part."""
    nodes: list[Node] = []
    title = ""
    inner = frame.deeper()
    for target in step.targets:
        deeds = Deeds(walker.assembly, state, step.span)
        meant = mean(deeds, target, bind.concrete(frame.loops))
        if not meant.units:
            walker.tally.find(
                "cannot-reach",
                step.span,
                "A way can be worked out to what is declared, not to what is only named in quotes.",
                hint="Declare the part, or write the steps out.",
            )
        for unit in meant.units:
            title = title or deeds.label(unit)
            way = shortest_way(walker.assembly, state, unit)
            if isinstance(way, Blocked):
                _cannot_reach(walker, step, unit, way)
                continue
            for _, group in groupby(way.units, key=lambda u: u[0]):
                if walker.tally.count(step.span):
                    outcome = _take_off(walker, inner, state, step, list(group))
                    nodes += outcome.nodes
                    state = outcome.state
    if not nodes:
        return Outcome((), state)
    origin = (*frame.origin, Origin("reach", _first_key(step), title, step.span))
    extras = bind.extras(step.extras, frame.loops)
    node_id = walker.tally.unique(frame.id(step.id))
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
        walker.tally.unique(frame.id(local)),
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
    if why.tangled:
        walker.tally.find(
            "cannot-reach",
            step.span,
            f"What stands before {goal.name} is too tangled to work out the shortest way to it.",
            Label(goal.span, f"{goal.name} is declared here"),
            hint="Write the steps out, or reach what stands furthest out first: "
            f"`reach` it on a line of its own, then `reach {goal.name}`.",
        )
        return
    if why.unit is None or why.because is None:
        walker.tally.find(
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
    walker.tally.find(
        "cannot-reach",
        step.span,
        f"The way to {goal.name} leads past {stays.name}, which must stay on: "
        f"{source.name} {state}.",
        Label(stays.span, f"{stays.name} is declared here"),
        Label(source.span, f"{source.name} is declared here"),
        hint=hint,
    )
