"""What is never used twice."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.moments import moments_of, told_at, touched, units_in
from compiler.checks.story import Told, tell
from compiler.checks.subject import Subject
from compiler.findings.model import Finding
from compiler.model import Fastener, Part
from compiler.walk.nodes import Deed, Target


def used_again(subject: Subject) -> Iterator[Finding]:
    """Find single-use parts and fasteners that go back in after they were out."""
    yield from tell(_again(subject))


def _again(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, Deed.FIT, Deed.START, Deed.LOCK, Deed.TRANSFER):
        act = moment.doing.act
        targets = act.targets
        if act.new_part or any(isinstance(t, Target) and t.age == "new" for t in targets):
            continue
        for unit in units_in(job, moment):
            thing = job.things[unit[0]]
            if not isinstance(thing, Part | Fastener) or not thing.renew:
                continue
            state = moment.before.state
            if act.deed is Deed.TRANSFER:
                message = "{what} goes over to the new carrier, but it is used only once (`renew`)"
                hint = f"Fit a new one to the new carrier: `fit new {thing.name}`."
                yield told_at(job, moment, unit, "used-again", message, hint)
                continue
            now = state.part(unit) if isinstance(thing, Part) else state.fastener(unit)
            if now.new and "renewed" in now.past:
                continue
            past = now.past
            old = any(
                isinstance(t, Target) and t.key == unit[0] and t.age == "old" for t in targets
            )
            if "removed" in past or old:
                labels = touched(job, moment, unit, "it came out here")
                message = "{what} goes back in here, but it is used only once (`renew`)"
                hint = f"Fit a new one: `fit new {thing.name}`."
                yield told_at(job, moment, unit, "used-again", message, hint, *labels)
