"""Naming things: `the four M6 × 16 socket-head screws (guard screw)`, `levelling feet 1 and 3`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from compiler.model import (
    AnyThing,
    Connection,
    Consumable,
    Energy,
    Fastener,
    Tool,
)
from compiler.trade.tools import KINDS
from compiler.walk.nodes import Target
from compiler.wording import english
from compiler.wording.english import a_or_an, plural
from compiler.wording.fasteners import described
from compiler.wording.text import Line, Link, Piece, Plain, Strong, line
from compiler.wording.values import quantity_text
from compiler.wording.voice import Voice, count_meant, members_meant

_HAND_TURNED = frozenset({"knob", "nut", "screw", "bolt", "handle", "wheel", "pin", "peg"})
_ONE_WORD = frozenset({"pin", "clip", "wedge", "screw", "key"})
Article: TypeAlias = Literal["the", "a", "none"]

_BEHIND_NOUN = re.compile(r"[A-Z]*\d+[A-Za-z]?|[A-Z]")


@dataclass(frozen=True, slots=True)
class Noun:
    """A thing in words, and whether it is spoken of as many."""

    words: Line
    many: bool

    @property
    def it(self) -> str:
        """Return the word for it as an object."""
        return "them" if self.many else "it"

    @property
    def they(self) -> str:
        """Return the word for it as a subject."""
        return "they" if self.many else "it"


def name_of(thing: AnyThing) -> str:
    """Return what people call a thing: its label, or its name as words.

    The text of an energy says what it is ("400 V three-phase"), not what it is called.
    """
    if isinstance(thing, Energy):
        return english.spoken(thing.name)
    return thing.label or english.spoken(thing.name)


def noun(
    voice: Voice,
    target: Target,
    *,
    article: Article = "the",
    new: bool = False,
    brief: bool = False,
) -> Noun:
    """Return a thing in words.

    `new` says that a new one is meant, with its part number. `brief` leaves the size and the count
    of fasteners out: for what was named in full just before.
    """
    thing = voice.thing(target.key)
    if thing is None:
        words = english.spoken(target.key.rsplit("/", 1)[-1])
        return Noun(line("the " if article == "the" else "", words), False)
    age = "a new" if new else target.age
    if isinstance(thing, Fastener):
        if brief and not age and not target.each:
            return brief_fastener(voice, thing, target)
        return _fastener(voice, thing, target, article, age)
    if isinstance(thing, Tool):
        return tool_noun(voice, thing)
    if isinstance(thing, Consumable) and not age:
        return Noun(line(_stuff(english.in_brackets(name_of(thing)))), False)
    return _plain_thing(voice, thing, target, article, age)


def _plain_thing(voice: Voice, thing: AnyThing, target: Target, article: Article, age: str) -> Noun:
    members, count = members_meant(thing, target), count_meant(thing, target)
    label = english.in_brackets(name_of(thing))
    words, proper = with_members(label, members, count)
    anchor = voice.anchor(thing)
    head: Line = (Link(words, anchor),) if anchor else (Plain(words),)
    many = count > 1 or (count == 1 and english.is_plural(words))
    lead = determiner(words, article, age, count, target.each, proper or english.is_name(words))
    return Noun(line(lead, head, _brackets(thing, age)), many)


def determiner(words: str, article: Article, age: str, count: int, each: bool, proper: bool) -> str:
    """Return what stands before a name: `the `, `the four `, `a new `, `this `, or nothing."""
    many = count > 1
    if each and not age:
        return f"these {english.number(count)} " if many else "this "
    if many:
        amount = english.number(count)
        if age == "a new":
            return f"{amount} new "
        lead = "" if proper and not age else "the " if article == "the" else ""
        counted = "" if proper else f"{amount} "
        return f"{lead}{counted}{f'{age} ' if age else ''}"
    if age == "a new":
        return "new " if proper or english.is_plural(words) or english.is_mass(words) else "a new "
    if age:
        return f"the {age} "
    if proper or article == "none":
        return ""
    if article == "a" and not english.is_plural(words):
        return a_or_an(words)[: -len(words)]
    return "the " if article == "the" else ""


def with_members(label: str, members: Sequence[str], count: int) -> tuple[str, bool]:
    """Return the name with its members, in the right number; and whether it needs no article.

    `levelling foot`, ("1", "3") gives `levelling feet 1 and 3`; `gear`, ("left",) `left gear`.
    """
    named = plural(label) if count > 1 and not english.is_plural(label) else label
    if not members:
        return named, False
    if all(_BEHIND_NOUN.fullmatch(member) for member in members):
        # The members stand right behind the noun: `jacking screws 1 and 2 (M10)`.
        head, tail = english.split_at_noun(named)
        return f"{head} {member_list(members)}{tail}", True
    return f"{english.listed(list(members))} {named}", False


def member_list(members: Sequence[str]) -> str:
    """Return `1 and 3`, or `1 to 4` for three and more in a row."""
    if len(members) > 2 and all(member.isdigit() for member in members):
        numbers = [int(member) for member in members]
        if numbers == list(range(numbers[0], numbers[0] + len(numbers))):
            return f"{numbers[0]} to {numbers[-1]}"
    return english.listed(list(members))


def _brackets(thing: AnyThing, age: str) -> str:
    """Return ` (number CG-40)`, ` (marked W8)`, as far as there is something to say."""
    said: list[str] = []
    if age == "a new" and thing.number:
        said.append(f"number {thing.number}")
    if isinstance(thing, Connection) and thing.marked:
        said.append(f"marked {thing.marked}")
    return f" ({', '.join(said)})" if said else ""


def brief_fastener(voice: Voice, thing: Fastener, target: Target) -> Noun:
    """Return a fastener by the author's name alone: `the hatch bolts`, `foot nut 1`."""
    members, count = members_meant(thing, target), count_meant(thing, target)
    words, proper = with_members(called(thing), members, count)
    if proper and count > len(members):
        # Two screws at place 1 are not `cap screws 1`.
        return _fastener(voice, thing, target, "the", "")
    lead = "" if proper or english.is_name(words) else "the "
    many = count > 1 or english.is_plural(words)
    return Noun(line(lead, Link(words, voice.anchor(thing))), many)


