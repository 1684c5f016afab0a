"""The tools to lay out: the fewest from the crib that serve every need, and what is missing."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from compiler.derive.cover import Option, fewest_tools
from compiler.derive.crib import kind_label, measures_torque, size_of
from compiler.derive.lists import Reason, ToolLine, TurnLine
from compiler.derive.needs import Need
from compiler.derive.tightening import amount_words
from compiler.derive.words import label_of, own_label
from compiler.model import Aid, AnyThing, Fastener, Tool
from compiler.trade.units import format_quantity
from compiler.trade.wrenching import hand_need

_ONE_OF: Mapping[str, str] = {
    "hex-keys": "hex key",
    "hex-bits": "hex bit",
    "hexalobular-keys": "hexalobular key",
    "hexalobular-bits": "hexalobular bit",
    "sockets": "socket",
    "spanners": "spanner",
    "crowfoot": "crowfoot",
    "punches": "pin punch",
    "punch": "pin punch",
    "nut-driver": "nut driver",
    "screwdrivers": "screwdriver",
}
"""One piece of a set, in words."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The tools chosen for a job, and for each need the option that is used."""

    needs: tuple[Need, ...]
    used: tuple[Option, ...]

    def serving(self, step_ids: Iterable[str], tools: Iterable[str]) -> set[str]:
        """Return which of `tools` are used for needs of these steps."""
        steps, wanted = set(step_ids), set(tools)
        return {
            key
            for need, option in zip(self.needs, self.used, strict=True)
            if need.step_id in steps
            for key in option & wanted
        }

    def of_steps(self, before: str) -> Choice:
        """Return the choice for the steps whose id begins with `before`, which is left out."""
        mine = [
            (replace(need, step_id=need.step_id.removeprefix(before)), option)
            for need, option in zip(self.needs, self.used, strict=True)
            if need.step_id.startswith(before)
        ]
        return Choice(tuple(need for need, _ in mine), tuple(option for _, option in mine))


def choose(
    things: Mapping[str, AnyThing],
    needs: Sequence[Need],
    first: Sequence[str] = (),
    own: Sequence[Option] = (),
) -> Choice:
    """Return the smallest set of tools that serves all needs.

    Of sets of one size the one with what is in `first`, then with what the author names first
    (`with A or B`), then with what is listed first. `own` gives for each need the option that is
    used where its job is done by itself: it is used here as well if it is in the set.
    """
    said = [key for n in needs if _is_named(n) for key in sorted(n.options[0])]
    order = list(dict.fromkeys((*first, *said, *things)))
    rank = {key: at for at, key in enumerate(order)}
    chosen = fewest_tools([need.options for need in needs], order)
    alone = own or [frozenset[str]()] * len(needs)
    used = (_used(need, chosen, rank, one) for need, one in zip(needs, alone, strict=True))
    return Choice(tuple(needs), tuple(used))


def _used(need: Need, chosen: frozenset[str], rank: Mapping[str, int], own: Option) -> Option:
    """Return the option that is used: of those at hand the smallest, then the one listed first.

    One that serves better, such as for all passes of a joint, goes before, and `own` before all.
    """
    at_hand = [option for option in need.options if option <= chosen]
    if own and own in at_hand:
        return own
    at_hand = [option for option in at_hand if option in need.rather] or at_hand
    if not at_hand:
        return frozenset()
    return min(at_hand, key=lambda o: (len(o), sorted(rank[key] for key in o)))


@dataclass(slots=True)
class _Line:
    sizes: dict[str, None] = field(default_factory=dict)
    others: dict[str, None] = field(default_factory=dict)
    reasons: dict[Reason, None] = field(default_factory=dict)
    unknown: bool = False
    """Whether some need takes a size of the set that nobody knows: a plug without a standard."""


def tool_lines(things: Mapping[str, AnyThing], choice: Choice) -> tuple[ToolLine, ...]:
    """Return a line for each tool, in the order of the crib, then what is missing there."""
    lines: dict[str, _Line] = {}
    missing: dict[str, _Line] = {}
    for need, option in zip(choice.needs, choice.used, strict=True):
        reason = Reason(need.step_id, need.why)
        if need.missing:
            missing.setdefault(need.missing, _Line()).reasons[reason] = None
        for key in option:
            line = lines.setdefault(key, _Line())
            line.reasons[reason] = None
            here = [size for name, size in need.sizes if name == key]
            line.sizes.update(dict.fromkeys(here))
            line.unknown = line.unknown or not here
            if _is_named(need):
                others = (k for o in need.options if o != option for k in o if len(o) == 1)
                line.others.update(dict.fromkeys(others))
    listed = [key for key in things if key in lines]
    return (
        *(_tool_line(things[key], lines[key]) for key in listed),
        *(_missing_line(text, line) for text, line in missing.items()),
    )


def _is_named(need: Need) -> bool:
    """Return whether the author gave the choice: then the other tool is worth telling."""
    return not need.turns and len(need.options) > 1 and all(len(o) == 1 for o in need.options)


