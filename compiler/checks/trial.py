"""A leak test or a trial run says nothing while what it needs is still isolated."""

from __future__ import annotations

import re
from collections.abc import Iterator

from compiler.checks.alone import untied
from compiler.checks.moments import moments_of, told_at, touched, units_in
from compiler.checks.replay import Moment
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding
from compiler.model import Connection, Consumable, Energy, Fastener, Part, Prose
from compiler.walk.nodes import Act, Deed, Target

_FLOWS = frozenset({"pressure", "hydraulic", "pneumatic", "steam"})
_DRIVES = frozenset({"electrical", "hydraulic", "pneumatic", "steam", "motion"})
_RUNS = frozenset({"run", "start", "jog", "switch-on", "turn-on"})
_LEAK = re.compile(r"\b(?:leak(?:s|ing|age)?|drip(?:s|ping)?|weep(?:s|ing)?)\b(?! ?(?:tray|pan))")
_RAN = re.compile(r"\b(?:ran for|let (?:it|the \w+) run)\b")
_BY_OTHER_MEANS = re.compile(r"\b(?:nitrogen|compressed|test pump|hand pump|by hand|trace)")
_PLAIN = frozenset({"for", "until", "at"})
_PUT_BACK = frozenset({Deed.FIT, Deed.CONNECT, Deed.TIGHTEN, Deed.CLOSE, Deed.START})
_SAYS = (Deed.LEAK_TEST, Deed.NEUTRAL, Deed.PROSE, Deed.CONFIRM)


def tested_isolated(subject: Subject) -> Iterator[Finding]:
    """Find tests for leaks and trial runs that come before what they need is given back."""
    yield from tell(_tested(subject))


def _tested(subject: Subject) -> Iterator[Told]:
    given_back = {id(job): _given_back(job) for job in subject.jobs}
    for job, moment in moments_of(subject, *_SAYS):
        back = given_back[id(job)]
        words = _words(moment) if back else ""
        if not back or _BY_OTHER_MEANS.search(words):
            continue
        if _RAN.search(words) or _is_run(job, moment):
            yield from _all_isolated(job, moment, _DRIVES, back, "nothing runs")
        elif moment.doing.act.deed is Deed.LEAK_TEST or _LEAK.search(words):
            yield from _not_under_pressure(job, moment, back)


def _all_isolated(
    job: Job, moment: Moment, kinds: frozenset[str], back: set[str], so: str
) -> Iterator[Told]:
    """Yield the finding where every energy of some kinds is isolated, and comes back later."""
    energies = [
        thing for thing in job.things.values() if isinstance(thing, Energy) and thing.kind in kinds
    ]
    state = moment.before.state
    if energies and all(state.energy((energy.key, "")).isolated for energy in energies):
        for energy in energies:
            if energy.key in back:
                yield _told(job, moment, energy, so)
                return


def _not_under_pressure(job: Job, moment: Moment, back: set[str]) -> Iterator[Told]:
    """Yield the finding where what was opened and put back is to be tight, and nothing is in it."""
    filled = any(doing.act.deed is Deed.FILL for doing in moment.before.last.values())
    if filled or _with_a_tool(job, moment):
        return
    named = {unit[0] for unit in units_in(job, moment)}
    if any(isinstance(job.things[key], Energy) for key in named):
        for key in named:
            energy = job.things[key]
            is_off = moment.before.state.energy((key, "")).isolated
            if isinstance(energy, Energy) and is_off and moment.doing.act.deed is Deed.LEAK_TEST:
                yield _told(job, moment, energy, "nothing can leak")
        return
    kept = {key for unit in moment.before.last for key in _keeps_in(job, moment, unit)}
    if any(doing.act.deed is Deed.FIT for doing in moment.before.last.values()):
        kept |= {energy.key for energy in untied(job)}
    if kept:
        yield from (
            told
            for told in _all_isolated(job, moment, _FLOWS, back, "nothing can leak")
            if told.unit[0] in kept
        )


def _with_a_tool(job: Job, moment: Moment) -> bool:
    """Return whether it is tried with a tool, which may press; a spray only shows what leaks."""
    spots = [
        spot
        for phrase in moment.doing.act.phrases
        for spot in phrase.operands
        if phrase.word == "with"
    ]
    things = [job.things.get(spot.key) for spot in spots if isinstance(spot, Target)]
    return len(things) < len(spots) or not all(isinstance(one, Consumable) for one in things)


def _keeps_in(job: Job, moment: Moment, unit: tuple[str, str]) -> tuple[str, ...]:
    """Return what a thing keeps in that was put back last."""
    if moment.before.last[unit].act.deed not in _PUT_BACK:
        return ()
    match thing := job.things[unit[0]]:
        case Part():
            return thing.contains
        case Fastener():
            return thing.seals
        case Connection():
            return (*thing.contains, thing.carries)
        case _:
            return ()


def _given_back(job: Job) -> set[str]:
    """Return the energies that the job gives back somewhere."""
    acts = (flat.act for flat in job.acts if flat.act.deed is Deed.ENERGIZE)
    return {key for keys in map(Act.keys, acts) for key in keys}


def _told(job: Job, moment: Moment, energy: Energy, so: str) -> Told:
    unit = (energy.key, "")
    labels = touched(job, moment, unit, f"{energy.name} was isolated here")
    message = f"This is tried here while {{what}} is still isolated: {so}, whatever is wrong"
    hint = (
        f"Move the line behind `restore {energy.name}`. If it is tried by other means, say by "
        "which: by hand, with a hand pump, with compressed air."
    )
    return told_at(job, moment, unit, "tested-isolated", message, hint, *labels)


def _is_run(job: Job, moment: Moment) -> bool:
    """Return whether a part is set going: `run pump for 5 min`, but not `run hose along frame`."""
    act = moment.doing.act
    if act.verb is None or act.verb.word not in _RUNS or act.deed is not Deed.NEUTRAL:
        return False
    if any(phrase.word not in _PLAIN for phrase in act.phrases):
        return False
    keys = act.keys()
    return any(isinstance(job.things.get(key), Part) for key in keys)


def _words(moment: Moment) -> str:
    """Return all that stands in quotes in a step, in small letters."""
    act = moment.doing.act
    spots = [*act.targets, *(spot for phrase in act.phrases for spot in phrase.operands)]
    texts = [spot for spot in spots if isinstance(spot, Prose)]
    return " ".join(p for text in texts for p in text.parts if isinstance(p, str)).lower()
