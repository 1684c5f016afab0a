"""Changes told as text, for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from compiler.changes.model import Change, Changes, ProcedureChanges, VisitChanges
from compiler.findings.render import visible
from compiler.wording.changing import (
    affected,
    goes_through,
    not_compared,
    of_visit,
    raise_it,
    revisions,
    summed_up,
)

_NARROWEST = 40


def as_text(changes: Changes, width: int) -> str:
    """Return all changes, procedure by procedure, in lines of at most `width` columns."""
    lines: list[str] = []
    for one in changes.procedures:
        lines += [*_procedure(one, max(width, _NARROWEST)), ""]
    for visit in changes.visits:
        lines += [*_visit(visit, max(width, _NARROWEST)), ""]
    sides = {"old": changes.old, "new": changes.new}
    lines += [visible(not_compared(one.procedure, sides[one.side])) for one in changes.left_out]
    lines.append(summed_up(len(changes.procedures), changes.same, len(changes.visits)))
    # The no-break spaces of pages would keep a terminal's search from finding `9 N·m`.
    return "\n".join(lines).replace("\N{NO-BREAK SPACE}", " ")


def _procedure(one: ProcedureChanges, width: int) -> Iterator[str]:
    said = revisions(one.revision_before, one.revision_after)
    yield visible(f"{one.title}  ({one.procedure})  {said}".rstrip())
    yield from _changes(one.changes, width)
    if one.through:
        yield from _wrapped(goes_through(one.through), width, 2)
    if one.not_raised:
        yield from _wrapped(raise_it(one.revision_after), width, 2)
    for line in affected(one.followed_by, one.visits):
        yield from _wrapped(line, width, 2)


def _visit(one: VisitChanges, width: int) -> Iterator[str]:
    yield visible(f"{of_visit(one.title)}  ({one.visit})  {one.day}".rstrip())
    yield from _changes(one.changes, width)


def _changes(changes: Sequence[Change], width: int) -> Iterator[str]:
    for change in changes:
        yield from _wrapped(f"{change.where}: {change.text}", width, 2)
        for detail in change.details:
            yield from _wrapped(detail, width, 6)


def _wrapped(text: str, width: int, margin: int) -> list[str]:
    return textwrap.wrap(
        visible(text),
        width,
        initial_indent=" " * margin,
        subsequent_indent=" " * (margin + 4),
        break_on_hyphens=False,
    )
