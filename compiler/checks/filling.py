"""Nothing is filled in while it can run out again at the bottom."""

from __future__ import annotations

import re
from collections.abc import Iterator

from compiler.checks.energy import is_loose
from compiler.checks.left_words import state_words
from compiler.checks.moments import moments_of, told_at, touched, unit_words, units_in
from compiler.checks.replay import Moment
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.derive.filling import own_amount
from compiler.findings.model import Finding, Label
from compiler.model import Amount, Fastener, Fluid
from compiler.trade.units import format_quantity
from compiler.walk.assembly import Unit
from compiler.walk.nodes import Deed

_DRAIN = re.compile(r"\bdrain", re.IGNORECASE)
"""What lets a fluid out at the bottom is called so; filler, level and vent plugs are open when it
is filled in (common practice, no source)."""


def runs_out_again(subject: Subject) -> Iterator[Finding]:
    """Find fluids that are filled in while a drain plug that keeps them in is out or not tight."""
    yield from tell(_running_out(subject))


def _running_out(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, Deed.FILL):
        for fluid in units_in(job, moment):
            for plug in _drains(job, fluid[0]):
                if is_loose(job, moment, plug):
                    yield _told(job, moment, fluid, plug)


def filled_too_much(subject: Subject) -> Iterator[Finding]:
    """Find steps that fill in more than the fluid is said to be in all."""
    yield from tell(_too_much(subject))


def _too_much(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, Deed.FILL):
        said, _ = own_amount(moment.doing.act)
        for unit in units_in(job, moment) if said is not None else ():
            fluid = job.things[unit[0]]
            if said is None or not isinstance(fluid, Fluid) or fluid.amount is None:
                continue
            all_of_it = fluid.amount.high or fluid.amount.low
            given = said.high or said.low
            if given.dimension == all_of_it.dimension and given.si > all_of_it.si * _room(fluid):
                in_all, here = format_quantity(all_of_it), format_quantity(given)
                message = f"{here} of {{what}} is filled in here, but {in_all} is all that goes in"
                hint = "Look at both values: the one on the fluid is what goes in in all."
                label = Label(fluid.amount.span, "the amount is said here")
                yield told_at(job, moment, unit, "quantity-sanity", message, hint, label)


def _room(fluid: Fluid) -> float:
    """Return by how much more than is said may go in; what is `about` is not exact."""
    return 1.25 if isinstance(fluid.amount, Amount) and fluid.amount.qualifier else 1.0


def _drains(job: Job, fluid: str) -> Iterator[Unit]:
    """Yield the plugs of a fluid that are called drain plugs."""
    for key, thing in job.things.items():
        if isinstance(thing, Fastener) and fluid in thing.seals:
            label = thing.label or ""
            if _DRAIN.search(f"{thing.name} {label}"):
                yield from job.assembly.units(key)


def _told(job: Job, moment: Moment, fluid: Unit, plug: Unit) -> Told:
    name, status = unit_words(job, plug), moment.before.state.status(plug, job.assembly)
    now = state_words(status) if status is not None else "out"
    message = f"{{what}} is filled in here, but {name}, which keeps it in, is {now}"
    fit = f"`fit {name}`, then " if moment.before.state.fastener(plug).hold == "out" else ""
    hint = f"Write before it: {fit}`tighten {name}`. To rinse through, write `flush` instead."
    labels = touched(job, moment, plug, f"since here {name} is {now}")
    return told_at(job, moment, fluid, "runs-out-again", message, hint, *labels)
