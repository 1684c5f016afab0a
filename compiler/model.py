"""The resolved model: what a machine is and what a procedure does, every name looked up.

Immutable, without lark or syntax types. A thing is known by its `key` (`transfer-pump/spacer`),
unique in the whole project; `name` is what the author wrote. Values that differ by model are
resolved: each `Variant` holds the things as they are on that one model.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, TypeAlias

from compiler.source import Span
from compiler.trade.designation import Designation
from compiler.trade.units import Quantity
from compiler.trade.verbs import Verb

# --- Values -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far a value may be off, both sides without sign; in the value's unit or in per cent."""

    plus: Quantity
    minus: Quantity


@dataclass(frozen=True, slots=True)
class Amount:
    """A quantity, or a range when `high` is given, as the author wrote it."""

    span: Span
    low: Quantity
    high: Quantity | None = None
    tolerance: Tolerance | None = None
    qualifier: Literal["over", "under", "about", ""] = ""
    twin: Amount | None = None


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit of a measurement; for `between` both ends are given."""

    span: Span
    relation: Literal["at most", "at least", "above", "below", "between", "about"]
    low: Amount
    high: Amount | None = None
    scope: Literal["", "each", "sum", "spread"] = ""

    @property
    def ends(self) -> frozenset[str]:
        """Return which ends it gives: `low`, `high`, or both."""
        one = {"at most": "high", "below": "high", "at least": "low", "above": "low"}
        return frozenset((one[self.relation],) if self.relation in one else ("low", "high"))


@dataclass(frozen=True, slots=True)
class Selection:
    """Some members of a thing: all of them, or those named. A loop variable is a `LoopUse`."""

    span: Span
    key: str
    members: tuple[str | LoopUse, ...] = ()
    age: Literal["", "new", "old"] = ""


@dataclass(frozen=True, slots=True)
class LoopUse:
    """The use of a loop variable where a member, a number or a thing is meant.

    `column` is given for a row of a table: `row.gap`.
    """

    span: Span
    variable: str
    column: str = ""


@dataclass(frozen=True, slots=True)
class Prose:
    """The author's text with links: `str`, a thing, or a quantity whose unit can be switched."""

    span: Span
    parts: tuple[str | Selection | LoopUse | Amount, ...]


@dataclass(frozen=True, slots=True)
class Duration:
    """Time a step takes, minutes; `low`, `high` given for a three-point estimate."""

    span: Span
    likely: float
    low: float | None = None
    high: float | None = None


# --- What hangs on things and steps -----------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Safety:
    """A safety message. `hazard` is a hazard word of `trade/safety.py` or ''."""

    span: Span
    signal: Literal["danger", "warning", "caution", "notice"]
    hazard: str
    text: Prose
    consequence: Prose | None
    avoid: Prose | None


