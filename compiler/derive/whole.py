"""All lists of one walk."""

from __future__ import annotations

from compiler.derive.crew import energies, people, roles
from compiler.derive.doings import doings
from compiler.derive.lists import Derived
from compiler.derive.needs import NeedFinder
from compiler.derive.supplies import supplies
from compiler.derive.times import total_time
from compiler.derive.tools import as_sets, choose, tool_lines, turn_lines
from compiler.derive.torques import torque_lines
from compiler.model import Procedure, World
from compiler.walk.nodes import Walk
from compiler.walk.things import gather_things


def derive_walk(world: World, procedure: Procedure, walk: Walk) -> Derived:
    """Return what is worked out for one walk of a procedure."""
    things = gather_things(world, procedure, walk.model)
    steps = doings(walk, things)
    choice = choose(things, NeedFinder(things).find(steps))
    lines = tool_lines(things, choice)
    return Derived(
        tools=lines if world.shop is not None else as_sets(lines),
        parts=supplies(things, steps),
        torques=torque_lines(things, steps, choice, world.shop),
        energies=energies(steps),
        roles=roles(steps),
        time=total_time(procedure, walk),
        people=people(procedure, walk.nodes),
        turning=turn_lines(things, choice),
    )
