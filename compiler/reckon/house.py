"""What a shop file says of the house: its units, its table of torques, its limit for lifting."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from compiler.findings.model import is_error
from compiler.reckon.answer import Unclear
from compiler.reckon.written import shown
from compiler.source import SourceFile
from compiler.trade.designation import Designation
from compiler.trade.units import Quantity

if TYPE_CHECKING:
    from compiler.model import Amount


@dataclass(frozen=True, slots=True)
class House:
    """The house. `place` of the torque table names the file; everything empty without one."""

    file: str = ""
    units: tuple[str, ...] = ()
    second_units: tuple[str, ...] = ()
    torques: tuple[tuple[str, str, Amount], ...] = ()
    lift_limit: Quantity | None = None

    @property
    def all_units(self) -> tuple[str, ...]:
        """Return the units of the house, the preferred ones first."""
        return (*self.units, *self.second_units)

    def torque_of(self, what: Designation) -> Amount | None:
        """Return the torque that the house gives a thread and class, None when it gives none."""
        pairs = ((thread, grade) for thread, grade, _ in self.torques)
        at = next((n for n, p in enumerate(pairs) if p == (what.thread, what.grade)), None)
        return self.torques[at][2] if at is not None else None


def house_of(source: SourceFile) -> House:
    """Return what a shop file says. Raises Unclear for a file that is none, or that has errors."""
    from compiler.parse import parse_text
    from compiler.resolve import no_pictures
    from compiler.resolve.context import Context
    from compiler.resolve.report import Report
    from compiler.resolve.shops import shop

    file, findings = parse_text(source.text, source.path)
    if file is None or file.kind != "shop":
        raise Unclear(f"{source.path} is no shop file.", "Its first line is: shop NAME")
    report = Report()
    parts = shop(Context(report, no_pictures), file, file.name.text)
    errors = [found for found in (*findings, *report.findings()) if is_error(found)]
    if errors or parts.shop is None:
        hint = f"See them with: witnessmark check {source.path}"
        raise Unclear(f"{source.path} has errors, so nothing of it is taken.", hint)
    return House(
        shown(source.path),
        parts.shop.units,
        parts.shop.second_units,
        parts.torques.torques,
        parts.shop.lift_limit,
    )
