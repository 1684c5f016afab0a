"""What is never used twice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from compiler.checks.moments import moments_of, told_at, touched, units_in
from compiler.checks.remedies import new_one
from compiler.checks.replay import Moment
from compiler.checks.replay.way import past_of
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding
from compiler.model import Connection, Fastener, Part, Prose, Selection
from compiler.walk.assembly import Unit
from compiler.walk.nodes import Act, Deed, Target


def used_again(subject: Subject) -> Iterator[Finding]:
    """Find single-use parts and fasteners that go back in after they were out."""
    yield from tell(_again(subject))


_PUTS_IN = (Deed.FIT, Deed.START, Deed.LOCK, Deed.CONNECT, Deed.TRANSFER)


def _again(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, *_PUTS_IN):
        if not _is_new(moment.doing.act):
            for unit in units_in(job, moment):
                thing = job.things[unit[0]]
                if isinstance(thing, Part | Fastener | Connection) and thing.renew:
                    yield from _of_unit(job, moment, unit)


def _of_unit(job: Job, moment: Moment, unit: Unit) -> Iterator[Told]:
    act, thing = moment.doing.act, job.things[unit[0]]
    if act.deed is Deed.TRANSFER:
        message = "{what} goes over to the new carrier, but it is used only once (`renew`)"
        hint = f"Fit a new one to the new carrier: `fit new {thing.name}`."
        yield told_at(job, moment, unit, "used-again", message, hint)
        return
    now = moment.before.state.status(unit, job.assembly)
    past = past_of(now)
    if getattr(now, "new", False) and "renewed" in past:
        return
    old = any(isinstance(t, Target) and t.key == unit[0] and t.age == "old" for t in act.targets)
    if "removed" in past or old:
        labels = touched(job, moment, unit, "it came out here")
        verb = "connect" if isinstance(thing, Connection) else "fit"
        message = "{what} goes back in here, but it is used only once (`renew`)"
        hint = f"Fit a new one: `{verb} new {thing.name}`."
        told = told_at(job, moment, unit, "used-again", message, hint, *labels)
        yield replace(told, fix=None if old else new_one(moment.doing, unit))


def _is_new(act: Act) -> bool:
    return act.new_part or any(isinstance(t, Target) and t.age == "new" for t in act.targets)


def not_renewed(subject: Subject) -> Iterator[Finding]:
    """Find single-use parts that come off and go back on what carries them, never spoken of."""
    yield from tell(_carried_back(subject))


def _carried_back(subject: Subject) -> Iterator[Told]:
    named: dict[tuple[str, str], set[Unit]] = {}
    for job, moment in moments_of(subject, Deed.FIT):
        if _is_new(moment.doing.act):
            continue
        for carrier in units_in(job, moment):
            now = moment.before.state.part(carrier)
            if now.seat != "off" or "removed" not in now.past:
                continue
            known = (job.procedure.key, job.model)
            if known not in named:
                named[known] = _named(job)
            load = job.assembly.load(carrier)
            for unit in load[1:]:
                if any(blocker in load for blocker in job.assembly.behind.get(unit, ())):
                    continue  # it lies inside of what came off, where nobody opened anything
                if _is_old(job, moment, unit) and unit not in named[known]:
                    # Without their members, so that those of a set are told together.
                    on = job.things[carrier[0]].name
                    message = f"{{what}} came off with {on} and goes back with it, not renewed"
                    hint = (
                        "Put a new one in (`replace {what}`), or write a step that looks at the "
                        "old one, so that the reader knows that it stays: `check {what}`."
                    )
                    labels = touched(job, moment, carrier, f"{on} came off here")
                    yield told_at(job, moment, unit, "not-renewed", message, hint, *labels)


def _is_old(job: Job, moment: Moment, unit: Unit) -> bool:
    part, now = job.assembly.part(unit), moment.before.state.part(unit)
    return part is not None and part.renew and now.seat == "fitted" and not now.new


def _named(job: Job) -> set[Unit]:
    """Return what some step speaks of; of a set only the members that are meant."""
    said: set[Unit] = set()
    for flat in job.acts:
        for spot in flat.act.targets:
            if isinstance(spot, Target):
                said.update(job.assembly.units_of(spot))
            elif isinstance(spot, Prose):
                selected = (part for part in spot.parts if isinstance(part, Selection))
                said.update(unit for part in selected for unit in job.assembly.units(part.key))
    return said
