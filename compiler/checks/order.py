"""The order of the hands: what is in the way, what is not in yet, what is so already."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.moments import moments_of, told_at, touched, unit_words, units_in
from compiler.checks.replay import Moment
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding
from compiler.model import Connection, Fastener, Part
from compiler.walk.assembly import Unit
from compiler.walk.nodes import Deed


def in_the_way(subject: Subject) -> Iterator[Finding]:
    """Find what is taken out from behind a part that is there, or put in behind it."""
    yield from tell(_blocked(subject))


def _blocked(subject: Subject) -> Iterator[Told]:
    deeds = (Deed.REMOVE, Deed.FIT, Deed.DISCONNECT, Deed.CONNECT, Deed.UNDO, Deed.START)
    for job, moment in moments_of(subject, *deeds):
        for unit in units_in(job, moment):
            for blocker in job.assembly.behind.get(unit, ()):
                if _is_blocked(job, moment, unit, blocker):
                    yield _in_the_way(job, moment, unit, blocker)


def _is_blocked(job: Job, moment: Moment, unit: Unit, blocker: Unit) -> bool:
    """Return whether `blocker` keeps the hand from `unit`; not when a carrier of either is away."""
    state, assembly = moment.before.state, job.assembly
    if blocker in units_in(job, moment) or state.gone(blocker, assembly):
        return False
    carriers = assembly.chain(unit)[1:]
    return not any(state.away(carrier, assembly) for carrier in carriers)


def _in_the_way(job: Job, moment: Moment, unit: Unit, blocker: Unit) -> Told:
    off = moment.doing.act.deed in (Deed.REMOVE, Deed.DISCONNECT, Deed.UNDO)
    name = unit_words(job, blocker)
    does = "comes out" if off else "goes in"
    hint = (
        f"Take {name} off first: `remove {name}`."
        if off
        else f"Put {name} back after it: move its line down."
    )
    labels = touched(job, moment, blocker, f"{name} went in here")
    message = f"{{what}} {does} here, but it is behind {name}, which is still in place"
    return told_at(job, moment, unit, "in-the-way", message, hint, *labels)


def not_in_yet(subject: Subject) -> Iterator[Finding]:
    """Find fasteners that are tightened, slackened or locked while they are not in."""
    yield from tell(_not_in(subject))


def _not_in(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, Deed.TIGHTEN, Deed.SLACKEN):
        deed = moment.doing.act.deed
        for unit in units_in(job, moment):
            thing = job.things[unit[0]]
            if not isinstance(thing, Fastener):
                continue
            does = "tightened" if deed is Deed.TIGHTEN else "slackened"
            if moment.before.state.fastener(unit).hold == "out":
                labels = touched(job, moment, unit, "it came out here")
                message = f"{{what}} is {does} here, but it is not in"
                hint = f"Put it in first: `fit {thing.name}`, or `fit` the part that it holds."
                yield told_at(job, moment, unit, "not-in-yet", message, hint, *labels)
                continue
            for held in job.assembly.held.get(unit, ()):
                if deed is Deed.TIGHTEN and _is_off(job, moment, held):
                    name = unit_words(job, held)
                    labels = touched(job, moment, held, f"{name} came off here")
                    message = f"{{what}} is tightened here, but {name}, which it holds, is off"
                    hint = f"Fit {name} first, or tighten later."
                    yield told_at(job, moment, unit, "not-in-yet", message, hint, *labels)


def _is_off(job: Job, moment: Moment, held: Unit) -> bool:
    return job.assembly.part(held) is not None and moment.before.state.part(held).seat == "off"


def already_so(subject: Subject) -> Iterator[Finding]:
    """Find what is taken off though it is off, or put on though it is on."""
    yield from tell(_already(subject))


_ALREADY = {
    Deed.REMOVE: "off",
    Deed.UNDO: "out",
    Deed.DISCONNECT: "disconnected",
    Deed.FIT: "in place",
    Deed.START: "in",
    Deed.CONNECT: "connected",
    Deed.PUT_AID: "in",
    Deed.TAKE_AID: "out",
}


def _already(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, *_ALREADY):
        deed = moment.doing.act.deed
        for unit in units_in(job, moment):
            if not _is_so(job, moment, unit, deed):
                continue
            word = _ALREADY[deed]
            labels = touched(job, moment, unit, f"since here it is {word}")
            message = f"{{what}} is {word} already"
            hint = "Take the line out, or write the step before it that is missing."
            yield told_at(job, moment, unit, "already-so", message, hint, *labels)


def _is_so(job: Job, moment: Moment, unit: Unit, deed: Deed) -> bool:
    state, thing = moment.before.state, job.things[unit[0]]
    match thing:
        case Part():
            seat = state.part(unit).seat
            return seat == "off" if deed is Deed.REMOVE else deed is Deed.FIT and seat == "fitted"
        case Fastener():
            hold = state.fastener(unit).hold
            return hold == "out" if deed is Deed.UNDO else deed is Deed.START and hold != "out"
        case Connection():
            connected = state.line(unit).connected
            return connected if deed is Deed.CONNECT else deed is Deed.DISCONNECT and not connected
        case _:
            inside = state.aid(unit).inside
            return inside if deed is Deed.PUT_AID else deed is Deed.TAKE_AID and not inside
