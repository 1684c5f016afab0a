"""The order of locking out: nothing is let out or proved dead before it is isolated.

`isolate` writes out the whole order of 29 CFR 1910.147 (d); what is written by hand may miss it.
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.moments import moments_of, told_at, touched, units_in
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding
from compiler.model import Energy
from compiler.source import Span
from compiler.trade.isolation import LOCKING_OUT
from compiler.walk.isolate import STORED
from compiler.walk.nodes import Deed

_CLAUSES = {Deed(word): clause for clause, word in LOCKING_OUT}
_DOES = {Deed.DISCHARGE: "let out", Deed.VERIFY: "proved dead"}


def isolation_not_said(subject: Subject) -> Iterator[Finding]:
    """Find energies that are isolated while the machine does not say where, or how it is proved."""
    told: set[tuple[Span, str]] = set()
    for job, moment in moments_of(subject, Deed.ISOLATE, Deed.VERIFY):
        for unit in units_in(job, moment):
            found = _not_said(job, unit[0], moment.doing.act.deed)
            if found is None or (found.span, found.message) in told:
                continue
            told.add((found.span, found.message))
            yield found


def _not_said(job: Job, key: str, deed: Deed) -> Finding | None:
    thing = job.things[key]
    if not isinstance(thing, Energy):
        return None
    if deed is Deed.VERIFY and not thing.verify:
        what, line = "how it is proved dead", '`verify "gauge PI-7 reads zero"`'
    elif deed is Deed.ISOLATE and not thing.isolate_at and thing.kind not in STORED:
        what, line = "at which device", '`isolate at "switch Q3 on panel P2"`'
    else:
        return None
    return Finding(
        "isolation-not-said",
        thing.span,
        f"{thing.name} is isolated by a procedure, but nothing says {what}.",
        hint=f"Write it under {thing.name}, as it is at the machine, for example {line}.",
    )


def isolation_order(subject: Subject) -> Iterator[Finding]:
    """Find energies that are let out or proved dead while nothing keeps them from coming back."""
    yield from tell(_out_of_order(subject))


def _out_of_order(subject: Subject) -> Iterator[Told]:
    for job, moment in moments_of(subject, *_DOES):
        deed = moment.doing.act.deed
        for unit in units_in(job, moment):
            thing, state = job.things[unit[0]], moment.before.state.energy(unit)
            if not isinstance(thing, Energy) or state.isolated:
                continue
            if not thing.isolate_at and thing.kind in STORED:
                continue  # a spring or a weight has no device to isolate it at
            last = moment.before.last.get(unit)
            back = last is not None and last.act.deed is Deed.ENERGIZE
            labels = touched(job, moment, unit, "it was given back here") if back else ()
            message = f"{{what}} is {_DOES[deed]} here, but it is not isolated"
            hint = (
                f"Write `isolate {thing.name}` in its place: it goes through the whole order, from "
                f"stopping the machine to the proof. In 29 CFR 1910.147 isolating, "
                f"{_CLAUSES[Deed.ISOLATE]}, comes before it, {_CLAUSES[deed]}."
            )
            yield told_at(job, moment, unit, "isolation-order", message, hint, *labels)
