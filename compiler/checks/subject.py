"""What a check looks at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from compiler.derive.lists import Derived
from compiler.model import AnyThing, Procedure, World
from compiler.source import Span
from compiler.walk.flat import flat_steps
from compiler.walk.nodes import Walk
from compiler.walk.things import gather_things

WalkKey: TypeAlias = tuple[str, str]
"""A procedure's key and a model."""


@dataclass(frozen=True, slots=True)
class Job:
    """One procedure on one model: its walk-through, what follows from it, the things it touches."""

    procedure: Procedure
    model: str
    walk: Walk
    derived: Derived
    things: Mapping[str, AnyThing]


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
        things = gather_things(world, procedure, model)
        yield Job(procedure, model, walk, derived[key, model], things)


def spans_of_steps(job: Job) -> Mapping[str, Span]:
    """Return where each step of the walk was written, by its id."""
    return {step.node.id: step.node.step.span for step in flat_steps(job.walk)}
