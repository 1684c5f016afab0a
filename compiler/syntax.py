"""What a file says, line by line: the syntax nodes. Nothing here is looked up or computed yet.

Every node is immutable and carries the exact span of its own text. `parse/build.py` makes these
from the tree of the grammar; `resolve/` turns them into the model.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal, TypeAlias

from compiler.source import Span

# --- Words and values -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Word:
    """A name or a key word as it stands in the file."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Text:
    """Text in double quotes; `value` is without the quotes and escapes.

    `raw` is what stands between the quotes when escapes make it differ from `value`, else ''. The
    text of a designation has no quotes: its span is the text itself.
    """

    span: Span
    value: str
    raw: str = ""


@dataclass(frozen=True, slots=True)
class NumberLit:
    """A number as written: `9`, `9.50`, `1/4`, `1 9/16`, `¼`, `-0.3`."""

    span: Span
    text: str

    @property
    def value(self) -> Fraction:
        """Return the exact value."""
        text = self.text.replace("\u2212", "-")
        sign = -1 if text.startswith("-") else 1
        whole = Fraction(0)
        for piece in text.lstrip("+-").split():
            if not piece[-1].isascii():
                exact = Fraction(unicodedata.numeric(piece[-1])).limit_denominator(100)
                whole += exact
                piece = piece[:-1]
            if piece:
                whole += Fraction(piece)
        return sign * whole


@dataclass(frozen=True, slots=True)
class QuantityLit:
    """A number with a unit (`unit` is None for a bare number in a range whose end has the unit)."""

    span: Span
    number: NumberLit
    unit: Word | None


@dataclass(frozen=True, slots=True)
class ToleranceLit:
    """`±10 %`, `±0.5 N·m`, or `+1 -0.5 N·m`; both sides are kept without their sign."""

    span: Span
    plus: QuantityLit
    minus: QuantityLit


@dataclass(frozen=True, slots=True)
class AmountLit:
    """A quantity or a range (`high` given), with tolerance, qualifier and printed twin."""

    span: Span
    low: QuantityLit
    high: QuantityLit | None = None
    tolerance: ToleranceLit | None = None
    qualifier: Literal["over", "under", "about", ""] = ""
    twin: AmountLit | None = None


@dataclass(frozen=True, slots=True)
class LimitLit:
    """A limit of a measurement. `relation` is in the words of the language.

    For `between` both `low` and `high` are given; otherwise only `low`. `about` is a bare amount,
    with its tolerance or range: `0.3 mm ±0.05 mm`, `1..2 mm` (then `low.high` is given).
    """

    span: Span
    relation: Literal["at most", "at least", "above", "below", "between", "about"]
    low: AmountLit
    high: AmountLit | None = None
    scope: Literal["", "each", "sum", "spread"] = ""


@dataclass(frozen=True, slots=True)
class IndexRange:
    """`1..4` inside brackets or after `in`."""

    span: Span
    first: NumberLit
    last: NumberLit


IndexPart: TypeAlias = Word | NumberLit | IndexRange


@dataclass(frozen=True, slots=True)
class Ref:
    """The use of a name: `seal`, `foot[1..2]`, `row.gap`; `age` for `new seal`, `old seal`."""

    span: Span
    name: Word
    index: tuple[IndexPart, ...] = ()
    field: Word | None = None
    age: Literal["", "new", "old"] = ""


@dataclass(frozen=True, slots=True)
class DateLit:
    """A day; `value` is None when the text is no day of the calendar (a finding says so)."""

    span: Span
    text: str
    value: date | None


@dataclass(frozen=True, slots=True)
class TimeLit:
    """A place in a recording, `1:12` or `1:02:03`, in whole seconds."""

    span: Span
    seconds: int


# --- Safety, pictures, and the other lines that hang under something --------------------------


@dataclass(frozen=True, slots=True)
class SafetyLine:
    """`warning crush "…" consequence "…" avoid "…"`."""

    span: Span
    signal: Word
    hazard: Word | None
    text: Text
    consequence: Text | None = None
    avoid: Text | None = None


@dataclass(frozen=True, slots=True)
class NoteLine:
    """`note "…"` or `why "…"`; lines of text under it are further texts."""

    span: Span
    kind: Literal["note", "why"]
    texts: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class WearLine:
    """`wear gloves, eye-protection`."""

    span: Span
    items: tuple[Word, ...]


@dataclass(frozen=True, slots=True)
class MarkLine:
    """`mark 1 coupling-guard at 32 %, 40 %`; the shares are of width and height."""

    span: Span
    number: NumberLit
    target: Ref | Text
    x: QuantityLit
    y: QuantityLit


@dataclass(frozen=True, slots=True)
class PictureLine:
    """`picture "path" "caption"` with its marks."""

    span: Span
    path: Text
    caption: Text | None
    marks: tuple[MarkLine, ...] = ()


