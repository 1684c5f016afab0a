"""Makes nodes of names and values."""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Literal, TypeVar

from compiler import syntax as s
from compiler.parse.lexer import OPEN_TEXT, Lexeme
from compiler.parse.remarks import Report
from compiler.parse.table import reserved_words
from compiler.source import Span

Kids = list[Any]
"""What a rule of the grammar consists of: nodes, lexemes, and the drafts of this module."""

T = TypeVar("T")

_TAKEN = ("everything", "new", "old")
_ESCAPE = re.compile(r'\\(["\\{}])')


@dataclass(frozen=True, slots=True)
class Block:
    """What is indented below a line. `headless` tells that its first line could not be read."""

    span: Span
    items: tuple[Any, ...]
    headless: bool = False


@dataclass(frozen=True, slots=True)
class Bracket:
    """`[1..4]` behind a name."""

    span: Span
    parts: tuple[s.IndexPart, ...]


@dataclass(frozen=True, slots=True)
class Listing:
    """Things in a row, joined by commas, `and` or `or`."""

    span: Span
    items: tuple[Any, ...]
    joined: Literal["and", "or"] = "and"


def pick(kids: Sequence[Any], kind: type[T]) -> T | None:
    """Return the first child of a kind, or None."""
    for kid in kids:
        if isinstance(kid, kind):
            return kid
    return None


def pick_all(kids: Sequence[Any], kind: type[T]) -> tuple[T, ...]:
    """Return all children of a kind."""
    return tuple(kid for kid in kids if isinstance(kid, kind))


def key_of(lexeme: Lexeme) -> str:
    """Return a key word of one or more words as one, joined by hyphens."""
    return "-".join(lexeme.text.split())


def phrase_of(lexeme: Lexeme) -> str:
    """Return a key word of one or more words with single blanks."""
    return " ".join(lexeme.text.split())


def over(kids: Sequence[Any]) -> Span:
    """Return the span from the first child to the last one that has a text of its own."""
    first: Span = kids[0].span
    last: Span = kids[-1].span
    return Span(first.file, first.start, last.end)


def body_of(kids: Sequence[Any]) -> tuple[Any, ...]:
    """Return what stands in the block at the end of the children."""
    last = kids[-1]
    return last.items if isinstance(last, Block) else ()


def as_amount(value: s.AmountLit | s.NumberLit) -> s.AmountLit:
    """Return a bare number as an amount whose unit is missing."""
    if isinstance(value, s.NumberLit):
        return s.AmountLit(value.span, s.QuantityLit(value.span, value, None))
    return value


def text_of(lexeme: Lexeme) -> s.Text:
    """Return the text between quotes, its escapes resolved."""
    raw = lexeme.text[1:] if lexeme.kind == OPEN_TEXT else lexeme.text[1:-1]
    if "\\" not in raw:
        return s.Text(lexeme.span, raw)
    value = _ESCAPE.sub(r"\1", raw)
    return s.Text(lexeme.span, value, raw if value != raw else "")


def date_of(lexeme: Lexeme) -> s.DateLit:
    """Return a day; its value is None where the calendar has no such day."""
    year, month, day = map(int, lexeme.text.split("-"))
    try:
        return s.DateLit(lexeme.span, lexeme.text, date(year, month, day))
    except ValueError:
        return s.DateLit(lexeme.span, lexeme.text, None)


def time_of(lexeme: Lexeme) -> s.TimeLit:
    """Return a place in a recording, in seconds."""
    seconds = 0
    for part in lexeme.text.split(":"):
        seconds = seconds * 60 + int(part)
    return s.TimeLit(lexeme.span, seconds)


