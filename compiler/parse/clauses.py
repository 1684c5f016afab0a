"""Which clauses a thing may have, what each takes, and the remarks about those that do not fit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from compiler import syntax as s
from compiler.parse.remarks import Remark

_PART: tuple[s.ThingKind, ...] = ("part",)
_FASTENER: tuple[s.ThingKind, ...] = ("fastener",)
_TOOL: tuple[s.ThingKind, ...] = ("tool",)
_ENERGY: tuple[s.ThingKind, ...] = ("energy",)
_CONNECTION: tuple[s.ThingKind, ...] = ("connection",)
_BOUGHT: tuple[s.ThingKind, ...] = (
    "part", "fastener", "fluid", "connection", "tool", "consumable", "aid",
)  # fmt: skip
_COUNTED: tuple[s.ThingKind, ...] = ("part", "fastener", "tool", "consumable", "aid")
_LIFTING: tuple[s.ThingKind, ...] = ("tool", "aid")


@dataclass(frozen=True, slots=True)
class ClauseRule:
    """What a clause takes. `most` 0 means as many as one likes; `things` are what may have it."""

    things: tuple[s.ThingKind, ...]
    takes: tuple[type, ...]
    what: str
    example: str
    least: int = 1
    most: int = 1


def _names(things: tuple[s.ThingKind, ...], example: str, most: int = 0) -> ClauseRule:
    what = "the name of a thing" if most == 1 else "names of things"
    return ClauseRule(things, (s.Ref,), what, example, most=most)


def _text(things: tuple[s.ThingKind, ...], example: str, most: int = 1) -> ClauseRule:
    return ClauseRule(things, (s.Text,), "text in quotes", example, most=most)


def _value(things: tuple[s.ThingKind, ...], example: str) -> ClauseRule:
    return ClauseRule(things, (s.AmountLit,), "a value with a unit", example)


def _bare(things: tuple[s.ThingKind, ...], example: str) -> ClauseRule:
    return ClauseRule(things, (), "nothing", example, least=0, most=0)


CLAUSES: dict[str, ClauseRule] = {
    "mass": _value(("part", "aid"), "1.8 kg"),
    "amount": _value(("fluid", "consumable", "energy"), "2.4 L"),
    "count": ClauseRule(_COUNTED, (s.NumberLit,), "a whole number", "4 ×"),
    "behind": _names(("part", "fastener", "connection"), "behind coupling-guard"),
    "on": _names(_PART, "on rotating-unit", most=1),
    "guards": _names(_PART, "guards motor-supply"),
    "contains": _names(("part", "connection"), "contains wash-water"),
    "at": _names(("part", "aid", "connection", "tool"), "at station[1]", most=1),
    "renew": _bare(("part", "fastener", "fluid", "connection"), "renew"),
    "number": _text(_BOUGHT, 'number "SP-114"'),
    "formerly": _text(_BOUGHT, 'formerly "SP-98", "SP-90"', most=0),
    "matched-with": _names(("part", "fastener"), "matched with gear"),
    "made-to-fit": _bare(_PART, "made to fit"),
    "without": _names(_PART, "without motor"),
    "lifted": _value(_PART, "lifted 70..110 cm"),
    "hands-out": _value(_PART, "hands out 40 cm"),
    "turned": _value(_PART, "turned 45 deg"),
    "good-grasp": _bare(_PART, "good grasp"),
    "fair-grasp": _bare(_PART, "fair grasp"),
    "spare-for": _names(_PART, "spare for seal", most=1),
    "only-for": ClauseRule(
        (*_BOUGHT, "energy", "condition", "place"),
        (s.Word, s.Text),
        "the names of models",
        "only for TP-60",
        most=0,
    ),
    "holds": _names(_FASTENER, "holds coupling-guard"),
    "torque": ClauseRule(_FASTENER, (s.Stage,), "a torque", "torque 9 N·m ±10 %", most=0),
    "hand-tight": _bare(_FASTENER, "hand-tight"),
    "snug": _bare(_FASTENER, "snug"),
    "running-torque": _value(_FASTENER, "running torque 2..6 N·m"),
    "star": _bare(_FASTENER, "star"),
    "from-the-middle": _bare(_FASTENER, "from the middle"),
    "circular": _bare(_FASTENER, "circular"),
    "order": ClauseRule(_FASTENER, (s.NumberLit,), "whole numbers", "order 1, 3, 2, 4", most=0),
    "passes": ClauseRule(_FASTENER, (s.AmountLit,), "shares", "in 30 %, 70 %, 100 %", most=0),
    "then-circular": _bare(_FASTENER, "then circular"),
    "thread": ClauseRule(
        _FASTENER, (s.Word, s.Ref), "`dry`, `oiled` or `with` and a name", "thread oiled"
    ),
    "left-hand": _bare(_FASTENER, "left-hand"),
    "counter-hold": _names(_FASTENER, "counter-hold spacer-nut", most=1),
    "locks": _names(_FASTENER, "locks foot-nut"),
    "seals": _names(_FASTENER, "seals gear-oil"),
    "across-flats": _value(_FASTENER, "across flats 13 mm"),
    "hex-key": _value(_FASTENER, "hex key 5 mm"),
    "circle": _bare(_FASTENER, "circle"),
    "rectangle": ClauseRule(
        _FASTENER, (s.NumberLit,), "two whole numbers", "rectangle 2 × 3", least=2, most=2
    ),
    "positions": ClauseRule(
        _FASTENER,
        (s.QuantityLit,),
        "places, across and down",
        "positions 0 × 0, 60 × 0, 30 × 40 mm",
        least=2,
        most=0,
    ),
    "in": _names(("fluid",), "in gearbox", most=1),
    "marked": _text(_CONNECTION, 'marked "W8"'),
    "joins": _names(_CONNECTION, "joins motor, gearbox"),
    "carries": _names(_CONNECTION, "carries motor-supply"),
    "ends": _text(_TOOL, 'ends "24 mm", "32 mm"', most=0),
    "range": _value(_TOOL, "5..25 N·m"),
    "sizes": ClauseRule(_TOOL, (s.QuantityLit,), "sizes", "5, 6, 8 mm", most=0),
    "drive": _value(_TOOL, "drive 3/8 in"),
    "length": _value(("tool", "connection"), "length 280 mm"),
    "extends": _value(_TOOL, "extends 40 mm"),
    "accuracy": _value(_TOOL, "accuracy 4 %"),
    "calibrated-until": ClauseRule(_TOOL, (s.DateLit,), "a day", "calibrated until 2027-04-30"),
    "tag": _text(_LIFTING, 'tag "TW-01"'),
    "lifts": _value(_LIFTING, "lifts 250 kg"),
    "signs": _bare(("role",), "signs"),
    "facing": _text((), 'facing "hollow side to the cover"'),
    "isolate-at": _text(_ENERGY, 'isolate at "switch Q3 on panel P2"'),
    "release": _text(_ENERGY, 'release "open drain D4"'),
    "verify": _text(_ENERGY, 'verify "gauge PI-7 reads zero"'),
    "restore": _text(_ENERGY, 'restore "close drain D4"'),
    "by": _text((), 'shut by "turn the handle across the pipe"'),
}
"""Every clause by its key."""

STACK_CLAUSES = frozenset({"count", "facing", "renew", "number", "formerly", "sizes", "only-for"})
"""What an item of a stack may have."""

_SAID: dict[s.ThingKind, str] = {
    "energy": "an energy",
    "condition": "a condition",
    "place": "a place",
    "part": "a part",
    "fastener": "a fastener",
    "fluid": "a fluid",
    "connection": "a connection",
    "tool": "a tool",
    "consumable": "a consumable",
    "aid": "an aid",
    "role": "a role",
}


def said(kind: s.ThingKind) -> str:
    """Return a kind of thing with its article."""
    return _SAID[kind]


def check_clauses(thing: s.Thing) -> Iterator[Remark]:
    """Yield what is wrong with the clauses of a thing, of its stack, and for single models."""
    lists = [thing.clauses, *(override.clauses for override in thing.overrides)]
    for clauses in lists:
        for clause in clauses:
            rule = CLAUSES[clause.key]
            if thing.kind in rule.things:
                yield from _check_args(clause, rule)
            else:
                yield _misplaced(clause, rule, said(thing.kind))
        yield from _twice(clauses)
    for item in thing.stack:
        for clause in item.clauses:
            if clause.key in STACK_CLAUSES:
                yield from _check_args(clause, CLAUSES[clause.key])
            else:
                yield _misplaced(clause, CLAUSES[clause.key], "an item of a stack")


def _misplaced(clause: s.Clause, rule: ClauseRule, where: str) -> Remark:
    owners = " or ".join(said(kind) for kind in rule.things[:3])
    hint = f"Say it of {owners}, or leave it out." if owners else "Leave it out."
    if clause.key in ("mass", "amount", "sizes", "range"):
        message = f"A value without a word before it has no meaning on {where}."
        return Remark(clause.span, message, "Put the word before it that says what it is.")
    return Remark(clause.span, f"`{_word(clause)}` says nothing about {where}.", hint)


def _check_args(clause: s.Clause, rule: ClauseRule) -> Iterator[Remark]:
    word, example = _word(clause), f"Write it like this: {rule.example}"
    takes = (*rule.takes, s.IndexRange) if clause.key == "count" else rule.takes
    wrong = next((arg for arg in clause.args if not isinstance(arg, takes)), None)
    subject = "this value" if word == "" else f"`{word}`"
    if clause.key == "thread" and wrong is None:
        yield from _check_thread(clause)
    if not rule.takes and clause.args:
        yield Remark(clause.args[0].span, f"After {subject} nothing is said.", example)
    elif wrong is not None:
        yield Remark(wrong.span, f"After {subject} one writes {rule.what}.", example)
    elif len(clause.args) < rule.least:
        yield Remark(clause.span, f"After {subject} {rule.what} is missing.", example)
    elif rule.most and len(clause.args) > rule.most and not _is_decimal_comma(clause):
        extra = clause.args[rule.most]
        yield Remark(extra.span, f"After {subject} one writes {rule.what}, and no more.", example)


def _check_thread(clause: s.Clause) -> Iterator[Remark]:
    state = clause.args[0]
    if isinstance(state, s.Word) and state.text not in ("dry", "oiled"):
        hint = "Write dry or oiled, or name what is on it: thread with thread-locker"
        yield Remark(state.span, f"A thread is not said to be `{state.text}`.", hint)


def _is_decimal_comma(clause: s.Clause) -> bool:
    """Tell `2,5 kg`, which was told already, from two values."""
    first, second = clause.args[:2]
    return isinstance(first, s.AmountLit) and first.span.end + 1 == second.span.start


def _twice(clauses: tuple[s.Clause, ...]) -> Iterator[Remark]:
    """Yield the clauses that say a second time what may be said once only."""
    seen: dict[str, s.Clause] = {}
    for clause in clauses:
        rule = CLAUSES[clause.key]
        once = (
            rule.most == 1
            or not rule.takes
            or clause.key in ("torque", "sizes", "order", "positions")
        )
        if once and clause.key in seen and clause.key not in _AGAIN:
            word = _word(clause) or "the value"
            message, first = f"`{word}` stands twice here.", seen[clause.key].span
            yield Remark(clause.span, message, "Keep one of them.", first=first)
        seen.setdefault(clause.key, clause)


_AGAIN = frozenset({"isolate-at", "release", "verify", "restore"})


def _word(clause: s.Clause) -> str:
    """Return a clause's key as the author writes it; '' where a bare value stands for it."""
    if clause.key == "passes":
        return "in"
    if clause.key in ("mass", "amount", "sizes", "range"):
        return ""
    if clause.key == "count":
        return "×"
    if clause.key in ("hand-tight", "left-hand", "counter-hold"):
        return clause.key
    return clause.key.replace("-", " ")
