"""Makes phrases of actions, and sorts what follows the things of a step."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal, cast

from compiler import syntax as s
from compiler.parse.build_values import Checks, Kids, Listing, as_amount, over, phrase_of, pick
from compiler.parse.lexer import Lexeme
from compiler.parse.remarks import Report
from compiler.source import Span

LIMITS = ("at most", "at least", "above", "below", "between")


@dataclass(frozen=True, slots=True)
class Mark:
    """Something at the end of a step's line; `field` is a field of `syntax.Trailer`."""

    span: Span
    field: str
    value: Any


@dataclass(frozen=True, slots=True)
class ByText:
    """`by feel "…"`: a phrase with a text behind it."""

    span: Span
    phrase: s.Phrase
    text: s.Text


@dataclass(frozen=True, slots=True)
class Scoped:
    """`each at most 0.2 mm`."""

    span: Span
    scope: Literal["each", "sum", "spread"]
    phrase: s.Phrase


@dataclass(frozen=True, slots=True)
class Points:
    """`at 3 points`, or `grid 2 × 3` when `columns` is given."""

    span: Span
    count: s.NumberLit
    columns: s.NumberLit | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """`pass "…"` or `fail "…"`."""

    span: Span
    passes: bool
    text: s.Text


@dataclass(frozen=True, slots=True)
class More:
    """Phrases and marks on a line of their own under a step."""

    span: Span
    items: tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """`shown once` or `shown each`."""

    span: Span
    how: Literal["once", "each"]


@dataclass(slots=True)
class Tail:
    """Sorts what follows the things of a step."""

    report: Report
    phrases: list[s.Phrase] = field(default_factory=list)
    marks: dict[str, Any] = field(default_factory=dict)
    parts: list[Any] = field(default_factory=list)
    attachments: list[s.Attachment] = field(default_factory=list)

    def add(self, items: Iterable[Any]) -> Tail:
        """Take what follows on the line, and the lines under it."""
        for item in items:
            if isinstance(item, s.Phrase):
                self._phrase(item)
            elif isinstance(item, Mark):
                self._mark(item.field, item.value, item.span)
            elif isinstance(item, s.TakesLine):
                self._mark("takes", item, item.span)
            elif isinstance(item, s.PeopleLine):
                self._mark("people", item, item.span)
            elif isinstance(item, (ByText, Scoped, Points, Outcome)):
                self.parts.append(item)
        return self

    def under(self, lines: Iterable[Any]) -> Tail:
        """Take the lines under the step."""
        for line in lines:
            if isinstance(line, More):
                self.add(line.items)
            else:
                self.attachments.append(line)
        return self

    def _phrase(self, phrase: s.Phrase) -> None:
        by = phrase.operands[0] if phrase.word == "by" and len(phrase.operands) == 1 else None
        if isinstance(by, s.Ref) and not (by.index or by.field or by.age):
            self._mark("by", by.name, phrase.span)
        else:
            self.phrases.append(phrase)
            self._without_unit(phrase)

    def _without_unit(self, phrase: s.Phrase) -> None:
        """Remark a number that stands alone."""
        if phrase.word == "" and isinstance(phrase.operands[0], s.NumberLit):
            number = phrase.operands[0].text
            hint = f"Write the unit behind it, 2 turns, or put a member in brackets: foot[{number}]"
            self.report(
                phrase.operands[0].span, f"It is not clear what `{number}` means here.", hint
            )

    def _mark(self, name: str, value: Any, span: Span) -> None:
        if name in self.marks:
            word = name.replace("_", " ").replace("name", "as")
            self.report(span, f"`{word}` stands twice in this step.", "Keep one of them.")
        self.marks.setdefault(name, value)

    def trailer(self) -> s.Trailer:
        """Return what ended the line."""
        return s.Trailer(**self.marks) if self.marks else _NO_TRAILER


_NO_TRAILER = s.Trailer()


