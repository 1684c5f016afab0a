"""The order of the hands: what is in the way, what is not in yet, what is so already."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from compiler.checks.energy import guards_that_are_on
from compiler.checks.moments import moments_of, told_at, touched, unit_words, units_in
from compiler.checks.replay import Moment
from compiler.checks.replay.way import Doing, core_of
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding, Label
from compiler.model import ActionStep, Connection, Energy, Fastener, Part, Selection
from compiler.source import Span
from compiler.trade.verbs import Effect
from compiler.walk.assembly import Unit
from compiler.walk.nodes import Deed
from compiler.walk.state import EnergyState


def in_the_way(subject: Subject) -> Iterator[Finding]:
    """Find what is taken out from behind a part that is there, or put in behind it."""
    yield from tell(_blocked(subject))
    yield from tell(_worked_on_behind(subject))


_COMES_OUT = (Deed.REMOVE, Deed.DISCONNECT, Deed.UNDO, Deed.ASIDE)
_GOES_IN = (Deed.FIT, Deed.CONNECT, Deed.START)
_IS_REACHED: Mapping[Deed, str] = {
    Deed.OPEN: "opened",
    Deed.SLACKEN: "slackened",
    Deed.TIGHTEN: "tightened",
}
_PUTS_IN_FRONT: Mapping[Deed, str] = {
    Deed.FIT: "went in",
    Deed.MOVE: "was moved",
    Deed.CONNECT: "was connected",
    Deed.CLOSE: "was closed",
}


def _blocked(subject: Subject) -> Iterator[Told]:
    came_out: dict[tuple[str, str, Unit, Unit], Doing | None] = {}
    for job, moment in moments_of(subject, *_COMES_OUT, *_GOES_IN, *_IS_REACHED):
        deed = moment.doing.act.deed
        for unit in units_in(job, moment):
            for blocker in job.assembly.behind.get(unit, ()):
                if not _is_blocked(job, moment, unit, blocker):
                    continue
                pair = (job.procedure.key, job.model, unit, blocker)
                last = moment.before.last.get(blocker)
                told = deed in _GOES_IN and pair in came_out
                if told and (came_out[pair] is last or _worked_out(moment.doing)):
                    continue  # one slip, told where it came out
                if deed in _COMES_OUT:
                    came_out[pair] = last
                yield _in_the_way(job, moment, unit, blocker)


_HANDS_ON: Mapping[str, str] = {
    "align": "aligned",
    "brush": "brushed",
    "clean": "cleaned",
    "deburr": "deburred",
    "degrease": "degreased",
    "scrape": "scraped",
    "shim": "shimmed",
    "tension": "tensioned",
    "wipe": "wiped",
}
"""Work that takes a hand or a gauge at the part itself (common practice, no source)."""


def _worked_on_behind(subject: Subject) -> Iterator[Told]:
    """Yield what is tensioned or cleaned after that in front of it went back on in this job.

    Where the job never took it off, there may be an opening to reach through.
    """
    for job, moment in moments_of(subject, Deed.NEUTRAL):
        verb = moment.doing.act.verb
        if verb is None or verb.word not in _HANDS_ON:
            continue
        for unit in units_in(job, moment):
            for blocker in job.assembly.behind.get(unit, ()):
                if _put(moment, blocker) and _is_blocked(job, moment, unit, blocker):
                    yield _in_the_way(job, moment, unit, blocker)


def _put(moment: Moment, blocker: Unit) -> str | None:
    """Return how a thing came to be in front, in words; None when nobody put it there."""
    last = moment.before.last.get(blocker)
    return _PUTS_IN_FRONT.get(last.act.deed) if last is not None else None


def _is_blocked(job: Job, moment: Moment, unit: Unit, blocker: Unit) -> bool:
    """Return whether `blocker` keeps the hand from `unit`.

    Not when a carrier of one of them is away; what carries both makes no difference: on the bench
    too the seat lies behind the seal.
    """
    state, assembly = moment.before.state, job.assembly
    if blocker in units_in(job, moment):
        return False
    if moment.doing.act.deed is Deed.FIT and _is_in_already(job, moment, unit):
        return False  # nothing goes in: that is told
    if any(state.part(each).opened for each in assembly.chain(blocker)):
        return False  # a door that stands open is out of the way
    behind, front = assembly.chain(unit)[1:], assembly.chain(blocker)
    apart = [c for c in behind if c not in front] + [c for c in front if c not in behind]
    return not any(state.away(carrier, assembly) for carrier in apart)


def _is_in_already(job: Job, moment: Moment, unit: Unit) -> bool:
    part = job.assembly.part(unit)
    return part is not None and moment.before.state.part(unit).seat == "fitted"


def _in_the_way(job: Job, moment: Moment, unit: Unit, blocker: Unit) -> Told:
    deed, name = moment.doing.act.deed, unit_words(job, blocker)
    put = _put(moment, blocker)
    labels = touched(job, moment, blocker, f"{name} {put} here") if put else ()
    verb = moment.doing.act.verb
    if deed in _IS_REACHED:
        does = f"is {_IS_REACHED[deed]}"
    elif deed is Deed.NEUTRAL and verb is not None:
        does = f"is {_HANDS_ON[verb.word]}"
    else:
        does = "comes out" if deed in _COMES_OUT else "goes in"
    away = _away_words(job, blocker)
    hint = f"Take {name} out of the way first: {away}."
    if put:
        hint = f"Put {name} back after it (move its line down), or take it away first: {away}."
    message = f"{{what}} {does} here, but it is behind {name}, which is still in place"
    return told_at(job, moment, unit, "in-the-way", message, hint, *labels)


def _away_words(job: Job, blocker: Unit) -> str:
    name = unit_words(job, blocker)
    if isinstance(job.things[blocker[0]], Connection):
        return f"`disconnect {name}`"
    return f"`remove {name}`, `open {name}` or `move {name} aside`"


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
            held = job.assembly.held.get(unit, ())
            # One that holds several may hold the others while one is off.
            if deed is Deed.TIGHTEN and held and all(_is_off(job, moment, h) for h in held):
                name = unit_words(job, held[0])
                labels = touched(job, moment, held[0], f"{name} came off here")
                message = f"{{what}} is tightened here, but {name}, which it holds, is off"
                hint = f"Fit {name} first, or tighten later."
                yield told_at(job, moment, unit, "not-in-yet", message, hint, *labels)
    yield from _too_early(subject)


def _too_early(subject: Subject) -> Iterator[Told]:
    """Yield what was tightened before the last of the parts that it holds was there."""
    for job, moment in moments_of(subject, Deed.FIT):
        for unit in units_in(job, moment):
            if not _is_off(job, moment, unit):
                continue
            for holder in job.assembly.holders.get(unit, ()):
                last = moment.before.last.get(holder)
                tight = moment.before.state.fastener(holder).hold == "tight"
                several = len(job.assembly.held.get(holder, ())) > 1
                if several and tight and last is not None and last.act.deed is Deed.TIGHTEN:
                    name, here = unit_words(job, unit), moment.doing.step.step.span
                    message = f"{{what}} is tightened here, before {name}, which it holds, is on"
                    hint = f"Fit {name} first, or tighten later."
                    label = Label(here, f"{name} goes in here")
                    span = last.step.step.span
                    way = moment.before
                    yield Told("not-in-yet", holder, span, message, hint, job, way, (label,))


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
    Deed.ENERGIZE: "live",
}


def _turned_out(moment: Moment, unit: Unit, turned: set[tuple[Unit, Span]]) -> bool:
    """Return whether it counts as in only because it was turned while it was out: told there."""
    last = moment.before.last.get(unit)
    return last is not None and (unit, last.step.step.span) in turned


def _already(subject: Subject) -> Iterator[Told]:
    turned = {(told.unit, told.span) for told in _not_in(subject)}
    for job, moment in moments_of(subject, *_ALREADY):
        deed = moment.doing.act.deed
        if moment.doing.act.implied and deed in (Deed.UNDO, Deed.START):
            continue  # the part that it holds is spoken of
        if _is_replaced(moment) and deed not in _COMES_OUT:
            continue  # what is in by now, the second time round, comes out for the new one
        for unit in (*units_in(job, moment), *_left_out(job, moment)):
            if _is_so(job, moment, unit, deed) and not _turned_out(moment, unit, turned):
                yield _told_already(job, moment, unit)
    yield from guards_that_are_on(subject)


def _is_replaced(moment: Moment) -> bool:
    step = moment.doing.step.step
    return isinstance(step, ActionStep) and step.verb.effect is Effect.REPLACE


def _told_already(job: Job, moment: Moment, unit: Unit) -> Told:
    deed = moment.doing.act.deed
    word = _ALREADY[deed]
    labels = touched(job, moment, unit, f"since here it is {word}")
    message = f"{{what}} is {word} already"
    hint = "Take the line out, or write the step before it that is missing."
    if moment.before.choices:
        hint = "Move it to where it is not so yet, or write the step that is missing."
    elif worked_out := _worked_out(moment.before.last.get(unit)):
        hint = f"Take this line out: the `{worked_out}` line has done it already."
    if deed is Deed.FIT and not moment.before.choices and _is_single_use(job, unit):
        name = unit_words(job, unit)
        hint = f"For a new one write `replace {name}`: it takes the old one out and puts it in."
    if deed is Deed.ENERGIZE:
        name = job.things[unit[0]].name
        hint = (
            f"Isolate it before the work (`isolate {name}`), take it out of the line, or say "
            f"in the head that it is isolated at the start: `starts with {name} isolated`."
        )
    return told_at(job, moment, unit, "already-so", message, hint, *labels)


def _is_single_use(job: Job, unit: Unit) -> bool:
    part = job.assembly.part(unit)
    return part is not None and part.renew


def _worked_out(doing: Doing | None) -> str:
    """Return the word of the line from which a step was worked out; '' for one that is written."""
    origins = doing.step.origin if doing is not None else ()
    return next((o.kind for o in reversed(origins) if o.kind in ("refit", "reach")), "")


def _left_out(job: Job, moment: Moment) -> Iterator[Unit]:
    """Yield what a `restore` line names beside what is isolated: nothing is done about it.

    Of what is followed, one way back may serve several ways in.
    """
    step, act = moment.doing.step, moment.doing.act
    if act.deed is not Deed.ENERGIZE or not isinstance(step.step, ActionStep):
        return
    if any(origin.kind == "follow" for origin in step.origin):
        return
    named = [target for target in step.step.targets if isinstance(target, Selection)]
    done = units_in(job, moment)
    for target in named:
        members = [member for member in target.members if isinstance(member, str)]
        yield from (u for u in job.assembly.units(target.key, members) if u not in done)


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
        case Energy():
            return deed is Deed.ENERGIZE and core_of(state.energy(unit)) == core_of(EnergyState())
        case _:
            inside = state.aid(unit).inside
            return inside if deed is Deed.PUT_AID else deed is Deed.TAKE_AID and not inside
