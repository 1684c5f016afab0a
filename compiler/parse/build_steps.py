"""Makes nodes of steps: actions, measurements, questions, sections, repeats and branches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal, cast

from compiler import syntax as s
from compiler.parse.build_values import (
    Block,
    Checks,
    Kids,
    Listing,
    as_amount,
    body_of,
    over,
    phrase_of,
    pick,
    pick_all,
)
from compiler.parse.lexer import Lexeme
from compiler.parse.remarks import Report
from compiler.source import Span

HANGING = (
    s.SafetyLine,
    s.NoteLine,
    s.WearLine,
    s.PictureLine,
    s.ClipLine,
    s.TakesLine,
    s.PeopleLine,
)
"""The lines that may hang under nearly everything."""

LIMITS = ("at most", "at least", "above", "below", "between")
_SENSES = ("feel", "eye", "ear")


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
        if isinstance(kids[0], s.NumberLit):
            number = kids[0].text
            hint = f"Write the unit behind it, 2 turns, or put a member in brackets: foot[{number}]"
            self.report(kids[0].span, f"It is not clear what `{number}` means here.", hint)
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


class Steps(Phrases):
    """The rules that make single steps."""

    def _tail(self, kids: Sequence[Any], phrases: bool = False) -> Tail:
        tail = Tail(self.report).add(kids).under(body_of(kids))
        if not phrases:
            for phrase in (*tail.phrases, *tail.parts):
                self.report(phrase.span, "Such a phrase belongs to an action.", "Leave it out.")
        return tail

    def action(self, kids: Kids) -> s.Action:
        verb = kids[0]
        listing = pick(kids, Listing)
        tail = Tail(self.report)
        if isinstance(verb, Lexeme):  # `hold for 5 min`, read as one key word
            span = verb.span
            word = Span(span.file, span.end - 3, span.end)
            amount = self.with_unit(kids[1])
            tail.phrases.append(s.Phrase(word.to(amount.span), "for", (amount,)))
            verb = s.Word(Span(span.file, span.start, span.start + 4), "hold")
        return self._action(verb, listing, tail.add(kids[1:]), kids)

    def _action(self, verb: s.Word, listing: Listing | None, tail: Tail, kids: Kids) -> s.Action:
        tail.under(body_of(kids))
        for part in tail.parts:
            if isinstance(part, ByText):
                hint = "Join it to what stands before it with a comma, or leave it out."
                self.report(part.text.span, "This text stands alone here.", hint)
                tail.phrases.append(part.phrase)
            else:
                self.report(part.span, "This belongs to a measurement.", 'measure gap "Gap" …')
        targets = listing.items if listing else ()
        phrases = tuple(tail.phrases)
        attached = tuple(tail.attachments)
        return s.Action(over(kids), verb, targets, phrases, tail.trailer(), attached)

    def prose(self, kids: Kids) -> s.ProseStep:
        tail = self._tail(kids)
        return s.ProseStep(over(kids), kids[0], tail.trailer(), tuple(tail.attachments))

    def follow(self, kids: Kids) -> s.Follow:
        half: Literal["", "way in", "way back"] = ""
        if isinstance(kids[2], Lexeme) and kids[2].text.startswith("way"):
            half = "way in" if phrase_of(kids[2]) == "way in" else "way back"
        tail = self._tail(kids)
        return s.Follow(over(kids), kids[1], half, tail.trailer(), tuple(tail.attachments))

    def refit(self, kids: Kids) -> s.Refit | s.Action:
        listing = pick(kids, Listing)
        tail = Tail(self.report).add(kids)
        targets = listing.items if listing else ()
        one = len(targets) == 1 and isinstance(targets[0], s.Ref)
        if listing is None or (one and not tail.phrases and not tail.parts):
            tail.under(body_of(kids))
            target = targets[0] if targets else None
            attached = tuple(tail.attachments)
            return s.Refit(over(kids), target, tail.trailer(), attached)
        verb = s.Word(kids[0].span, kids[0].text)
        return self._action(verb, listing, tail, kids)

    def ask(self, kids: Kids) -> s.Question:
        name, *answers = pick_all(kids, s.Word)
        return self._question("ask", name, kids, tuple(answers))

    def confirm(self, kids: Kids) -> s.Question:
        return self._question("confirm", pick(kids, s.Word), kids)

    def record(self, kids: Kids) -> s.Question:
        return self._question("record", pick(kids, s.Word), kids)

    def _question(
        self,
        kind: Literal["ask", "confirm", "record"],
        name: s.Word | None,
        kids: Kids,
        answers: tuple[s.Word, ...] = (),
    ) -> s.Question:
        text = pick(kids, s.Text)
        assert text is not None, "the grammar asks for a text"
        self.declared(name, thing=False)
        tail = self._tail(kids)
        attached = tuple(tail.attachments)
        return s.Question(over(kids), kind, name, text, answers, tail.trailer(), attached)

    def sign(self, kids: Kids) -> s.Sign:
        kind: Literal["hold", "sign"] = "sign" if kids[0].text == "sign" else "hold"
        tail = self._tail(kids)
        text, attached = pick(kids, s.Text), tuple(tail.attachments)
        return s.Sign(over(kids), kind, kids[1], text, tail.trailer(), attached)

    def stop(self, kids: Kids) -> s.Stop:
        tail = self._tail(kids)
        text, attached = pick(kids, s.Text), tuple(tail.attachments)
        return s.Stop(over(kids), None, text, tail.trailer(), attached)

    def hand_over(self, kids: Kids) -> s.Stop:
        tail = self._tail(kids)
        text, attached = pick(kids, s.Text), tuple(tail.attachments)
        return s.Stop(over(kids), kids[1], text, tail.trailer(), attached)

    def go_back(self, kids: Kids) -> s.GoBack:
        tail = self._tail(kids)
        return s.GoBack(over(kids), kids[1], tail.trailer(), tuple(tail.attachments))

    def measure(self, kids: Kids) -> s.Measure:
        tail = Tail(self.report).add(kids).under(body_of(kids))
        self.declared(kids[1], thing=False)
        phrases, limits = _limits(tail.phrases)
        limits += [limit for part in pick_all(tail.parts, Scoped) for limit in self._scoped(part)]
        counts = pick_all(tail.parts, Points)
        points = next((p.count for p in counts if p.columns is None), None)
        grid = next(((p.count, p.columns) for p in counts if p.columns), None)
        outcomes = pick_all(tail.parts, Outcome)
        sense, text, marks = self._sense(tail)
        for limit in limits:
            for value in (limit.low, limit.high):
                if value is not None:
                    self.with_unit(value)
        return s.Measure(
            over(kids),
            kids[1],
            kids[2] if isinstance(kids[2], s.Text) else None,
            tuple(phrases),
            tuple(sorted(limits, key=lambda limit: limit.span.start)),
            points,
            grid,
            sense,
            text,
            tuple(o.text for o in outcomes if o.passes),
            tuple(o.text for o in outcomes if not o.passes),
            s.Trailer(**marks),
            tuple(tail.attachments),
        )

    def _scoped(self, part: Scoped) -> list[s.LimitLit]:
        _, limits = _limits([part.phrase])
        if not limits:
            self.report(
                part.span, "After this word stands a limit.", f"{part.scope} at most 0.4 mm"
            )
        return [replace(limit, span=part.span, scope=part.scope) for limit in limits]

    def _sense(
        self, tail: Tail
    ) -> tuple[Literal["", "feel", "eye", "ear"], s.Text | None, dict[str, Any]]:
        """Return how it is judged: `by feel "…"` with a text, `by eye` without."""
        marks = dict(tail.marks)
        by: s.Word | None = marks.get("by")
        text: s.Text | None = None
        for part in pick_all(tail.parts, ByText):
            operand = part.phrase.operands[0]
            if isinstance(operand, s.Ref):
                by, text = operand.name, part.text
        if by is not None and by.text in _SENSES:
            marks.pop("by", None)
            return cast(Literal["feel", "eye", "ear"], by.text), text, marks
        if text is not None:
            message = "A text stands here only after `by feel`, `by eye` or `by ear`."
            self.report(text.span, message, 'by feel "none that a hand can feel"')
        return "", None, marks


def _limits(phrases: Sequence[s.Phrase]) -> tuple[list[s.Phrase], list[s.LimitLit]]:
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


class Bodies(Steps):
    """The rules that make steps with others below them."""

    def _body(
        self, kids: Sequence[Any], leading: bool = False
    ) -> tuple[tuple[s.Statement, ...], tuple[s.Attachment, ...]]:
        """Return the steps of a block, and, when `leading`, the lines before them all."""
        items = body_of(kids)
        if not isinstance(kids[-1], Block):
            self.empty(kids)
        return part_body(items, leading)

    def empty(self, kids: Sequence[Any]) -> None:
        """Say that nothing stands below a line that needs it."""
        first = kids[0]
        word = phrase_of(first) if isinstance(first, Lexeme) else "this line"
        self.report(
            over(kids),
            f"Nothing is indented below this `{word}`.",
            "Put the steps that belong to it on the lines below, indented by two more spaces.",
        )

    def section(self, kids: Kids) -> s.Section:
        body, attached = self._body(kids, leading=True)
        name, title = pick(kids, s.Word), pick(kids, s.Text)
        self.declared(name, thing=False)
        if name is None and title is None:
            hint = 'section access "Open the pump"'
            self.report(kids[0].span, "This section has neither a name nor a title.", hint)
        return s.Section(over(kids), name, title, body, attached)

    def way_back(self, kids: Kids) -> s.Section:
        body, attached = self._body(kids, leading=True)
        return s.Section(over(kids), None, pick(kids, s.Text), body, attached, True)

    def shared_block(self, kids: Kids) -> s.BlockDecl:
        body, _ = self._body(kids)
        self.declared(kids[1], thing=False)
        return s.BlockDecl(over(kids), kids[1], pick(kids, s.Text), body)

    def repeat_times(self, kids: Kids) -> s.RepeatTimes:
        body, attached = self._body(kids, leading=True)
        shown = pick(kids, Shown)
        self.whole(kids[1])
        return s.RepeatTimes(over(kids), kids[1], body, shown.how if shown else "", attached)

    def repeat_each(self, kids: Kids) -> s.RepeatEach:
        body, attached = self._body(kids, leading=True)
        shown = pick(kids, Shown)
        source = tuple(k for k in kids[5:] if isinstance(k, (s.Ref, s.NumberLit, s.IndexRange)))
        how = shown.how if shown else ""
        self.declared(kids[3])
        return s.RepeatEach(over(kids), kids[3], source, body, how, attached)

    def repeat_until(self, kids: Kids) -> s.RepeatUntil:
        body, attached = self._body(kids, leading=True)
        most = pick(kids, s.NumberLit)
        self.whole(most)
        return s.RepeatUntil(over(kids), kids[2], most, body, attached)

    def arms(self, kids: Kids) -> tuple[Any, s.Arm]:
        # A chain, not a list: an arm ends with a line, and lines may be taken back.
        return (None, kids[0]) if len(kids) == 1 else (kids[0], kids[1])

    def branch(self, kids: Kids) -> s.Branch:
        arms = unchain(kids[0])
        for arm in arms[1:-1]:
            if arm.condition is None:
                self.report(
                    arm.span,
                    "Nothing can come after a plain `otherwise`.",
                    "Put the `otherwise` without a condition last.",
                )
        return s.Branch(over(arms), arms)

    def if_arm(self, kids: Kids) -> s.Arm:
        body, _ = self._body(kids)
        return s.Arm(over(kids), kids[1], body)

    def otherwise_arm(self, kids: Kids) -> s.Arm:
        body, _ = self._body(kids)
        condition = kids[1] if kids[0].kind == "OTHERWISE_IF" else None
        return s.Arm(over(kids), condition, body)

    def only_for(self, kids: Kids) -> s.OnlyFor:
        body, _ = self._body(kids)
        return s.OnlyFor(over(kids), kids[1].items, body)

    def side_by_side(self, kids: Kids) -> s.SideBySide:
        if not isinstance(kids[-1], Block):
            self.empty(kids)
        return s.SideBySide(over(kids), pick_all(body_of(kids), s.Lane))

    def lane(self, kids: Kids) -> s.Lane:
        body, _ = self._body(kids)
        return s.Lane(over(kids), kids[1], body)


def part_body(
    items: Iterable[Any], leading: bool
) -> tuple[tuple[s.Statement, ...], tuple[s.Attachment, ...]]:
    """Part the lines of a block into steps and, when `leading`, the hanging lines before them."""
    attached: list[s.Attachment] = []
    body: list[s.Statement] = []
    for item in items:
        if not isinstance(item, HANGING):
            body.append(item)
        elif leading and not body:
            attached.append(item)
        else:
            body.append(s.LooseAttachment(item.span, item))
    return tuple(body), tuple(attached)


def unchain(chain: Any) -> tuple[Any, ...]:
    """Return the items of a chain of pairs in order."""
    items: list[Any] = []
    while chain is not None:
        chain, item = chain
        items.append(item)
    return tuple(reversed(items))
