"""Safety messages: each that speaks of injury says how it is avoided (ANSI Z535.6)."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.inside import found
from compiler.checks.subject import Subject
from compiler.findings.model import Finding
from compiler.model import Safety
from compiler.source import Span


def no_avoidance(subject: Subject) -> Iterator[Finding]:
    """Find messages that name a danger and leave the reader alone with it."""
    world = subject.world
    holders = (world.shop, *world.machines.values(), *world.procedures.values())
    seen: dict[Span, Safety] = {}
    done: set[int] = set()
    for holder in holders:
        for _, _, message in found(holder, Safety, done):
            seen.setdefault(message.span, message)
    for message in seen.values():
        if message.signal == "notice" or message.avoid is not None:
            continue
        yield Finding(
            "no-avoidance",
            message.span,
            f"This {message.signal} does not say how to avoid what it warns of.",
            hint='Add what the reader does against it: `avoid "…"`, on the line or under it.',
        )
