"""Makes nodes of steps: actions, measurements, questions, sections, repeats and branches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any, Literal, cast

from compiler import syntax as s
from compiler.parse.build_phrases import (
    ByText,
    Outcome,
    Phrases,
    Points,
    Scoped,
    Shown,
    Tail,
    part_limits,
)
from compiler.parse.build_values import (
    Block,
    Kids,
    Listing,
    body_of,
    over,
    phrase_of,
    pick,
    pick_all,
)
from compiler.parse.lexer import Lexeme
from compiler.parse.spoken import points_to_picture, with_ranges, without_passes
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

_SENSES = ("feel", "eye", "ear")
_BY_ONESELF = frozenset({"hand", "eye", "ear", "feel", "touch"})
"""What stands after `by` and is no role: how it is done, `turn shaft by hand`."""


class Steps(Phrases):
    """The rules that make single steps."""

    def _tail(self, kids: Sequence[Any], phrases: bool = False) -> Tail:
        tail = Tail(self.report).add(kids).under(body_of(kids))
        if not phrases:
            for phrase in (*tail.phrases, *tail.parts):
                self.report(phrase.span, "Such a phrase belongs to an action.", "Leave it out.")
        return tail

    def action(self, kids: Kids) -> s.Action | s.ProseStep:
        verb = kids[0]
        listing = pick(kids, Listing)
        said = points_to_picture(verb, kids, self.report) if isinstance(verb, s.Word) else None
        if said is not None:
            return s.ProseStep(over(kids), said, Tail(self.report).trailer())
        tail = Tail(self.report)
        if isinstance(verb, Lexeme):  # `hold for 5 min`, read as one key word
            span = verb.span
            word = Span(span.file, span.end - 3, span.end)
            amount = self.with_unit(kids[1])
            tail.phrases.append(s.Phrase(word.to(amount.span), "for", (amount,)))
            verb = s.Word(Span(span.file, span.start, span.start + 4), "hold")
        tail.add(with_ranges(kids[1:], self.report))
        return self._action(verb, listing, tail, kids)

    def _action(self, verb: s.Word, listing: Listing | None, tail: Tail, kids: Kids) -> s.Action:
        tail.under(body_of(kids))
        for part in tail.parts:
            if isinstance(part, ByText):
                hint = "Join it to what stands before it with a comma, or leave it out."
                self.report(part.text.span, "This text stands alone here.", hint)
                tail.phrases.append(part.phrase)
            else:
                self.report(part.span, "This belongs to a measurement.", 'measure gap "Gap" …')
        by: s.Word | None = tail.marks.get("by")
        if by is not None and by.text in _BY_ONESELF:
            del tail.marks["by"]
            tail.phrases.append(s.Phrase(by.span, "by", (s.Text(by.span, by.text),)))
        targets = listing.items if listing else ()
        phrases = without_passes(verb, tail.phrases, self.report)
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
        phrases, limits = self._limits(tail)
        counts = pick_all(tail.parts, Points)
        points = next((p.count for p in counts if p.columns is None), None)
        grid = next(((p.count, p.columns) for p in counts if p.columns), None)
        outcomes = pick_all(tail.parts, Outcome)
        sense, text, marks = self._sense(tail)
        return s.Measure(
            over(kids),
            kids[1],
            kids[2] if isinstance(kids[2], s.Text) else None,
            tuple(phrases),
            limits,
            points,
            grid,
            sense,
            text,
            tuple(o.text for o in outcomes if o.passes),
            tuple(o.text for o in outcomes if not o.passes),
            s.Trailer(**marks),
            tuple(tail.attachments),
        )

    def measure_override(self, kids: Kids) -> s.OverrideLine:
        tail = Tail(self.report).add(kids[2:-1])
        phrases, limits = self._limits(tail)
        if tail.marks or not all(isinstance(part, Scoped) for part in tail.parts):
            self.report(
                over(kids[2:-1]),
                "For one model only other limits, or another tool, can be given here.",
                "for TP-60 at most 0.4 mm",
            )
        return s.OverrideLine(over(kids), kids[1].items, tuple(phrases), limits=limits)

    def _limits(self, tail: Tail) -> tuple[list[s.Phrase], tuple[s.LimitLit, ...]]:
        """Return the plain phrases of a measurement, and its limits in their order."""
        phrases, limits = part_limits(tail.phrases)
        limits += [limit for part in pick_all(tail.parts, Scoped) for limit in self._scoped(part)]
        for limit in limits:
            for value in (limit.low, limit.high):
                if value is not None:
                    self.with_unit(value)
        return phrases, tuple(sorted(limits, key=lambda limit: limit.span.start))

    def _scoped(self, part: Scoped) -> list[s.LimitLit]:
        _, limits = part_limits([part.phrase])
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
