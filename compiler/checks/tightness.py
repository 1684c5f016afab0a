"""A fastener that is tightened must have a torque, or it must be said that none is asked for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from compiler.checks.subject import Job, Subject
from compiler.derive.tightening import adapter_of, own_phrases, stages_of
from compiler.findings.model import Finding, Label
from compiler.model import Amount, Fastener, Tool
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


def adapter_setting(subject: Subject) -> Iterator[Finding]:
    """Find adapters that change what the wrench must be set to, while nobody can say to what."""
    for job in subject.jobs:
        wrenches = {line.key: line.wrench for line in job.derived.torques}
        for flat in flat_acts(job.walk):
            adapter = adapter_of(job.things, flat.act)
            if adapter is None or abs(math.cos(math.radians(adapter.angle))) < _SQUARE:
                continue
            for fastener in _tightened(job, flat.act):
                wrench = job.things.get(wrenches.get(fastener.key, ""))
                if isinstance(wrench, Tool) and stages_of(fastener, flat.act):
                    yield from _unknown_length(flat.act, adapter.tool, wrench)


_SQUARE = 1e-6
"""Cosine of an angle so near to 90 degrees that the adapter changes nothing."""


def _unknown_length(act: Act, adapter: Tool, wrench: Tool) -> Iterator[Finding]:
    lacking = [
        f"{tool.name} has no `{clause}`"
        for tool, clause, length in (
            (adapter, "extends", adapter.extends),
            (wrench, "length", wrench.length),
        )
        if length is None
    ]
    if lacking:
        yield Finding(
            "adapter-setting",
            act.span,
            f"{adapter.name} makes {wrench.name} longer, so it must be set to less than the "
            f"torque. To how much cannot be worked out: {' and '.join(lacking)}.",
            labels=tuple(Label(t.span, f"{t.name} is declared here") for t in (adapter, wrench)),
            hint="Give them (`extends 40 mm`, `length 280 mm`), measured from drive to drive and "
            "from drive to hand; or set it square to the wrench, where it changes nothing: "
            "`at 90 deg`.",
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