@dataclass(frozen=True, slots=True)
class ClipLine:
    """`clip "path" from 1:12 to 1:40 "caption"`."""

    span: Span
    path: Text
    start: TimeLit
    end: TimeLit
    caption: Text | None


@dataclass(frozen=True, slots=True)
class TakesLine:
    """`takes 10 min` or `takes 5..20 min likely 10 min`."""

    span: Span
    amount: AmountLit
    likely: AmountLit | None = None


@dataclass(frozen=True, slots=True)
class PeopleLine:
    """`people 2`."""

    span: Span
    count: NumberLit


@dataclass(frozen=True, slots=True)
class HandlingLine:
    """`lifted 70..110 cm hands out 40 cm` under a step: how what it names is lifted there."""

    span: Span
    clauses: tuple[Clause, ...]


@dataclass(frozen=True, slots=True)
class OverrideLine:
    """`for TP-60 to 0.4 mm` under an action, or `for TP-60 torque 75 N·m` under a thing.

    Under a measurement it gives `limits`.
    """

    span: Span
    models: tuple[Word | Text, ...]
    phrases: tuple[Phrase, ...] = ()
    clauses: tuple[Clause, ...] = ()
    limits: tuple[LimitLit, ...] = ()


Attachment: TypeAlias = (
    SafetyLine
    | NoteLine
    | WearLine
    | PictureLine
    | ClipLine
    | TakesLine
    | PeopleLine
    | HandlingLine
    | OverrideLine
)

# --- Declarations -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of tightening.

    `kind`: `torque` (amount), `slacken`, `angle` (amount in deg or turns), `back-off` (amount),
    `next-hole` (amount = the most it may take, or None).
    """

    span: Span
    kind: Literal["torque", "slacken", "angle", "back-off", "next-hole"]
    amount: AmountLit | None = None


@dataclass(frozen=True, slots=True)
class Clause:
    """One clause of a declaration, `holds coupling-guard`. `key` is its first words, lower case.

    `args` are what follows, in order; which kinds a key takes is in `parse/clauses.py`.
    Where they are not plain: `count` takes a NumberLit or an IndexRange (`0..4 ×`); `thread` a Word
    (`dry`, `oiled`) or, for `thread with A`, a Ref; `only-for` Words and Texts; `order` and
    `rectangle` NumberLits; `sizes` and `positions` (across and down, in turn) QuantityLits, of
    which only the last needs a unit.
    Keys: mass, count, behind, on, guards, contains, at, renew, number, formerly, matched-with,
    made-to-fit, without, spare-for, only-for, holds, torque (args: Stage…), hand-tight, snug,
    running-torque, star, from-the-middle, circular, order, passes (args: AmountLit…),
    then-circular, thread, left-hand, counter-hold, across-flats, hex-key, locks, seals, circle,
    rectangle, positions, amount, in, marked, joins, carries, ends, range, sizes, drive, length,
    extends, accuracy, calibrated-until, tag, lifts, signs, facing, isolate-at, release, verify,
    restore, by.
    """

    span: Span
    key: str
    args: tuple[
        Ref | Word | Text | NumberLit | AmountLit | QuantityLit | IndexRange | DateLit | Stage,
        ...,
    ] = ()


@dataclass(frozen=True, slots=True)
class StackItem:
    """One item of the ordered stack on a fastener, from the head inwards."""

    span: Span
    name: Word
    label: Text | None
    clauses: tuple[Clause, ...] = ()


@dataclass(frozen=True, slots=True)
class State:
    """A state of a condition, `set by "pull the lever"`."""

    span: Span
    name: Word
    by: Text | None


ThingKind: TypeAlias = Literal[
    "energy",
    "condition",
    "place",
    "part",
    "fastener",
    "fluid",
    "connection",
    "tool",
    "consumable",
    "aid",
    "role",
]


@dataclass(frozen=True, slots=True)
class Thing:
    """One declared thing. `kind_word` is the kind inside the block (`electrical`, `torque-wrench`).

    `designation` is the raw text of a fastener's designation, for `trade/designation.py`.
    `index` is given for a set: `foot[1..4]`.
    """

    span: Span
    kind: ThingKind
    name: Word
    index: tuple[IndexPart, ...] = ()
    kind_word: Word | None = None
    label: Text | None = None
    designation: Text | None = None
    clauses: tuple[Clause, ...] = ()
    states: tuple[State, ...] = ()
    stack: tuple[StackItem, ...] = ()
    overrides: tuple[OverrideLine, ...] = ()
    attachments: tuple[Attachment, ...] = ()


Cell: TypeAlias = Text | Word | NumberLit | AmountLit


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table."""

    span: Span
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class TableDecl:
    """`table NAME` with a first line of column names."""

    span: Span
    name: Word
    columns: tuple[Word, ...]
    rows: tuple[Row, ...]


