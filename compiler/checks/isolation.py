"""The order of locking out: nothing is let out or proved dead before it is isolated.

`isolate` writes out the whole order of 29 CFR 1910.147 (d); what is written by hand may miss it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from compiler.checks.moments import moments_of, told_at, touched, units_in
from compiler.checks.replay import Moment
from compiler.checks.story import Told, tell
from compiler.checks.subject import Job, Subject
from compiler.findings.model import Finding, Label
from compiler.model import Energy, Prose
from compiler.source import Span
from compiler.trade.isolation import DEVICE, LOCKING_OUT, OTHER_DEVICE, PROOF
from compiler.walk.assembly import Unit
from compiler.walk.flat import flat_steps
from compiler.walk.nodes import Deed, StepNode
from compiler.walk.stored import STORED, without_device

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
        what, line = "how it is proved dead", f'`verify "{PROOF[thing.kind]}"`'
    elif deed is Deed.ISOLATE and not thing.isolate_at and thing.kind not in STORED:
        device = DEVICE.get(thing.kind, OTHER_DEVICE)
        what, line = "at which device", f'`isolate at "{device}"`'
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
            if without_device(thing):
                # A spring or a weight has no device to isolate it at, but it is let out first.
                if deed is Deed.VERIFY and thing.release and not state.discharged:
                    yield _not_let_out(job, moment, unit)
                continue
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


def _not_let_out(job: Job, moment: Moment, unit: Unit) -> Told:
    name = job.things[unit[0]].name
    message = "{what} is proved dead here, but no step lets it out"
    hint = f"Write before it: `release {name}`. Or `isolate {name}` in its place, which does both."
    return told_at(job, moment, unit, "isolation-order", message, hint)


_OPENS = re.compile(r"\b(open|crack|unscrew|loosen|slacken|unplug)\b", re.IGNORECASE)
_SHUTS = re.compile(
    r"\b(shut|clos|plug|cap\b|seal|tight|screw|turn|refit|back|in\b|itself|stays?\b)", re.IGNORECASE
)


def not_shut_again(subject: Subject) -> Iterator[Finding]:
    """Find what is opened to let an energy out, while nothing says that it is shut again."""
    told: set[Span] = set()
    for job, moment in moments_of(subject, Deed.ENERGIZE):
        for key, _ in units_in(job, moment):
            energy = job.things[key]
            if not isinstance(energy, Energy) or energy.span in told:
                continue
            opened = next((text for text in energy.release if _OPENS.search(_words(text))), None)
            if opened is None or any(_SHUTS.search(_words(text)) for text in energy.restore):
                continue
            if any(_shuts(step.node) for step in flat_steps(job.walk)):
                continue
            told.add(energy.span)
            yield _not_shut(energy, opened, moment.doing.step.step.span)


def _not_shut(energy: Energy, opened: Prose, given_back: Span) -> Finding:
    return Finding(
        "not-shut-again",
        opened.span,
        f"Something is opened here to let {energy.name} out, but nothing says that it is shut "
        f"again before {energy.name} comes back.",
        (Label(given_back, f"{energy.name} is given back here"),),
        f"Write it under {energy.name}, as it is at the machine, for example "
        '`restore "Shut drain D4 first."`; or say there that it stays open.',
    )


def _shuts(step: StepNode) -> bool:
    """Return whether a step of the author closes something that has no name, or says so."""
    if any(
        act.deed is Deed.CLOSE and any(isinstance(t, Prose) for t in act.targets)
        for act in step.acts
    ):
        return True
    said = [t for act in step.acts if act.deed in _SAYS for t in act.targets]
    return any(isinstance(t, Prose) and _SHUT_WORDS.search(_words(t)) for t in said)


_SAYS = frozenset({Deed.PROSE, Deed.CONFIRM, Deed.NEUTRAL})
_SHUT_WORDS = re.compile(r"\b(shut|close)\b", re.IGNORECASE)


def _words(text: Prose) -> str:
    """Return a text without what is linked in it."""
    return "".join(part if isinstance(part, str) else " " for part in text.parts)
