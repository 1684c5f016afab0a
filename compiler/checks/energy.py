"""Energies: no guard off and nothing opened while they are live, none given back with a guard off.

The order of isolating and proving is that of 29 CFR 1910.147 (d), of giving back that of (e).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from compiler.checks.left_words import state_words
from compiler.checks.moments import moments_of, told_at, touched, unit_words, units_in
from compiler.checks.replay import Moment
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding, Label
from compiler.model import Connection, Energy, Fastener, Part
from compiler.walk.assembly import Unit, locates
from compiler.walk.nodes import Deed, Target
from compiler.walk.stored import without_device

_OPENS = (
    Deed.REMOVE,
    Deed.ASIDE,
    Deed.OPEN,
    Deed.DISCONNECT,
    Deed.UNDO,
    Deed.MOVE,
    Deed.SLACKEN,
)


def guard_off_live(subject: Subject) -> Iterator[Finding]:
    """Find guards that come off, and what holds an energy in that is opened, while it is live."""
    yield from tell(_opened_live(subject))


def _opened_live(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, *_OPENS):
        for unit in _opened(job, moment):
            for energy, why in _kept_by(job, unit):
                found = _still_live(job, moment, energy)
                if found:
                    name = job.things[energy].name
                    message = f"{{what}} {why.format(energy=name)}, but {name} {found} at this step"
                    hint = _made_safe(job, unit, name, found)
                    labels = _last_change(job, moment, energy)
                    yield told_at(job, moment, unit, "opened-live", message, hint, *labels)


def _made_safe(job: Job, unit: Unit, name: str, found: str) -> str:
    if "live" not in found:
        return f"Prove it before: `verify {name}`."
    hint = f"Isolate it and prove it before: `isolate {name}`."
    if isinstance(job.things[unit[0]], Fastener):
        hint += (
            f" If it is opened on purpose, to let something out, say that instead: `bleed {name}`; "
            f"or `release {name}` once it is isolated."
        )
    return hint


def _opened(job: Job, moment: Moment) -> Iterator[Unit]:
    """Yield what an act opens: the thing itself, a guard on it, what its last fastener held on.

    What lies on the bench, by itself or with what carries it, is open already.
    """
    state, assembly = moment.before.state, job.assembly
    for unit in units_in(job, moment):
        if any(state.part(each).seat == "off" for each in assembly.chain(unit)):
            continue
        yield unit
        if moment.doing.act.deed is Deed.REMOVE:
            yield from (u for u in assembly.load(unit)[1:] if _is_guard(job, moment, u))
        elif moment.doing.act.deed is Deed.UNDO:
            yield from (u for u in assembly.held.get(unit, ()) if _comes_free(job, moment, u))
        elif moment.doing.act.deed is Deed.SLACKEN:
            # A joint that leaks is open, long before its last bolt is out.
            yield from (u for u in assembly.held.get(unit, ()) if _is_vessel(job, moment, u))


def _is_guard(job: Job, moment: Moment, unit: Unit) -> bool:
    part = job.assembly.part(unit)
    return part is not None and bool(part.guards) and moment.before.state.part(unit).seat != "off"


def _is_vessel(job: Job, moment: Moment, unit: Unit) -> bool:
    """Return whether a part that keeps an energy in is in its place."""
    part = job.assembly.part(unit)
    on = part is not None and moment.before.state.part(unit).seat == "fitted"
    return on and part is not None and any(_is_energy(job, key) for key in part.contains)


def _comes_free(job: Job, moment: Moment, unit: Unit) -> bool:
    """Return whether a part is on, and the last thing that held it comes out at this moment."""
    state = moment.after.state
    if job.assembly.part(unit) is None or state.part(unit).seat == "off":
        return False
    return all(state.fastener(h).hold == "out" for h in job.assembly.holders.get(unit, ()))


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


_CHANGED: Mapping[Deed, str] = {
    Deed.ENERGIZE: "given back",
    Deed.VERIFY: "proved",
    Deed.DISCHARGE: "let out",
    Deed.ISOLATE: "isolated",
}


def _last_change(job: Job, moment: Moment, energy: str) -> tuple[Label, ...]:
    last = moment.before.last.get((energy, ""))
    word = _CHANGED.get(last.act.deed) if last is not None else None
    name = job.things[energy].name
    return touched(job, moment, (energy, ""), f"{name} was {word} last here") if word else ()


def _is_energy(job: Job, key: str) -> bool:
    return isinstance(job.things.get(key), Energy)


def _still_live(job: Job, moment: Moment, energy: str) -> str:
    """Return what is missing before it is safe: `is live`, `is not proved dead`; '' for nothing.

    What has no device to isolate it at (a spring, a weight) is safe once it is let out and proved.
    """
    state, thing = moment.before.state.energy((energy, "")), job.things[energy]
    alone = isinstance(thing, Energy) and without_device(thing)
    if not state.isolated and not (alone and state.discharged):
        return "is live"
    return "" if state.verified else "is not proved dead"


def live_with_guard_off(subject: Subject) -> Iterator[Finding]:
    """Find energies that are given back while a guard is off or what holds them in is open."""
    yield from tell(_given_back(subject))


def _given_back(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, Deed.ENERGIZE):
        energies = {unit[0] for unit in units_in(job, moment)}
        for key in job.things:
            for unit in job.assembly.units(key):
                kept = [(e, why) for e, why in _kept_by(job, unit) if e in energies]
                how, away = _is_open(job, moment, unit) if kept else ("", unit)
                if how and _off_on_purpose(moment, job, unit):
                    if not _is_warned(moment):
                        yield _unwarned(job, moment, unit, kept[0][0])
                elif how:
                    name = job.things[kept[0][0]].name
                    why = kept[0][1].format(energy=name)
                    message = f"{name} is given back here, but {{what}}, which {why}, is {how}"
                    hint = _put_right(job, moment, away)
                    since = f"since here {unit_words(job, away)} is {_now(job, moment, away)}"
                    labels = touched(job, moment, away, since)
                    yield told_at(job, moment, unit, "live-with-guard-off", message, hint, *labels)


def _off_on_purpose(moment: Moment, job: Job, unit: Unit) -> bool:
    """Return whether the line says that the work goes on without this guard: for a test run.

    What holds an energy in is never left open on purpose.
    """
    part = job.assembly.part(unit)
    if part is None or not part.guards or any(_is_energy(job, key) for key in part.contains):
        return False
    return unit in _named_without(moment, job)


def _named_without(moment: Moment, job: Job) -> Iterator[Unit]:
    phrases = (p for p in moment.doing.act.phrases if p.word == "without")
    named = (o for phrase in phrases for o in phrase.operands if isinstance(o, Target))
    return (unit for target in named for unit in job.assembly.units_of(target))


def guards_that_are_on(subject: Subject) -> Iterator[Told]:
    """Yield guards that a `restore` line says the machine runs without, while they are in place.

    One that is off on some of the ways to the line is named there for the sake of those.
    """
    found: dict[tuple[str, str, str, Unit], list[Told | None]] = {}
    for job, moment in moments_of(subject, Deed.ENERGIZE):
        for unit in _named_without(moment, job):
            part = job.assembly.part(unit)
            if part is None or not part.guards:
                continue
            on = not _is_open(job, moment, unit)[0]
            key = (job.procedure.key, job.model, moment.doing.step.id, unit)
            found.setdefault(key, []).append(_named_for_nothing(job, moment, unit) if on else None)
    for told in found.values():
        if None not in told:
            yield from (one for one in told if one is not None)


def _named_for_nothing(job: Job, moment: Moment, unit: Unit) -> Told:
    name = unit_words(job, unit)
    labels = touched(job, moment, unit, f"since here {name} is in place")
    message = "{what} is in place here, but the line says that the machine runs without it"
    hint = f"Take `without {name}` out of the line, or take {name} off before it."
    return told_at(job, moment, unit, "already-so", message, hint, *labels)


def _is_warned(moment: Moment) -> bool:
    safety = moment.doing.step.extras.safety
    return any(one.signal in ("danger", "warning") and one.avoid is not None for one in safety)


def _unwarned(job: Job, moment: Moment, unit: Unit, energy: str) -> Told:
    name = job.things[energy].name
    message = (
        f"{name} is given back here without {{what}}, but nothing says how people are kept safe"
    )
    hint = (
        "Write under this line what can happen and how it is avoided, as the site approves it: "
        '`danger entangle "The belt runs open." avoid "Nobody within an arm\'s length."`.'
    )
    return told_at(job, moment, unit, "live-with-guard-off", message, hint)


def _now(job: Job, moment: Moment, unit: Unit) -> str:
    """Return how a thing is, for the label at the step that made it so."""
    status = moment.before.state.status(unit, job.assembly)
    return state_words(status) if status is not None else "so"


def _put_right(job: Job, moment: Moment, away: Unit) -> str:
    """Return what to write before the `restore` line."""
    state, name = moment.before.state, unit_words(job, away)
    if isinstance(job.things[away[0]], Fastener):
        if state.fastener(away).hold == "out":
            return f"Put it in before the `restore` line: `fit {name}`, then `tighten {name}`."
        return f"Tighten it before the `restore` line: `tighten {name}`."
    if isinstance(job.things[away[0]], Part) and state.part(away).seat == "fitted":
        return f"Close it before the `restore` line: `close {name}`."
    if isinstance(job.things[away[0]], Connection):
        return f"Connect it before the `restore` line: `connect {name}`."
    return f"Put {name} back before the `restore` line: `fit {name}`."


def _is_open(job: Job, moment: Moment, unit: Unit) -> tuple[str, Unit]:
    """Return how a thing is that does not do its duty, '' when it does; and what has to go back."""
    state, thing = moment.before.state, job.things[unit[0]]
    if isinstance(thing, Fastener):
        loose = is_loose(job, moment, unit)
        return (_now(job, moment, unit) if loose else ""), unit
    if isinstance(thing, Connection) and not state.line(unit).connected:
        return "disconnected", unit
    if isinstance(thing, Part) and state.part(unit).seat != "fitted":
        return state.part(unit).seat, unit
    for carrier in job.assembly.chain(unit)[1:] if isinstance(thing, Part) and thing.guards else ():
        how = _now(job, moment, carrier) if _is_away(moment, carrier) else ""
        if how:
            return f"on {unit_words(job, carrier)}, which is {how}", carrier
    if isinstance(thing, Part) and state.part(unit).opened:
        return "open", unit
    for holder in _held_by(job, moment, unit):
        fastener = job.assembly.fastener(holder)
        if fastener is not None and not fastener.seals and is_loose(job, moment, holder):
            how = _now(job, moment, holder)
            return f"held by {unit_words(job, holder)}, which is {how}", holder
    return "", unit


def _held_by(job: Job, moment: Moment, unit: Unit) -> Iterator[Unit]:
    """Yield what holds a thing, and what carries a guard.

    What carries it and is only slackened stays put, and the guard with it: a motor on its slots.
    """
    assembly, state = job.assembly, moment.before.state
    yield from assembly.holders.get(unit, ())
    if _is_guard(job, moment, unit):
        for carrier in assembly.chain(unit)[1:]:
            holders = assembly.holders.get(carrier, ())
            yield from (h for h in holders if state.fastener(h).hold != "slackened")


def _is_away(moment: Moment, unit: Unit) -> bool:
    part = moment.before.state.part(unit)
    return part.seat != "fitted" or part.opened


def is_loose(job: Job, moment: Moment, unit: Unit) -> bool:
    """Return whether a fastener does not hold yet what it holds.

    One that asks for no wrench (a knob) holds once it is in; what only locates never does.
    """
    fastener, hold = job.assembly.fastener(unit), moment.before.state.fastener(unit).hold
    if fastener is None or locates(fastener) or hold == "tight":
        return False
    asked = fastener.tightening
    by_hand = asked is not None and asked.how in ("hand-tight", "snug")
    return not (by_hand and hold == "hand")
