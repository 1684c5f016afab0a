"""From what the grammar recognised to syntax nodes. No library's types come through here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal, cast

from compiler import syntax as s
from compiler.parse.build_hanging import Hanging
from compiler.parse.build_heads import Group
from compiler.parse.build_steps import HANGING, Bodies, unchain
from compiler.parse.build_things import Declarations, Things
from compiler.parse.build_values import (
    Block,
    Kids,
    Values,
    date_of,
    over,
    pick,
    text_of,
    time_of,
)
from compiler.parse.lexer import OPEN_TEXT, Lexeme
from compiler.parse.remarks import Report
from compiler.source import Span

FileKind = Literal["machine", "procedure", "shop", "visit"]


@dataclass(frozen=True, slots=True)
class Header:
    """The first line of a file."""

    span: Span
    kind: FileKind
    name: s.Word
    title: s.Text | None


def value_of(lexeme: Lexeme) -> Any:
    """Return the node of a name, number or text; key words and signs stay as they are."""
    make = _LEAVES.get(lexeme.kind)
    return make(lexeme) if make else lexeme


def _word(lexeme: Lexeme) -> s.Word:
    return s.Word(lexeme.span, lexeme.text)


_LEAVES: dict[str, Callable[[Lexeme], Any]] = {
    "NAME": _word,
    "VERB": _word,
    "UNIT": _word,
    "NUMBER": lambda lexeme: s.NumberLit(lexeme.span, lexeme.text),
    "TEXT": text_of,
    OPEN_TEXT: text_of,
    "DESIGNATION": lambda lexeme: s.Text(lexeme.span, lexeme.text),
    "THREAD_AND_CLASS": lambda lexeme: s.Text(lexeme.span, lexeme.text),
    "DATE": date_of,
    "TIME": time_of,
}


class Builder(Values, Hanging, Declarations, Bodies):
    """One function for each rule of the grammar, by its name."""

    def __init__(self, report: Report) -> None:
        self.report = report

    def lines(self, kids: Kids) -> Any:
        # A chain of pairs: the parser may go back to an earlier line and must find it unchanged.
        return (None, kids[0]) if len(kids) == 1 else (kids[0], kids[1])

    def block(self, kids: Kids) -> Block:
        lines = unchain(kids[1])
        items = tuple(line for line in lines if not isinstance(line, Lexeme))
        span = over(items) if items else kids[0].span
        return Block(span, items, isinstance(lines[0], Lexeme))

    def kind(self, kids: Kids) -> Lexeme:
        kind: Lexeme = kids[0]
        return kind

    def header(self, kids: Kids) -> Header:
        kind = cast(FileKind, kids[0].text)
        return Header(over(kids), kind, kids[1], pick(kids, s.Text))

    def file(self, kids: Kids) -> s.File:
        header: Header = kids[0]
        block = pick(kids, Block)
        sorted_ = _Sorter()
        for item in block.items if block else ():
            sorted_.add(item, self.report)
        for things in sorted_.empty_blocks:
            self.empty([Lexeme("", things.span, things.word.text)])
        return s.File(
            over(kids),
            header.kind,
            header.name,
            header.title,
            head=tuple(sorted_.head),
            revision=sorted_.revision,
            ends=tuple(sorted_.ends),
            attachments=tuple(sorted_.attachments),
            things=tuple(sorted_.things),
            tables=tuple(sorted_.tables),
            blocks=tuple(sorted_.blocks),
            body=tuple(sorted_.body),
            jobs=tuple(sorted_.jobs),
            house_verbs=tuple(sorted_.verbs),
            house_torques=tuple(sorted_.torques),
            rules=tuple(sorted_.rules),
        )


class _Sorter:
    """Puts the lines of a file into the lists of its node."""

    def __init__(self) -> None:
        self.revision: s.RevisionLine | None = None
        self.head: list[s.HeadLine] = []
        self.ends: list[s.EndLine] = []
        self.attachments: list[s.Attachment] = []
        self.things: list[s.Thing] = []
        self.tables: list[s.TableDecl] = []
        self.blocks: list[s.BlockDecl] = []
        self.body: list[s.Statement] = []
        self.jobs: list[s.Job] = []
        self.verbs: list[s.HouseVerb] = []
        self.torques: list[s.HouseTorque] = []
        self.rules: list[s.Rule] = []
        self.empty_blocks: list[Things] = []
        self._lists: dict[type, list[Any]] = {
            s.HeadLine: self.head,
            s.EndLine: self.ends,
            s.TableDecl: self.tables,
            s.BlockDecl: self.blocks,
            s.Job: self.jobs,
            s.HouseVerb: self.verbs,
            s.HouseTorque: self.torques,
            s.Rule: self.rules,
        }

    def add(self, item: Any, report: Report) -> None:
        if isinstance(item, Group):
            for node in item.nodes:
                self.add(node, report)
        elif isinstance(item, Things):
            self.things += item.things
            if item.empty:
                self.empty_blocks.append(item)
        elif isinstance(item, s.RevisionLine):
            if self.revision:
                hint, first = "Keep one `revision` line.", self.revision.span
                report(item.span, "The revision was given already.", hint, first=first)
            self.revision = self.revision or item
        elif isinstance(item, HANGING):
            if self.body:
                self.body.append(s.LooseAttachment(item.span, item))
            else:
                self.attachments.append(item)
        else:
            self._lists.get(type(item), self.body).append(item)
