"""Makes nodes of heads, tables, and the lines of shop files and visits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal, cast

from compiler import syntax as s
from compiler.parse.build_values import (
    Block,
    Checks,
    Kids,
    Listing,
    body_of,
    key_of,
    over,
    pick,
    pick_all,
)
from compiler.parse.lexer import Lexeme
from compiler.source import Span

WORDS_NOT_REFS = ("models", "model", "only-for", "threads")
"""Clauses whose names are words: a model is not a thing."""


@dataclass(frozen=True, slots=True)
class Group:
    """Several nodes of one line or block that stand side by side in the file."""

    span: Span
    nodes: tuple[Any, ...]


def plain_words(items: Sequence[Any]) -> tuple[Any, ...]:
    """Return plain names as words: a model is not a thing."""
    return tuple(
        i.name if isinstance(i, s.Ref) and not (i.index or i.field or i.age) else i for i in items
    )


class Heads(Checks):
    """The rules that make lines of a head."""

    def head_key(self, kids: Kids) -> Lexeme:
        key: Lexeme = kids[0]
        return key

    def head_line(self, kids: Kids) -> s.HeadLine:
        key = key_of(kids[0])
        listing = pick(kids, Listing)
        args = listing.items if listing else ()
        return s.HeadLine(over(kids), key, plain_words(args) if key in WORDS_NOT_REFS else args)

    def units_line(self, kids: Kids) -> s.HeadLine:
        return s.HeadLine(over(kids), key_of(kids[0]), pick_all(kids, s.Word))

    def revision_line(self, kids: Kids) -> s.RevisionLine:
        name = kids[1]
        if isinstance(name, s.NumberLit):
            name = s.Word(name.span, name.text)
        self.day(kids[2])
        return s.RevisionLine(over(kids), name, kids[2], pick(kids, s.Text))

    def end_state(self, kids: Kids) -> tuple[s.Ref, s.Word, s.Ref | None]:
        state = kids[1]
        if isinstance(state, Lexeme):
            return kids[0], s.Word(state.span, state.text), kids[2]
        return kids[0], state, None

    def end_line(self, kids: Kids) -> Group:
        key = cast(Literal["needs", "starts", "leaves"], kids[0].text.split()[0])
        states = pick_all(kids, tuple)
        lines = tuple(
            s.EndLine(ref.span.to((place or state).span), key, ref, state, place)
            for ref, state, place in states
        )
        return Group(over(kids), lines)

    def job(self, kids: Kids) -> s.Job:
        procedure, *machine = pick_all(kids, s.Ref)
        lines = pick_all(body_of(kids), s.HeadLine)
        name = pick(kids, s.Word)
        return s.Job(over(kids), procedure, machine[0] if machine else None, name, lines)

    def rule(self, kids: Kids) -> s.Rule:
        return s.Rule(over(kids), kids[0])

    def house_verb(self, kids: Kids) -> s.HouseVerb:
        return s.HouseVerb(over(kids), kids[0], kids[2])

    def house_torque(self, kids: Kids) -> s.HouseTorque:
        return s.HouseTorque(over(kids), kids[0], self.with_unit(kids[1]))

    def rules(self, kids: Kids) -> Group:
        return Group(over(kids), body_of(kids))

    verbs = rules
    torques = rules

    def table(self, kids: Kids) -> s.TableDecl:
        block = pick(kids, Block)
        rows = pick_all(body_of(kids), s.Row)
        self.declared(kids[1], thing=False)
        if block is not None and block.headless:
            return s.TableDecl(over(kids), kids[1], (), rows)
        for cell in rows[0].cells if rows else ():
            if not isinstance(cell, s.Word):
                hint = "Name each column with one word: size | gap | height"
                self.report(cell.span, "A column of a table is named by one word.", hint)
        columns = tuple(cell for cell in rows[0].cells if isinstance(cell, s.Word)) if rows else ()
        return s.TableDecl(over(kids), kids[1], columns, rows[1:])

    def row(self, kids: Kids) -> s.Row:
        return s.Row(over(kids), tuple(kid for kid in kids if not isinstance(kid, Lexeme)))
