"""Standard designations of fasteners: from `M6×16 ISO 4762 8.8` to its parts, and back to words.

What each standard describes is in `trade/standards.py`, which threads there are in
`trade/iso_threads.py`, how threads are written in `trade/thread_names.py`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from compiler.trade.contradictions import contradictions
from compiler.trade.drives import Drive
from compiler.trade.kinds import KINDS
from compiler.trade.reading import Found, Problem, Word
from compiler.trade.standards import (
    BODIES,
    contradict,
    has_thread,
    is_number,
    kind_of,
    nearest,
    one_body,
    takes_letter,
)
from compiler.trade.standards_list import GENERIC
from compiler.trade.thread_names import (
    INCH,
    NUMBER,
    inch_text,
    is_pipe,
    length_of,
    plain,
    read_thread,
)


@dataclass(frozen=True, slots=True)
class Designation:
    """A designation taken apart. Lengths in mm, exact; '' and None where nothing was said.

    `kind` is what it is in words ("socket-head screw"), `thread` its name ("M10×1.25", "1/4-20"),
    `diameter` the nominal one, `size` the size of what has no thread ("6×30", "35"). `drive` is
    what the author says it is turned by, for heads that no table has; `standard_at` is where in the
    text the standard stands.
    """

    text: str
    kind: str = ""
    thread: str = ""
    diameter: Fraction | None = None
    pitch: Fraction | None = None
    length: Fraction | None = None
    standard: str = ""
    grade: str = ""
    threaded: bool = False
    size: str = ""
    drive: Drive | None = None
    standard_at: tuple[int, int] | None = None


_EXAMPLES = {"DIN": "935", "EN": "1661", "ASME": "B18.3", "SAE": "J429", "ASTM": "A193"}
_CLOSE = re.compile(r"(ISO|DIN|EN)(\d\S*)$")
_GRADE = re.compile(
    r"(?:\d{1,2}\.\d|[ACDF]\d(?:-\d{2,3}H?)?|0?[45689]|10|12|\d{2,3}H|\d{3}HV|CuZn|Ms|F?St)$"
)
_ASTM_GRADE = re.compile(r"(?:B7M?|B8M?|B16|L7M?|2HM?|8M?|7M?|DH3?|C3?|A|B|D)$")
_SIZE = re.compile(rf"{NUMBER}(?:/\d+)?(?:(?:[×x*]|\.\.)\s?{NUMBER})*$")
_SERIES = frozenset(("UNC", "UNF", "UNEF", "BSW", "BSF", "BSP"))


_SAE_POINTS = frozenset(("5.1", "5.2", "8.1", "8.2"))
"""Grades of SAE J429 that look like classes."""

_FINISH = re.compile(r"(?:[A-M]\d[A-U]|t?Zn|galZn|flZn\w*)$")
"""Codes of coatings, ISO 4042 and ISO 10683: they change neither size nor strength."""

_JOINED = re.compile(
    r"(?<=\s)[-–](?=\s)|(?<=\d)-(?=M\d|\d+(?:\.\d+)?[×x*]\d|[A-C](?:[\s-]|$))"
    r"|(?<=[\dA-C])-(?=(?:F?St|[A-M]\d[A-U])(?:\s|$))"
    r"|(?<=\d)-(?=(?:[3-689]|1[02])\.[689](?:[\s-]|$)|A\d-\d\d)"
)
"""The hyphens of a designation as the standards write it: `ISO 4762-M6×16-8.8`."""

_WORD = re.compile(r"\S+(?:\s*[×x*]\s*\d[^\s×x*]*)*")
_CROSS = re.compile(r"\s*([×x*])\s*")
_MANY_DIGITS = re.compile(r"\d{6}")


@lru_cache(maxsize=4096)
def parse_designation(text: str) -> tuple[Designation, tuple[Problem, ...]]:
    """Take a designation apart. Never raises; what cannot be read is told with its place."""
    words = [
        Word(_CROSS.sub(r"\1", found.group()), found.start(), found.end())
        for found in _WORD.finditer(_JOINED.sub(" ", text))
    ]
    found, problems = Found(), list[Problem]()
    rest = _standard(words, found, problems)
    endless = next((word for word in rest if _MANY_DIGITS.search(word.text)), None)
    if endless is not None:
        hint = "Look at the digits."
        problem = endless.problem("This number has more digits than any size has.", hint)
        return Designation(text=text, kind="fastener"), (problem,)
    at = 0
    while at < len(rest):
        at += _read(rest, at, found, problems)
    kind = _kind(found)
    threaded = bool(found.thread) if has_thread(kind) else False
    designation = Designation(
        text=text,
        kind=kind,
        thread=found.thread,
        diameter=found.diameter,
        pitch=found.pitch,
        length=found.length,
        standard=found.standard,
        grade=found.grade,
        threaded=threaded or KINDS.get(found.kind, False),
        size=found.size,
        standard_at=found.standard_at,
    )
    problems += contradictions(found, kind)
    return designation, tuple(sorted(problems, key=lambda problem: problem.start))


def _kind(found: Found) -> str:
    """Return what it is: by its standard, or what is said where that holds several things."""
    listed, said = kind_of(found.standard), found.kind.replace("-", " ")
    if listed in GENERIC:
        return said or _specific(listed, found)
    kind = listed or said or ("slotted round nut" if found.sign else "")
    return kind or ("screw" if found.thread and found.length else "fastener")


def _specific(listed: str, found: Found) -> str:
    """Return what it is where the standard holds bolts and nuts: a nut has no length."""
    if listed != "hexagon fastener" or not found.thread:
        return listed
    return "hexagon bolt" if found.length else "hexagon nut"


def _standard(words: list[Word], found: Found, problems: list[Problem]) -> list[Word]:
    """Read the standard, wherever it stands, and return the other words.

    What it describes tells how the others are meant. Of `DIN EN ISO 4762` the last name counts:
    the others took that standard over.
    """
    rest: list[Word] = []
    at = 0
    while at < len(words):
        first = last = words[at]
        at += 1
        close = _CLOSE.match(first.text)
        if first.text not in BODIES and not close:
            rest.append(first)
            continue
        while not close and at < len(words) and words[at].text in BODIES:
            last = words[at]
            at += 1
        if close:
            found.standard, end = f"{close[1]} {close[2]}", first.end
        elif at < len(words):
            taken, number, end = _number(words, at, last.text)
            found.standard = f"{one_body(last.text)} {number}"
            at += taken
        else:
            hint = f"Write the whole number: {last.text} {_EXAMPLES.get(last.text, '4762')}"
            message = f"{last.text} has no number behind it."
            problems.append(Problem(first.start, last.end, message, hint))
            continue
        found.standard_at = (first.start, end)
        problems += _strange_number(found.standard, first.start, end)
    return rest


def _number(words: list[Word], at: int, body: str) -> tuple[int, str, int]:
    """Return how many words the number of a standard takes, the number, and where it ends.

    The letter before it may stand apart: `JIS B 1176`.
    """
    first = words[at]
    if takes_letter(body, first.text) and at + 1 < len(words):
        return 2, first.text + words[at + 1].text, words[at + 1].end
    return 1, first.text, first.end


def _strange_number(standard: str, start: int, end: int) -> list[Problem]:
    body, _, number = standard.partition(" ")
    if is_number(number):
        return []
    hint = f"A standard has a number, such as {body} {_EXAMPLES.get(body, '4762')}."
    message = f"{number} is no number of a standard."
    if re.match(r"\d{6}", number):
        shown = number if len(number) < 12 else f"{number[:9]}…"
        message = f"{shown} has more digits than the number of any standard."
        near = nearest(standard)
        hint = f"Did you mean {near[0]}, {kind_of(near[0])}?" if near else hint
    return [Problem(start, end, message, hint)]


def _read(words: list[Word], at: int, found: Found, problems: list[Problem]) -> int:
    """Read from word `at` on and return how many words that took."""
    word = words[at]
    after = words[at + 1].text if at + 1 < len(words) else ""
    if word.text in KINDS and at == 0:
        found.kind = word.text
        listed = kind_of(found.standard)
        if contradict(found.kind, listed):
            said = found.kind.replace("-", " ")
            message = f"{found.standard} is a {listed}, not a {said}."
            problems.append(word.problem(message, "Leave out the word, or put the standard right."))
        return 1
    if after and _pair(word, words[at + 1], found):
        return 2
    if word.text in _SERIES or word.text in ("×", "x", "*") or read_thread(word, found, problems):
        return 1
    return _rest(words, at, after, found, problems)


def _pair(word: Word, after: Word, found: Found) -> bool:
    """Read two words that belong together: `grade 5`, `G 1/2`, `form A`."""
    said, value = word.text, after.text
    if said.lower() in ("grade", "class"):
        # `grade 8.8` is what many say for the class 8.8.
        is_class = said.lower() == "class" or ("." in value and value not in _SAE_POINTS)
        found.grade, found.grade_word = (value if is_class else f"grade {value}"), after
        return True
    if said.lower() in ("form", "type") and re.fullmatch(r"[A-Z]{1,2}\d?", value):
        return True
    if said in ("G", "R", "Rp", "Rc", "NPT") and is_pipe(f"{said}{value}"):
        found.thread = f"{said}{value}"
        return True
    return False


def _rest(words: list[Word], at: int, after: str, found: Found, problems: list[Problem]) -> int:
    """Read a strength class, a length or a size."""
    word, text = words[at], words[at].text
    if _is_grade(text, found):
        found.grade, found.grade_word = text, word
        return 1
    if found.thread and found.length is None and length_of(text) is not None:
        found.length = length_of(text)
        return 1
    if _SIZE.match(text) and not found.thread:
        found.size, found.size_word = text.replace("x", "×").replace("*", "×"), word
        return 2 if after in ("mm", "in") else 1
    if (
        text in ("mm", "in")
        or _FINISH.match(text)
        or (not found.thread and text in ("A", "B", "C"))
    ):
        return 1
    if _TURNED_BY.match(text):
        taken, problem = _turned_by(words, at)
        problems.append(problem)
        return taken
    problems.append(_strange(word, at))
    return 1


_TURNED_BY = re.compile(
    r"(?:(?:A/?F|SW|WAF)(?P<size>\d+(?:\.\d+)?)?|hex(?:agon)?|allen|across-flats|hex-key)$",
    re.IGNORECASE,
)
_GOES_ON = re.compile(rf"(?:{NUMBER}|\d+/\d+|mm|in|key|socket|head|wrench|bit)$", re.IGNORECASE)


def _turned_by(words: list[Word], at: int) -> tuple[int, Problem]:
    """Return how many words say what turns it, and that another way of saying so is meant."""
    last = at
    while last + 1 < len(words) and _GOES_ON.match(words[last + 1].text):
        last += 1
    said = [word.text for word in words[at : last + 1]]
    first = _TURNED_BY.match(said[0])
    glued = first["size"] if first is not None else None
    size = glued or next((word for word in said if word[0].isdigit()), "")
    unit = "in" if "/" in size or "in" in said else "mm"
    outside = f"`across flats {size or '13'} {unit}`"
    inside = f"`hex key {size or '5'} {unit}`"
    hint = f"Write behind the designation: {outside}"
    if said[0].lower() in ("allen", "hex-key") or not {"socket", "key"}.isdisjoint(said):
        hint = f"Write behind the designation: {inside}"
    elif said[0].lower().startswith("hex") and "head" not in said:
        hint += f", or, for a hexagon socket, {inside}"
    whole = Word(" ".join(said), words[at].start, words[last].end)
    message = f"{whole.text} is not how it is said what turns a fastener."
    return last - at + 1, whole.problem(message, f"{hint}.")


def _is_grade(text: str, found: Found) -> bool:
    """Return whether a word is a strength class, which stands behind a thread or a standard."""
    if not (found.thread or found.standard) or _is_size(text, found):
        return False
    if found.standard.startswith("ASTM") and _ASTM_GRADE.match(text):
        return True
    return bool(_GRADE.match(text))


def _is_size(text: str, found: Found) -> bool:
    """Return whether a number is the size of what has no thread: `DIN 6799 8`, `8 DIN 127`."""
    bare = not found.thread and not found.size and re.fullmatch(NUMBER, text)
    return bool(bare) and not has_thread(kind_of(found.standard) or found.kind or "screw")


def _strange(word: Word, at: int) -> Problem:
    import difflib

    if at == 0:
        near = difflib.get_close_matches(word.text, list(KINDS), n=1, cutoff=0.6)
        hint = (
            f"Did you mean {near[0]}?" if near else "For example: M6×16 ISO 4762 8.8, or: plug G1/2"
        )
        return word.problem(f"{word.text} is neither a thread nor a kind of fastener.", hint)
    hint = "A designation is thread and length, standard, strength class: M6×16 ISO 4762 8.8"
    return word.problem(f"{word.text} does not belong into a designation.", hint)


def describe(designation: Designation) -> tuple[str, str]:
    """Return the size and what it is: (`M6 × 16`, `socket-head screw`); size '' for a bare kind."""
    return _size_text(designation), designation.kind


def _size_text(designation: Designation) -> str:
    if not designation.thread:
        return designation.size.replace("×", " × ").replace("..", " to ")
    size = designation.thread.replace("×", " × ")
    if designation.length is None:
        return size
    if designation.thread.startswith(("M", "ST")):
        return f"{size} × {plain(designation.length)}"
    return f"{size} × {inch_text(designation.length / INCH)}"