class Checks:
    """Small things that cannot be right wherever they stand."""

    report: Report

    def with_unit(self, value: s.AmountLit | s.NumberLit) -> s.AmountLit:
        """Return the value; remark when neither it nor the end of its range has a unit."""
        amount = as_amount(value)
        if amount.tolerance is not None and amount.high is None:
            return amount  # `9 ±1 N·m` is told when it is read
        if amount.low.unit is None and (amount.high is None or amount.high.unit is None):
            number = amount.high.number if amount.high else amount.low.number
            self.report(
                number.span,
                f"The unit is missing after `{number.text}`.",
                "Write it behind the number, such as 9 N·m, 0.3 mm, 5 min, 2 turns.",
            )
        return amount

    def whole(self, number: s.NumberLit | None) -> None:
        """Remark a number that counts something and is not whole."""
        if number is not None and not number.text.isdigit():
            self.report(
                number.span,
                f"`{number.text}` is not a whole number.",
                "Count in whole numbers here.",
            )

    def day(self, day: Any) -> None:
        """Remark a day that is not in the calendar."""
        if isinstance(day, s.DateLit) and day.value is None:
            message = f"There is no day {day.text} in the calendar."
            self.report(day.span, message, _day_hint(day.text), rule="bad-date")

    def declared(self, name: s.Word | None, thing: bool = True) -> None:
        """Remark a name that would be read as a word of the language where it is used.

        Sections, measurements and the like are used in fewer places than things are.
        """
        words = reserved_words() if thing else _TAKEN
        if name is not None and name.text in words:
            self.report(
                name.span,
                f"`{name.text}` is a word of the language and cannot be a name.",
                f"Call it something longer, such as `{name.text}-part`.",
            )

    def _decimal_commas(self, kids: Kids) -> None:
        for left, comma, right in zip(kids, kids[1:], kids[2:], strict=False):
            if not (isinstance(comma, Lexeme) and isinstance(right, (s.NumberLit, s.AmountLit))):
                continue
            number = left if isinstance(left, s.NumberLit) else None
            if number is None or number.span.end != comma.span.start:
                continue
            if right.span.start == comma.span.end:
                end = right if isinstance(right, s.NumberLit) else right.low.number
                self.report(
                    number.span.to(end.span),
                    "A comma stands between two values; a decimal is written with a point.",
                    f"Write {number.text}.{end.text}, or for two values {number.text}, {end.text}.",
                    f"{number.text}.{end.text}",
                )


