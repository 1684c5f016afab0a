"""The people that the jobs of a visit need against those that come."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from compiler.checks.subject import Subject
from compiler.findings.model import Finding, Label
from compiler.model import Job, Visit


def too_few_people(subject: Subject) -> Iterator[Finding]:
    """Find jobs of a visit that need more people at once than its crew has.

    A visit that does not say who comes brings as many as are needed. A job that does not say its
    model may be on any of them; the one that needs fewest counts.
    """
    needed: dict[str, dict[str, int]] = {}
    for job in subject.jobs:
        needed.setdefault(job.procedure.key, {})[job.model] = job.derived.people
    for visit in subject.world.visits.values():
        for one in visit.jobs if visit.crew else ():
            people = _people(one, needed.get(one.procedure, {}))
            if people > visit.crew:
                yield _told(subject, visit, one, people)


def _people(job: Job, on_models: Mapping[str, int]) -> int:
    if job.model in on_models:
        return on_models[job.model]
    return min(on_models.values(), default=0)


def _told(subject: Subject, visit: Visit, job: Job, people: int) -> Finding:
    procedure = subject.world.procedures[job.procedure]
    come = "1 person comes" if visit.crew == 1 else f"{visit.crew} people come"
    return Finding(
        "too-few-people",
        job.span,
        f"{procedure.name} needs {people} people at once, but only {come}.",
        labels=(Label(procedure.span, "the job is written here"),),
        hint=f"Bring more (`crew {people}`), or plan the job for another visit. What is done side "
        "by side needs a person for each lane.",
    )
