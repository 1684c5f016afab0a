"""Reads what a technician types in a hurry: texts, numbers, threads, with the usual slips.

More is taken here than in a file, where a slip is told: an answer shows how it was understood.
Values with units are read in `reckon/values.py`, which has to load the language for it.
"""

from __future__ import annotations

import re
from fractions import Fraction

from compiler.reckon.answer import Unclear
from compiler.trade.designation import Designation, parse_designation
from compiler.trade.inch_series import thread_of

_LONGEST = 120


def shown(text: str) -> str:
    """Return what was typed, safe to print and no longer than a message can bear."""
    plain = "".join(c if c.isprintable() else "?" for c in text)
    return plain if len(plain) <= 60 else plain[:57] + "…"


def one_text(words: list[str] | str, what: str, example: str) -> str:
    """Return the words of a question as one text without idle blanks."""
    text = " ".join([words] if isinstance(words, str) else words or []).strip()
    if not text:
        raise Unclear(f"Say {what}.", f"For example: {example}")
    if len(text) > _LONGEST:
        raise Unclear(f"That is too long for {what}.", f"For example: {example}")
    if not all(c.isprintable() or c == "\t" for c in text):
        reason = f"{shown(text)!r} holds characters that cannot be read."
        raise Unclear(reason, f"Type it anew, for example: {example}")
    return re.sub(r"\s+", " ", text)


def number_in(text: str, what: str, example: str, least: float, most: float) -> Fraction:
    """Return a bare number between two limits."""
    plain = one_text(text, what, example)
    bare = re.sub(r"(?<=\d),(?=\d)", ".", plain)
    bare = re.sub(r"^\.(?=\d)", "0.", bare)
    if not re.fullmatch(r"[0-9]{1,9}(?:\.[0-9]{1,9})?", bare):
        raise Unclear(f"{shown(plain)!r} is no number.", f"For example: {example}")
    number = Fraction(bare)
    if not least <= number <= most:
        reason = f"{shown(plain)} is no sensible {what}; it lies between {least:g} and {most:g}."
        raise Unclear(reason, f"For example: {example}")
    return number


_SMALL_M = re.compile(r"\bm(?=\d)")
_DASHED = re.compile(r"\b(M\d+(?:\.\d+)?)\s*-\s*(?=\d+(?:\.\d+)?\b)")
_GRADE = re.compile(r"\b(?:SAE\s+)?gr(?:ade)?[\s.-]*(?=[258]\b)", re.IGNORECASE)
_ONE_NUMBER = re.compile(r"\b(ISO|DIN|EN|ASME)[\s-]*(?=\d)", re.IGNORECASE)


_SERIES = re.compile(r"(?<![\w/#.-])(#?\d+(?:/\d+)?)(?:\s*|\s*-\s*)(UNC|UNF)\b", re.IGNORECASE)


def _with_pitch(found: re.Match[str]) -> str:
    """Return `5/16-18` for `5/16 UNC`, whatever is not known as it stands."""
    return thread_of(found[1], found[2]) or found[0]


_NOUN_BEHIND = re.compile(
    r"(?P<what>[MGR#]?\d.*?)\s+(?:hex(?:agon)?(?:[\s-]head)?\s+)?"
    r"(?P<noun>bolt|(?:cap\s+|set\s+)?screw|stud|nut|plug)s?\b(?P<rest>.*)",
    re.IGNORECASE,
)
"""`m10 hex bolt`, `M12 nut 8`: what it is, said behind its thread."""

_FIRST = {"nut": "nut", "plug": "plug", "set screw": "set-screw"}


def _noun_first(found: re.Match[str]) -> str:
    """Return the words as a designation has them: a nut is named first, a bolt not at all."""
    noun = _FIRST.get(re.sub(r"\s+", " ", found["noun"].lower()), "")
    return f"{noun} {found['what']} {found['rest']}".strip()


def designation_in(text: str, example: str) -> Designation:
    """Return a fastener or thread; `m8`, `M8-1.25`, `5/16 UNC` and `gr. 8` are taken too."""
    tidy = re.sub(r"(?<=\d),(?=\d(?!\d*\.))", ".", text)
    tidy = re.sub(r"[,;]", " ", tidy)
    tidy = _SMALL_M.sub("M", tidy)
    tidy = _DASHED.sub(r"\1×", tidy)
    tidy = _GRADE.sub("grade ", tidy)
    tidy = re.sub(r"(?<=\d)\s*X\s*(?=\d)", "×", tidy)
    tidy = _ONE_NUMBER.sub(lambda found: found[1].upper() + " ", tidy)
    tidy = _SERIES.sub(_with_pitch, tidy)
    whole = _NOUN_BEHIND.fullmatch(tidy.strip())
    tidy = _noun_first(whole) if whole is not None else tidy
    found, problems = parse_designation(re.sub(r"\s+", " ", tidy).strip())
    for problem in problems:
        raise Unclear(problem.message, problem.hint or f"For example: {example}")
    return found
