"""Says in shop language what could not be read, where, and what to try."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.findings.model import Finding
from compiler.parse.indent import Trouble
from compiler.parse.reader import Reading, Slip
from compiler.source import Span


class Messages:
    """Makes findings of one text."""

    def __init__(self, text: str, path: str) -> None:
        self._text = text
        self._path = path

    def of_indentation(self, troubles: Sequence[Trouble]) -> Iterator[Finding]:
        for trouble in troubles:
            rule = "tab-in-indent" if trouble.slip == "tab" else "indentation"
            yield self._finding(rule, trouble.start, trouble.end, trouble.slip)

    def of_reading(self, reading: Reading) -> Iterator[Finding]:
        for slip in reading.slips:
            yield self._slip(slip)
        for remark in reading.remarks:
            yield Finding("not-understood", remark.span, remark.message, hint=remark.hint)
        for span in reading.open_texts:
            yield Finding("unclosed-quote", span, "The closing quote is missing.")

    def _slip(self, slip: Slip) -> Finding:
        return Finding(
            "not-understood", slip.met.span, f"`{slip.met.text}` is not understood here."
        )

    def too_large(self, size: int) -> Finding:
        return self._finding("file-too-large", 0, 0, f"{size}")

    def binary(self, at: int) -> Finding:
        return self._finding("not-text", at, at + 1, "This is not a text file.")

    def not_utf8(self, data: bytes, at: int) -> Finding:
        return self._finding("not-text", at, at + 1, "This is not a UTF-8 text file.")

    def empty(self) -> Finding:
        return self._finding("not-understood", 0, 0, "The file is empty.")

    def _finding(self, rule: str, start: int, end: int, message: str, hint: str = "") -> Finding:
        return Finding(rule, Span(self._path, start, end), message, hint=hint)
