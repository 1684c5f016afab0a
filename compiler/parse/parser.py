"""Text or bytes of one file to its syntax nodes and findings. Raises for nothing in them."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import replace
from typing import TYPE_CHECKING

from compiler.findings.model import Finding
from compiler.parse.indent import read_lines
from compiler.parse.reader import Reader, Reading, Slip
from compiler.parse.shape import check_shape
from compiler.source import MOST_BYTES
from compiler.syntax import AmountLit, File, NumberLit, Ref

if TYPE_CHECKING:
    from compiler.parse.messages import Messages

Parsed = tuple[File | None, tuple[Finding, ...]]


def parse_text(text: str, path: str) -> Parsed:
    """Return the syntax of a file, and what was found; the file is None if no first line was read.

    `path` is the name that findings and spans carry. Offsets count characters of `text`.
    """
    if len(text) > MOST_BYTES:
        return None, (_messages(text, path).too_large(len(text), MOST_BYTES),)
    if "\0" in text:
        return None, (_messages(text, path).binary(text.index("\0")),)
    lines, troubles = read_lines(text)
    reading = Reader(text, path, "file").read(lines)
    file = _with_lost_words(reading)
    if file is not None:
        first_line_read = not any(slip.kind == "first" for slip in reading.slips)
        reading.remarks += check_shape(file, first_line_read)
    if lines and not (troubles or reading.slips or reading.remarks or reading.open_texts):
        return file, ()
    deep = [trouble.start for trouble in troubles if trouble.slip == "deep"]
    reading.remarks = [r for r in reading.remarks if not _right_before(text, r.span.end, deep)]
    # A line that is indented oddly is told as that; what then seems to stand below it follows.
    uneven = {trouble.start for trouble in troubles if trouble.slip == "uneven"}
    reading.slips = [s for s in reading.slips if not _is_below(s, uneven)]
    messages = _messages(text, path)
    findings = [*messages.of_indentation(troubles), *messages.of_reading(reading)]
    if not lines:
        findings.append(messages.empty())
    return file, tuple(sorted(findings, key=lambda found: found.span.start))


def parse_bytes(data: bytes, path: str) -> Parsed:
    """Return what `parse_text` does, for the bytes of a file; a finding if they are no text."""
    if len(data) > MOST_BYTES:
        return None, (_messages("", path).too_large(len(data), MOST_BYTES),)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        text = data.decode("utf-8", errors="replace")
        at = len(data[: error.start].decode("utf-8"))
        return None, (_messages(text, path).not_utf8(data, at),)
    return parse_text(text, path)


def parse_fragment(text: str, path: str, offset: int) -> Ref | AmountLit | NumberLit | None:
    """Read a name or quantity between braces, `foot[1]`, `9 N·m ±10 %`; None when it is neither.

    `offset` is where `text` begins in the file, so that the spans are those of the file.
    """
    if len(text) > 200:
        return None
    return Reader(text, path, "fragment", offset).read_fragment()


def _is_below(slip: Slip, places: Set[int]) -> bool:
    return slip.kind == "nested" and slip.parent is not None and slip.parent.start in places


def _right_before(text: str, end: int, places: Sequence[int]) -> bool:
    """Tell whether nothing but blanks stands between `end` and one of the places.

    A line above one that is nested too deep is not to blame for having nothing below it.
    """
    return any(end <= at and not text[end:at].strip() for at in places)


def _messages(text: str, path: str) -> Messages:
    # Imported when there is something to say: most files are sound, and it takes a while.
    from compiler.parse.messages import Messages

    return Messages(text, path)


def _with_lost_words(reading: Reading) -> File | None:
    if reading.file is None or not reading.lost_words:
        return reading.file
    return replace(reading.file, lost_words=frozenset(reading.lost_words))
