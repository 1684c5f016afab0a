"""Safety messages: each that speaks of injury says how it is avoided (ANSI Z535.6)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass

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
        for message in _inside(holder, done):
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


def _inside(value: object, done: set[int]) -> Iterator[Safety]:
    """Yield the messages in a value of the model, in the order they are written."""
    if isinstance(value, Safety):
        yield value
    elif isinstance(value, Mapping):
        for one in value.values():
            yield from _inside(one, done)
    elif isinstance(value, tuple | list):
        for one in value:
            yield from _inside(one, done)
    elif is_dataclass(value) and not isinstance(value, type | Span) and id(value) not in done:
        done.add(id(value))
        for each in fields(value):
            yield from _inside(getattr(value, each.name), done)
