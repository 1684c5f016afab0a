"""What the rounds of a repeat are called: `foot nut 1`, `left bottle guide`, a row of a table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.document.context import Context
from compiler.model import Amount, AnyThing, Fastener, Part
from compiler.walk.flat import flat_acts
from compiler.walk.nodes import RepeatNode, Target
from compiler.wording.english import spoken
from compiler.wording.headings import round_title
from compiler.wording.nouns import name_of, with_members
from compiler.wording.text import plain_text
from compiler.wording.values import amount_text, measure


def called(ctx: Context, node: RepeatNode) -> str:
    """Return what the items of a repeat are: `levelling foot`, a table's name; '' if not known."""
    table = ctx.world.tables.get(node.set_key)
    if table is not None:
        return spoken(table.name)
    thing = _thing(ctx, node)
    return name_of(thing) if thing is not None else ""


def round_names(ctx: Context, node: RepeatNode) -> tuple[str, ...]:
    """Return a name for each round; rows of a table that are shown once tell their values."""
    count = len(node.rounds)
    table = ctx.world.tables.get(node.set_key)
    if table is not None and len(table.rows) == count:
        if node.shown == "each":
            firsts = (row[0] for row in table.rows)
            return tuple(one if isinstance(one, str) else amount_text(one) for one in firsts)
        return tuple(_row(table.columns, [_cell(ctx, c) for c in row]) for row in table.rows)
    items = node.items if len(node.items) == count else ("",) * count
    thing = _thing(ctx, node)
    if thing is not None:
        members = [item for item in items if item in thing.members]
        if len(members) == count:
            return tuple(with_members(name_of(thing), (m,), 1)[0] for m in members)
    return tuple(
        item if item and not item.isdigit() else round_title("", at)
        for at, item in enumerate(items, 1)
    )


def _cell(ctx: Context, cell: str | Amount) -> str:
    return cell if isinstance(cell, str) else plain_text((measure(ctx.voice, cell),))


def _row(columns: Sequence[str], cells: Sequence[str]) -> str:
    pairs = zip(columns[1:], cells[1:], strict=False)
    rest = ", ".join(f"{spoken(name)} {cell}" for name, cell in pairs)
    return f"{cells[0]}: {rest}" if rest else cells[0]


def _thing(ctx: Context, node: RepeatNode) -> AnyThing | None:
    """Return the set that a repeat runs over: the one it names, or one it goes through by members.

    Of several the first part is taken, because a screw is turned for the part's sake.
    """
    named = ctx.voice.thing(node.set_key) if node.set_key else None
    if named is not None:
        return named
    if not node.items or not all(node.items):
        return None
    found = dict.fromkeys(_in_turn(node))
    things = [thing for thing in map(ctx.voice.thing, found) if thing is not None]
    whole = [thing for thing in things if set(node.items) <= set(thing.members)]
    for kind in (Part, Fastener):
        for thing in whole:
            if isinstance(thing, kind):
                return thing
    return whole[0] if whole else None


def _in_turn(node: RepeatNode) -> Iterator[str]:
    """Return the keys of what is acted on in the first round as the round's own member."""
    for flat in flat_acts(node.rounds[0] if node.rounds else ()):
        for spot in flat.act.targets:
            if isinstance(spot, Target) and spot.members == (node.items[0],):
                yield spot.key
