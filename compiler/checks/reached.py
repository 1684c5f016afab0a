"""Steps that no way through the work comes to."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.subject import Subject
from compiler.findings.model import Finding
from compiler.source import Span
from compiler.walk.flat import flat_steps


def never_reached(subject: Subject) -> Iterator[Finding]:
    """Find steps that are not done in any procedure, on any model."""
    dead: dict[Span, None] = {}
    done: set[Span] = set()
    for job in subject.jobs:
        unreached = {node.id for node in job.replay.unreached}
        for step in flat_steps(job.walk):
            span = step.node.step.span
            if step.node.id in unreached:
                dead[span] = None
            else:
                done.add(span)
    for span in dead:
        if span not in done:
            yield Finding(
                "never-reached",
                span,
                "No way through the work comes to this step.",
                hint="The work has ended before it, or its condition can never hold. Move it, or "
                "take it out.",
            )
