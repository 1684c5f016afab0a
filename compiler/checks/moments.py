"""What the checks that look at single acts share: acts with their units, findings told of them."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.replay import Moment
from compiler.checks.replay.replay import units_of
from compiler.checks.story import Told
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Label
from compiler.walk.assembly import Unit
from compiler.walk.nodes import Deed


def moments_of(subject: Subject, *deeds: Deed) -> Iterator[tuple[Job, Moment]]:
    """Yield the moments of some deeds, in the order of the work, job by job.

    A shared block is looked at where it is followed: alone, nobody knows what it starts from.
    """
    wanted = frozenset(deeds)
    for job in subject.jobs:
        if job.procedure.is_block:
            continue
        for moment in job.replay.moments:
            if moment.doing.act.deed in wanted:
                yield job, moment


def units_in(job: Job, moment: Moment) -> tuple[Unit, ...]:
    """Return the units that an act is about."""
    return units_of(moment.doing.act, job.assembly)


def unit_words(job: Job, unit: Unit) -> str:
    """Return a unit as the author writes it: `guard`, `foot[2]`."""
    name = job.things[unit[0]].name
    return f"{name}[{unit[1]}]" if unit[1] else name


def told_at(
    job: Job,
    moment: Moment,
    unit: Unit,
    rule: str,
    message: str,
    hint: str,
    *labels: Label,
) -> Told:
    """Return a finding at the step of a moment. `message` has `{what}` for the unit."""
    span, back = moment.doing.step.step.span, moment.before.back
    if back is not None:
        labels = (*labels, Label(back, "the work goes back from here"))
    return Told(rule, unit, span, message, hint, job, moment.before, labels)


def touched(job: Job, moment: Moment, unit: Unit, words: str) -> tuple[Label, ...]:
    """Return a label at the step that changed a unit last before this moment; () for none."""
    doing = moment.before.last.get(unit)
    if doing is None or doing.step.step.span == moment.doing.step.step.span:
        return ()
    return (Label(doing.step.step.span, words),)