# --- Statements of a procedure ----------------------------------------------------------------

Operand: TypeAlias = Ref | Text | AmountLit | NumberLit


@dataclass(frozen=True, slots=True)
class Phrase:
    """What follows an action's things: `with A or B`, `to 3 mm`, `until "…"`, `clockwise`.

    `word` is the preposition or adverb as one text (`out of`, `counter-clockwise`); it is empty for
    a bare quantity. `joined` is `or` for alternatives, otherwise `and`. `end` belongs to `with`.
    """

    span: Span
    word: str
    operands: tuple[Operand, ...] = ()
    joined: Literal["and", "or"] = "and"
    end: Text | None = None


@dataclass(frozen=True, slots=True)
class CheckCondition:
    """`NAME is WORD`."""

    span: Span
    subject: Ref
    state: Word


@dataclass(frozen=True, slots=True)
class HistoryCondition:
    """`NAME was removed`."""

    span: Span
    subject: Ref
    deed: Word


@dataclass(frozen=True, slots=True)
class JudgedCondition:
    """A condition in text that the reader judges."""

    span: Span
    text: Text


Condition: TypeAlias = CheckCondition | HistoryCondition | JudgedCondition


@dataclass(frozen=True, slots=True)
class Trailer:
    """What stands at the end of a step's line. Every field may be missing."""

    name: Word | None = None
    only_for: tuple[Word | Text, ...] = ()
    only_if: Condition | None = None
    takes: TakesLine | None = None
    people: PeopleLine | None = None
    timer: QuantityLit | None = None
    recorded: bool = False
    by: Word | None = None


@dataclass(frozen=True, slots=True)
class Action:
    """`VERB things phrases`. `verb` may be any word; `resolve/` knows which mean something."""

    span: Span
    verb: Word
    targets: tuple[Operand, ...]
    phrases: tuple[Phrase, ...] = ()
    trailer: Trailer = Trailer()
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class ProseStep:
    """A step that is only prose."""

    span: Span
    text: Text
    trailer: Trailer = Trailer()
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class Follow:
    """`follow OTHER`, `follow OTHER way in`, `follow OTHER way back`."""

    span: Span
    target: Ref
    half: Literal["", "way in", "way back"] = ""
    trailer: Trailer = Trailer()
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class Refit:
    """`refit SECTION`, or `refit everything` (`target` None)."""

    span: Span
    target: Ref | None
    trailer: Trailer = Trailer()
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class Measure:
    """`measure NAME "…" with TOOL LIMITS`, and `by feel "…"`, `by eye`, pass and fail texts."""

    span: Span
    name: Word
    label: Text | None
    phrases: tuple[Phrase, ...] = ()
    limits: tuple[LimitLit, ...] = ()
    points: NumberLit | None = None
    grid: tuple[NumberLit, NumberLit] | None = None
    sense: Literal["", "feel", "eye", "ear"] = ""
    sense_text: Text | None = None
    passes: tuple[Text, ...] = ()
    fails: tuple[Text, ...] = ()
    trailer: Trailer = Trailer()
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """`ask NAME "…"` (yes or no, or `answers a, b`), `confirm [NAME] "…"`, `record NAME "…"`."""

    span: Span
    kind: Literal["ask", "confirm", "record"]
    name: Word | None
    text: Text
    answers: tuple[Word, ...] = ()
    trailer: Trailer = Trailer()
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class Sign:
    """`hold for ROLE "…"` (work waits) or `sign ROLE "…"`."""

    span: Span
    kind: Literal["hold", "sign"]
    role: Word
    text: Text | None
    trailer: Trailer = Trailer()
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class Stop:
    """`stop "…"`, or `hand over to ROLE "…"` (`role` given)."""

    span: Span
    role: Word | None
    text: Text | None
    trailer: Trailer = Trailer()
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class GoBack:
    """`go back to NAME`."""

    span: Span
    target: Word
    trailer: Trailer = Trailer()
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """`section NAME "Title"`; `way_back` marks the second half of a procedure."""

    span: Span
    name: Word | None
    title: Text | None
    body: tuple[Statement, ...]
    attachments: tuple[Attachment, ...] = ()
    way_back: bool = False


@dataclass(frozen=True, slots=True)
class RepeatTimes:
    """`repeat 4 times`."""

    span: Span
    count: NumberLit
    body: tuple[Statement, ...]
    shown: Literal["", "once", "each"] = ""
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class RepeatEach:
    """`repeat for each VARIABLE in …`: `source` is names, numbers or one range."""

    span: Span
    variable: Word
    source: tuple[Ref | NumberLit | IndexRange, ...]
    body: tuple[Statement, ...]
    shown: Literal["", "once", "each"] = ""
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class RepeatUntil:
    """`repeat until NAME is in at most 5 times`."""

    span: Span
    condition: Condition
    most: NumberLit | None
    body: tuple[Statement, ...]
    attachments: tuple[Attachment, ...] = ()


