"""The order of locking out: nothing is let out or proved dead before it is isolated.

`isolate` writes out the whole order of 29 CFR 1910.147 (d); what is written by hand may miss it.
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.moments import moments_of, told_at, touched, units_in
from compiler.checks.story import Told, tell
from compiler.checks.subject import Subject
from compiler.findings.model import Finding
from compiler.model import Energy
from compiler.trade.isolation import LOCKING_OUT
from compiler.walk.isolate import STORED
from compiler.walk.nodes import Deed

_CLAUSES = {Deed(word): clause for clause, word in LOCKING_OUT}
_DOES = {Deed.DISCHARGE: "let out", Deed.VERIFY: "proved dead"}


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
