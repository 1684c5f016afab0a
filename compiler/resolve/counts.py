"""Warns of one count of fasteners on a set of several parts: for each of them, or for all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler import model
from compiler.resolve.report import Report


def check_counts(things: Mapping[str, model.AnyThing], report: Report) -> None:
    """Warn where fasteners that are no set hold a whole set, and there are as many for each.

    Eight bolts on two elbows are two circles of four, and tightened as one they are neither. With
    the members named, `holds elbow[1..2]`, the author has said that they hold all together.
    """
    for thing in things.values():
        if not isinstance(thing, model.Fastener) or thing.members or len(thing.holds) != 1:
            continue
        (held,) = thing.holds
        part = things.get(held.key)
        if held.members or not isinstance(part, model.Part) or len(part.members) < 2:
            continue
        each, left = divmod(thing.count, len(part.members))
        if left or not each:
            continue
        members = _written(part.members)
        many = f"{each} × " if each > 1 else ""
        report.add(
            "count-across-set",
            thing.span,
            f"{thing.count} × {thing.name} hold {len(part.members)} × {part.name}, and are "
            f"tightened as one group.",
            (part.span, f"{part.name} is a set"),
            hint=f"Write for each of them: {thing.name}[{members}] {many}…; if they hold all "
            f"together: holds {part.name}[{members}].",
        )


def _written(members: Sequence[str]) -> str:
    """Return members as they stand in brackets: `1..4`, `left, right`."""
    if all(m.isdecimal() for m in members):
        numbers = [int(m) for m in members]
        if numbers == list(range(numbers[0], numbers[0] + len(numbers))):
            return f"{members[0]}..{members[-1]}"
    return ", ".join(members)