@dataclass(frozen=True, slots=True)
class Mark:
    """A numbered mark; `x`, `y` are shares (0 to 1) from the top left corner."""

    span: Span
    number: int
    target: Selection | Prose
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture file, `path` relative to the compiled folder with forward slashes."""

    span: Span
    path: str
    caption: Prose | None
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Clip:
    """A piece of a recording, seconds from its start."""

    span: Span
    path: str
    start: int
    end: int
    caption: Prose | None


Grasp = Literal["good", "fair", "poor"]


@dataclass(frozen=True, slots=True)
class Handling:
    """How a step says that what it names is lifted by hand; None and "" where it says nothing.

    The fields are those of `Part`, which count where the step is silent.
    """

    span: Span
    lifted: Amount | None = None
    hands_out: Amount | None = None
    turned: Amount | None = None
    grasp: Literal["", "good", "fair"] = ""


@dataclass(frozen=True, slots=True)
class Extras:
    """What may hang under a thing or a step. `people` 0 means nothing was said.

    A way back that was worked out may have several `handling`, one of each step that it undoes.
    """

    safety: tuple[Safety, ...] = ()
    notes: tuple[Prose, ...] = ()
    whys: tuple[Prose, ...] = ()
    wear: tuple[str, ...] = ()
    pictures: tuple[Picture, ...] = ()
    clips: tuple[Clip, ...] = ()
    takes: Duration | None = None
    people: int = 0
    handling: tuple[Handling, ...] = ()


# --- Things -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """What every declared thing has.

    `members` are the names of a set's members in order (`("1", "2")`, `("left", "right")`), empty
    for a single thing. `count` is how many there are of each member (3 screws: 3). `owner` is the
    name of the file that declares it.
    """

    key: str
    name: str
    label: str
    span: Span
    owner: str
    members: tuple[str, ...] = ()
    count: int = 1
    number: str = ""
    formerly: tuple[str, ...] = ()
    renew: bool = False
    extras: Extras = Extras()

    @property
    def total(self) -> int:
        """Return how many there are in all."""
        return self.count * max(1, len(self.members))


@dataclass(frozen=True, slots=True, kw_only=True)
class Energy(Thing):
    """An energy that can hurt; `kind` is a word of `trade/safety.py`."""

    kind: str
    level: Amount | None = None
    text: Prose | None = None
    isolate_at: tuple[Prose, ...] = ()
    release: tuple[Prose, ...] = ()
    verify: tuple[Prose, ...] = ()
    restore: tuple[Prose, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition(Thing):
    """A condition of the machine; the first state is the normal one. `states` maps state to how."""

    states: tuple[tuple[str, Prose | None], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place(Thing):
    """A place a part can be at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part(Thing):
    """A part of the machine.

    `mass` is that of the part as it comes off, with all that is `on` it save what `without` names.
    How it is lifted by hand: `lifted` between which heights of the hands, `hands_out` how far they
    are in front of the ankles, `turned` the body, and how well the hands hold it.
    """

    mass: Amount | None = None
    without: tuple[Selection, ...] = ()
    behind: tuple[Selection, ...] = ()
    on: Selection | None = None
    guards: tuple[str, ...] = ()
    contains: tuple[str, ...] = ()
    at: Selection | None = None
    matched_with: tuple[Selection, ...] = ()
    made_to_fit: bool = False
    spare_for: Selection | None = None
    lifted: Amount | None = None
    hands_out: Amount | None = None
    turned: Amount | None = None
    grasp: Grasp = "poor"


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of tightening; see `syntax.Stage` for the kinds."""

    span: Span
    kind: Literal["torque", "slacken", "angle", "back-off", "next-hole"]
    amount: Amount | None = None


@dataclass(frozen=True, slots=True)
class Tightening:
    """How tight. `how` is `torque` (with `stages`), `hand-tight` or `snug`.

    `from_house` tells that the shop's table gave the value, because the fastener says nothing.
    """

    span: Span
    how: Literal["torque", "hand-tight", "snug"]
    stages: tuple[Stage, ...] = ()
    from_house: bool = False


@dataclass(frozen=True, slots=True)
class Sequence:
    """The order in a group: `pattern`, `given` order (numbers from 1), passes in per cent.

    `places` are where the fasteners sit, across and down in one scale, for the layout `given`.
    """

    pattern: Literal["star", "middle", "circular", "given", "any"]
    given: tuple[int, ...] = ()
    passes: tuple[float, ...] = ()
    then_circular: bool = False
    layout: Literal["circle", "rectangle", "given"] = "circle"
    rows: int = 0
    columns: int = 0
    stated: bool = False
    places: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class StackItem:
    """One item of a fastener's stack; `low` and `high` are how many, of any of the `sizes`."""

    span: Span
    name: str
    label: str
    low: int = 1
    high: int = 1
    facing: str = ""
    renew: bool = False
    number: str = ""
    formerly: tuple[str, ...] = ()
    sizes: tuple[Quantity, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener(Thing):
    """Anything that holds: screws, nuts, pins, rings, keys, clamps, plugs.

    `said_at` is where its standard is written, or its name where there is none.
    """

    designation: Designation
    said_at: Span
    holds: tuple[Selection, ...] = ()
    behind: tuple[Selection, ...] = ()
    tightening: Tightening | None = None
    running: Amount | None = None
    sequence: Sequence = Sequence("any")
    thread: Literal["", "dry", "oiled", "with"] = ""
    thread_with: str = ""
    left_hand: bool = False
    counter_hold: Selection | None = None
    locks: Selection | None = None
    seals: tuple[str, ...] = ()
    matched_with: tuple[Selection, ...] = ()
    stack: tuple[StackItem, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fluid(Thing):
    """Oil, grease, coolant, water that a part contains; `amount` a volume or mass."""

    amount: Amount | None = None
    within: Selection | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Connection(Thing):
    """A cable, hose or pipe."""

    kind: Literal["cable", "hose", "pipe"]
    marked: str = ""
    joins: tuple[Selection, ...] = ()
    carries: str = ""
    behind: tuple[Selection, ...] = ()
    contains: tuple[str, ...] = ()
    at: Selection | None = None
    length: Amount | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool(Thing):
    """A tool: `kind` is a word of `trade/tools.py` or `special`. Sizes in `size_unit`."""

    kind: str
    sizes: tuple[Quantity, ...] = ()
    range: Amount | None = None
    drive: Quantity | None = None
    length: Quantity | None = None
    extends: Quantity | None = None
    accuracy: Quantity | None = None
    calibrated_until: date | None = None
    tag: str = ""
    ends: tuple[str, ...] = ()
    lifts: Quantity | None = None
    at: Selection | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumable(Thing):
    """What is used up: grease, thread locker, cloths."""

    amount: Amount | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Aid(Thing):
    """What is put in for the work and must come out again."""

    at: Selection | None = None
    mass: Amount | None = None
    tag: str = ""
    lifts: Quantity | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Role(Thing):
    """Who may sign or must be called."""

    signs: bool = False


AnyThing: TypeAlias = (
    Energy
    | Condition
    | Place
    | Part
    | Fastener
    | Fluid
    | Connection
    | Tool
    | Consumable
    | Aid
    | Role
)


@dataclass(frozen=True, slots=True)
class Table:
    """A table to repeat over; a cell is text or an amount."""

    key: str
    name: str
    span: Span
    columns: tuple[str, ...]
    rows: tuple[tuple[str | Amount, ...], ...]


# --- Steps ------------------------------------------------------------------------------------

Operand: TypeAlias = Selection | LoopUse | Prose | Amount


@dataclass(frozen=True, slots=True)
class Phrase:
    """`with A or B`, `to 3 mm`, `until "…"`; see `syntax.Phrase`."""

    span: Span
    word: str
    operands: tuple[Operand, ...] = ()
    joined: Literal["and", "or"] = "and"
    end: str = ""


@dataclass(frozen=True, slots=True)
class StateIs:
    """`NAME is WORD`: a record of this job (`kind` `record`) or a condition's state."""

    span: Span
    kind: Literal["record", "condition"]
    subject: str
    state: str


@dataclass(frozen=True, slots=True)
class WasDone:
    """`NAME was removed` (or fitted, renewed) earlier in this job."""

    span: Span
    subject: Selection
    deed: Literal["removed", "fitted", "renewed"]


@dataclass(frozen=True, slots=True)
class Judged:
    """A condition that the reader judges."""

    span: Span
    text: Prose


@dataclass(frozen=True, slots=True)
class StillSo:
    """`NAME is still off`: what a way back finds not undone yet. No author writes it.

    `state` is the word for it: off, aside, open, supported, out, slackened, disconnected, isolated,
    in, drained, away, or the state of a condition.
    """

    span: Span
    subject: Selection
    state: str


When: TypeAlias = StateIs | WasDone | StillSo | Judged


@dataclass(frozen=True, slots=True, kw_only=True)
class StepBase:
    """What every step has. `id` stays the same when other steps are inserted before it."""

    span: Span
    id: str
    extras: Extras = Extras()
    only_for: tuple[str, ...] = ()
    only_if: When | None = None
    timer: Quantity | None = None
    recorded: bool = False
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ActionStep(StepBase):
    """An action with a verb. `overrides` gives other phrases for some models."""

    verb: Verb
    targets: tuple[Operand, ...]
    phrases: tuple[Phrase, ...] = ()
    overrides: tuple[tuple[tuple[str, ...], tuple[Phrase, ...]], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ProseStep(StepBase):
    """A step that is only prose."""

    text: Prose


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowStep(StepBase):
    """Do another procedure or block here. `target` is its key in `World.procedures`."""

    target: str
    half: Literal["", "way in", "way back"] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RefitStep(StepBase):
    """`refit SECTION` (`section` is its id) or `refit everything` ('')."""

    section: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureStep(StepBase):
    """A measurement, recorded under `name`.

    `overrides` gives other phrases and limits for some models; in a walk-through they are put in.
    """

    name: str
    label: str
    phrases: tuple[Phrase, ...] = ()
    limits: tuple[Limit, ...] = ()
    points: int = 0
    grid: tuple[int, int] | None = None
    sense: Literal["", "feel", "eye", "ear"] = ""
    sense_text: Prose | None = None
    passes: tuple[Prose, ...] = ()
    fails: tuple[Prose, ...] = ()
    overrides: tuple[tuple[tuple[str, ...], tuple[Phrase, ...], tuple[Limit, ...]], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionStep(StepBase):
    """A question (`ask`), something to confirm, or something to write down (`record`)."""

    kind: Literal["ask", "confirm", "record"]
    name: str
    text: Prose
    answers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SignStep(StepBase):
    """A hold point (`hold`) or a signature (`sign`); `role` is a role's key."""

    kind: Literal["hold", "sign"]
    role: str
    text: Prose | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StopStep(StepBase):
    """The work ends here, or is handed over to `role`."""

    role: str
    text: Prose | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GoBackStep(StepBase):
    """Back to the step or section with the id `target`."""

    target: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionBlock:
    """A part of the work; `name` '' when the author gave none."""

    span: Span
    id: str
    name: str
    title: str
    body: tuple[Block, ...]
    extras: Extras = Extras()
    way_back: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RepeatBlock:
    """A repeat.

    `bindings` are the values of `variable`, one for each time: a member or number (`str`), a thing
    (`Selection`), or a row (column -> value). `repeat N times` has N bindings of ''.
    For `until`, `until` is the condition and `most` the limit (0: none was given).
    """

    span: Span
    id: str
    variable: str
    bindings: tuple[str | Selection | tuple[tuple[str, str | Amount], ...], ...]
    body: tuple[Block, ...]
    shown: Literal["once", "each"] = "each"
    until: When | None = None
    most: int = 0
    set_key: str = ""
    extras: Extras = Extras()


@dataclass(frozen=True, slots=True, kw_only=True)
class BranchBlock:
    """`if … otherwise …`: arms of (condition or None, body)."""

    span: Span
    id: str
    arms: tuple[tuple[When | None, tuple[Block, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OnlyForBlock:
    """Steps for some models only."""

    span: Span
    id: str
    models: tuple[str, ...]
    body: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LanesBlock:
    """Work done side by side: (who, steps)."""

    span: Span
    id: str
    lanes: tuple[tuple[str, tuple[Block, ...]], ...]


Step: TypeAlias = (
    ActionStep
    | ProseStep
    | FollowStep
    | RefitStep
    | MeasureStep
    | QuestionStep
    | SignStep
    | StopStep
    | GoBackStep
)
Block: TypeAlias = Step | SectionBlock | RepeatBlock | BranchBlock | OnlyForBlock | LanesBlock

# --- Machines, procedures, shop, visits -------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Variant:
    """Everything a procedure or machine can speak of on one model (`model` '' when there is none).

    `things` maps keys to things: its own, its machine's and the shop's. `scope` maps the names the
    author may use to keys.
    """

    model: str
    things: Mapping[str, AnyThing]
    scope: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine; `variants` has one entry for each model, or one with the model ''."""

    name: str
    title: str
    span: Span
    models: tuple[str, ...]
    location: str
    variants: tuple[Variant, ...]
    extras: Extras = Extras()


@dataclass(frozen=True, slots=True)
class Revision:
    """A revision letter with its day and what changed."""

    span: Span
    name: str
    day: date | None
    change: str


@dataclass(frozen=True, slots=True)
class EndState:
    """`starts with …`, `leaves …`, `needs …`: a thing (or members of it) and its state.

    For a part in another place `state` is `at`, and `place` is given.
    """

    span: Span
    kind: Literal["needs", "starts", "leaves"]
    subject: Selection
    state: str
    place: Selection | None = None


@dataclass(frozen=True, slots=True)
class Procedure:
    """A procedure, or a shared block (`is_block`). `machine` '' when it stands alone.

    `variants` are the models it serves. `file` is the source path it came from.
    """

    key: str
    name: str
    title: str
    span: Span
    file: str
    machine: str
    variants: tuple[Variant, ...]
    revision: Revision | None = None
    author: str = ""
    approved: str = ""
    purpose: str = ""
    every: Amount | None = None
    people: int = 0
    takes: Duration | None = None
    ends: tuple[EndState, ...] = ()
    body: tuple[Block, ...] = ()
    extras: Extras = Extras()
    is_block: bool = False


@dataclass(frozen=True, slots=True)
class Shop:
    """The shop file: crib, units, limits, house rules; `written` are the rules with their place.

    `threads` is the state of threads that say none; `torques` is the house table.
    """

    name: str
    title: str
    span: Span
    things: Mapping[str, AnyThing]
    units: tuple[str, ...] = ()
    second_units: tuple[str, ...] = ()
    lift_limit: Quantity | None = None
    site: str = ""
    rules: tuple[str, ...] = ()
    written: tuple[Prose, ...] = ()
    verbs: Mapping[str, Verb] = field(default_factory=dict)
    threads: Literal["", "dry", "oiled"] = ""
    torques: tuple[tuple[Designation, Amount], ...] = ()


@dataclass(frozen=True, slots=True)
class Job:
    """One procedure of a visit."""

    span: Span
    id: str
    procedure: str
    machine: str
    model: str = ""
    serial: str = ""
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Visit:
    """Several procedures done in one stop."""

    name: str
    title: str
    span: Span
    day: date | None
    crew: int
    jobs: tuple[Job, ...]
    extras: Extras = Extras()


@dataclass(frozen=True, slots=True)
class World:
    """The whole compiled folder. Mappings are in the order of their names."""

    machines: Mapping[str, Machine]
    procedures: Mapping[str, Procedure]
    visits: Mapping[str, Visit]
    shop: Shop | None
    tables: Mapping[str, Table] = field(default_factory=dict)