def called(thing: Fastener) -> str:
    """Return what a fastener is called: the author's name, and what it is if nothing else says it.

    `gate hinge`, which is a pin, is called `gate hinge pin`; a `ring` what kind of ring it is.
    """
    name = name_of(thing)
    size, kind = described(thing)
    if kind.endswith(f" {name}"):
        return kind
    if size or kind not in _ONE_WORD or name.split(" ")[-1] in (kind, *_HAND_TURNED):
        return name
    return f"{name} {kind}"


def _fastener(voice: Voice, thing: Fastener, target: Target, article: Article, age: str) -> Noun:
    members, count = members_meant(thing, target), count_meant(thing, target)
    size, kind = described(thing)
    name = called(thing)
    anchor = voice.anchor(thing)
    many = count > 1
    if _speaks_for_itself(size, kind, name):
        words, proper = with_members(name, members, count)
        number = f" (number {thing.number})" if age == "a new" and thing.number else ""
        sized_name: Piece = (
            (Strong(size), " ", Link(words, anchor)) if size else Link(words, anchor)
        )
        first = f"{size} {words}".strip()
        lead = determiner(first, article, age, count, target.each, proper and not size)
        return Noun(line(lead, sized_name, number), many or english.is_plural(words))
    named, _ = with_members(name, members, len(members))
    number = f", number {thing.number}" if age == "a new" and thing.number else ""
    spoken_kind = plural(kind) if many else kind
    first = f"{size} {spoken_kind}".strip()
    lead = determiner(first, article, age, count, target.each, False)
    sized: Piece = (Strong(size), " ") if size else ""
    words_line = line(lead, sized, spoken_kind, " (", Link(named, anchor), number, ")")
    return Noun(words_line, many)


def _speaks_for_itself(size: str, kind: str, name: str) -> bool:
    """Return whether the author's name says what it is: `hinge clip`, `drain plug`."""
    if kind in ("", "fastener") or name == kind or name.endswith(f" {kind}"):
        return True
    return not size and kind in ("screw", "knob", "pin") and name.split()[-1] in _HAND_TURNED


def tool_noun(voice: Voice, thing: Tool, size: str = "") -> Noun:
    """Return a tool: `the dial indicator`, `a 13 mm spanner`, `the two round slings`.

    What its label says after a comma or a `with` is left to the list of tools.
    """
    labelled = thing.label and thing.label != english.spoken(thing.name)
    if not labelled and thing.sizes:
        only = size or (quantity_text(thing.sizes[0]) if len(thing.sizes) == 1 else "")
        word = one_of(thing.kind)
        if english.is_plural(word) and not only:
            return Noun(line("the ", word), True)
        return Noun(line(a_or_an(f"{only} {word}".strip())), False)
    label = english.short(thing.label) if labelled else _tool_name(thing)
    words = plural(label) if thing.count > 1 else label
    lead = f"the {english.number(thing.count)} " if thing.count > 1 else "the "
    return Noun(line(lead, words), thing.count > 1 or english.is_plural(words))


def _tool_name(thing: Tool) -> str:
    if thing.kind == "special":
        return english.spoken(thing.name)
    return f"{kind_name(thing.kind)} {thing.tag}".strip()


def kind_name(kind: str) -> str:
    """Return a kind of tool in words: `torque wrench`, `hex keys`."""
    return KINDS[kind].label if kind in KINDS else english.spoken(kind)


def one_of(kind: str) -> str:
    """Return one piece of a set of tools: `hex-keys` is a set of hex keys."""
    label = kind_name(kind)
    if kind in KINDS and KINDS[kind].is_set:
        return label.removesuffix("es") if label.endswith("ches") else label.removesuffix("s")
    return label


def _stuff(label: str) -> str:
    """Return a consumable after `with`: `silicone grease`, `a lint-free cloth`."""
    if english.is_mass(label) or english.is_plural(label):
        return label
    return a_or_an(label)
