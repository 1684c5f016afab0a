"""Energies: no guard off and nothing opened while they are live, none given back with a guard off.

The order of isolating and proving is that of 29 CFR 1910.147 (d), of giving back that of (e).
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.moments import moments_of, told_at, touched, unit_words, units_in
from compiler.checks.replay import Moment
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding
from compiler.model import Connection, Energy, Fastener, Part
from compiler.walk.assembly import Unit
from compiler.walk.nodes import Deed

_OPENS = (Deed.REMOVE, Deed.ASIDE, Deed.OPEN, Deed.DISCONNECT, Deed.UNDO, Deed.MOVE)


def guard_off_live(subject: Subject) -> Iterator[Finding]:
    """Find guards that come off, and what holds an energy in that is opened, while it is live."""
    yield from tell(_opened_live(subject))


def _opened_live(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, *_OPENS):
        for unit in units_in(job, moment):
            for energy, why in _kept_by(job, unit):
                found = _still_live(job, moment, energy)
                if found:
                    name = job.things[energy].name
                    message = f"{{what}} {why.format(energy=name)}, but {name} {found} at this step"
                    hint = (
                        f"Isolate it and prove it before: `isolate {name}`."
                        if "live" in found
                        else f"Prove it before: `verify {name}`."
                    )
                    labels = touched(job, moment, (energy, ""), f"{name} was changed here")
                    yield told_at(job, moment, unit, "opened-live", message, hint, *labels)


def _kept_by(job: Job, unit: Unit) -> Iterator[tuple[str, str]]:
    """Yield the energies that a thing keeps people from, with how."""
    thing = job.things[unit[0]]
    if isinstance(thing, Part):
        yield from ((key, "keeps people from {energy}") for key in thing.guards)
        yield from ((key, "keeps {energy} in") for key in thing.contains if _is_energy(job, key))
    elif isinstance(thing, Fastener):
        yield from ((key, "keeps {energy} in") for key in thing.seals if _is_energy(job, key))
    elif isinstance(thing, Connection):
        if thing.carries and _is_energy(job, thing.carries):
            yield thing.carries, "carries {energy}"
        yield from ((key, "keeps {energy} in") for key in thing.contains if _is_energy(job, key))


def _is_energy(job: Job, key: str) -> bool:
    return isinstance(job.things.get(key), Energy)


def _still_live(job: Job, moment: Moment, energy: str) -> str:
    """Return what is missing before it is safe: `is live`, `is not proved dead`; '' for nothing."""
    state = moment.before.state.energy((energy, ""))
    if not state.isolated:
        return "is live"
    return "" if state.verified else "is not proved dead"


def live_with_guard_off(subject: Subject) -> Iterator[Finding]:
    """Find energies that are given back while a guard is off or what holds them in is open."""
    yield from tell(_given_back(subject))


def _given_back(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, Deed.ENERGIZE):
        energies = {unit[0] for unit in units_in(job, moment)}
        for key, thing in job.things.items():
            for unit in job.assembly.units(key):
                kept = [(e, why) for e, why in _kept_by(job, unit) if e in energies]
                if kept and _is_open(job, moment, unit):
                    name = job.things[kept[0][0]].name
                    how = _is_open(job, moment, unit)
                    why = kept[0][1].format(energy=name)
                    message = f"{name} is given back here, but {{what}}, which {why}, is {how}"
                    hint = f"Put {unit_words(job, unit)} back before the `restore` line."
                    labels = touched(job, moment, unit, f"since here {thing.name} is {how}")
                    yield told_at(job, moment, unit, "live-with-guard-off", message, hint, *labels)


def _is_open(job: Job, moment: Moment, unit: Unit) -> str:
    """Return how a thing is that does not do its duty; '' when it does."""
    state, thing = moment.before.state, job.things[unit[0]]
    if isinstance(thing, Part):
        part = state.part(unit)
        return part.seat if part.seat != "fitted" else "open" if part.opened else ""
    if isinstance(thing, Fastener):
        return "out" if state.fastener(unit).hold == "out" else ""
    return "" if state.line(unit).connected else "disconnected"
