"""A fastener that is tightened must have a torque, or it must be said that none is asked for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from compiler.checks.subject import Job, Subject
from compiler.derive.tightening import Adapter, adapter_of, own_phrases, stages_of, target_of
from compiler.findings.model import Finding, Label
from compiler.model import Amount, Fastener, Tool
from compiler.source import Span
from compiler.trade.tools import IN_LINE
from compiler.walk.assembly import turns
from compiler.walk.nodes import Act, Deed, Target


def missing_torque(subject: Subject) -> Iterator[Finding]:
    """Find fasteners that a step tightens while nothing says how tight."""
    models: dict[tuple[Span, str], dict[str, Fastener]] = {}
    walked: dict[Span, set[str]] = {}
    slackened: dict[tuple[Span, str], Span] = {}
    for job in subject.jobs:
        last: dict[str, Span] = {}
        for flat in job.acts:
            walked.setdefault(flat.act.span, set()).add(job.model)
            if flat.act.deed is Deed.SLACKEN:
                last.update(dict.fromkeys(flat.act.keys(), flat.act.span))
            worked_out = any(one.kind == "refit" for one in flat.step.node.origin)
            for fastener in _tightened(job, flat.act):
                if not _says_how(fastener, flat.act):
                    place = (flat.act.span, fastener.key)
                    models.setdefault(place, {})[job.model] = fastener
                    if worked_out and fastener.key in last:
                        slackened[place] = last[fastener.key]
    for place, found in models.items():
        only = "" if found.keys() == walked[place[0]] else f" on {', '.join(found)}"
        yield _not_said(place[0], next(iter(found.values())), only, slackened.get(place))


def _not_said(span: Span, fastener: Fastener, only: str, slackened: Span | None) -> Finding:
    labels, more = [Label(fastener.span, f"{fastener.name} is declared here")], ""
    if slackened is not None:
        labels.insert(0, Label(slackened, "the way back tightens what is slackened here"))
        more = (
            " If a step of its own sets it, slacken it before the section: then the way back "
            "leaves it alone."
        )
    return Finding(
        "missing-torque",
        span,
        f"{fastener.name} ({fastener.designation.text}) is tightened here, but nothing says "
        f"how tight{only}.",
        labels=tuple(labels),
        hint=f"Give {fastener.name} the torque of the machine's manual, for example "
        f"`torque 9 N·m`; where no wrench is asked for, write `hand-tight` or `snug`.{more}",
    )


def adapter_setting(subject: Subject) -> Iterator[Finding]:
    """Find adapters that change what the wrench must be set to, while nobody can say to what."""
    for job in subject.jobs:
        for flat in job.acts:
            adapter = adapter_of(job.things, flat.act)
            if adapter is None or _changes_nothing(adapter):
                continue
            for fastener in _tightened(job, flat.act):
                if target_of(stages_of(fastener, flat.act)) is not None:
                    wrench = _wrench_of(job, fastener, flat.step.node.id)
                    yield from _unknown_length(flat.act, adapter.tool, wrench)


_SQUARE = 1e-6
"""Cosine of an angle so near to 90 degrees that the adapter changes nothing."""


def _changes_nothing(adapter: Adapter) -> bool:
    in_line = adapter.tool.kind in IN_LINE and adapter.tool.extends is None
    return in_line or abs(math.cos(math.radians(adapter.angle))) < _SQUARE


def _wrench_of(job: Job, fastener: Fastener, step_id: str) -> Tool | None:
    """Return the torque wrench of a step; of another round of it where one is shown for all."""
    lines = [line for line in job.derived.torques if line.key == fastener.key]
    here = [line for line in lines if step_id in line.step_ids] or lines
    wrench = job.things.get(here[0].wrench) if here else None
    return wrench if isinstance(wrench, Tool) else None


def _unknown_length(act: Act, adapter: Tool, wrench: Tool | None) -> Iterator[Finding]:
    lacking = [f"{adapter.name} has no `extends`"] if adapter.extends is None else []
    if wrench is None:
        lacking.append("no torque wrench is known that has a length")
    elif wrench.length is None:
        lacking.append(f"{wrench.name} has no `length`")
    if lacking:
        tools = [tool for tool in (adapter, wrench) if tool is not None]
        yield Finding(
            "adapter-setting",
            act.span,
            f"Through {adapter.name} the torque wrench must be set to another value than the "
            f"torque. To which cannot be worked out: {' and '.join(lacking)}.",
            labels=tuple(Label(t.span, f"{t.name} is declared here") for t in tools),
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
