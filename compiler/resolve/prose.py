"""Text with links: `{seal}` is a thing, `{9 N·m}` a value whose unit the reader can switch."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from compiler import model, syntax
from compiler.parse import parse_fragment
from compiler.resolve.context import Context
from compiler.resolve.refs import operand
from compiler.resolve.values import ANYTHING, amount
from compiler.source import Span

_BRACES = re.compile(r"\{\{|\}\}|\{")
_MARKS = re.compile(r'\\["\\{}]|\{\{|\}\}|\{')
"""Braces, and what a backslash takes as such where the text stands as it was typed."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """A piece of a text: plain, or what stands between braces. `span` is its place in the file."""

    span: Span
    text: str
    is_link: bool


def plain_prose(text: syntax.Text) -> model.Prose:
    """Return the text as it stands, braces and all."""
    return model.Prose(text.span, (text.value,) if text.value else ())


def prose(ctx: Context, text: syntax.Text) -> model.Prose:
    """Return the text with its links looked up; a link that means nothing stays as its words."""
    parts: list[str | model.Selection | model.LoopUse | model.Amount] = []
    for piece in _pieces(ctx, text):
        part = _link(ctx, piece) if piece.is_link else piece.text
        if isinstance(part, str) and parts and isinstance(parts[-1], str):
            parts[-1] += part
        elif part != "":
            parts.append(part)
    return model.Prose(text.span, tuple(parts))


def _pieces(ctx: Context, text: syntax.Text) -> Iterator[_Piece]:
    """Part a text at its braces. `\\{` and `{{` are a brace as such."""
    raw = text.raw or text.value
    marks = _MARKS if text.raw else _BRACES
    start = text.span.start + 1
    file = text.span.file
    at, plain, plain_from = 0, [""], 0
    while (mark := marks.search(raw, at)) is not None:
        plain.append(raw[at : mark.start()])
        at = mark.end()
        if mark[0] != "{":
            plain.append(mark[0][-1])
            continue
        end = raw.find("}", at)
        if end < 0:
            _not_closed(ctx, Span(file, start + at - 1, start + len(raw)))
            at -= 1
            break
        yield _Piece(Span(file, start + plain_from, start + at - 1), "".join(plain), False)
        yield _Piece(Span(file, start + at, start + end), raw[at:end], True)
        at = plain_from = end + 1
        plain = []
    plain.append(raw[at:])
    yield _Piece(Span(file, start + plain_from, start + len(raw)), "".join(plain), False)


def _not_closed(ctx: Context, span: Span) -> None:
    ctx.report.add(
        "not-understood",
        span,
        "A brace is opened here and not closed.",
        hint="Close it with }, or write {{ for a brace as such.",
    )


def _link(ctx: Context, piece: _Piece) -> str | model.Selection | model.LoopUse | model.Amount:
    """Return what stands between braces; its words, and a finding, when it means nothing."""
    found = parse_fragment(piece.text, piece.span.file, piece.span.start)
    if isinstance(found, syntax.Ref):
        return operand(ctx, found) or found.name.text.replace("-", " ")
    if isinstance(found, syntax.AmountLit):
        return amount(ctx.report, found, ANYTHING) or piece.text
    ctx.report.add(
        "unknown-name",
        piece.span,
        f"{{{piece.text}}} is neither a name nor a value.",
        hint="Write a declared name, a value such as {9 N·m}, or {{ for a brace as such.",
    )
    return piece.text
