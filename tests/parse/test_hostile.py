"""Any text and any bytes give findings, never an exception, in time that grows with the size."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from parse_support import all_texts, found, walk

from compiler.parse import parse_bytes, parse_fragment, parse_text
from compiler.parse.indent import MAX_LEVEL
from compiler.parse.lexer import Lexer
from compiler.source import Span

TEXTS = list(all_texts().values())
BITS = sorted(
    {word for text in TEXTS for word in text.split(" ")} | set('"“”#,.:|[](){}±×-–…\t\r\n\\')
)


def check(text: str) -> None:
    """Read a text; every place that comes back must lie in it."""
    file, findings = parse_text(text, "a.proc")
    spans = [finding.span for finding in findings]
    if file is not None:
        spans += [node.span for node, _ in walk(file)]
    for span in spans:
        assert isinstance(span, Span)
        assert 0 <= span.start <= span.end <= len(text)


@given(st.text(max_size=300))
def test_any_text(text: str) -> None:
    check(text)


@given(st.text(max_size=200))
def test_any_text_below_a_first_line(text: str) -> None:
    check(f'procedure a "A"\n  {text}')


@given(st.binary(max_size=300))
def test_any_bytes(data: bytes) -> None:
    _, findings = parse_bytes(data, "a.proc")
    assert findings or data.decode().strip()


@settings(max_examples=300)
@given(st.data())
def test_real_files_with_pieces_moved_lost_and_put_in(data: st.DataObject) -> None:
    text = data.draw(st.sampled_from(TEXTS))
    for _ in range(data.draw(st.integers(1, 6))):
        at = data.draw(st.integers(0, len(text)))
        end = data.draw(st.integers(at, min(len(text), at + 40)))
        put_in = data.draw(st.sampled_from(BITS) | st.text(max_size=4))
        text = text[:at] + put_in + text[end:]
    check(text)


@settings(max_examples=200)
@given(st.lists(st.sampled_from(BITS), max_size=120), st.randoms(use_true_random=False))
def test_words_of_the_language_in_any_order(words: list[str], chance: random.Random) -> None:
    lines, at = ['procedure a "A"'], 0
    while at < len(words):
        size = chance.randint(1, 7)
        lines.append(" " * chance.randint(0, 6) + " ".join(words[at : at + size]))
        at += size
    check("\n".join(lines))


@given(st.text(max_size=60))
def test_any_fragment(text: str) -> None:
    value = parse_fragment(text, "a.proc", 7)
    if value is not None:
        assert 7 <= value.span.start <= value.span.end <= 7 + len(text)


def test_deep_nesting_is_told_once_and_cannot_hurt() -> None:
    levels = 1500
    text = 'procedure a "A"\n' + "".join(f'{" " * n}if "x"\n' for n in range(1, levels))
    findings = found(text)
    assert [place for place, rule, _ in findings if rule == "file-too-large"] == [MAX_LEVEL + 2]
    check(text)


@pytest.mark.parametrize(
    "piece",
    ["a", "(", "[", '"', "“", "#", "1", "1/", "a,", "a, ", "- ", "é", "\0", "a_", "\t", " ", ".",
     "\\", "9 ", "9,", "9..", "±", "x", "a:", 'a "b" ', "if ", "\n", " \n", "a\n", "  \n a\n",
     "otherwise\n", "\r", "a,\n  ", 'if "a"\n ', "1.1.", "- 1", "NAME NAME ", "is not ", "M6 "],
)  # fmt: skip
@pytest.mark.parametrize(
    "start", ["", 'procedure a "A"\n  ', 'procedure a "A"\n  fasteners\n    n ']
)
def test_the_work_grows_with_the_size_only(
    piece: str, start: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Counted in words cut, not in seconds: twice the text, at most about twice the work."""
    cuts = 0
    cut = Lexer.cut

    def counted(self: Lexer, *args: object) -> tuple[str, int, int]:
        nonlocal cuts
        cuts += 1
        return cut(self, *args)  # type: ignore[arg-type]

    monkeypatch.setattr(Lexer, "cut", counted)
    work = []
    for size in (2_000, 4_000, 8_000):
        cuts = 0
        check(start + piece * (size // len(piece)))
        work.append(cuts + 100)
    assert work[2] <= 5 * work[0]


def test_a_megabyte_of_anything_is_read_in_one_go(monkeypatch: pytest.MonkeyPatch) -> None:
    """Not more words are cut than there are in the text, and those of the slips once more."""
    cuts = 0
    cut = Lexer.cut

    def counted(self: Lexer, *args: object) -> tuple[str, int, int]:
        nonlocal cuts
        cuts += 1
        return cut(self, *args)  # type: ignore[arg-type]

    monkeypatch.setattr(Lexer, "cut", counted)
    chance = random.Random(1)
    garbage = "".join(chance.choice(BITS) + chance.choice(" \n") for _ in range(40_000))
    assert len(garbage) > 200_000
    parse_text(garbage, "a.proc")
    assert cuts < 40_000
    for text in ("a" * 1_000_000, "remove " + "a, " * 50_000, '"' * 1_000_000, "(\n" * 50_000):
        parse_text(f'procedure a "A"\n  {text}', "a.proc")


def test_files_that_are_no_text() -> None:
    for data, rule in (
        (b"\xff\xfep\0r\0", "not-text"),
        (b'procedure a "A"\n  note "50 \xb0C"\n', "not-text"),
        (b"MZ\0\0", "not-text"),
        (b" " * (3 * 1024 * 1024), "file-too-large"),
    ):
        file, (finding,) = parse_bytes(data, "a.proc")
        assert (file, finding.rule) == (None, rule)
    _, (finding,) = parse_bytes(b'procedure a "A"\n  note "50 \xb0C"\n', "a.proc")
    assert finding.span.start == len('procedure a "A"\n  note "50 ')
    assert parse_text(" " * (3 * 1024 * 1024), "a.proc")[1][0].rule == "file-too-large"
    file, findings = parse_bytes('\ufeffprocedure a "Ä"\n'.encode(), "a.proc")
    assert (file is not None, findings) == (True, ())
