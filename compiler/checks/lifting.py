"""Heavy parts: none comes free or goes in without something that takes its weight."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from compiler.checks.loads import Load, load_of
from compiler.checks.moments import moments_of, told_at, unit_words, units_in
from compiler.checks.replay import Moment
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.derive.handling import half_said, hand_lift
from compiler.findings.model import Finding, Label
from compiler.model import Aid, Amount, Tool
from compiler.trade.units import Quantity, format_quantity
from compiler.walk.assembly import Unit
from compiler.walk.nodes import Deed, Target

USUAL_LIMIT = Quantity(Fraction(25), "kg", "25")
"""What one person lifts at most when the shop says nothing. Common practice, no source; 23 kg is
the load constant of the NIOSH equation (publication 94-110), under the best conditions only."""


def unsupported(subject: Subject) -> Iterator[Finding]:
    """Find parts too heavy for the people there that come free or go in without a support."""
    yield from tell(_free(subject))


def _free(subject: Subject) -> Iterator[Told]:
    shop = subject.world.shop
    limit = shop.lift_limit if shop is not None and shop.lift_limit is not None else USUAL_LIMIT
    free: set[tuple[str, str, Unit]] = set()
    for job, moment in moments_of(subject, Deed.REMOVE, Deed.UNDO, Deed.LET_GO, Deed.FIT):
        for unit in _coming_free(job, moment):
            known = (job.procedure.key, job.model, unit)
            if moment.doing.act.deed is Deed.REMOVE and known in free:
                continue  # told where its last fastener came out
            load = load_of(job, moment.before.state, unit)
            if load is None or moment.after.state.part(unit).supported:
                continue
            people = max(1, moment.doing.step.extras.people, job.procedure.people)
            if _reckoned(load.mass) <= limit.si * people:
                continue
            if moment.doing.act.deed is Deed.UNDO:
                free.add(known)
            yield _told(job, moment, unit, load, limit, people)


def hard_to_lift(subject: Subject) -> Iterator[Finding]:
    """Find parts lifted by hand that weigh more than the lifting equation recommends."""
    yield from tell(_hard(subject))


_BY_HAND = (Deed.REMOVE, Deed.FIT, Deed.MOVE, Deed.ASIDE, Deed.TRANSFER, Deed.NEUTRAL)


def _half(job: Job, moment: Moment, unit: Unit, missing: str) -> Told:
    message = (
        f"how {{what}} is lifted by hand is only half said: `{missing}` is missing, so that no "
    )
    message += "weight limit can be worked out"
    hint = "Write both, of the part or under the step: lifted 70..110 cm  hands out 40 cm"
    return told_at(job, moment, unit, "hard-to-lift", message, hint)


def _hard(subject: Subject) -> Iterator[Told]:
    halves: set[tuple[str, str]] = set()
    for job, moment in moments_of(subject, *_BY_HAND):
        extras = moment.doing.step.extras
        # That a part is carried or set aside is a lift by hand only where the step says how.
        if moment.doing.act.deed not in (Deed.REMOVE, Deed.FIT) and not extras.handling:
            continue
        for unit in units_in(job, moment):
            part = job.assembly.part(unit)
            if part is None or moment.before.state.part(unit).supported:
                continue
            missing = half_said(part, extras.handling)
            if missing and (job.procedure.key, part.key) not in halves:
                halves.add((job.procedure.key, part.key))
                yield _half(job, moment, unit, missing)
            people = max(1, extras.people, job.procedure.people)
            load = load_of(job, moment.before.state, unit)
            mass = load.mass if load is not None else None
            found = hand_lift(part, people, mass, extras.handling)
            if found is None or found.lift.load is None or found.lift.load <= found.limit:
                continue
            why = f": {found.beyond[0]}" if found.beyond else ""
            index = f", LI {found.index:.2f}" if found.index is not None else why
            share = f", shared by {people} people" if people > 1 else ""
            words = _mass_words(load.mass) + load.words if load is not None else ""
            message = (
                f"{{what}} ({words}{share}) is too much to lift like this: "
                f"RWL {found.limit:.1f} kg for each person{index}"
            )
            hint = (
                f"Support it with lifting gear, stand closer, or lift it less high. {found.formula}"
            )
            yield told_at(job, moment, unit, "hard-to-lift", message, hint)


def lifts_too_little(subject: Subject) -> Iterator[Finding]:
    """Find parts that hang on lifting gear which is made for less."""
    yield from tell(_overloaded(subject))


def _overloaded(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, Deed.SUPPORT):
        for unit in units_in(job, moment):
            load = load_of(job, moment.before.state, unit)
            if load is None:
                continue
            for gear in _gear(job, moment):
                # How many the crib owns says nothing of how many are on the load, and two slings
                # at an angle carry less than twice one: the rating of one counts.
                if gear.lifts is not None and _reckoned(load.mass) > gear.lifts.si:
                    rating = format_quantity(gear.lifts)
                    message = (
                        f"{{what}} ({_taken_as(load)}) hangs on {gear.name} here, which "
                        f"lifts {rating}"
                    )
                    hint = "Take gear that is rated for it, and look at the rating on its plate."
                    labels = (Label(gear.span, "its rating is given here"),)
                    yield told_at(job, moment, unit, "lifts-too-little", message, hint, *labels)


_NOT_WEIGHED = Fraction(5, 4)
"""What is `over 45 kg` was not weighed: a quarter more is reckoned with. Common practice, no
source."""


def _reckoned(mass: Amount) -> Fraction:
    """Return the mass in kg that hands or gear must be good for."""
    most = (mass.high or mass.low).si
    return most * _NOT_WEIGHED if mass.qualifier == "over" else most


def _taken_as(load: Load) -> str:
    mass = load.mass
    if mass.qualifier != "over":
        return _mass_words(mass) + load.words
    taken = (mass.high or mass.low).value * _NOT_WEIGHED
    unit = (mass.high or mass.low).unit
    return f"{_mass_words(mass)}{load.words}, not weighed: taken as {float(taken):.3g} {unit}"


def _gear(job: Job, moment: Moment) -> Iterator[Tool | Aid]:
    for phrase in moment.doing.act.phrases:
        for operand in phrase.operands if phrase.word == "with" else ():
            thing = job.things.get(operand.key) if isinstance(operand, Target) else None
            if isinstance(thing, Tool | Aid):
                yield thing


def _coming_free(job: Job, moment: Moment) -> Iterator[Unit]:
    """Yield the parts that nothing holds after an act, or that hands alone bring in."""
    deed = moment.doing.act.deed
    for unit in units_in(job, moment):
        if deed is Deed.UNDO:
            yield from (u for u in job.assembly.held.get(unit, ()) if _hangs(job, moment, u))
        elif deed is Deed.REMOVE:
            if moment.before.state.part(unit).seat != "off":
                yield unit
        elif deed is Deed.FIT:
            if moment.before.state.part(unit).seat == "off":
                yield unit
        elif _hangs(job, moment, unit) and job.assembly.holders.get(unit):
            yield unit


def _hangs(job: Job, moment: Moment, part: Unit) -> bool:
    """Return whether the last thing that held a part is out now, and the part is still there."""
    if job.assembly.part(part) is None or moment.before.state.part(part).seat == "off":
        return False
    holders = job.assembly.holders.get(part, ())
    return all(moment.after.state.fastener(h).hold == "out" for h in holders)


def _mass_words(mass: Amount) -> str:
    said = format_quantity(mass.high or mass.low)
    return f"{mass.qualifier} {said}" if mass.qualifier else said


def _told(job: Job, moment: Moment, unit: Unit, load: Load, limit: Quantity, people: int) -> Told:
    each = (
        f"{format_quantity(limit)} for each of {people}" if people > 1 else format_quantity(limit)
    )
    name = unit_words(job, unit)
    does = "goes in" if moment.doing.act.deed is Deed.FIT else "comes free"
    message = f"{{what}} ({_taken_as(load)}) {does} here, and nothing takes its weight"
    hint = (
        f"Write before it what does: `support {name} with` a hoist, a table or a block. The limit "
        f"is {each}{_more_people(load.mass, limit)}."
    )
    return told_at(job, moment, unit, "unsupported", message, hint)


def _more_people(mass: Amount, limit: Quantity) -> str:
    """Return how many people would do; more than four cannot lift together (common practice)."""
    enough = math.ceil(_reckoned(mass) / limit.si) if limit.si > 0 else 0
    return f"; {enough} people on the step (`people {enough}`) may do" if 2 <= enough <= 4 else ""
