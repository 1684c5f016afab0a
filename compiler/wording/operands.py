"""Author's text, operands and phrases as pieces of a sentence."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from compiler.model import Amount, LoopUse, Prose, Selection, Tool
from compiler.walk.nodes import Spot, Target, WalkPhrase
from compiler.wording import english
from compiler.wording.nouns import noun, tool_noun
from compiler.wording.text import Line, Piece, Plain, capital, line, parted
from compiler.wording.values import measure, quantity_text
from compiler.wording.voice import Voice

_HAS_ARTICLE = re.compile(
    r"(?i)(?:^|[\s(\"“])(the|a|an|this|that|these|those|each|every|both|new|old|its|their|your|no|"
    r"any|all|one|two|three|four|five|six|seven|eight|other|first|second|last|another|whole|\d+)"
    r"\s+$"
)
_ALONE = {"back": "back to its place", "hand-tight": "by hand", "snug": "until snug"}


def prose(voice: Voice, text: Prose) -> Line:
    """Return the author's text; a named thing gets `the` unless a word before it says which."""
    pieces: list[Piece] = []
    before = ""
    for part in text.parts:
        piece = _prose_part(voice, part, before)
        pieces.append(piece)
        before = part if isinstance(part, str) else "x"
    return line(pieces)


def _prose_part(voice: Voice, part: str | Selection | LoopUse | Amount, before: str) -> Piece:
    if isinstance(part, str):
        return part
    if isinstance(part, Amount):
        return measure(voice, part)
    if isinstance(part, LoopUse):
        return voice.loop_words(part)
    members = tuple(m if isinstance(m, str) else voice.loop_words(m) for m in part.members)
    named = noun(voice, Target(part.key, members, part.age)).words
    if _HAS_ARTICLE.search(before) and named and isinstance(named[0], Plain):
        first = re.sub(r"^(?:the|an|a) ", "", named[0].text)
        return line(first, named[1:])
    if not before.strip() or before.rstrip().endswith((".", "?", "!")):
        return capital(named)
    return named


def operand(voice: Voice, spot: Spot) -> Line:
    """Return what is acted on, or what a phrase names."""
    if isinstance(spot, Target):
        return noun(voice, spot).words
    if isinstance(spot, Amount):
        return line(measure(voice, spot))
    if isinstance(spot, Prose):
        return prose(voice, spot)
    return line(spot)


def is_many(voice: Voice, spots: Sequence[Spot]) -> bool:
    """Return whether several things are meant, so that `them` stands for them."""
    if len(spots) != 1:
        return len(spots) > 1
    only = spots[0]
    return isinstance(only, Target) and noun(voice, only).many


def operands(voice: Voice, spots: Sequence[Spot], joined: str = "and") -> Line:
    """Return several operands as one list; members of one set are named together."""
    return parted([operand(voice, spot) for spot in _together(spots)], joined)


def _together(spots: Sequence[Spot]) -> list[Spot]:
    """Join members of one set that follow each other: `foot[1], foot[3]` is `foot[1, 3]`."""
    made: list[Spot] = []
    for spot in spots:
        last = made[-1] if made else None
        if (
            isinstance(spot, Target)
            and isinstance(last, Target)
            and (spot.key, spot.age, spot.each) == (last.key, last.age, last.each)
            and spot.members
            and last.members
        ):
            made[-1] = replace(last, members=(*last.members, *spot.members))
        else:
            made.append(spot)
    return made


def phrase(voice: Voice, given: WalkPhrase, sizes: Sequence[str] = ()) -> Line:
    """Return a phrase with a space in front: ` with the hoist or the crane`, ` two turns`.

    `sizes` are wrench sizes known from what is turned, for a tool that is a set of sizes.
    """
    if not given.word:
        return line(" ", operands(voice, given.operands))
    if given.word in _ALONE:
        return line(" ", _ALONE[given.word])
    if not given.operands:
        return line(
            " ", english.spoken(given.word) if "clockwise" not in given.word else given.word
        )
    if given.word in ("with", "without", "via"):
        return line(
            " ", "through" if given.word == "via" else given.word, " ", _means(voice, given, sizes)
        )
    return line(" ", given.word, " ", operands(voice, given.operands, given.joined))


def phrases(
    voice: Voice, given: Sequence[WalkPhrase], sizes: Sequence[str] = (), skip: Sequence[str] = ()
) -> list[Line]:
    """Return phrases in the order they are said: how it is known to be done comes last."""
    kept = [p for p in given if p.word not in skip]
    ordered = sorted(kept, key=lambda p: p.word == "until")
    return [phrase(voice, p, sizes) for p in ordered]


def _means(voice: Voice, given: WalkPhrase, sizes: Sequence[str]) -> Line:
    """Return the tools of a `with`: the end of one with two ends, the size out of a set."""
    made: list[Line] = []
    for spot in given.operands:
        thing = voice.thing(spot.key) if isinstance(spot, Target) else None
        if isinstance(thing, Tool):
            tool = tool_noun(voice, thing, _size_out_of(thing, sizes)).words
            made.append(line("the ", given.end, " end of ", tool) if given.end else tool)
        else:
            made.append(operand(voice, spot))
    return parted(made, given.joined)


def _size_out_of(tool: Tool, sizes: Sequence[str]) -> str:
    """Return the size of a set that is meant, '' when that cannot be known."""
    there = [quantity_text(size) for size in tool.sizes]
    wanted = [size.replace(" ", "\N{NO-BREAK SPACE}") for size in sizes]
    return next((size for size in wanted if size in there), "")