class Phrases(Checks):
    """The rules that make phrases and what ends a step's line."""

    def strict_word(self, kids: Kids) -> Lexeme:
        word: Lexeme = kids[0]
        return word

    loose_word = strict_word

    def adverb(self, kids: Kids) -> s.Phrase:
        return s.Phrase(kids[0].span, phrase_of(kids[0]))

    def plain_phrase(self, kids: Kids) -> s.Phrase | ByText:
        first = kids[0]
        if isinstance(first, s.Phrase):
            return first
        listing = pick(kids, Listing)
        items, joined = (listing.items, listing.joined) if listing else ((), "and")
        text = kids[-1] if isinstance(kids[-1], s.Text) else None
        phrase = s.Phrase(over(kids), phrase_of(first), items, joined)
        if text is None:
            return phrase
        if first.text == "by":
            assert listing is not None, "the grammar asks for one"
            whole = over(kids)
            short = replace(phrase, span=first.span.to(listing.span))
            return ByText(whole, short, text)
        if first.text != "with":
            self.report(text.span, "Only `with` takes an `end`.", 'with seal-driver end "32 mm"')
        return replace(phrase, end=text)

    measured_phrase = plain_phrase

    def for_phrase(self, kids: Kids) -> s.Phrase:
        return s.Phrase(over(kids), "for", (kids[1],))

    def bare(self, kids: Kids) -> s.Phrase:
        return s.Phrase(kids[0].span, "", (kids[0],))

    def named(self, kids: Kids) -> Mark:
        self.declared(kids[1], thing=False)
        return Mark(over(kids), "name", kids[1])

    def only_for_models(self, kids: Kids) -> Mark:
        return Mark(over(kids), "only_for", kids[1].items)

    def only_if(self, kids: Kids) -> Mark:
        return Mark(over(kids), "only_if", kids[1])

    def timer(self, kids: Kids) -> Mark:
        amount = self.with_unit(kids[1])
        if amount.high or amount.tolerance or amount.twin or amount.qualifier:
            self.report(amount.span, "A timer runs for one time.", "timer 5 min")
        return Mark(over(kids), "timer", amount.low)

    def recorded(self, kids: Kids) -> Mark:
        return Mark(kids[0].span, "recorded", True)

    def by_role(self, kids: Kids) -> Mark:
        return Mark(over(kids), "by", kids[1])

    def more_phrases(self, kids: Kids) -> More:
        return More(over(kids), tuple(kids[:-1]))

    measure_more = more_phrases

    def step_override(self, kids: Kids) -> s.OverrideLine:
        tail = Tail(self.report).add(kids[2:-1])
        phrases = [*tail.phrases, *(part.phrase for part in tail.parts if isinstance(part, ByText))]
        if tail.marks or tail.parts:
            self.report(
                over(kids[2:-1]),
                "For one model only another value can be given here.",
                "for TP-60 to 0.4 mm",
            )
        return s.OverrideLine(over(kids), kids[1].items, tuple(phrases))

    def scoped(self, kids: Kids) -> Scoped:
        scope = cast(Literal["each", "sum", "spread"], kids[0].text)
        phrase = kids[1] if isinstance(kids[1], s.Phrase) else kids[1].phrase
        return Scoped(over(kids), scope, phrase)

    def points(self, kids: Kids) -> Points:
        self.whole(kids[1])
        return Points(over(kids), kids[1])

    def grid(self, kids: Kids) -> Points:
        self.whole(kids[1])
        self.whole(kids[3])
        return Points(over(kids), kids[1], kids[3])

    def outcome(self, kids: Kids) -> Outcome:
        return Outcome(over(kids), kids[0].text == "pass", kids[1])

    def shown(self, kids: Kids) -> Shown:
        how: Literal["once", "each"] = "once" if kids[1].text == "once" else "each"
        return Shown(over(kids), how)


def part_limits(phrases: Sequence[s.Phrase]) -> tuple[list[s.Phrase], list[s.LimitLit]]:
    """Part the phrases of a measurement into plain ones and limits."""
    plain: list[s.Phrase] = []
    limits: list[s.LimitLit] = []
    for phrase in phrases:
        limit = _limit(phrase)
        if limit:
            limits.append(limit)
        else:
            plain.append(phrase)
    return plain, limits


def _limit(phrase: s.Phrase) -> s.LimitLit | None:
    values = [as_amount(o) for o in phrase.operands if isinstance(o, (s.AmountLit, s.NumberLit))]
    if not values or len(values) != len(phrase.operands):
        return None
    if phrase.word == "" and len(values) == 1:
        return s.LimitLit(phrase.span, "about", values[0])
    if phrase.word == "between" and len(values) == 2:
        return s.LimitLit(phrase.span, "between", values[0], values[1])
    if phrase.word in LIMITS and phrase.word != "between" and len(values) == 1:
        word = cast(Literal["at most", "at least", "above", "below"], phrase.word)
        return s.LimitLit(phrase.span, word, values[0])
    return None