class Values(Checks):
    """The rules of the grammar that make names and values."""

    def ref(self, kids: Kids) -> s.Ref:
        first = kids[0]
        if len(kids) == 1:
            return s.Ref(first.span, first)
        age: Literal["", "new", "old"] = ""
        if isinstance(first, Lexeme):
            age = "new" if first.text == "new" else "old"
        name, *rest = pick_all(kids, s.Word)
        bracket = pick(kids, Bracket)
        return s.Ref(
            over(kids), name, bracket.parts if bracket else (), rest[0] if rest else None, age
        )

    def index(self, kids: Kids) -> Bracket:
        parts = tuple(kid for kid in kids if not isinstance(kid, Lexeme))
        for part in pick_all(parts, s.NumberLit):
            self.whole(part)
        return Bracket(over(kids), parts)

    def index_range(self, kids: Kids) -> s.IndexRange:
        self.whole(kids[0])
        self.whole(kids[2])
        return s.IndexRange(over(kids), kids[0], kids[2])

    def exact(self, kids: Kids) -> s.AmountLit | s.NumberLit:
        if len(kids) == 1:
            number: s.NumberLit = kids[0]
            return number
        if len(kids) == 2 and isinstance(kids[1], s.Word):
            span = over(kids)
            return s.AmountLit(span, s.QuantityLit(span, kids[0], kids[1]))
        low, high = _range(kids)
        tolerance, twin = pick(kids, s.ToleranceLit), pick(kids, s.AmountLit)
        amount = s.AmountLit(over(kids), low, high, tolerance, "", twin)
        if tolerance or twin:
            self._tolerated(amount)
        return amount

    def _tolerated(self, amount: s.AmountLit) -> None:
        """Remark `9 ±1 N·m`, `9 N·m ±1` and a pair without units."""
        if amount.tolerance and amount.tolerance.minus.unit is None:
            side = amount.tolerance.minus
            unit = amount.low.unit.text if amount.low.unit else "N·m"
            self.report(
                side.span,
                f"The unit of the tolerance is missing after `{side.number.text}`.",
                f"Write ±{side.number.text} {unit}, or a share: ±{side.number.text} %.",
            )
        elif amount.tolerance and amount.low.unit is None and amount.high is None:
            unit_word = amount.tolerance.minus.unit
            number = amount.low.number
            unit = unit_word.text if unit_word and unit_word.text != "%" else ""
            self.report(
                number.span,
                f"The unit is missing after `{number.text}`.",
                "Give value and tolerance a unit each: 9 N·m ±1 N·m",
                f"{number.text} {unit}" if unit else None,
            )
        elif amount.twin:
            self.with_unit(amount)

    def about(self, kids: Kids) -> s.AmountLit:
        return replace(self.with_unit(kids[1]), span=over(kids), qualifier="about")

    def qualified(self, kids: Kids) -> s.AmountLit:
        word: Literal["over", "under"] = "over" if kids[0].text == "over" else "under"
        return replace(self.with_unit(kids[1]), span=over(kids), qualifier=word)

    def twin(self, kids: Kids) -> s.AmountLit:
        inner = kids[1:-1]
        low, high = _range(inner)
        return self.with_unit(s.AmountLit(over(inner), low, high, pick(inner, s.ToleranceLit)))

    def tolerance(self, kids: Kids) -> s.ToleranceLit:
        sides = quantities(kids)
        return s.ToleranceLit(over(kids), sides[0], sides[-1])

    def fragment(self, kids: Kids) -> Any:
        return kids[0]

    def joiner(self, kids: Kids) -> Lexeme:
        last: Lexeme = kids[-1]
        return last

    def args(self, kids: Kids) -> Listing:
        items = tuple(kid for kid in kids if not isinstance(kid, Lexeme))
        either = any(isinstance(kid, Lexeme) and kid.kind == "OR" for kid in kids)
        if len(kids) > 2:
            self._decimal_commas(kids)
        for item in pick_all(items, s.DateLit):
            self.day(item)
        return Listing(over(kids), items, "or" if either else "and")

    operands = args
    models = args
    values = args

    def test(self, kids: Kids) -> s.Condition:
        if len(kids) == 1:
            return s.JudgedCondition(kids[0].span, kids[0])
        if kids[1].kind == "IS":
            return s.CheckCondition(over(kids), kids[0], kids[2])
        return s.HistoryCondition(over(kids), kids[0], kids[2])


def _day_hint(text: str) -> str:
    """Return how the day was probably meant: `text` is three numbers, but no day."""
    year, month, day = map(int, text.split("-"))
    if 1 <= month <= 12 and year and day > 28:
        last = monthrange(year, month)[1]
        return f"The last day of that month is {year:04}-{month:02}-{last:02}."
    if 1 <= day <= 12 < month <= 31:
        return f"Year, month, day: did you mean {year:04}-{day:02}-{month:02}?"
    return "Write a day as year-month-day: 2026-11-20"


def quantities(kids: Sequence[Any]) -> tuple[s.QuantityLit, ...]:
    """Return numbers with the units that follow them."""
    found: list[s.QuantityLit] = []
    for number, kid in enumerate(kids):
        if isinstance(kid, s.NumberLit):
            after = kids[number + 1] if number + 1 < len(kids) else None
            unit = after if isinstance(after, s.Word) else None
            found.append(s.QuantityLit(kid.span.to(unit.span) if unit else kid.span, kid, unit))
    return tuple(found)


def _range(kids: Sequence[Any]) -> tuple[s.QuantityLit, s.QuantityLit | None]:
    low, *high = quantities(kids)
    return low, high[0] if high else None
