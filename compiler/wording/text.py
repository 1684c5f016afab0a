"""Running text in pieces: plain words, links to things, quantities a reader may switch."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias


@dataclass(frozen=True, slots=True)
class Plain:
    """Plain words."""

    text: str


@dataclass(frozen=True, slots=True)
class Link:
    """Words that name a thing; `anchor` is its id on the machine's page ('' when it has none)."""

    text: str
    anchor: str


@dataclass(frozen=True, slots=True)
class Measure:
    """A quantity a reader may switch: as written, and in the shop's second unit ('' if none).

    `of` tells what a part weighs, because a step may give the masses of several models.
    """

    text: str
    second: str = ""
    of: Literal["", "mass"] = ""


@dataclass(frozen=True, slots=True)
class Strong:
    """Words that the hand needs at a glance (a torque, a size)."""

    text: str


Inline: TypeAlias = Plain | Link | Measure | Strong
Line: TypeAlias = tuple[Inline, ...]
Piece: TypeAlias = str | Inline | Sequence["Piece"]
"""What a line is put together from: words, inlines, and lines made earlier."""

_SPACES = re.compile(r"[ \t\r\n]{2,}|[\t\r\n]")
_UNTIDY = re.compile(r"[\t\r\n]| [ ,.;:?!]")
_BEFORE_MARK = re.compile(r" +([,.;:?!])(?=\s|$)")


def plain_text(line: Line) -> str:
    """Return a line's words without marks, second units in brackets."""
    return "".join(
        f"{i.text} ({i.second})" if isinstance(i, Measure) and i.second else i.text for i in line
    )


def words_only(line: Line) -> str:
    """Return a line's words without second units."""
    return "".join(i.text for i in line)


def line(*pieces: Piece) -> Line:
    """Return one line of several pieces; plain words next to each other become one."""
    out: list[Inline] = []
    for inline in _flat(pieces):
        last = out[-1] if out else None
        if isinstance(inline, Plain):
            if not inline.text:
                continue
            if isinstance(last, Plain):
                out[-1] = Plain(last.text + inline.text)
                continue
        out.append(inline)
    return tuple(_tidy(out))


def _flat(pieces: Iterable[Piece]) -> Iterable[Inline]:
    for piece in pieces:
        if isinstance(piece, str):
            yield Plain(piece)
        elif isinstance(piece, Plain | Link | Measure | Strong):
            yield piece
        else:
            yield from _flat(piece)


def _tidy(inlines: list[Inline]) -> Iterable[Inline]:
    """Give back the pieces with single spaces, also across the seams, and none before a mark."""
    ends_in_space = False
    for inline in inlines:
        if isinstance(inline, Plain):
            text = inline.text
            if _UNTIDY.search(text):
                text = _BEFORE_MARK.sub(r"\1", _SPACES.sub(" ", text))
            if ends_in_space:
                text = text.lstrip(" ")
            if not text:
                continue
            if text is not inline.text:
                inline = Plain(text)
        ends_in_space = inline.text.endswith(" ")
        yield inline


def trimmed(given: Line) -> Line:
    """Return the line without spaces at its ends."""
    while given and isinstance(given[0], Plain) and not given[0].text.strip():
        given = given[1:]
    while given and isinstance(given[-1], Plain) and not given[-1].text.strip():
        given = given[:-1]
    if given and isinstance(given[0], Plain):
        given = (Plain(given[0].text.lstrip()), *given[1:])
    if given and isinstance(given[-1], Plain):
        given = (*given[:-1], Plain(given[-1].text.rstrip()))
    return given


def capital(given: Line) -> Line:
    """Return the line with a capital at its start; a unit or a size at the start stays as it is."""
    if not given or isinstance(given[0], Measure | Strong):
        return given
    first = given[0]
    return (replace(first, text=upper_first(first.text)), *given[1:])


def upper_first(text: str) -> str:
    """Return the text with its first letter as a capital."""
    return text[:1].upper() + text[1:]


def ended(given: Line, mark: str = ".") -> Line:
    """Return the line with a mark at its end, unless a sentence ends there already."""
    text = words_only(given).rstrip()
    if not text or text.endswith((".", "?", "!", ":")):
        return given
    if text.endswith(('."', '?"', '!"', ".”", "?”", "!”")):
        return given
    return line(given, mark)


def sentence(*pieces: Piece) -> Line:
    """Return the pieces as one sentence: a capital in front, a full stop at the end."""
    return ended(capital(trimmed(line(*pieces))))


def paragraph(*sentences: Line) -> Line:
    """Return sentences that belong together as one line."""
    kept = [given for given in sentences if given]
    return trimmed(line([piece for given in kept for piece in (given, " ")]))


def parted(lines: Sequence[Piece], last: str = "and") -> Line:
    """Return `a, b and c`; an empty sequence gives an empty line."""
    if not lines:
        return ()
    if len(lines) == 1:
        return line(lines[0])
    commas: list[Piece] = []
    for piece in lines[:-1]:
        commas += [piece, ", "]
    return line(commas[:-1], f" {last} ", lines[-1])
