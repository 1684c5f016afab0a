"""Makes nodes of declared things and their clauses."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal, cast

from compiler import syntax as s
from compiler.parse.build_heads import WORDS_NOT_REFS, Heads, plain_words
from compiler.parse.build_values import (
    Block,
    Bracket,
    Checks,
    Kids,
    Listing,
    as_amount,
    body_of,
    key_of,
    over,
    pick,
    pick_all,
    quantities,
)
from compiler.parse.lexer import Lexeme
from compiler.source import Span

BLOCKS: dict[str, s.ThingKind] = {
    "energy": "energy",
    "conditions": "condition",
    "places": "place",
    "parts": "part",
    "fasteners": "fastener",
    "fluids": "fluid",
    "connections": "connection",
    "tools": "tool",
    "consumables": "consumable",
    "aids": "aid",
    "roles": "role",
}
"""The words that open a block of things, with what stands in it."""

BARE_VALUE: dict[s.ThingKind, str] = {
    "part": "mass",
    "aid": "mass",
    "fluid": "amount",
    "consumable": "amount",
    "energy": "amount",
    "connection": "length",
}
"""What a value without a key word means on a thing; on a tool it is a size or a range."""

_ANGLES = frozenset({"deg", "°", "turn", "turns", "rad"})


@dataclass(frozen=True, slots=True)
class ThingDraft:
    """A declared thing before it is known in which block it stands."""

    span: Span
    name: s.Word
    index: tuple[s.IndexPart, ...]
    kind_word: s.Word | None
    items: tuple[Any, ...]
    lines: tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class MoreItems:
    """Clauses on a line of their own under a thing."""

    span: Span
    items: tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Stack:
    """The ordered stack on a fastener."""

    span: Span
    items: tuple[StackDraft, ...]


@dataclass(frozen=True, slots=True)
class StackDraft:
    """One item of a stack."""

    span: Span
    name: s.Word
    items: tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Things:
    """A whole block of things."""

    span: Span
    things: tuple[s.Thing, ...]
    word: s.Word
    empty: bool


class Clauses(Checks):
    """The rules that make clauses of a declaration."""

    def bare_key(self, kids: Kids) -> Lexeme:
        key: Lexeme = kids[0]
        return key

    arg_key = bare_key

    def clause(self, kids: Kids) -> s.Clause:
        key = key_of(kids[0])
        args = tuple(kid for kid in kids[1:] if not isinstance(kid, Lexeme))
        if args and isinstance(args[0], Listing):
            args = args[0].items
            if key in WORDS_NOT_REFS:
                args = plain_words(args)
        if key == "positions":
            args = quantities(kids[1:])
        if key in ("order", "rectangle"):
            for number in args:
                self.whole(number)
        return s.Clause(over(kids), key, args)

    def count(self, kids: Kids) -> s.Clause:
        numbers = pick_all(kids, s.NumberLit)
        for number in numbers:
            self.whole(number)
        if len(numbers) == 1:
            return s.Clause(over(kids), "count", numbers)
        whole = numbers[0].span.to(numbers[1].span)
        return s.Clause(over(kids), "count", (s.IndexRange(whole, *numbers),))

    def stages(self, kids: Kids) -> Listing:
        return Listing(over(kids), pick_all(kids, s.Stage))

    def stage(self, kids: Kids) -> s.Stage:
        first = kids[0]
        if isinstance(first, Lexeme):
            kind = cast(Literal["slacken", "back-off", "next-hole"], "-".join(first.text.split()))
            last = kids[-1]
            return s.Stage(
                over(kids), kind, None if isinstance(last, Lexeme) else self.with_unit(last)
            )
        amount = self.with_unit(first)
        unit = amount.low.unit or (amount.high.unit if amount.high else None)
        angle = unit is not None and unit.text.lower() in _ANGLES
        return s.Stage(over(kids), "angle" if angle else "torque", amount)


class Declarations(Heads, Clauses):
    """The rules that make declared things."""

    def thing(self, kids: Kids) -> ThingDraft:
        bracket = pick(kids, Bracket)
        name, *kind_word = pick_all(kids, s.Word)
        self.declared(name)
        items = tuple(kid for kid in kids if isinstance(kid, (s.Text, s.Clause, Listing)))
        return ThingDraft(
            over(kids),
            name,
            bracket.parts if bracket else (),
            kind_word[0] if kind_word else None,
            items,
            body_of(kids),
        )

    def things_key(self, kids: Kids) -> Lexeme:
        key: Lexeme = kids[0]
        return key

    def things(self, kids: Kids) -> Things:
        kind = BLOCKS[kids[0].text]
        things = tuple(self._settle(draft, kind) for draft in body_of(kids))
        return self._things(kids, things)

    def fastener(self, kids: Kids) -> s.Thing:
        self.declared(kids[0])
        bracket = pick(kids, Bracket)
        items: list[Any] = [kid for kid in kids[1:] if isinstance(kid, (s.Text, s.Clause))]
        designation = next((i for i in items if isinstance(i, s.Text) and _is_raw(i)), None)
        items = [item for item in items if item is not designation]
        index = bracket.parts if bracket else ()
        draft = ThingDraft(over(kids), kids[0], index, None, tuple(items), body_of(kids))
        return self._settle(draft, "fastener", designation)

    def fasteners(self, kids: Kids) -> Things:
        return self._things(kids, pick_all(body_of(kids), s.Thing))

    conditions = fasteners

    def condition(self, kids: Kids) -> s.Thing:
        lines = body_of(kids)
        self.declared(kids[0])
        return s.Thing(
            over(kids),
            "condition",
            kids[0],
            label=pick(kids, s.Text),
            clauses=pick_all(kids, s.Clause),
            states=pick_all(lines, s.State),
            attachments=_attachments(lines),
        )

    def state(self, kids: Kids) -> s.State:
        return s.State(over(kids), kids[0], pick(kids, s.Text))

    def more_items(self, kids: Kids) -> MoreItems:
        return MoreItems(over(kids), tuple(kids[:-1]))

    def thing_override(self, kids: Kids) -> MoreItems:
        # `models` comes first among the items and tells this apart from plain further clauses.
        return MoreItems(over(kids), tuple(kids[1:-1]))

    def stack(self, kids: Kids) -> Stack:
        return Stack(over(kids), pick_all(body_of(kids), StackDraft))

    def stack_item(self, kids: Kids) -> StackDraft:
        items = tuple(kid for kid in kids[1:] if isinstance(kid, (s.Text, s.Clause, Listing)))
        return StackDraft(over(kids), kids[0], items)

    def _things(self, kids: Kids, things: tuple[s.Thing, ...]) -> Things:
        key: Lexeme = kids[0]
        last = kids[-1]
        empty = not isinstance(last, Block)
        return Things(over(kids), things, s.Word(key.span, key.text), empty)

    def _settle(
        self, draft: ThingDraft, kind: s.ThingKind, designation: s.Text | None = None
    ) -> s.Thing:
        """Return the thing as it is in a block of its kind."""
        plain = [line for line in draft.lines if isinstance(line, MoreItems) and not _models(line)]
        items = [*draft.items, *(item for line in plain for item in line.items)]
        label, clauses = self._sort(items, kind)
        overrides = tuple(
            self._override(line, kind)
            for line in draft.lines
            if isinstance(line, MoreItems) and _models(line)
        )
        stacks = pick_all(draft.lines, Stack)
        return s.Thing(
            draft.span,
            kind,
            draft.name,
            draft.index,
            draft.kind_word,
            label,
            designation,
            clauses,
            (),
            tuple(self._stack_item(item) for stack in stacks for item in stack.items),
            overrides,
            _attachments(draft.lines),
        )

    def _override(self, line: MoreItems, kind: s.ThingKind) -> s.OverrideLine:
        models: Listing = line.items[0]
        label, clauses = self._sort(line.items[1:], kind)
        if label:
            self.report(label.span, "Another name for one model is not possible.", "Leave it out.")
        return s.OverrideLine(line.span, models.items, (), clauses)

    def _stack_item(self, draft: StackDraft) -> s.StackItem:
        label, clauses = self._sort(draft.items, "fastener", in_stack=True)
        return s.StackItem(draft.span, draft.name, label, clauses)

    def _sort(
        self, items: Sequence[Any], kind: s.ThingKind, in_stack: bool = False
    ) -> tuple[s.Text | None, tuple[s.Clause, ...]]:
        """Return the label among the items, and the clauses with every bare value made one."""
        label: s.Text | None = None
        clauses: list[s.Clause] = []
        for item in items:
            if isinstance(item, s.Clause):
                clauses.append(self._renamed(item, kind))
            elif isinstance(item, Listing):
                clauses.append(self._value_clause(item, kind, in_stack))
            elif label is None:
                label = item
            else:
                self.report(
                    item.span,
                    "This has a text already. One text says what people call it.",
                    'More is said on a line below: note "…"',
                )
        return label, tuple(clauses)

    def _renamed(self, clause: s.Clause, kind: s.ThingKind) -> s.Clause:
        """`in` is where a fluid is, and the passes of tightening on a fastener."""
        if clause.key != "in" or kind != "fastener":
            return clause
        values = (s.AmountLit, s.NumberLit)
        args = (self.with_unit(a) if isinstance(a, values) else a for a in clause.args)
        return s.Clause(clause.span, "passes", tuple(args))

    def _value_clause(self, values: Listing, kind: s.ThingKind, in_stack: bool) -> s.Clause:
        """Return values without a key word as the clause they mean on this kind of thing."""
        amounts = tuple(as_amount(value) for value in values.items)
        self.with_unit(amounts[-1])
        if in_stack or kind == "tool":
            plain = all(a.high is None and a.tolerance is None and a.twin is None for a in amounts)
            if plain:
                return s.Clause(values.span, "sizes", tuple(amount.low for amount in amounts))
            return s.Clause(values.span, "range", amounts)
        return s.Clause(values.span, BARE_VALUE.get(kind, "amount"), amounts)


def _is_raw(text: s.Text) -> bool:
    """Tell a designation from a text in quotes: its span is no longer than its value."""
    return text.span.end - text.span.start == len(text.value)


def _models(line: MoreItems) -> bool:
    first = line.items[0]
    return isinstance(first, Listing) and isinstance(first.items[0], (s.Word, s.Text))


def _attachments(lines: Sequence[Any]) -> tuple[s.Attachment, ...]:
    skip = (MoreItems, Stack, s.State)
    return tuple(line for line in lines if not isinstance(line, skip))