def _tool_line(thing: AnyThing, line: _Line) -> ToolLine:
    sizes = tuple(sorted(line.sizes, key=_by_size))
    need = tool_words(thing, sizes)
    if line.unknown and sizes and isinstance(thing, Tool) and tool_words(thing) == _fits(thing):
        need = f"{need}, and one that fits"
    return ToolLine(
        key=thing.key,
        need=need,
        label=kind_label(thing) if isinstance(thing, Tool) else label_of(thing),
        sizes=sizes,
        count=thing.total,
        tag=thing.tag if isinstance(thing, Tool | Aid) else "",
        alternatives=tuple(line.others),
        reasons=_told_once(line.reasons),
    )


def _by_size(size: str) -> tuple[Fraction, str]:
    return size_of(size) or Fraction(0), size


def _told_once(reasons: Iterable[Reason]) -> tuple[Reason, ...]:
    """Leave out a reason that another one of the same step says in more words.

    The author names the wrench, and the joint needs it: `tightens nut`, `tightens nut to 70 N·m`.
    """
    given = tuple(reasons)
    more = {(one.step_id, one.text.rpartition(" to ")[0]) for one in given}
    return tuple(one for one in given if (one.step_id, one.text) not in more)


def _missing_line(text: str, line: _Line) -> ToolLine:
    return ToolLine("", text, text, (), 1, "", (), tuple(line.reasons))


_NO_BREAK = "\N{NO-BREAK SPACE}"
_PIECE = re.compile(r"(?P<size>\d[\d/. ]*[\s\N{NO-BREAK SPACE}](?:mm|in)) (?P<piece>[a-z -]+)")


def as_sets(lines: Iterable[ToolLine]) -> tuple[ToolLine, ...]:
    """Return lines with the missing sizes of one kind on one line: `4 and 5 mm hex keys`.

    Where there is no crib to look in, five keys are one set to fetch.
    """
    made: dict[str, ToolLine] = {}
    for line in lines:
        piece = _PIECE.fullmatch(line.need) if not line.key else None
        known = made.get(piece["piece"]) if piece is not None else None
        if piece is None:
            made[line.key or line.need] = line
        elif known is None:
            made[piece["piece"]] = replace(line, sizes=(piece["size"],))
        else:
            sizes = tuple(sorted({*known.sizes, piece["size"]}, key=_by_size))
            text = f"{sizes_words(sizes)} {piece['piece']}s"
            reasons = tuple(dict.fromkeys((*known.reasons, *line.reasons)))
            made[piece["piece"]] = replace(
                known, need=text, label=text, sizes=sizes, reasons=reasons
            )
    return tuple(made.values())


def tool_words(thing: AnyThing, sizes: Sequence[str] = ()) -> str:
    """Return `5 mm hex key`, `4 and 5 mm hex keys`; '' where the label says enough."""
    if not isinstance(thing, Tool):
        return ""
    if measures_torque(thing) and thing.range is not None:
        return f"{kind_label(thing)}, {amount_words(thing.range)}"
    if thing.ends and sizes:
        return f"{label_of(thing)}, {sizes_words(sizes)} end{'s' if len(sizes) > 1 else ''}"
    piece = _ONE_OF.get(thing.kind, "")
    if not piece or own_label(thing):
        return ""
    shown = sizes or tuple(format_quantity(s) for s in thing.sizes if len(thing.sizes) == 1)
    if not shown:
        return _fits(thing)
    drive = f", {format_quantity(thing.drive)} drive" if thing.drive is not None else ""
    return f"{sizes_words(shown)} {piece}{'s' if len(shown) > 1 else ''}{drive}"


def sizes_words(sizes: Sequence[str]) -> str:
    """Return sizes as they are called out: `3, 4 and 5 mm`; with a unit each where they differ."""
    parted = [size.replace(_NO_BREAK, " ").rpartition(" ") for size in sizes]
    if len({unit for _, _, unit in parted}) == 1 and all(number for number, _, _ in parted):
        listed = [number for number, _, _ in parted[:-1]] + list(sizes[-1:])
    else:
        listed = list(sizes)
    return listed[0] if len(listed) == 1 else f"{', '.join(listed[:-1])} and {listed[-1]}"


def _fits(tool: Tool) -> str:
    return f"{_ONE_OF[tool.kind]} that fits" if tool.kind in _ONE_OF else ""


def turn_lines(things: Mapping[str, AnyThing], choice: Choice) -> tuple[TurnLine, ...]:
    """Return for each fastener that is turned by hand what turns it."""
    found: dict[str, dict[str, None]] = {}
    for need, option in zip(choice.needs, choice.used, strict=True):
        if need.turns:
            found.setdefault(need.turns, {}).update(dict.fromkeys(sorted(option)))
    lines: list[TurnLine] = []
    for key, tools in found.items():
        thing = things[key]
        if isinstance(thing, Fastener):
            head = hand_need(thing.designation)
            lines.append(TurnLine(key, head.text, head.size, tuple(tools)))
    return tuple(lines)
