"""Text with links: `{seal}` is a thing, `{9 N·m}` a value whose unit the reader can switch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from compiler import model, syntax
from compiler.parse import parse_fragment
from compiler.resolve.context import Context
from compiler.resolve.refs import operand
from compiler.resolve.values import ANYTHING, amount
from compiler.source import Span


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
    start = text.span.start + 1
    file = text.span.file
    at, plain, plain_from = 0, "", 0
    while at < len(raw):
        two = raw[at : at + 2]
        if text.raw and raw[at] == "\\" and two[1:] in ('"', "\\", "{", "}"):
            plain, at = plain + two[1], at + 2
        elif two in ("{{", "}}"):
            plain, at = plain + two[0], at + 2
        elif raw[at] != "{":
            plain, at = plain + raw[at], at + 1
        else:
            end = raw.find("}", at)
            if end < 0:
                _not_closed(ctx, Span(file, start + at, start + len(raw)))
                plain, at = plain + raw[at:], len(raw)
                continue
            yield _Piece(Span(file, start + plain_from, start + at), plain, False)
            yield _Piece(Span(file, start + at + 1, start + end), raw[at + 1 : end], True)
            plain, at, plain_from = "", end + 1, end + 1
    yield _Piece(Span(file, start + plain_from, start + len(raw)), plain, False)


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
