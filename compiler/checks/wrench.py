"""A torque wrench that a step names against what its joint asks for."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.subject import Job, Subject
from compiler.checks.torque import tightened
from compiler.derive.accuracy import accuracy_of, accuracy_words, percent, rooms_of
from compiler.derive.crib import in_range, measures_torque
from compiler.derive.joints import set_to
from compiler.derive.tightening import adapter_of, amount_words, measured, own_phrases, stages_of
from compiler.findings.model import Finding, Label
from compiler.model import Fastener, Tool
from compiler.trade.units import Quantity, format_quantity
from compiler.walk.flat import FlatAct
from compiler.walk.nodes import Target, WalkPhrase


def wrong_wrench(subject: Subject) -> Iterator[Finding]:
    """Find torque wrenches named in a step that do not show its torque, or not closely enough.

    Of several that are named together one is enough for each torque; of `small or large` each has
    to do, because either may be taken. What no line names is chosen rightly.
    """
    for job in subject.jobs:
        for flat in job.acts:
            choices = _choices(job, flat)
            for fastener in tightened(job, flat) if choices else ():
                found = (next(_judged(job, flat, fastener, named), None) for named in choices)
                yield from dict.fromkeys(one for one in found if one is not None)


def _choices(job: Job, flat: FlatAct) -> list[list[Tool]]:
    """Return the torque wrenches a reader may have in hand: those named, once for each choice."""
    phrases = [phrase for phrase in own_phrases(flat.act) if phrase.word == "with"]
    together = [tool for p in phrases if p.joined == "and" for tool in _wrenches(job, p)]
    apart = [tool for p in phrases if p.joined == "or" for tool in _wrenches(job, p)]
    return [[tool, *together] for tool in apart] or ([together] if together else [])


def _wrenches(job: Job, phrase: WalkPhrase) -> list[Tool]:
    things = (job.things.get(one.key) for one in phrase.operands if isinstance(one, Target))
    return [one for one in things if isinstance(one, Tool) and measures_torque(one)]


def _judged(job: Job, flat: FlatAct, fastener: Fastener, named: list[Tool]) -> Iterator[Finding]:
    stages, adapter = stages_of(fastener, flat.act), adapter_of(job.things, flat.act)
    rooms = dict(rooms_of(stages))
    for torque in measured(stages):
        room = rooms.get(torque)
        ranged = [tool for tool in named if tool.range is not None]
        shown = [tool for tool in ranged if in_range(tool, set_to(torque, tool, adapter))]
        if ranged == named and not shown:
            yield _finding(flat, fastener, named[0], _range_words(named[0], torque))
            return
        if room is not None and shown and all(accuracy_of(tool) > room for tool in shown):
            said = f"shows it only to {accuracy_words(shown[0])}, and ±{percent(room)} is asked"
            yield _finding(flat, fastener, shown[0], f"{said} for {format_quantity(torque)}")
            return


def _range_words(tool: Tool, torque: Quantity) -> str:
    ends = amount_words(tool.range) if tool.range is not None else ""
    return f"goes from {ends}, and {format_quantity(torque)} is asked"


def _finding(flat: FlatAct, fastener: Fastener, tool: Tool, why: str) -> Finding:
    return Finding(
        "wrong-wrench",
        flat.act.span,
        f"{tool.name} does not do for {fastener.name}: it {why}.",
        labels=(
            Label(tool.span, f"{tool.name} is declared here"),
            Label(fastener.span, f"{fastener.name} is declared here"),
        ),
        hint=f"Name another wrench, or leave `{tool.name}` out: then one that does is chosen from "
        "the crib.",
    )
