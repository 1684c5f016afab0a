"""The tools that a procedure needs against those that the crib and the procedure list."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.subject import Job, Subject
from compiler.derive.doings import doings
from compiler.findings.model import Finding
from compiler.model import Tool


def tool_not_in_shop(subject: Subject) -> Iterator[Finding]:
    """Find needs that no tool of the crib, the machine or the procedure serves.

    Without a shop file there is no crib to look in.
    """
    shop = subject.world.shop
    if shop is None:
        return
    for job in subject.jobs:
        # By the id a step is shown under: one of a repeat that is shown once stands for all rounds.
        spans = {doing.id: doing.node.step.span for doing in doings(job.walk, job.things)}
        for line in job.derived.tools:
            if line.key or not line.reasons:
                continue
            first = line.reasons[0]
            yield Finding(
                "tool-not-in-shop",
                spans[first.step_id],
                f"This step needs: {line.need or line.label} ({first.text}). "
                f"Nothing in the crib of {shop.name} serves.",
                hint="Add the tool to the shop file if it is there, or list it under `tools` in "
                "the procedure and say where it comes from.",
            )


def tool_not_used(subject: Subject) -> Iterator[Finding]:
    """Find tools that a procedure lists for itself and none of its steps needs, on any model."""
    jobs_of: dict[str, list[Job]] = {}
    for job in subject.jobs:
        jobs_of.setdefault(job.procedure.key, []).append(job)
    for key, jobs in jobs_of.items():
        used = {tool for job in jobs for tool in _used(job)}
        own = {t.key: t for j in jobs for t in j.things.values() if t.owner == key}
        for tool in own.values():
            if isinstance(tool, Tool) and tool.key not in used:
                yield Finding(
                    "tool-not-used",
                    tool.span,
                    f"{tool.name} is listed, but no step of {jobs[0].procedure.name} needs it.",
                    hint=f"Name it in a step (`with {tool.name}`), or take the line out.",
                )


def _used(job: Job) -> Iterator[str]:
    for line in job.derived.tools:
        yield line.key
        yield from line.alternatives
    for turn in job.derived.turning:
        yield from turn.tools
    for torque in job.derived.torques:
        yield torque.wrench
