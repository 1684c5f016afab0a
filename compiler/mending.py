"""Writes into the files what findings offer as a change of text (`check --fix`)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from compiler.findings.model import Finding, Fix
from compiler.replacing import replace_file
from compiler.source import SourceFile

_BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class Mended:
    """One change that was written: where it began, what stood there, and what stands there now."""

    place: str
    before: str
    after: str


def mend(
    findings: Iterable[Finding], source_of: Callable[[str], SourceFile | None]
) -> tuple[Mended, ...]:
    """Write the changes that findings offer, each file whole or not at all, and return them.

    Of changes that overlap only the first is made: the rest may look different after it. Files are
    named as seen from where the command was called. A file that is no longer what was read is left
    alone. Raise `OSError` when a file cannot be written.
    """
    by_file: dict[str, list[Fix]] = {}
    for finding in findings:
        if finding.fix is not None:
            by_file.setdefault(finding.fix.span.file, []).append(finding.fix)
    done: list[Mended] = []
    for path, fixes in sorted(by_file.items()):
        source = source_of(path)
        if source is not None:
            done += _mend_file(Path(path), source, _apart(fixes))
    return tuple(done)


def _apart(fixes: Iterable[Fix]) -> list[Fix]:
    """Return the fixes in the order of their places, without those that overlap an earlier one."""
    kept: list[Fix] = []
    for fix in sorted(dict.fromkeys(fixes), key=lambda f: (f.span.start, f.span.end, f.text)):
        if not kept or fix.span.start >= max(kept[-1].span.end, kept[-1].span.start + 1):
            kept.append(fix)
    return kept


def _mend_file(path: Path, source: SourceFile, fixes: Sequence[Fix]) -> Iterable[Mended]:
    data = path.read_bytes()
    mark = _BOM if data.startswith(_BOM) else b""
    if data.removeprefix(_BOM) != source.text.encode():
        return ()
    text = source.text
    for fix in reversed(fixes):
        text = text[: fix.span.start] + fix.text + text[fix.span.end :]
    replace_file(path, mark + text.encode())
    return [_told(source, fix) for fix in fixes]


def _told(source: SourceFile, fix: Fix) -> Mended:
    at = source.position(fix.span.start)
    before = source.text[fix.span.start : fix.span.end]
    return Mended(f"{fix.span.file}:{at.line}:{at.column}", before, fix.text)
