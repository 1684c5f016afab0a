"""Looks over a file that was read: lines in the wrong kind of file, things that lack something."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

from compiler import syntax as s
from compiler.parse.build_things import BLOCKS
from compiler.parse.clauses import check_clauses, said
from compiler.parse.remarks import Remark
from compiler.source import Span

_DECLARING = ("machine", "procedure")
_COUNT_WORDS = re.compile(
    r"([0-9]+)\s*(?:(?:pcs?|pieces?|off|nos?|ea|each|st|of|times)\.?\s+)(?=\S)", re.IGNORECASE
)
_COUNT_ONLY = re.compile(r"([0-9]+)\s+(?=[^\W\d_])")


class _Placed(Protocol):
    @property
    def span(self) -> Span: ...


@dataclass(frozen=True, slots=True)
class _HeadRule:
    """Which files a line of a head may stand in and what it takes; `most` 0: any number."""

    files: tuple[str, ...]
    takes: tuple[type, ...]
    what: str
    example: str
    most: int = 1


_HEADS: dict[str, _HeadRule] = {
    "machine": _HeadRule(("procedure",), (s.Ref,), "the name of one machine", "transfer-pump"),
    "models": _HeadRule(_DECLARING, (s.Word, s.Text), "the names of models", "TP-40, TP-60", 0),
    "location": _HeadRule(("machine",), (s.Text,), "one text", '"Press room, bay 2"'),
    "author": _HeadRule(("procedure",), (s.Text,), "one text", '"A. Example"'),
    "approved": _HeadRule(("procedure",), (s.Text,), "one text", '"B. Example"'),
    "purpose": _HeadRule(("procedure",), (s.Text,), "one text", '"The pump is tight again."'),
    "every": _HeadRule(("procedure",), (s.AmountLit,), "a time with its unit", "2000 h", 0),
    "units": _HeadRule(("shop",), (s.Word,), "units", "N·m, mm, kg", 0),
    "second-units": _HeadRule(("shop",), (s.Word,), "units", "lbf·ft, in, lb", 0),
    "lift-limit": _HeadRule(("shop",), (s.AmountLit,), "one mass with its unit", "25 kg"),
    "threads": _HeadRule(("shop",), (s.Word,), "`dry` or `oiled`", "oiled"),
    "site": _HeadRule(("shop",), (s.Text,), "one text", '"http://pages.packhouse.example"'),
    "date": _HeadRule(("visit",), (s.DateLit,), "one day", "2026-11-30"),
    "crew": _HeadRule(("visit",), (s.NumberLit,), "one number", "2"),
    "model": _HeadRule(("job",), (s.Word, s.Text), "one model", "TP-60"),
    "serial": _HeadRule(("job",), (s.Text,), "one text", '"117"'),
    "after": _HeadRule(("job",), (s.Ref,), "names of jobs", "seal-change", 0),
}

_THING_FILES: dict[str, tuple[str, ...]] = dict.fromkeys(BLOCKS.values(), ("machine", "procedure"))
_THING_FILES |= dict.fromkeys(("tool", "consumable", "aid"), ("machine", "procedure", "shop"))
_THING_FILES["role"] = ("procedure", "shop")

_KIND_WORDS: dict[s.ThingKind, str] = {
    "energy": 'wash-water pressure 2 bar, or: motor-supply electrical "400 V three-phase"',
    "connection": 'motor-cable cable "motor cable"',
    "tool": 'hoist hoist "chain hoist" lifts 250 kg',
}
"""The things that need the word for their kind after the name, with an example."""


def check_shape(file: s.File, first_line_read: bool) -> Iterator[Remark]:
    """Yield what cannot be right in a file, whatever its names mean.

    What is missing is not told when lines were lost: it may stand there.
    """
    if first_line_read:
        yield from _header(file)
    yield from _heads(file.head, file.kind)
    yield from _places(file)
    for thing in file.things:
        yield from _thing(thing, file.kind, whole=not file.lost_words)
    for table in file.tables:
        if not file.lost_words:
            yield from _table(table)
    for job in file.jobs:
        yield from _heads(job.lines, "job")


def _header(file: s.File) -> Iterator[Remark]:
    if file.title is None:
        yield Remark(
            file.name.span,
            f"This {file.kind} has no title.",
            f'Put one in quotes after the name: {file.kind} {file.name.text} "What it is"',
        )


def _heads(lines: Sequence[s.HeadLine], where: str) -> Iterator[Remark]:
    seen: dict[str, s.HeadLine] = {}
    for line in lines:
        rule = _HEADS[line.key]
        word = line.key.replace("-", " ")
        if where not in rule.files:
            yield _foreign_head(line, word, rule, where)
            continue
        wrong = next((arg for arg in line.args if not isinstance(arg, rule.takes)), None)
        if wrong is not None or not line.args or (rule.most and len(line.args) > rule.most):
            extra = line.args[rule.most] if rule.most and len(line.args) > rule.most else None
            span = (wrong or extra or line).span
            message = f"After `{word}` one writes {rule.what}."
            yield Remark(span, message, f"Write it like this: {word} {rule.example}")
        if line.key in seen and rule.most:
            message, first = f"There are two `{word}` lines.", seen[line.key].span
            yield Remark(line.span, message, "Keep one of them.", first=first)
        seen.setdefault(line.key, line)


def _foreign_head(line: s.HeadLine, word: str, rule: _HeadRule, where: str) -> Remark:
    if line.key == "model" and where in _DECLARING:
        hint = "List the models it serves: models TP-40, TP-60"
        return Remark(line.span, "`model` belongs to a job of a visit.", hint)
    home = " or ".join("job of a visit" if f == "job" else f"{f} file" for f in rule.files)
    return Remark(line.span, f"`{word}` cannot stand here.", f"Put it in a {home}.")


def _places(file: s.File) -> Iterator[Remark]:
    """Yield the lines that belong in another kind of file, the first of each sort."""
    hint = "Put shared steps below a line: block NAME"
    if file.kind == "visit":
        hint = "Put them in a procedure, and name that here: do NAME"
    steps = f"Steps stand in a procedure, not in a {file.kind} file."
    revision = (file.revision,) if file.revision else ()
    ends = "This says something about a procedure, not about this file."
    block = "Put the shared steps in the machine file, or make a procedure of them."
    follow = "Write, to do another procedure here: follow NAME"
    owned: tuple[tuple[Sequence[_Placed], tuple[str, ...], str, str], ...] = (
        (file.body, ("procedure",), steps, hint),
        (file.ends, ("procedure",), ends, "Put it in the procedures it is true of."),
        (revision, ("procedure",), "A revision belongs in a procedure file.", "Leave it out here."),
        (file.blocks, ("machine", "shop"), "A `block` belongs in a machine or shop file.", block),
        (
            file.tables,
            _DECLARING,
            "A `table` cannot stand here.",
            "Put it in a procedure or machine file.",
        ),
        (file.jobs, ("visit",), "A `do` line belongs in a visit file.", follow),
        (file.rules, ("shop",), "Rules cannot stand here.", "Put them in the shop file."),
        (
            file.house_verbs,
            ("shop",),
            "Verbs of the house cannot stand here.",
            "Put them in the shop file.",
        ),
        (
            file.house_torques,
            ("shop",),
            "The torques of the house cannot stand here.",
            "Put them in the shop file.",
        ),
    )
    for nodes, homes, message, advice in owned:
        if nodes and file.kind not in homes:
            yield Remark(nodes[0].span, message, advice)


def _thing(thing: s.Thing, where: str, whole: bool) -> Iterator[Remark]:
    if where not in _THING_FILES[thing.kind]:
        homes = " or ".join(_THING_FILES[thing.kind])
        message = f"{said(thing.kind).capitalize()} cannot be declared here."
        yield Remark(thing.name.span, message, f"Move it to a {homes} file.")
    yield from check_clauses(thing)
    yield from _kind_word(thing)
    if whole and thing.kind == "condition" and len(thing.states) < 2:
        hint = "List its states on the lines below, the normal one first."
        yield Remark(thing.name.span, "A condition needs at least two states.", hint)
    if thing.designation:
        yield from _designation(thing.designation)
    elif thing.kind == "fastener":
        message = f"It is not said what kind of fastener `{thing.name.text}` is."
        hint = "Write 4 × M6×16 ISO 4762 8.8, or what it is: cotter-pin 3.2×32 ISO 1234"
        yield Remark(thing.name.span, message, hint)


def _kind_word(thing: s.Thing) -> Iterator[Remark]:
    word = thing.kind_word
    if thing.kind in _KIND_WORDS:
        if word is None:
            message = f"The kind of {thing.kind} is missing after the name."
            yield Remark(thing.name.span, message, f"For example: {_KIND_WORDS[thing.kind]}")
    elif word is not None:
        joined = f"{thing.name.text}-{word.text}"
        yield Remark(
            thing.name.span.to(word.span) if not thing.index else word.span,
            f"After the name `{thing.name.text}` stands another word, `{word.text}`.",
            f"Join a name of several words with hyphens: {joined}",
            None if thing.index else joined,
        )


def _designation(designation: s.Text) -> Iterator[Remark]:
    """Yield a count that lacks its sign: it would be taken for a part of the size."""
    found = _COUNT_WORDS.match(designation.value) or _COUNT_ONLY.match(designation.value)
    if found:
        yield Remark(
            designation.span,
            "How many there are is written with a `×` (or an `x`) after the number.",
            f"Write: {found[1]} × {designation.value[found.end() :]}",
            f"{found[1]} × {designation.value[found.end() :]}",
        )


def _table(table: s.TableDecl) -> Iterator[Remark]:
    if not table.rows:
        hint = "Name the columns in the first line below it; each line after that is a row."
        yield Remark(table.name.span, "This table has no rows.", hint)
    for row in table.rows:
        if len(row.cells) != len(table.columns):
            yield Remark(
                row.span,
                f"This row has {len(row.cells)} cells, but the table has "
                f"{len(table.columns)} columns.",
                "Part the cells with `|`, and put a cell of several words in quotes.",
            )
