"""Lays an answer out for a terminal of up to eighty columns."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from compiler.reckon.answer import Answer, Result, Step, Table

_WIDEST = 80
_NARROWEST = 40


def render(answer: Answer, width: int) -> str:
    """Return the answer as lines of text, no wider than the terminal where words allow it."""
    columns = max(_NARROWEST, min(width, _WIDEST))
    blocks: list[list[str]] = [_wrapped(answer.title, columns, "", "  ")]
    if answer.drawing:
        blocks.append([f"  {line}".rstrip() for line in answer.drawing])
    if answer.table is not None:
        blocks.append(_grid(_with_heads(answer.table), columns))
    elif answer.results:
        blocks.append(_grid(_rows(answer.results), columns))
    blocks += [_wrapped(remark, columns, "  ", "  ") for remark in answer.remarks]
    if answer.steps:
        blocks.append(["How it is worked out", *_steps(answer.steps, columns)])
    if answer.cautions:
        listed = [_wrapped(caution, columns, "  - ", "    ") for caution in answer.cautions]
        blocks.append(["Mind", *(line for lines in listed for line in lines)])
    if answer.tip:
        blocks.append(_wrapped(answer.tip, columns, "", "  "))
    return "\n\n".join("\n".join(block) for block in blocks)


def _with_heads(table: Table) -> Sequence[tuple[str, ...]]:
    return (table.heads, *table.rows) if any(table.heads) else table.rows


def _rows(results: Sequence[Result]) -> list[tuple[str, ...]]:
    across = min(2, max(len(result.others) for result in results))
    rows = []
    for result in results:
        others = [one.text for one in result.others[:across]]
        note = f"  {result.note}" if result.note else ""
        rows.append((result.label, result.text, *others, *[""] * (across - len(others)), note))
    return rows


def _grid(rows: Sequence[tuple[str, ...]], columns: int) -> list[str]:
    """Set rows under each other: words to the left, values to the right, notes as they come."""
    across = max(len(row) for row in rows)
    full = [(*row, *("",) * (across - len(row))) for row in rows]
    widths = [max(len(row[at]) for row in full) for at in range(across)]
    least = sum(widths) + 2 * across
    if least > columns:
        return [line for row in rows for line in _stacked(row, columns)]
    gap = "   " if least + across - 1 <= columns else "  "
    lines = []
    for row in full:
        cells = [row[0].ljust(widths[0])]
        cells += [
            cell.ljust(size) if cell.startswith("  ") else cell.rjust(size)
            for cell, size in zip(row[1:], widths[1:], strict=True)
        ]
        lines.append(f"  {gap.join(cells)}".rstrip())
    return lines


def _stacked(row: tuple[str, ...], columns: int) -> list[str]:
    """Set a row that is too wide on lines of its own: its words, then its values below them."""
    cells = [cell.strip() for cell in row[1:] if cell.strip()]
    lines, line = _wrapped(row[0], columns, "  ", "  "), ""
    for cell in cells:
        if line and len(line) + 3 + len(cell) > columns:
            lines.append(line)
            line = ""
        line = f"{line}   {cell}" if line else f"      {cell}"
    return [*lines, line] if line else lines


def _steps(steps: Sequence[Step], columns: int) -> list[str]:
    lines: list[str] = []
    for step in steps:
        one = f"  {step.text}"
        source = f"({step.source})" if step.source else ""
        if not source or len(one) + 3 + len(source) <= columns:
            gap = " " * max(3, columns - len(one) - len(source)) if source else ""
            lines += _wrapped(f"{step.text}{gap}{source}", columns, "  ", "      ", keep=True)
            continue
        lines += _wrapped(step.text, columns, "  ", "      ")
        lines += _wrapped(source, columns, "      ", "      ")
    return lines


def _wrapped(
    text: str, columns: int, first: str, following: str, *, keep: bool = False
) -> list[str]:
    """Break a text between words; one that fits stays as it is, with its blanks when `keep`."""
    if keep and len(first + text) <= columns:
        return [first + text]
    return textwrap.wrap(
        " ".join(text.split()),
        columns,
        initial_indent=first,
        subsequent_indent=following,
        break_long_words=False,
        break_on_hyphens=False,
    )
