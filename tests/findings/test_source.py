"""Lines and columns of a place, whatever system the file was written on."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.parse import parse_text
from compiler.source import Position, SourceFile, Span


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_are_counted_with_every_line_end(end: str) -> None:
    source = SourceFile("a.proc", end.join(("first", "", "third", "")))
    assert source.line_count == 4
    assert [source.line_text(n) for n in range(6)] == ["", "first", "", "third", "", ""]
    assert source.position(source.text.index("third") + 2) == Position(3, 3)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_a_finding_has_its_line_with_every_line_end(end: str) -> None:
    lines = ('procedure look "Look"', "  revision A 2026-02-30", '  "Look round."', "")
    text = end.join(lines)
    (finding,) = parse_text(text, "a.proc")[1]
    assert finding.rule == "bad-date"
    assert SourceFile("a.proc", text).position(finding.span.start) == Position(2, 14)


@given(st.text(alphabet="ab\r\n\u2028\x0b", max_size=30), st.integers(-3, 40))
def test_place_and_line_go_together(text: str, offset: int) -> None:
    source = SourceFile("a.proc", text)
    at = source.position(offset)
    assert 1 <= at.line <= source.line_count
    inside = max(0, min(offset, len(text)))
    line = source.line_text(at.line)
    if at.column <= len(line):
        assert line[at.column - 1] == text[inside]


def test_a_span_reaches_to_another() -> None:
    first, second = Span("a.proc", 4, 6), Span("a.proc", 1, 5)
    assert first.to(second) == second.to(first) == Span("a.proc", 1, 6)
