"""A fastener that is tightened must have a torque, or it must be said that none is asked for."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.subject import Job, Subject
from compiler.derive.tightening import own_phrases, stages_of
from compiler.findings.model import Finding, Label
from compiler.model import Amount, Fastener
from compiler.source import Span
from compiler.walk.assembly import turns
from compiler.walk.flat import flat_acts
from compiler.walk.nodes import Act, Deed, Target


def missing_torque(subject: Subject) -> Iterator[Finding]:
    """Find fasteners that a step tightens while nothing says how tight."""
    models: dict[tuple[Span, str], dict[str, Fastener]] = {}
    walked: dict[Span, set[str]] = {}
    for job in subject.jobs:
        for flat in flat_acts(job.walk):
            walked.setdefault(flat.act.span, set()).add(job.model)
            for fastener in _tightened(job, flat.act):
                if not _says_how(fastener, flat.act):
                    found = models.setdefault((flat.act.span, fastener.key), {})
                    found[job.model] = fastener
    for (span, _), found in models.items():
        fastener = next(iter(found.values()))
        only = "" if found.keys() == walked[span] else f" on {', '.join(found)}"
        yield Finding(
            "missing-torque",
            span,
            f"{fastener.name} ({fastener.designation.text}) is tightened here, but nothing says "
            f"how tight{only}.",
            labels=(Label(fastener.span, f"{fastener.name} is declared here"),),
            hint=f"Give {fastener.name} the torque of the machine's manual, for example "
            "`torque 9 N·m`; where no wrench is asked for, write `hand-tight` or `snug`.",
        )


def _tightened(job: Job, act: Act) -> Iterator[Fastener]:
    if act.deed not in (Deed.TIGHTEN, Deed.LOCK):
        return
    for target in act.targets:
        thing = job.things.get(target.key) if isinstance(target, Target) else None
        if isinstance(thing, Fastener) and (act.deed is Deed.TIGHTEN or turns(thing)):
            yield thing


def _says_how(fastener: Fastener, act: Act) -> bool:
    if fastener.tightening is not None or stages_of(fastener, act):
        return True
    return any(
        phrase.word in ("hand-tight", "snug", "until")
        or (phrase.word in ("to", "by") and any(isinstance(o, Amount) for o in phrase.operands))
        for phrase in own_phrases(act)
    )
