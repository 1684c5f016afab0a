"""Changes of text that are certain to mend a finding, for `check --fix`."""

from __future__ import annotations

from compiler.checks.replay import Doing
from compiler.checks.subject import Job
from compiler.findings.model import Fix
from compiler.model import ActionStep, Fastener, Selection
from compiler.source import Span
from compiler.walk.assembly import Unit
from compiler.walk.nodes import Deed


def new_one(doing: Doing, unit: Unit) -> Fix | None:
    """Return `new` in front of the thing in the author's own line; None when it is not there."""
    step = doing.step.step
    if not isinstance(step, ActionStep) or doing.act.implied or doing.step.origin or unit[1]:
        return None
    named = [t for t in step.targets if isinstance(t, Selection) and t.key == unit[0]]
    if len(named) != 1 or named[0].age or named[0].members:
        return None
    start = named[0].span.start
    return Fix(Span(named[0].span.file, start, start), "new ")


def tighten_behind(job: Job, doing: Doing | None, unit: Unit) -> Fix | None:
    """Return a line that tightens what a line of the author only puts in; None when unsure."""
    if doing is None or doing.act.deed is not Deed.START or doing.step.origin:
        return None
    thing, node = job.things[unit[0]], doing.step
    if not isinstance(thing, Fastener) or thing.tightening is None or node.when or node.binding:
        return None
    return Fix(node.step.span, f"tighten {thing.name}", as_line=True)
