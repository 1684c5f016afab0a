"""Plain phrases for what the grammar knows: what a reader of a message calls each kind of word."""

from __future__ import annotations

from dataclasses import dataclass

from compiler.parse.table import load_table

PHRASES: dict[str, str] = {
    "NAME": "a name",
    "VERB": "a verb such as `remove`",
    "TEXT": "text in quotes",
    "NUMBER": "a number",
    "UNIT": "a unit such as `mm`",
    "DATE": "a day such as `2026-11-20`",
    "TIME": "a time such as `1:12`",
    "DESIGNATION": "what the fastener is, such as `M6×16 ISO 4762 8.8`",
    "THREAD_AND_CLASS": "a thread and its class, such as `M6 8.8`",
    "CROSS": "`×`",
    "DOTS": "`..`",
    "PLUS_MINUS": "`±`",
    "COMMA": "a comma",
    "DOT": "a point",
    "VBAR": "`|`",
    "LSQB": "`[`",
    "RSQB": "`]`",
    "LPAR": "`(`",
    "RPAR": "`)`",
    "PLUS": "`+`",
    "MINUS": "`-`",
    "SLASH": "`/`",
    "LINE_END": "the end of the line",
}
"""What each terminal of the grammar that is no key word is called."""

STRUCTURE = frozenset({"DEEPER", "BACK", "LOST", "$END"})
"""Marks that no author writes; a message never names them."""


@dataclass(frozen=True, slots=True)
class Group:
    """Words that a message names together once `least` of them could stand."""

    phrase: str
    words: frozenset[str]
    least: int = 3


def _words(text: str) -> frozenset[str]:
    return frozenset(word.strip() for word in text.split(","))


_PHRASES = "a word such as `with`, `until` or `takes`"

GROUPS: tuple[Group, ...] = (
    Group(
        "a line such as `parts`, `revision` or `section`",
        _words(
            "energy, conditions, places, parts, fasteners, fluids, connections, tools, "
            "consumables, aids, roles, table, block, revision, machine, models, location, "
            "author, approved, purpose, every, units, second units, lift limit, threads, "
            "date, crew, site, model, serial, after, needs, starts with, leaves, rules, verbs, "
            "torques, do"
        ),
    ),
    Group(
        "a step",
        _words(
            "section, repeat, if, follow, refit, measure, ask, confirm, record, hold for, "
            "sign, stop, hand over to, go back to, side by side, way back, only for, "
            "otherwise, otherwise if"
        ),
        6,
    ),
    Group(
        "a line such as `note`, `warning` or `picture`",
        _words("danger, warning, caution, notice, note, why, wear, picture, clip"),
    ),
    Group(
        _PHRASES,
        _words(
            "with, via, holding, to, from, into, onto, out of, between, against, beside, "
            "toward, until, without, above, below, at most, at least, off, on, in, out, "
            "over, under, up, down, through, along, around, across, behind, for, at, by, "
            "aside, away, clockwise, counter-clockwise, hand-tight, snug, as, only for, "
            "only if, takes, people, timer, recorded"
        ),
        12,
    ),
    Group(
        "a word such as `takes` or `only for`",
        _words("as, only for, only if, takes, people, timer, recorded, by"),
    ),
    Group(
        "a clause such as `holds`, `behind` or `renew`",
        _words(
            "renew, made to fit, hand-tight, snug, star, from the middle, circular, then circular, "
            "left-hand, circle, signs, good grasp, fair grasp, "
            "behind, on, guards, contains, at, number, formerly, "
            "matched with, spare for, only for, holds, running torque, counter-hold, "
            "locks, seals, across flats, hex key, in, marked, joins, carries, ends, drive, "
            "length, extends, "
            "accuracy, calibrated until, tag, lifts, lifted, hands out, turned, without, "
            "facing, isolate at, release, verify, "
            "restore, by, order, rectangle, positions, thread, torque"
        ),
        12,
    ),
    Group("a limit such as `at most 0.2 mm`", _words("at most, at least, each, sum, spread")),
)
"""Key words by what they do, in the order in which a message names them."""

_MOST_NAMED = 4
# Signs that could follow nearly every name or value say nothing about what is missing.
_SELDOM_MEANT = ("LSQB", "DOT", "COMMA", "AND", "OR", "NEW", "OLD", "ABOUT", "OVER", "UNDER")
_TOLERANCE = frozenset({"DOTS", "PLUS_MINUS", "PLUS", "LPAR", "SLASH"})
_FIRST = ("NAME", "TEXT", "NUMBER", "VERB", "UNIT", "DATE", "TIME", "DESIGNATION")


def phrase(terminal: str) -> str:
    """Return what a message calls a terminal; '' for marks of structure."""
    if terminal in STRUCTURE:
        return ""
    if terminal in PHRASES:
        return PHRASES[terminal]
    fixed, text = load_table().terminals[terminal]
    assert fixed, f"{terminal} has no phrase in words.py"
    return f"`{text}`"


def what_could_stand(could: frozenset[str]) -> str:
    """Return in words what could stand in a place, the likeliest first, or '' for nothing."""
    left = {t for t in could if t not in STRUCTURE and t not in _TOLERANCE}
    end = "LINE_END" in left
    left.discard("LINE_END")
    named = [PHRASES[t] for t in _FIRST if t in left]
    left -= set(_FIRST)
    if len(left) + len(named) > 2:
        left -= set(_SELDOM_MEANT)
    text_of = {t: load_table().terminals.get(t, (False, ""))[1] for t in left}
    for group in GROUPS:
        members = {t for t in left if text_of[t] in group.words}
        if len(members) >= group.least:
            named.append(group.phrase)
            left -= members
    if _PHRASES in named and PHRASES["NUMBER"] in named:
        named.remove(PHRASES["NUMBER"])  # a bare value, such as `2 turns`, is seldom meant
    named += sorted(phrase(t) for t in left)
    named = named[: _MOST_NAMED - end]
    if end:
        named.append(PHRASES["LINE_END"])
    return _either(named)


def _either(named: list[str]) -> str:
    if len(named) < 2:
        return "".join(named)
    return f"{', '.join(named[:-1])} or {named[-1]}"
