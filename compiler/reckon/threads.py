"""Reads a thread, its strength class and the state of its surface from one line of words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from compiler.findings.near import suggest
from compiler.reckon.answer import Unclear
from compiler.reckon.written import designation_in, shown
from compiler.trade.designation import Designation
from compiler.trade.inch_series import thread_of
from compiler.trade.torque import K_OF

STATE_WORDS: Mapping[str, str] = {
    "black": "not plated",
    "zinc-plated": "zinc-plated",
    "lubricated": "oiled",
    "cadmium-plated": "cadmium-plated",
    "anti-seize": "anti-seize",
}
"""The states of the table in words, by the names of `K_OF`."""

_STATES = (
    ("anti-seize", r"(?:with\s+)?anti[\s-]?sei[sz]e(?:\s+(?:paste|compound))?"),
    ("zinc-plated", r"(?:electro[\s-]?)?zinc(?:[\s-]*(?:plated|plate|coated))?|zn"),
    ("cadmium-plated", r"cad(?:mium)?(?:[\s-]*(?:plated|plate))?"),
    ("lubricated", r"lubricated|lubed?|oiled|oily|oil|greased|grease|wet"),
    ("black", r"non[\s-]?plated|not[\s-]plated|unplated|black|plain|bare"),
    ("dry", r"un-?lubricated|dry"),
)
_NO_FACTOR = (
    r"hot[\s-]?dip(?:ped)?(?:[\s-]*galvani[sz]ed)?|galvani[sz]ed|thread[\s-]?lock(?:er|ed)?|moly\w*"
    r"|mos2|molybdenum\w*|wax(?:ed)?|ptfe|nickel[\s-]?(?:plated)?|phosphated?|copper[\s-]paste"
    r"|flake\w*|painted|rusty"
)
_EDGE = r"(?<![\w])(?:{})(?![\w])"
_FILL = re.compile(r"(?<!\w)(?:threads?|screws?\s+thread|surface|and|,)(?!\w)", re.IGNORECASE)


_CLASS_FIRST = re.compile(
    r"((?:class\s+)?\d{1,2}\.\d|[AC]\d-\d{2,3}|gr(?:ade)?[\s.-]*[258])\s+([Mm#]?\d\S*.*)$",
    re.IGNORECASE,
)
"""`8.8 M10` and `grade 8 5/16-18`: the class before the thread."""


@dataclass(frozen=True, slots=True)
class Named:
    """A thread with its class, and the states it was said to be in, as `K_OF` names them."""

    what: Designation
    states: tuple[str, ...] = ()


def named_thread(text: str, example: str) -> Named:
    """Return what the words name. Raises Unclear for what is no thread.

    "dry" beside a plating adds nothing to it: the factor of the plating is for dry threads. Alone
    it may be plated or not, so it is both.
    """
    odd = re.search(_EDGE.format(_NO_FACTOR), text, re.IGNORECASE)
    rest, states = text, list[str]()
    for name, words in _STATES:
        rest, times = re.subn(_EDGE.format(words), " ", rest, flags=re.IGNORECASE)
        states += [name] if times else []
    if "dry" in states:
        states = [state for state in states if state != "dry"] or ["zinc-plated", "black"]
    if odd is not None:
        raise Unclear(
            f"The table has no K for {odd.group().lower()!r}.",
            "Ask the maker of the screw or of the paste for it and give it: --k 0.15. "
            f"It has: {', '.join(K_OF)}.",
        )
    rest = _CLASS_FIRST.sub(r"\2 \1", _FILL.sub(" ", rest).strip())
    _check_words(rest)
    try:
        what = designation_in(rest, example)
    except Unclear as unclear:
        word = unclear.reason.partition(" does not belong")[0]
        if word == unclear.reason or not word.replace("-", "").isalpha():
            raise
        raise Unclear(
            f"{word} is neither part of a thread nor a state that the table has a K for.",
            f"It has: {', '.join(K_OF)}. For any other give the K of its maker: --k 0.15.",
        ) from None
    if not what.thread:
        raise Unclear(*_no_thread(rest, example))
    return Named(what, tuple(states))


_STATE_VOCABULARY = [
    "black",
    "plain",
    "unplated",
    "oiled",
    "lubricated",
    "greased",
    "zinc-plated",
    "cadmium-plated",
    "anti-seize",
    "dry",
]


def _check_words(text: str) -> None:
    """Raise Unclear for a word that was probably meant to be a state of the thread."""
    if "plated" in text.lower().split():
        # The nearest word would be `unplated`, which is the opposite.
        raise Unclear("`plated` does not say with what.", "Say zinc-plated or cadmium-plated.")
    for word in text.split():
        if word.isalpha() and len(word) > 3 and word.lower() not in _STATE_VOCABULARY:
            near = suggest(word.lower(), _STATE_VOCABULARY)
            if near:
                raise Unclear(f"{shown(word)} is no state of a thread.", f"Did you mean {near}?")


def _no_thread(text: str, example: str) -> tuple[str, str]:
    inch = re.search(r"(?<![\d/-])(\d{1,2}/\d{1,2}|#\d{1,2}|1)(?![\d/-])", text)
    if inch is None:
        return "There is no thread in that.", f"For example: {example}"
    size = inch.group()
    coarse, fine = thread_of(size, "UNC"), thread_of(size, "UNF")
    reason = f"{size} does not say how fine the thread is."
    if not coarse:
        return reason, f"Add the threads per inch: {size}-18, say, for 18 of them."
    return reason, f"{coarse} is the coarse one (UNC), {fine} the fine one (UNF)."


def known_class(what: Designation, example: str) -> None:
    """Raise Unclear where no class is said, or one that a screw does not have."""
    if what.thread.startswith(("G", "R")):
        reason = f"{what.thread} is a pipe thread: no class and no proof load tell how tight it is."
        raise Unclear(reason, "Ask the maker of the fitting.")
    if not what.grade:
        marks = "8.8 or 10.9 is on the head" if what.thread.startswith("M") else "lines on the head"
        reason = f"{what.thread} alone does not say how strong the screw is ({marks})."
        raise Unclear(reason, f"Add its class: {example}")


def with_class(what: Designation) -> str:
    """Return `M8, class 10.9`, or `5/16-18, grade 8`."""
    grade = what.grade
    if not grade:
        return what.thread
    return f"{what.thread}, {grade if grade.startswith('grade') else f'class {grade}'}"
