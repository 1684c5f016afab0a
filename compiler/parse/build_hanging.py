"""Makes nodes of the lines that hang under things and steps."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from compiler import syntax as s
from compiler.parse.build_values import (
    Block,
    Checks,
    Kids,
    body_of,
    over,
    pick,
    pick_all,
    quantities,
)
from compiler.parse.lexer import Lexeme
from compiler.source import Span


@dataclass(frozen=True, slots=True)
class SafetyPart:
    """`consequence "…"` or `avoid "…"`."""

    span: Span
    word: str
    text: s.Text


class Hanging(Checks):
    """The rules that make what hangs under things and steps."""

    def safety_part(self, kids: Kids) -> SafetyPart:
        return SafetyPart(over(kids), kids[0].text, kids[1])

    def safety_more(self, kids: Kids) -> Block:
        return Block(over(kids[:-1]), tuple(kids[:-1]))

    def safety(self, kids: Kids) -> s.SafetyLine:
        signal: Lexeme = kids[0]
        word = s.Word(signal.span, signal.text)
        lines = pick_all(body_of(kids), Block)
        parts = [*pick_all(kids, SafetyPart), *(part for line in lines for part in line.items)]
        texts: dict[str, s.Text] = {}
        for part in parts:
            texts.setdefault(part.word, part.text)
        text = pick(kids, s.Text)
        assert text is not None, "the grammar asks for a text"
        hazard = pick(kids, s.Word)
        if hazard is None and signal.text != "notice":
            self.report(
                word.span,
                f"This `{word.text}` does not say what the hazard is.",
                f'Put it in a word before the text: {word.text} cut "…"',
            )
        return s.SafetyLine(
            over(kids), word, hazard, text, texts.get("consequence"), texts.get("avoid")
        )

    def note(self, kids: Kids) -> s.NoteLine:
        kind: Literal["note", "why"] = "note" if kids[0].text == "note" else "why"
        texts = (*pick_all(kids, s.Text), *pick_all(body_of(kids), s.Text))
        if not texts and not isinstance(kids[-1], Block):
            self.report(kids[0].span, f"This `{kind}` says nothing.", f'{kind} "Arrow up."')
        return s.NoteLine(over(kids), kind, texts)

    def note_text(self, kids: Kids) -> s.Text:
        text: s.Text = kids[0]
        return text

    def wear(self, kids: Kids) -> s.WearLine:
        return s.WearLine(over(kids), pick_all(kids, s.Word))

    def picture(self, kids: Kids) -> s.PictureLine:
        path, *caption = pick_all(kids, s.Text)
        marks = pick_all(body_of(kids), s.MarkLine)
        return s.PictureLine(over(kids), path, caption[0] if caption else None, marks)

    def mark(self, kids: Kids) -> s.MarkLine:
        x, y = quantities(kids[4:])
        self.whole(kids[1])
        for share in (x, y):
            if share.unit is not None and share.unit.text != "%":
                hint = "Say how far it is from the top left corner: at 32 %, 40 %"
                self.report(share.unit.span, "The place of a mark is given in per cent.", hint)
        return s.MarkLine(over(kids), kids[1], kids[2], x, y)

    def clip(self, kids: Kids) -> s.ClipLine:
        path, *caption = pick_all(kids, s.Text)
        start, end = pick_all(kids, s.TimeLit)
        if start.seconds >= end.seconds:
            self.report(end.span, "The clip ends before it begins.", "clip … from 1:12 to 1:40")
        return s.ClipLine(over(kids), path, start, end, caption[0] if caption else None)

    def takes(self, kids: Kids) -> s.TakesLine:
        likely = self.with_unit(kids[3]) if len(kids) > 3 else None
        return s.TakesLine(over(kids), self.with_unit(kids[1]), likely)

    def takes_line(self, kids: Kids) -> s.TakesLine:
        line: s.TakesLine = kids[0]
        return line

    def people(self, kids: Kids) -> s.PeopleLine:
        self.whole(kids[1])
        return s.PeopleLine(over(kids), kids[1])

    def people_line(self, kids: Kids) -> s.PeopleLine:
        line: s.PeopleLine = kids[0]
        return line

    def handling(self, kids: Kids) -> s.HandlingLine:
        return s.HandlingLine(over(kids), pick_all(kids, s.Clause))

    def handling_part(self, kids: Kids) -> s.Clause:
        key = "-".join(kids[0].text.split())
        return s.Clause(over(kids), key, tuple(self.with_unit(value) for value in kids[1:]))
