"""Tool, parts and torque lists as CSV, one of each a procedure and a visit, and of the folder.

Comma-separated, quoted where needed, UTF-8 with a byte order mark so that a spreadsheet on any
office machine shows × and · right. A cell that a spreadsheet would run as a formula is disarmed.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from compiler.document.model import Library, SupplyView, ToolView, TorqueRow, WhyView
from compiler.emit.job import OutputJob, ready

_TOOL_HEAD = ("tool", "detail", "tag", "count", "in the crib", "models", "needed for")
_PART_HEAD = ("kind", "what", "number", "quantity", "condition", "models", "needed for")
_TORQUE_HEAD = (
    "fastener", "name", "designation", "count", "torque", "second unit", "window", "stages",
    "sequence", "thread", "wrench", "drive", "wrench setting", "remarks", "models", "steps",
)  # fmt: skip

_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What makes a spreadsheet take a cell for a formula: OWASP, CSV Injection (from memory)."""


def list_jobs(library: Library) -> list[OutputJob]:
    """Return the CSV files under `lists/`."""
    jobs: list[OutputJob] = []
    everything: list[
        tuple[str, tuple[ToolView, ...], tuple[SupplyView, ...], tuple[TorqueRow, ...]]
    ]
    # In folders of their own, so that no name of a procedure is that of another list.
    everything = [(f"procedures/{d.id}", d.tools, d.supplies, d.torques) for d in library.documents]
    everything += [(f"visits/{v.id}", v.tools, v.supplies, v.torques) for v in library.visits]
    for name, tools, supplies, torques in everything:
        jobs.append(_table(f"{name}-tools", _TOOL_HEAD, map(_tool_row, tools)))
        jobs.append(_table(f"{name}-parts", _PART_HEAD, map(_part_row, supplies)))
        jobs.append(_table(f"{name}-torques", _TORQUE_HEAD, map(_torque_row, torques)))
    jobs += _whole_folder(library)
    return jobs


def _whole_folder(library: Library) -> list[OutputJob]:
    """Return one list of each kind over all procedures, with the procedure in front."""
    documents = library.documents
    return [
        _table(
            "all-tools",
            ("procedure", *_TOOL_HEAD),
            ((d.id, *_tool_row(t)) for d in documents for t in d.tools),
        ),
        _table(
            "all-parts",
            ("procedure", *_PART_HEAD),
            ((d.id, *_part_row(s)) for d in documents for s in d.supplies),
        ),
        _table(
            "all-torques",
            ("procedure", *_TORQUE_HEAD),
            ((d.id, *_torque_row(t)) for d in documents for t in d.torques),
        ),
    ]


def _tool_row(tool: ToolView) -> tuple[str, ...]:
    # Without a shop file nobody knows; a tool that the procedure brings along is no crib's.
    here = "no" if tool.missing else "yes" if tool.anchor else ""
    models, whys = _join(tool.models), _whys(tool.whys)
    return (tool.text, tool.detail, tool.tag, str(tool.count), here, models, whys)


def _part_row(supply: SupplyView) -> tuple[str, ...]:
    return (
        supply.kind, supply.text, supply.number, supply.quantity, supply.condition,
        _join(supply.models), _whys(supply.whys),
    )  # fmt: skip


def _torque_row(row: TorqueRow) -> tuple[str, ...]:
    setting = row.setting.text if row.setting is not None else ""
    return (
        row.fastener, row.name, row.designation, str(row.count), row.target.text, row.target.second,
        row.window.text if row.window else "", row.stages, row.sequence, row.thread, row.wrench,
        row.drive, setting, _join(row.remarks), _join(row.models), _join(row.step_numbers),
    )  # fmt: skip


def _join(words: Sequence[str]) -> str:
    return "; ".join(words)


def _whys(whys: Sequence[WhyView]) -> str:
    return _join([f"{why.step_number} {why.text}".strip() for why in whys])


def _table(name: str, head: Sequence[str], rows: Iterable[Sequence[str]]) -> OutputJob:
    return ready(f"lists/{name}.csv", table(head, rows).encode("utf-8-sig"))


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table as CSV, each cell disarmed."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows([_disarmed(cell) for cell in row] for row in rows)
    return text.getvalue()


def _disarmed(cell: str) -> str:
    """Return the cell so that no spreadsheet runs it, whatever an author wrote.

    The no-break spaces of pages are left to pages: nobody finds `9 N·m` in a column of them.
    """
    cell = cell.replace("\N{NO-BREAK SPACE}", " ")
    return f"'{cell}" if cell.startswith(_FORMULA_SIGNS) else cell
