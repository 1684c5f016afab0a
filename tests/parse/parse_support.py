"""What the tests of the parser share: the texts to read, walking over nodes, printing them."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from compiler import syntax as s
from compiler.parse import parse_text
from compiler.source import SourceFile, Span

ROOT = Path(__file__).resolve().parents[2]
LANGUAGE = ROOT / "grammar" / "language.md"
_FENCE = re.compile(r"^```proc\n(.*?)^```", re.MULTILINE | re.DOTALL)
_PART = re.compile(r"^## file: (\S+)\n", re.MULTILINE)


def language_examples() -> dict[str, str]:
    """Return every file among the examples of the language page by a made-up path."""
    examples = {}
    for number, fence in enumerate(_FENCE.findall(LANGUAGE.read_text(encoding="utf-8"))):
        pieces = _PART.split(fence)
        examples[f"example-{number}.proc"] = pieces[0]
        examples |= {
            f"example-{number}/{n}": t for n, t in zip(pieces[1::2], pieces[2::2], strict=True)
        }
    return examples


def demo_files() -> dict[str, str]:
    """Return the files of the demo by path."""
    paths = sorted((ROOT / "procedures").rglob("*.proc"))
    return {str(path.relative_to(ROOT)): path.read_text(encoding="utf-8") for path in paths}


def all_texts() -> dict[str, str]:
    """Return everything there is to read."""
    return language_examples() | demo_files()


def read(text: str) -> s.File:
    """Return the file of a text in which nothing may be found."""
    file, findings = parse_text(text, "a.proc")
    assert not findings, [(line(text, f.span), f.message) for f in findings]
    assert file is not None
    return file


def found(text: str) -> list[tuple[int, str, str]]:
    """Return line, rule and message of every finding."""
    _, findings = parse_text(text, "a.proc")
    return [(line(text, f.span), f.rule, f.message) for f in findings]


def line(text: str, span: Span) -> int:
    """Return the line a span begins in."""
    return SourceFile("a.proc", text).position(span.start).line


def children(node: Any) -> Iterator[Any]:
    """Yield the nodes directly below a node; a trailer has no place and is seen through."""
    for field in dataclasses.fields(node):
        value = getattr(node, field.name)
        for item in value if isinstance(value, tuple) else (value,):
            if isinstance(item, s.Trailer):
                yield from children(item)
            elif dataclasses.is_dataclass(item) and not isinstance(item, Span):
                yield item


def walk(node: Any) -> Iterator[tuple[Any, Any]]:
    """Yield each node below a node with its parent."""
    for child in children(node):
        yield child, node
        yield from walk(child)


def dump(node: Any, depth: int = 0) -> str:
    """Return a node as text, a line each, without places and without what is empty."""
    lines = [f"{'  ' * depth}{type(node).__name__}{_plain(node)}"]
    lines += [dump(child, depth + 1) for child in children(node)]
    return "\n".join(lines)


def _plain(node: Any) -> str:
    values = []
    for field in dataclasses.fields(node):
        value = getattr(node, field.name)
        if isinstance(value, (str, int)) and value not in ("", False):
            values.append(f"{field.name}={value}")
    return f" {' '.join(values)}" if values else ""
