"""Text that is hard to follow at the machine: long sentences, words that leave one to guess."""

from __future__ import annotations

import re
from collections.abc import Iterator

from compiler.checks.inside import found
from compiler.checks.subject import Subject
from compiler.findings.model import Finding
from compiler.model import LoopUse, Prose, ProseStep, Selection, World
from compiler.source import Span

MOST_WORDS = 20
"""Words in an instruction. Simplified technical English (ASD-STE100) sets the same limit."""

MOST_WORDS_ASIDE = 25
"""Words in what is not an instruction: notes, reasons, messages (ASD-STE100, descriptive text)."""

VAGUE = {
    "as required": "say what requires it",
    "as necessary": "say when it is necessary",
    "as needed": "say when it is needed",
    "if necessary": "say when: `only if …`",
    "if required": "say when: `only if …`",
    "if needed": "say when: `only if …`",
    "as appropriate": "say what is appropriate",
    "appropriate": "name the one that is meant",
    "appropriately": "say how",
    "properly": "say how it looks or feels when it is right",
    "correctly": "say how it looks or feels when it is right",
    "adequate": "give the amount",
    "adequately": "say how much",
    "sufficient": "give the amount",
    "sufficiently": "say how much",
    "suitable": "name the one that is meant",
    "etc": "list them all",
    "and so on": "list them all",
    "and the like": "list them all",
    "a bit": "say how much",
    "some kind of": "name it",
}
"""Words that leave the reader to guess, and what to write instead. Common practice, no source."""

_SENTENCE = re.compile(r"[.!?](?:\s+|$)")
_WORD = re.compile(r"[^\s–—]+")
_ANY = "|".join(sorted(VAGUE, key=len, reverse=True))
_VAGUE = re.compile(rf"(?<![\w-])({_ANY})(?![\w-])", re.IGNORECASE)
_QUOTED = re.compile(r"\"[^\"]*\"|“[^”]*”")
"""Text within text is what a plate or a sign of the machine says: not for the author to change."""

_REQUIRED_BY = re.compile(r"(?:required|needed|necessary)$", re.IGNORECASE)
_BY = re.compile(r"\s+by\b")
_A_TOOL = re.compile(r"\b(?:fit|insert|take|use|change|choose|put|with|into)\s+$", re.IGNORECASE)
_NO_TOOL = re.compile(r"\s+(?:more|less|too|of(?! 1 mm))\b|\s+\w+er\b(?<!holder)", re.IGNORECASE)
_THE_TOOL = re.compile(r"\s+(?:that|which|into|in|from|holder|set|with|of 1 mm)\b", re.IGNORECASE)


def hard_to_read(subject: Subject) -> Iterator[Finding]:
    """Find sentences too long to hold in mind at the machine, and words that leave one to guess."""
    for prose, most in _texts(subject.world):
        text = _words(prose)
        yield from _long_sentences(prose, text, most)
        yield from _vague_words(prose, text)


def _long_sentences(prose: Prose, text: str, most: int) -> Iterator[Finding]:
    for start, end in _sentences(text):
        words = len(_WORD.findall(text, start, end))
        if words <= most:
            continue
        yield Finding(
            "long-sentence",
            _place(prose, start, end),
            f"This sentence has {words} words; more than {most} are hard to follow at the machine.",
            hint="Make it two sentences, or two steps, with one instruction each.",
        )


def _vague_words(prose: Prose, text: str) -> Iterator[Finding]:
    for match in _VAGUE.finditer(text):
        word = match[1]
        if not _is_vague(text, match):
            continue
        yield Finding(
            "vague-words",
            _place(prose, match.start(), match.end()),
            f"“{word}” leaves the reader to guess.",
            hint=f"Instead, {VAGUE[word.casefold()]}.",
        )


def _is_vague(text: str, match: re.Match[str]) -> bool:
    """Return whether such a word leaves one to guess in this place."""
    start, end = match.span()
    if any(quoted.start() < start < quoted.end() for quoted in _QUOTED.finditer(text)):
        return False
    if _REQUIRED_BY.search(match[1]):
        return not _BY.match(text, end)
    if match[1].casefold() != "a bit" or _NO_TOOL.match(text, end):
        return True
    # A bit of a drill or a screwdriver, by the words around it.
    return not (_A_TOOL.search(text, 0, start) or _THE_TOOL.match(text, end))


def _sentences(text: str) -> Iterator[tuple[int, int]]:
    """Yield where each sentence starts and ends, its full stop included."""
    start = 0
    for stop in _SENTENCE.finditer(text):
        yield start, stop.start() + 1
        start = stop.end()
    yield start, len(text)


def _place(prose: Prose, start: int, end: int) -> Span:
    """Return where in the file a piece of `_words` stands; all of the text where that is unsure."""
    places = _places(prose)
    if not places:
        return prose.span
    return Span(prose.span.file, places[start][0], places[end - 1][1])


def _places(prose: Prose) -> list[tuple[int, int]]:
    """Return start and end in the file of each character of `_words`.

    Empty where a sign is written with a backslash: it takes more room in the file than in the text.
    """
    places: list[tuple[int, int]] = []
    at = prose.span.start + 1
    for number, part in enumerate(prose.parts):
        if not isinstance(part, str):
            places += [(part.span.start - 1, part.span.end + 1)] * len(_part(part))
            at = part.span.end + 1
            continue
        stop = prose.span.end - 1
        following = prose.parts[number + 1 : number + 2]
        if following and not isinstance(following[0], str):
            stop = following[0].span.start - 1
        if stop - at != len(part):
            return []
        places += [(place, place + 1) for place in range(at, stop)]
    return places


def _texts(world: World) -> Iterator[tuple[Prose, int]]:
    """Yield every text of an author once, with the most words that its sentences should have."""
    # By place: the same text may have other links in it on another model.
    seen: set[Span] = set()
    done: set[int] = set()
    files = (world.machines, world.procedures, world.visits)
    for holder in (world.shop, *(one for kind in files for one in kind.values())):
        for place, name, prose in found(holder, Prose, done):
            if prose.span not in seen:
                seen.add(prose.span)
                own = name == "text" and isinstance(place, ProseStep)
                yield prose, MOST_WORDS if own else MOST_WORDS_ASIDE


def _words(prose: Prose) -> str:
    """Return the text with a word for each thing and value in it."""
    return "".join(_part(part) for part in prose.parts)


def _part(part: object) -> str:
    if isinstance(part, str):
        return part
    return "it" if isinstance(part, Selection | LoopUse) else "1 mm"