@dataclass(frozen=True, slots=True)
class Arm:
    """One arm of a branch; `condition` is None for `otherwise`."""

    span: Span
    condition: Condition | None
    body: tuple[Statement, ...]


@dataclass(frozen=True, slots=True)
class Branch:
    """`if … otherwise if … otherwise …`."""

    span: Span
    arms: tuple[Arm, ...]


@dataclass(frozen=True, slots=True)
class OnlyFor:
    """`only for TP-60` as a block."""

    span: Span
    models: tuple[Word | Text, ...]
    body: tuple[Statement, ...]


@dataclass(frozen=True, slots=True)
class Lane:
    """One person's part of work done side by side."""

    span: Span
    who: Text
    body: tuple[Statement, ...]


@dataclass(frozen=True, slots=True)
class SideBySide:
    """`side by side` with its lanes."""

    span: Span
    lanes: tuple[Lane, ...]


@dataclass(frozen=True, slots=True)
class LooseAttachment:
    """A safety message, picture, note, … that stands between steps: it belongs to what follows."""

    span: Span
    attachment: Attachment


Statement: TypeAlias = (
    Action
    | ProseStep
    | Follow
    | Refit
    | Measure
    | Question
    | Sign
    | Stop
    | GoBack
    | Section
    | RepeatTimes
    | RepeatEach
    | RepeatUntil
    | Branch
    | OnlyFor
    | SideBySide
    | LooseAttachment
)

# --- Files ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class HeadLine:
    """A line of a head whose arguments are plain.

    These are machine, models, location, author, approved, purpose, every, units, second-units,
    lift-limit, threads, date, crew, site, after, model, serial.

    `key` is its words joined by hyphens.
    """

    span: Span
    key: str
    args: tuple[Ref | Word | Text | NumberLit | AmountLit | DateLit, ...]


@dataclass(frozen=True, slots=True)
class RevisionLine:
    """`revision C 2026-11-20 "what changed"`."""

    span: Span
    revision: Word
    day: DateLit
    change: Text | None


@dataclass(frozen=True, slots=True)
class EndLine:
    """`needs`, `starts with` or `leaves`, then `NAME STATE`; a comma makes several of them.

    For a part in another place, `leaves A at P`, `state` is `at` and `place` is given.
    """

    span: Span
    key: Literal["needs", "starts", "leaves"]
    subject: Ref
    state: Word
    place: Ref | None = None


@dataclass(frozen=True, slots=True)
class BlockDecl:
    """`block NAME "Title"`: shared steps in a machine or shop file."""

    span: Span
    name: Word
    title: Text | None
    body: tuple[Statement, ...]


@dataclass(frozen=True, slots=True)
class HouseVerb:
    """`fettle like clean` in a shop file."""

    span: Span
    word: Word
    like: Word


@dataclass(frozen=True, slots=True)
class HouseTorque:
    """`M6 8.8 9 N·m` in a shop file: thread, class, torque."""

    span: Span
    designation: Text
    amount: AmountLit


@dataclass(frozen=True, slots=True)
class Rule:
    """One line of the shop's `rules`."""

    span: Span
    text: Text


@dataclass(frozen=True, slots=True)
class Job:
    """`do PROCEDURE on MACHINE` in a visit, with its lines (`model`, `serial`, `after`)."""

    span: Span
    procedure: Ref
    machine: Ref | None
    name: Word | None
    lines: tuple[HeadLine, ...] = ()


@dataclass(frozen=True, slots=True)
class File:
    """One whole file. Lists that a kind of file does not use are empty.

    `lost_words` are the words on lines that could not be read, so that later stages do not complain
    about names that are declared there.
    """

    span: Span
    kind: Literal["machine", "procedure", "shop", "visit"]
    name: Word
    title: Text | None
    head: tuple[HeadLine, ...] = ()
    revision: RevisionLine | None = None
    ends: tuple[EndLine, ...] = ()
    attachments: tuple[Attachment, ...] = ()
    things: tuple[Thing, ...] = ()
    tables: tuple[TableDecl, ...] = ()
    blocks: tuple[BlockDecl, ...] = ()
    body: tuple[Statement, ...] = ()
    jobs: tuple[Job, ...] = ()
    house_verbs: tuple[HouseVerb, ...] = ()
    house_torques: tuple[HouseTorque, ...] = ()
    rules: tuple[Rule, ...] = ()
    lost_words: frozenset[str] = frozenset()
