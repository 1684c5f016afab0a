"""Records told as text."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

from compiler.records.model import Fault, Read
from compiler.records.summary import Summary


def as_text(reads: Sequence[Read], faults: Sequence[Fault], summary: Summary) -> str:
    """Return faults by file, then what the records say together."""
    lines: list[str] = []
    for fault in faults:
        weight = "error" if fault.is_error else "warning"
        lines += [
            f"{weight:<8} {fault.file}:{fault.line}:{fault.column}  [{fault.kind}]",
            f"  {fault.message}",
            f"  Try: {fault.hint}",
            "",
        ]
    for series in summary.series:
        limits = _limits(series.low, series.high)
        lines.append(f"{series.title}: {series.label}")
        capable = f", Cpk {series.capability:.2f}" if series.capability is not None else ""
        lines.append(
            f"  {_counted(len(series.values), 'reading')}, mean {series.mean:.4g} {series.unit}, "
            f"standard deviation {series.spread:.2g}{limits}{capable}"
        )
    for remark in summary.remarks:
        unclear = f", unclear to {remark.unclear}" if remark.unclear else ""
        lines.append(f"{remark.title}: step {remark.number}{unclear}")
        lines += [f"  {text}  ({by or 'no name'}, {at[:10]})" for text, by, at in remark.texts]
    errors = sum(fault.is_error for fault in faults)
    if lines and lines[-1]:
        lines.append("")
    lines.append(
        f"{_counted(len(reads), 'record')}, {_counted(errors, 'error')}, "
        f"{_counted(len(faults) - errors, 'warning')}."
    )
    return "\n".join(_visible(line) for line in lines)


def _visible(line: str) -> str:
    """Return a line that no terminal acts on, and that nobody can break into two to forge one."""
    return "".join(
        " "
        if c in "\n\r\t"
        else "\N{REPLACEMENT CHARACTER}"
        if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")
        else c
        for c in line
    )


def _limits(low: str, high: str) -> str:
    if low and high:
        return f", limits {low} to {high}"
    if low or high:
        return f", at least {low}" if low else f", at most {high}"
    return ""


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
