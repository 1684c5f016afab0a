"""Everything that the language page and the demo say is read, and its places are exact."""

from __future__ import annotations

import pytest
from parse_support import all_texts, line, walk

from compiler import syntax as s
from compiler.parse import parse_text

TEXTS = all_texts()


def test_there_are_examples() -> None:
    assert sum(name.startswith("example") for name in TEXTS) >= 13
    assert sum(name.startswith("procedures") for name in TEXTS) >= 10


@pytest.mark.parametrize("path", TEXTS)
def test_examples_are_read_without_a_finding(path: str) -> None:
    text = TEXTS[path]
    file, findings = parse_text(text, path)
    assert [(line(text, f.span), f.message) for f in findings] == []
    assert file is not None
    assert file.lost_words == frozenset()


@pytest.mark.parametrize("path", TEXTS)
def test_each_word_stands_where_it_says(path: str) -> None:
    text = TEXTS[path]
    file, _ = parse_text(text, path)
    assert file is not None
    for node, parent in walk(file):
        span = node.span
        assert span.file == path
        assert 0 <= span.start < span.end <= len(text)
        said = text[span.start : span.end]
        if isinstance(node, s.Word | s.NumberLit | s.DateLit):
            assert node.text == said
        elif isinstance(node, s.Text):
            assert (node.raw or node.value) in (said, said[1:-1])
        elif isinstance(node, s.Ref):
            assert said.startswith(node.name.text if not node.age else node.age)
            assert said == said.strip()
        if not isinstance(parent, s.File) or node is not parent.revision:
            assert parent.span.start <= span.start, (node, parent)
            assert span.end <= parent.span.end, (node, parent)


@pytest.mark.parametrize("path", TEXTS)
def test_line_ends_of_other_systems_change_nothing_but_places(path: str) -> None:
    text = TEXTS[path]
    for other in (
        text.replace("\n", "\r\n"),
        "\ufeff" + text,
        text.rstrip("\n"),
        text + "\n\n  \n",
    ):
        file, findings = parse_text(other, path)
        assert findings == ()
        assert file is not None
        for node, _ in walk(file):
            if isinstance(node, s.Word):
                assert other[node.span.start : node.span.end] == node.text
