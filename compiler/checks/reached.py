"""Steps that no way through the work comes to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding, Label
from compiler.source import Span
from compiler.walk.flat import flat_steps
from compiler.walk.nodes import Deed, StepNode

_ENDS = frozenset({Deed.STOP, Deed.HAND_OVER, Deed.GO_BACK})


@dataclass(frozen=True, slots=True)
class _Dead:
    """Steps in a row that nobody comes to, and the step before them."""

    spans: dict[Span, None]
    before: StepNode | None


def never_reached(subject: Subject) -> Iterator[Finding]:
    """Find steps that are not done in any procedure, on any model."""
    done = {span for job in subject.jobs for span in _done(job)}
    told: set[Span] = set()
    for job in subject.jobs:
        for run in _runs(job, done):
            if not told.intersection(run.spans):
                yield _finding(run)
            told.update(run.spans)


def _done(job: Job) -> Iterator[Span]:
    unreached = {node.id for node in job.replay.unreached}
    for step in flat_steps(job.walk):
        if step.node.id not in unreached:
            yield step.node.step.span


def _runs(job: Job, done: set[Span]) -> Iterator[_Dead]:
    """Yield the steps that are never done, those in a row together."""
    run: _Dead | None = None
    before: StepNode | None = None
    for step in flat_steps(job.walk):
        span = step.node.step.span
        if span in done:
            if run is not None:
                yield run
            run, before = None, step.node
        elif run is None:
            run = _Dead({span: None}, before)
        else:
            run.spans[span] = None
    if run is not None:
        yield run


def _finding(run: _Dead) -> Finding:
    first, *others = run.spans
    count = "one" if len(others) == 1 else str(len(others))
    more = f", nor to the {count} after it" if others else ""
    before = run.before
    ends = before is not None and any(act.deed in _ENDS for act in before.acts)
    labels = (Label(before.step.span, "the work ends here"),) if before and ends else ()
    return Finding(
        "never-reached",
        first,
        f"No way through the work comes to this step{more}.",
        labels,
        "The work has ended before it, or its condition can never hold. Move it, or take it out.",
    )
