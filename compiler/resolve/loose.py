"""Gives each line that stands between steps to what it belongs to: a section or the next step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from compiler import syntax


@dataclass(frozen=True, slots=True)
class Settled:
    """A body without loose lines.

    `first` are those that stood before everything else in it, when the body is a section's;
    `stranded` those that nothing follows; `unsure` those that a step comes before and another
    after, so that a reader of the file may take them for either's.
    """

    body: tuple[syntax.Statement, ...]
    first: tuple[syntax.Attachment, ...] = ()
    stranded: tuple[syntax.LooseAttachment, ...] = ()
    unsure: tuple[Between, ...] = ()


@dataclass(frozen=True, slots=True)
class Between:
    """A note, time or number of people between two statements; it goes to the one `after` it."""

    line: syntax.LooseAttachment
    before: syntax.Statement
    after: syntax.Statement


_EITHERS = (syntax.NoteLine, syntax.TakesLine, syntax.PeopleLine)
"""What people write after the step it is about as often as before it. A safety message or a picture
comes first, as the step would else be done before it is read."""


def settle(body: Sequence[syntax.Statement], in_section: bool) -> Settled:
    """Move loose lines: the first of a section to the section, others to what follows them."""
    first: list[syntax.Attachment] = []
    waiting: list[syntax.LooseAttachment] = []
    settled: list[syntax.Statement] = []
    unsure: list[Between] = []
    at_start = in_section
    for statement in body:
        if isinstance(statement, syntax.LooseAttachment):
            if at_start:
                first.append(statement.attachment)
            else:
                waiting.append(statement)
            continue
        at_start = False
        if settled:
            unsure += [
                Between(loose, settled[-1], statement)
                for loose in waiting
                if isinstance(loose.attachment, _EITHERS)
            ]
        settled.append(_hand_over(statement, waiting) if waiting else statement)
        waiting = []
    return Settled(tuple(settled), tuple(first), tuple(waiting), tuple(unsure))


def _hand_over(
    statement: syntax.Statement, waiting: Sequence[syntax.LooseAttachment]
) -> syntax.Statement:
    """Return the statement with the waiting lines; what cannot carry any passes them inwards."""
    if isinstance(statement, syntax.Branch):
        arms = tuple(replace(arm, body=(*waiting, *arm.body)) for arm in statement.arms)
        return replace(statement, arms=arms)
    if isinstance(statement, syntax.SideBySide):
        lanes = tuple(replace(lane, body=(*waiting, *lane.body)) for lane in statement.lanes)
        return replace(statement, lanes=lanes)
    if isinstance(statement, syntax.OnlyFor):
        return replace(statement, body=(*waiting, *statement.body))
    if isinstance(statement, syntax.LooseAttachment):
        return statement
    lines = tuple(loose.attachment for loose in waiting)
    return replace(statement, attachments=(*lines, *statement.attachments))
