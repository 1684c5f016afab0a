"""The walk of a whole procedure: its start, its steps, and what holds for all of the job."""

from __future__ import annotations

from compiler.findings.model import Finding, sort_and_dedupe
from compiler.model import Procedure, Safety, World
from compiler.walk.ahead import Ahead
from compiler.walk.assembly import build_assembly
from compiler.walk.derived import expand
from compiler.walk.frame import Frame
from compiler.walk.nodes import Walk
from compiler.walk.size import Sizes
from compiler.walk.start import initial_state
from compiler.walk.tally import Tally
from compiler.walk.things import followed, gather_things
from compiler.walk.walker import Walker


def walk(world: World, procedure: Procedure, model: str) -> tuple[Walk, tuple[Finding, ...]]:
    """Return the walk-through of a procedure on one model, and its findings."""
    assembly = build_assembly(gather_things(world, procedure, model))
    walker = Walker(world, model, assembly, Tally(Sizes(world, model)), expand)
    frame = Frame(procedure, stack=(procedure.key,), ahead=Ahead(model=model))
    start = initial_state(assembly, procedure.ends)
    outcome = walker.procedure(frame, start, procedure.body)
    safety, wear = _of_the_job(world, procedure)
    made = Walk(procedure.key, model, outcome.nodes, safety, wear)
    return made, sort_and_dedupe(walker.tally.findings)


def _of_the_job(world: World, procedure: Procedure) -> tuple[tuple[Safety, ...], tuple[str, ...]]:
    """Return the messages and equipment of the whole job: the machine's, its own, and what it takes
    over from the procedures it follows. Those of a shared block stay with its steps.
    """
    safety: dict[Safety, None] = {}
    wear: dict[str, None] = {}
    for each in followed(world, procedure):
        machine = world.machines.get(each.machine)
        for extras in (machine.extras if machine else None, each.extras):
            if extras is None:
                continue
            wear.update(dict.fromkeys(extras.wear))
            if extras is not each.extras or not each.is_block or each is procedure:
                safety.update(dict.fromkeys(extras.safety))
    return tuple(safety), tuple(wear)
