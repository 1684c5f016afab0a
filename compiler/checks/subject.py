"""What a check looks at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from compiler.checks.replay import Replay, replay
from compiler.derive.lists import Derived
from compiler.model import AnyThing, Procedure, World
from compiler.walk.assembly import Assembly, Unit, build_assembly
from compiler.walk.flat import FlatAct, flat_acts
from compiler.walk.nodes import Walk
from compiler.walk.start import initial_state
from compiler.walk.state import Status
from compiler.walk.things import gather_things

WalkKey: TypeAlias = tuple[str, str]
"""A procedure's key and a model."""


@dataclass(frozen=True, slots=True)
class Job:
    """One procedure on one model: its walk-through, what follows from it, all ways through it.

    `acts` are those of the walk-through, in order, whatever the ways.
    """

    procedure: Procedure
    model: str
    walk: Walk
    derived: Derived
    assembly: Assembly
    replay: Replay
    acts: tuple[FlatAct, ...]

    @property
    def needed(self) -> Mapping[Unit, Status]:
        """Return the states that the work needs from its start to its end."""
        ends = (end for end in self.procedure.ends if end.kind == "needs")
        return initial_state(self.assembly, ends).units

    @property
    def things(self) -> Mapping[str, AnyThing]:
        """Return all things the walk-through can speak of, by key."""
        return self.assembly.things


@dataclass(frozen=True, slots=True)
class Subject:
    """A whole folder. `jobs` are the procedures that could be walked through, on every model."""

    world: World
    jobs: tuple[Job, ...]


def subject_of(
    world: World, walks: Mapping[WalkKey, Walk], derived: Mapping[WalkKey, Derived]
) -> Subject:
    """Return what the checks look at."""
    jobs = tuple(_jobs(world, walks, derived))
    return Subject(world, jobs)


def _jobs(
    world: World, walks: Mapping[WalkKey, Walk], derived: Mapping[WalkKey, Derived]
) -> Iterator[Job]:
    for (key, model), walk in walks.items():
        procedure = world.procedures[key]
        assembly = build_assembly(gather_things(world, procedure, model))
        acts = tuple(flat_acts(walk))
        ways = replay(walk, assembly, procedure.ends, acts)
        yield Job(procedure, model, walk, derived[key, model], assembly, ways, acts)
