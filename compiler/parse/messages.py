"""Says in shop language what could not be read, where, and what to try."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Sequence

from compiler.findings.model import Finding, Fix, Label
from compiler.parse import examples
from compiler.parse.advice import Advice, advise
from compiler.parse.clauses import CLAUSES
from compiler.parse.indent import Line, Trouble
from compiler.parse.indent_words import INDENTATION, RULES_OF_INDENTATION
from compiler.parse.lexer import ODD, Lexeme
from compiler.parse.reader import Reading, Slip
from compiler.parse.remarks import Remark
from compiler.parse.table import load_table
from compiler.parse.words import what_could_stand
from compiler.source import Span
from compiler.trade.verbs import VERBS

MOST_OF_A_KIND = 50
"""So many messages of one kind are enough for one file."""

_LONG = 40
_INCHES = re.compile(r'(?P<number>[0-9/]+) *["\u201d]')
_DECLARED = re.compile(
    r'^[^\S\r\n]+(?P<name>[^\W\d_][\w-]*)(?:\[[^\]\r\n]*\])?[^\S\r\n]+"(?P<label>[^"\r\n]{1,80})"',
    re.MULTILINE,
)
_TABLE = re.compile(r"table(?![\w-])")
_KINDS = ("machine", "procedure", "shop", "visit")


class Messages:
    """Makes findings of one text."""

    def __init__(self, text: str, path: str) -> None:
        self._text = text
        self._path = path

    # --- Files -----------------------------------------------------------------------------------

    def too_large(self, size: int, most: int) -> Finding:
        """Say that a file is too big to be one of steps."""
        return self._at(
            "file-too-large",
            0,
            0,
            f"This file is too big to be read: {size / 1048576:.1f} MB.",
            f"Split it: one procedure can `follow` another. {most // 1048576} MB can be read.",
        )

    def binary(self, at: int) -> Finding:
        """Say that a file is no text."""
        message = "This is no text file: it holds characters that are no text."
        return self._at("not-text", at, at + 1, message, "Save it as plain text (UTF-8).")

    def not_utf8(self, data: bytes, at: int) -> Finding:
        """Say that the bytes of a file are no UTF-8."""
        if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
            message = "This file was saved as UTF-16."
        else:
            message = "From here on this is not UTF-8 text."
        hint = 'In the editor choose "Save as" or "Save with encoding", and there UTF-8.'
        return self._at("not-text", at, at + 1, message, hint)

    def empty(self) -> Finding:
        """Say that nothing is in a file."""
        hint = f"Begin with what the file describes: {examples.FIRST_LINE}"
        return self._at("not-understood", 0, 0, "There is nothing in this file.", hint)

    # --- Indentation -----------------------------------------------------------------------------

    def of_indentation(self, troubles: Sequence[Trouble]) -> Iterator[Finding]:
        """Yield what is wrong with the indentation."""
        for trouble in troubles[:MOST_OF_A_KIND]:
            rule = RULES_OF_INDENTATION.get(trouble.slip, "indentation")
            message, hint = INDENTATION[trouble.slip]
            if trouble.slip == "tab" and trouble.lines > 1:
                message = f"{message} So are {trouble.lines - 1} lines more."
            yield self._at(rule, trouble.start, trouble.end, message, hint)

    # --- Lines -----------------------------------------------------------------------------------

    def of_reading(self, reading: Reading) -> Iterator[Finding]:
        """Yield what could not be read, and what could but cannot be right."""
        open_texts = [self._open_text(span) for span in reading.open_texts[:MOST_OF_A_KIND]]
        yield from open_texts
        for slip in reading.slips:
            # How far in a line with a tab stands is a guess, so what comes of it is noise.
            if not (slip.kind in ("nested", "parent") and self._has_odd_margin(slip.line)):
                yield self._slip(slip)
        for remark in reading.remarks[:MOST_OF_A_KIND]:
            if not any(_overlap(remark.span, found.span) for found in open_texts):
                yield self.of_remark(remark)

    def _has_odd_margin(self, line: Line) -> bool:
        start = max(self._text.rfind("\n", 0, line.start), self._text.rfind("\r", 0, line.start))
        return bool(self._text[start + 1 : line.start].strip(" "))

    def of_remark(self, remark: Remark) -> Finding:
        """Return a remark as a finding."""
        fix = None if remark.replacement is None else Fix(remark.span, remark.replacement)
        labels = (Label(remark.first, "said here already"),) if remark.first else ()
        return Finding(remark.rule, remark.span, remark.message, labels, remark.hint, fix)

    def _open_text(self, span: Span) -> Finding:
        line = self._text.rfind("\n", 0, span.start) + 1
        inches = _INCHES.match(self._text, self._back_over_number(line, span.start), span.end)
        if inches:
            number = inches["number"]
            where = Span(span.file, inches.start(), inches.end())
            return Finding(
                "unclosed-quote",
                where,
                "The sign for inches would begin a text here.",
                hint=f"Write inches as a word: {number} in",
                fix=Fix(where, f"{number} in "),
            )
        return Finding(
            "unclosed-quote",
            span,
            "This text has no closing quote.",
            hint='Put a double quote where the text ends, on this line; inside it a quote is \\".',
            fix=Fix(Span(span.file, span.end, span.end), '"'),
        )

    def _back_over_number(self, line: int, at: int) -> int:
        while at > line and self._text[at - 1] in "0123456789/ ":
            at -= 1
        while self._text[at] == " ":
            at += 1
        return at

    def _slip(self, slip: Slip) -> Finding:
        if slip.kind == "too-many":
            return self._of(
                slip, "The rest of this file was not read.", "Mend what is above first."
            )
        if slip.kind == "parent":
            return self._parent_slip(slip)
        if slip.kind == "nested":
            return self._nested(slip)
        if slip.kind == "first":
            return self._advice(slip) or self._first(slip)
        return (
            self._misspelt_opener(slip)
            or self._advice(slip)
            or self._label(slip)
            or self._misspelt(slip)
            or self._advice(slip, names=True)
            or self._stray(slip)
            or self._plain(slip)
        )

    def _advice(self, slip: Slip, names: bool = False) -> Finding | None:
        line, start = self._line(slip.line), slip.line.start
        met = slip.met.span
        if names:
            before = slip.before[-1:]
            if slip.met.kind != "NAME" or not before or before[0].kind != "NAME":
                return None
            if _is_second_action(slip):
                return self._second_action(slip)
        place = "first" if slip.kind == "first" else ""
        if slip.parent and _TABLE.match(self._text, slip.parent.start):
            place = "table"
        advice = advise(line, met.start - start, met.end - start, place, slip.could, names)
        return self._of_advice(advice, start) if advice else None

    def _second_action(self, slip: Slip) -> Finding:
        verb = slip.before[-1]
        return Finding(
            "not-understood",
            verb.span.to(slip.met.span),
            "A line holds one action, and here a second one seems to begin.",
            hint=f"Begin a line of its own with `{verb.text}`; a name of two words gets a hyphen.",
        )

    def _of_advice(self, advice: Advice, start: int) -> Finding:
        span = Span(self._path, start + advice.start, start + advice.end)
        fix = None if advice.replacement is None else Fix(span, advice.replacement)
        return Finding("not-understood", span, advice.message, hint=advice.hint, fix=fix)

    def _first(self, slip: Slip) -> Finding:
        hint = f"Begin with what the file describes: {examples.FIRST_LINE}"
        word = self._line(slip.line).split()[0]
        near = _nearest(word, _KINDS)
        if near and word not in _KINDS:
            where = Span(self._path, slip.line.start, slip.line.start + len(word))
            message = f"A file cannot begin with `{_short(word)}`."
            return Finding(
                "not-understood", where, message, hint=f"Write: {near}", fix=Fix(where, near)
            )
        if word in _KINDS:
            return self._plain(slip, hint=f"Begin like this: {examples.FIRST_LINE}")
        message = (
            f"A file begins with one of the words {', '.join(_KINDS[:-1])} or {_KINDS[-1]}, "
            f"not with {_said(slip.met)}."
        )
        return self._of(slip, message, hint)

    def _nested(self, slip: Slip) -> Finding:
        above = self._line(slip.parent) if slip.parent else ""
        message = f"Nothing can stand below the line `{_short(above)}`."
        hint = "Put it in line with the one above, or give that line what it still lacks."
        return self._of(slip, message, hint)

    def _parent_slip(self, slip: Slip) -> Finding:
        line = self._line(slip.line)
        word = line.split()[0]
        where = Span(self._path, slip.line.start, slip.line.start + len(word))
        advice = advise(line, 0, len(line))
        if advice:
            return self._of_advice(advice, slip.line.start)
        near = examples.BLOCK_WORDS.get(word) or _nearest(word, _openers())
        if near:
            message = f"No block is called `{_short(word)}`."
            return Finding(
                "not-understood", where, message, hint=f"Write: {near}", fix=Fix(where, near)
            )
        return Finding(
            "not-understood",
            where,
            f"`{_short(word)}` begins no block, but lines are indented below it.",
            hint="Use a block such as `parts`, `fasteners`, `section`, `repeat` or `if`.",
        )

    def _misspelt_opener(self, slip: Slip) -> Finding | None:
        """Return a finding when the line begins with nearly a word of the language."""
        first = slip.before[0] if slip.before else None
        if first is None or first.kind != "VERB" or first.text in VERBS:
            return None
        near = _nearest(first.text, _openers())
        if near == "takes" and slip.met.kind != "NUMBER":
            return None  # `take off the cover` has nothing to do with a time
        return self._nearly(first, near) if near and near != first.text else None

    def _label(self, slip: Slip) -> Finding | None:
        """Return a finding when a thing is called by what people call it, not by its name."""
        before = slip.before[-1] if slip.before else None
        if before is None or before.kind != "NAME" or slip.met.kind != "NAME":
            return None
        rest = self._text[before.span.start : slip.line.end].casefold()
        for found in _DECLARED.finditer(self._text):
            name, label = found["name"], found["label"]
            if " " not in label or not rest.startswith(label.casefold()):
                continue
            if rest[len(label) : len(label) + 1].strip(" ,\0"):
                continue
            where = Span(self._path, before.span.start, before.span.start + len(label))
            joined = "-".join(label.split())
            return Finding(
                "not-understood",
                where,
                f"Things are called by their names, and the “{label}” has the name {name}.",
                hint=f"Did you mean {name}? Names are one word, joined with hyphens: {joined}.",
                fix=Fix(where, name),
            )
        return None

    def _misspelt(self, slip: Slip) -> Finding | None:
        """Return a finding when the word met is nearly one that could stand there."""
        word = slip.met.text
        if slip.kind != "word" or len(word) < 4 or not word[0].isalpha():
            return None
        texts = load_table().terminals
        could = [texts[t][1] for t in slip.could if t in texts and texts[t][0]]
        near = _nearest(word, sorted(text for text in could if text[0].isalpha()))
        after_name = bool(slip.before) and slip.before[-1].kind == "NAME"
        if near and after_name and near[0] != word[0].lower():
            # Rather a name of two words: `outlet elbow` has nothing to do with `below`.
            return None
        return self._nearly(slip.met, near) if near and near != word else None

    def _nearly(self, lexeme: Lexeme, near: str) -> Finding:
        message = f"`{_short(lexeme.text)}` is not understood here."
        if near == lexeme.text.lower():
            message = "The words of the language are written in small letters."
        fix = Fix(lexeme.span, near)
        return Finding("not-understood", lexeme.span, message, hint=f"Write: {near}", fix=fix)

    def _stray(self, slip: Slip) -> Finding | None:
        """Return a finding for a word that begins lines elsewhere, or a step below a step."""
        if slip.before or slip.kind != "word":
            return None
        word = " ".join(slip.met.text.split())
        home = examples.HOMES.get(word)
        if home:
            return self._of(slip, f"`{word}` cannot stand here.", home)
        if word in VERBS and slip.parent and "VERB" not in slip.could:
            above = _short(self._line(slip.parent))
            message = f"A step cannot stand below the line `{above}`."
            return self._of(slip, message, "Put it in line with the one above, or in a section.")
        return None

    def _plain(self, slip: Slip, hint: str = "") -> Finding:
        """Say what was met and what could stand there."""
        could = _what_a_clause_takes(slip) or what_could_stand(slip.could)
        after = f"After {_said(slip.before[-1])}" if slip.before else "Here"
        hint = hint or self._example(slip)
        if slip.kind == "end" or slip.met.kind == "LINE_END":
            message = f"The line ends too early. {after} could stand: {could}."
            if slip.before and slip.before[-1].kind == "COMMA":
                message = "After the comma something is missing."
                hint = "Leave the comma out, or go on in the next line, indented further."
            span = slip.before[-1].span if slip.before else slip.met.span
            return Finding("not-understood", span, message, hint=hint)
        message = f"{_said(slip.met)} is not understood here."
        if slip.met.kind == ODD:
            message = f"The sign {_said(slip.met)} has no meaning here."
        if could:
            message = f"{message} {after} could stand: {could}."
        return self._of(slip, message, hint)

    def _example(self, slip: Slip) -> str:
        """Return an example of such a line, clause or block."""
        first = " ".join(slip.before[0].text.split()) if slip.before else ""
        if first in ("repeat", "if", "otherwise if"):
            return f"Write a line like this: {examples.LINES[first]}"
        for lexeme in reversed(slip.before[1:]):
            words = " ".join(lexeme.text.split())
            if words in examples.CLAUSES and lexeme.kind not in ("NAME", "TEXT"):
                return f"Write, for example: {examples.CLAUSES[words]}"
        if first in examples.LINES and slip.before[0].kind not in ("NAME", "VERB"):
            return f"Write a line like this: {examples.LINES[first]}"
        if slip.parent:
            above = self._line(slip.parent)
            for words, example in examples.UNDER.items():
                if above == words or above.startswith(f"{words} "):
                    return f"Write a line like this: {example}"
        if slip.kind == "end":
            return "Write what is missing, or leave out what stands at the end."
        if "LINE_END" in slip.could:
            return 'Leave it out, or say it on a line below: note "…"'
        return "Begin the line with a verb such as `remove`, or put all of it in quotes."

    def _line(self, line: Line) -> str:
        return self._text[line.start : line.end]

    def _of(self, slip: Slip, message: str, hint: str) -> Finding:
        return Finding("not-understood", slip.met.span, message, hint=hint)

    def _at(self, rule: str, start: int, end: int, message: str, hint: str) -> Finding:
        return Finding(rule, Span(self._path, start, end), message, hint=hint)


def _overlap(one: Span, other: Span) -> bool:
    return one.start < other.end and other.start < one.end


def _is_second_action(slip: Slip) -> bool:
    """Tell `remove cap and clean seat` from two names side by side."""
    if slip.met.kind != "NAME" or len(slip.before) < 3:
        return False
    joiner, verb = slip.before[-2:]
    return joiner.kind in ("AND", "COMMA") and verb.kind == "NAME" and verb.text in VERBS


def _what_a_clause_takes(slip: Slip) -> str:
    """Return what a clause takes, right after its key word; any kind of value is read there."""
    rule = CLAUSES.get("-".join(slip.before[-1].text.split())) if slip.before else None
    anything = {"NAME", "TEXT", "NUMBER", "DATE"} <= slip.could
    return rule.what if rule and anything else ""


def _openers() -> list[str]:
    """Return the words that may begin a line."""
    return [*examples.LINES, *examples.UNDER, "otherwise", "way back", "rules", "verbs"]


def _nearest(word: str, words: Sequence[str]) -> str | None:
    near = difflib.get_close_matches(word.lower()[:_LONG], words, n=1, cutoff=0.8)
    return near[0] if near else None


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= _LONG else f"{text[: _LONG - 1]}…"


def _said(lexeme: Lexeme) -> str:
    if lexeme.kind == "LINE_END":
        return "the end of the line"
    return f"`{_short(lexeme.text)}`"
