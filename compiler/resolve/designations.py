"""Designations of fasteners, and the house table of torques."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from compiler import model, syntax
from compiler.resolve.arguments import quantity_of
from compiler.resolve.clauses import Clauses
from compiler.resolve.context import Context
from compiler.resolve.values import TORQUE, WRENCH_SIZE, amount
from compiler.source import Span
from compiler.trade.contradictions import SCREW_CLASS_OF
from compiler.trade.designation import Designation, parse_designation
from compiler.trade.drives import AS_WRITTEN, Drive, DriveKind
from compiler.trade.thread_names import inch_text, plain
from compiler.trade.units import Quantity, convert

_COUNTED = re.compile(r"[0-9]+\s+[^\W\d_]")
"""`8 of M24`: a count that lacks its sign was told while the line was read."""


@dataclass(frozen=True, slots=True)
class HouseTorques:
    """The torques of the shop by thread and class."""

    torques: tuple[tuple[str, str, model.Amount], ...] = ()
    lines: tuple[tuple[Designation, model.Amount], ...] = ()

    def tightening(self, what: Designation, span: Span) -> model.Tightening | None:
        """Return how tight the house does up such a fastener, None when it does not say."""
        if not what.threaded or not what.thread:
            return None
        grades = (what.grade, SCREW_CLASS_OF.get(what.grade, what.grade))
        for thread, grade, value in self.torques:
            if thread == what.thread and grade in grades:
                stage = model.Stage(span, "torque", value)
                return model.Tightening(span, "torque", (stage,), from_house=True)
        return None


def designation(ctx: Context, thing: syntax.Thing, clauses: Clauses) -> Designation:
    """Return the designation of a fastener; what is wrong in it is reported where it stands.

    What the author says of its head counts more than what its standard does.
    """
    return replace(_read(ctx, thing), drive=_drive(ctx, clauses))


def standard_at(thing: syntax.Thing, what: Designation) -> Span:
    """Return where the standard of a fastener is written, its name where there is none."""
    text = thing.designation
    if text is None or what.standard_at is None:
        return thing.name.span
    start, end = what.standard_at
    return Span(text.span.file, text.span.start + start, text.span.start + end)


_DRIVES: Mapping[str, DriveKind] = {"across-flats": "hexagon", "hex-key": "hexagon socket"}


def _drive(ctx: Context, clauses: Clauses) -> Drive | None:
    """Return what the author says it is turned by: `across flats 13 mm`, `hex key 5 mm`."""
    for key, kind in _DRIVES.items():
        size = quantity_of(ctx, clauses, key, WRENCH_SIZE) if clauses.has(key) else None
        if size is not None:
            return Drive(kind, _said(size), AS_WRITTEN)
    return None


def _said(size: Quantity) -> str:
    """Return a size as tables have it, in mm or inches: `13 mm`, `1 1/8 in`."""
    inches = convert(size, "in")
    if size.unit not in ("mm", "cm", "m"):
        return f"{inch_text(inches.value)} in"
    return f"{plain(convert(size, 'mm').value)} mm"


def _read(ctx: Context, thing: syntax.Thing) -> Designation:
    text = thing.designation
    found, problems = parse_designation(text.value if text is not None else "")
    if text is None:
        ctx.report.add(
            "bad-designation",
            thing.name.span,
            f"What {thing.name.text} is, is not said.",
            hint="Write how many and the designation: 4 × M6×16 ISO 4762 8.8.",
        )
    elif not _COUNTED.match(text.value):
        for problem in problems:
            start = text.span.start + problem.start
            ctx.report.add(
                "bad-designation",
                Span(text.span.file, start, text.span.start + problem.end),
                problem.message,
                hint=problem.hint,
            )
    return found


def house_torques(ctx: Context, given: Sequence[syntax.HouseTorque]) -> HouseTorques:
    """Return the house table; two lines for one thread and class are reported."""
    found: dict[tuple[str, str], tuple[syntax.HouseTorque, model.Amount]] = {}
    lines: list[tuple[Designation, model.Amount]] = []
    for line in given:
        what, problems = parse_designation(line.designation.value)
        value = amount(ctx.report, line.amount, TORQUE)
        key = (what.thread, what.grade)
        if value is None or problems:
            continue
        first = found.setdefault(key, (line, value))[0]
        if first is not line:
            ctx.report.add(
                "duplicate-name",
                line.designation.span,
                f"{line.designation.value} has a torque already.",
                (first.span, "here"),
                hint="Keep one of the two lines.",
            )
        else:
            lines.append((what, value))
    torques = tuple((*key, value) for key, (_, value) in found.items())
    return HouseTorques(torques, tuple(lines))
