"""Tables to repeat over."""

from __future__ import annotations

from compiler import model, syntax
from compiler.resolve.report import Report
from compiler.resolve.values import ANYTHING, amount

MOST_ROWS = 500


def table(report: Report, owner: str, node: syntax.TableDecl) -> model.Table:
    """Return a table; rows with too few or too many cells were reported and are left out."""
    columns: dict[str, syntax.Word] = {}
    for word in node.columns:
        first = columns.setdefault(word.text, word)
        if first is not word:
            report.add(
                "duplicate-name",
                word.span,
                f"The table has a column {word.text} already.",
                (first.span, "this one"),
                hint="Give each column a name of its own.",
            )
    rows: list[tuple[str | model.Amount, ...]] = []
    for row in node.rows:
        if len(row.cells) != len(node.columns):
            continue
        rows.append(tuple(_cell(report, cell) for cell in row.cells))
    if len(rows) > MOST_ROWS:
        report.add(
            "count-sanity",
            node.name.span,
            f"{len(rows)} rows are more than anyone goes through: {MOST_ROWS} at most.",
            hint="Part the table.",
        )
        rows = rows[:MOST_ROWS]
    return model.Table(
        f"{owner}/{node.name.text}",
        node.name.text,
        node.name.span,
        tuple(word.text for word in node.columns),
        tuple(rows),
    )


def _cell(report: Report, cell: syntax.Cell) -> str | model.Amount:
    """Return a cell: a value as a value, anything else as its text."""
    if isinstance(cell, syntax.AmountLit):
        return amount(report, cell, ANYTHING) or ""
    if isinstance(cell, syntax.Text):
        return cell.value
    return cell.text
