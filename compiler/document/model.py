"""What a reader sees, independent of page or paper. Emitters know only this.

All texts are final words (made by `wording/`); nothing here has to be looked up or decided again.
One `Document` serves all models of a procedure: a step that is not the same on all of them stands
once for each group of models (`models`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from compiler.wording.text import (
    Inline,
    Line,
    Link,
    Measure,
    Plain,
    Strong,
    plain_text,
)

__all__ = [
    "ArmView",
    "Bolt",
    "BoltDiagram",
    "Bounds",
    "BranchView",
    "ClipView",
    "Document",
    "EnergyView",
    "FastenerRow",
    "Field",
    "Inline",
    "IssueView",
    "JobView",
    "LaneView",
    "LanesView",
    "Library",
    "Line",
    "Link",
    "MachinePage",
    "Measure",
    "NodeView",
    "OtherRow",
    "PartRow",
    "PictureMark",
    "PictureView",
    "Plain",
    "ProcedureRow",
    "RepeatView",
    "RevisionView",
    "SafetyPanel",
    "SectionView",
    "SinceView",
    "StepView",
    "Strong",
    "SupplyView",
    "ToolPage",
    "ToolView",
    "TorqueRow",
    "VisitPage",
    "WearView",
    "WhyView",
    "WorkingView",
    "plain_text",
]

# --- Pieces of a step -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SafetyPanel:
    """A safety message: `sign` is an ISO 7010 id, `hazard` the hazard in words; '' if none."""

    signal: Literal["danger", "warning", "caution", "notice"]
    hazard: str
    sign: str
    text: Line
    consequence: Line
    avoid: Line


@dataclass(frozen=True, slots=True)
class PictureMark:
    """A numbered mark; x and y are shares (0 to 1) from the top left corner."""

    number: int
    text: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class PictureView:
    """A picture; `path` is relative to the compiled folder, `alt` is for who cannot see it."""

    path: str
    caption: Line
    alt: str
    marks: tuple[PictureMark, ...]


@dataclass(frozen=True, slots=True)
class ClipView:
    """A piece of a recording, in seconds."""

    path: str
    start: int
    end: int
    caption: Line


@dataclass(frozen=True, slots=True)
class Bolt:
    """One bolt of a diagram: its number, and where it stands in the drawing, from the top left."""

    number: int
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Stroke:
    """An arrow of a diagram: its line, and the corners of its head as SVG writes them."""

    x1: float
    y1: float
    x2: float
    y2: float
    head: str


@dataclass(frozen=True, slots=True)
class BoltDiagram:
    """A tightening sequence to look at: bolts, the order of numbers, and the passes in words.

    The drawing is `width` × `height`, a bolt's circle has `radius`. `groups` is the order in pieces
    that are not parted at the end of a line; `strokes` are arrows along its beginning, `ring` those
    of a last round. `times` is how many groups are tightened like this, one after the other.
    """

    title: str
    bolts: tuple[Bolt, ...]
    order: tuple[int, ...]
    passes: tuple[str, ...]
    alt: str
    width: float = 200.0
    height: float = 200.0
    radius: float = 15.0
    groups: tuple[tuple[int, ...], ...] = ()
    strokes: tuple[Stroke, ...] = ()
    ring: tuple[Stroke, ...] = ()
    times: int = 1


@dataclass(frozen=True, slots=True)
class Bounds:
    """Limits as decimal texts, '' when there is none; inclusive unless `…_open`."""

    low: str = ""
    high: str = ""
    low_open: bool = False
    high_open: bool = False


@dataclass(frozen=True, slots=True)
class Field:
    """Something the reader enters.

    `kind`: `number` (with unit and limits), `choice` (`choices`), `text`, `yes-no`, `torque` (what
    was reached, one a bolt), `sign` (name and initials). `low`/`high` are limits of each reading in
    `unit` as decimal texts, '' when there is none; they are inclusive unless `low_open`/`high_open`
    says that the limit itself is out. `sums` and `spreads` are limits of all readings together
    (largest less smallest for a spread). `limit_text` and `scope_texts` say all of them in words;
    `second_limit` says the first in the other unit, '' when there is none.
    `count` is how many readings; `items` names the rounds of a repeat that is shown once, each with
    `count` readings of its own (empty: one round). `pass_choices` are the choices that are good.
    `optional` marks what may be left empty: a torque that the author did not ask to record.
    """

    id: str
    kind: Literal["number", "choice", "text", "yes-no", "torque", "sign"]
    label: str
    unit: str = ""
    second_unit: str = ""
    low: str = ""
    high: str = ""
    low_open: bool = False
    high_open: bool = False
    limit_text: str = ""
    second_limit: str = ""
    scope_texts: tuple[str, ...] = ()
    sums: Bounds | None = None
    spreads: Bounds | None = None
    count: int = 1
    items: tuple[str, ...] = ()
    grid: tuple[int, int] | None = None
    choices: tuple[str, ...] = ()
    pass_choices: tuple[str, ...] = ()
    role: str = ""
    optional: bool = False


@dataclass(frozen=True, slots=True)
class StepView:
    """One step.

    `number` is for people ("2.3"), `id` for records. `lines` are the instructions in order; when
    there are several they are lettered. `from_text` says where a derived or followed step comes
    from ("worked out from step 1.2", "from: Open the pump"). `source` is the place in the author's
    file, "file:line". `models` is empty when the step is for all models of the document.
    `condition` is a reader's condition for the step ("Only if the bush is worn").
    `altered` and `taken_out` are those of a `SinceView`, for this as for other pieces.
    """

    id: str
    number: str
    lines: tuple[Line, ...]
    models: tuple[str, ...] = ()
    condition: Line = ()
    safety: tuple[SafetyPanel, ...] = ()
    wear: tuple[str, ...] = ()
    notes: tuple[Line, ...] = ()
    whys: tuple[Line, ...] = ()
    pictures: tuple[PictureView, ...] = ()
    clips: tuple[ClipView, ...] = ()
    diagrams: tuple[BoltDiagram, ...] = ()
    fields: tuple[Field, ...] = ()
    tools: tuple[str, ...] = ()
    time_text: str = ""
    people: int = 0
    timer_seconds: int = 0
    timer_text: str = ""
    by: str = ""
    from_text: str = ""
    source: str = ""
    kind: Literal["do", "check", "hold", "stop", "go-back"] = "do"
    go_to: str = ""
    altered: bool = False
    taken_out: str = ""


@dataclass(frozen=True, slots=True)
class SectionView:
    """A titled part; `number` "2". `level` 1 is the outermost."""

    id: str
    number: str
    title: str
    level: int
    nodes: tuple[NodeView, ...]
    models: tuple[str, ...] = ()
    safety: tuple[SafetyPanel, ...] = ()
    wear: tuple[str, ...] = ()
    notes: tuple[Line, ...] = ()
    whys: tuple[Line, ...] = ()
    pictures: tuple[PictureView, ...] = ()
    clips: tuple[ClipView, ...] = ()
    from_text: str = ""
    altered: bool = False
    taken_out: str = ""


@dataclass(frozen=True, slots=True)
class RepeatView:
    """Steps done several times. `heading` in words ("For each levelling foot, 1 to 4:").

    Shown once: `items` names the rounds ("foot 1"), `nodes` is the one body. Shown one after the
    other: `items` is empty and each of `nodes` is a section, one a round. Until a measurement is
    in limits: `until` is True, `nodes` is the body, `most` how often at most (0: no limit given).
    """

    id: str
    heading: Line
    items: tuple[str, ...]
    nodes: tuple[NodeView, ...]
    models: tuple[str, ...] = ()
    until: bool = False
    most: int = 0
    safety: tuple[SafetyPanel, ...] = ()
    notes: tuple[Line, ...] = ()
    whys: tuple[Line, ...] = ()
    pictures: tuple[PictureView, ...] = ()
    altered: bool = False
    taken_out: str = ""


@dataclass(frozen=True, slots=True)
class ArmView:
    """One arm of a branch.

    `field` (a field's id) and `answers` let a page open it by itself; '' when the reader judges.
    `answers` are values of the field (a choice, `yes`, `no`) or verdicts on its readings (`in`,
    `out`, `above`, `below`). `otherwise` marks the arm taken when no other one is.
    """

    heading: Line
    nodes: tuple[NodeView, ...]
    field: str = ""
    answers: tuple[str, ...] = ()
    otherwise: bool = False


@dataclass(frozen=True, slots=True)
class BranchView:
    """A branch."""

    id: str
    arms: tuple[ArmView, ...]
    models: tuple[str, ...] = ()
    altered: bool = False
    taken_out: str = ""


@dataclass(frozen=True, slots=True)
class LaneView:
    """One person's part of work side by side."""

    who: str
    nodes: tuple[NodeView, ...]


@dataclass(frozen=True, slots=True)
class LanesView:
    """Work side by side."""

    id: str
    lanes: tuple[LaneView, ...]
    models: tuple[str, ...] = ()
    altered: bool = False
    taken_out: str = ""


NodeView: TypeAlias = StepView | SectionView | RepeatView | BranchView | LanesView

# --- What stands before the work --------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class WearView:
    """Protective equipment: in words, with the ISO 7010 id or ''."""

    word: str
    text: str
    sign: str


@dataclass(frozen=True, slots=True)
class EnergyView:
    """An energy to isolate, as a row: what, where, how it is let out and proved.

    `anchor` is the place on the machine's page that links to the energy lead to. `models` are those
    that have it like this, () for all.
    """

    name: str
    kind: str
    level: Line
    device: tuple[Line, ...]
    release: tuple[Line, ...]
    verify: tuple[Line, ...]
    anchor: str = ""
    models: tuple[str, ...] = ()
    altered: bool = False


@dataclass(frozen=True, slots=True)
class WhyView:
    """Why a line is on a list: words, and the step it comes from; on a visit the job, too."""

    text: str
    step_id: str
    step_number: str
    job: str = ""


@dataclass(frozen=True, slots=True)
class ToolView:
    """A tool to lay out; `anchor` is the tool's page name ('' when it has none)."""

    text: str
    detail: str
    tag: str
    count: int
    anchor: str
    missing: bool
    models: tuple[str, ...]
    whys: tuple[WhyView, ...]
    altered: bool = False


@dataclass(frozen=True, slots=True)
class SupplyView:
    """A part, fluid or consumable to bring; `quantity` in words ("2", "2.4 L", "as needed")."""

    kind: Literal["part", "fluid", "consumable"]
    text: str
    number: str
    quantity: str
    condition: str
    models: tuple[str, ...]
    whys: tuple[WhyView, ...]
    altered: bool = False


@dataclass(frozen=True, slots=True)
class WorkingView:
    """How one number came about: what it is, its formula with the numbers in it, the source."""

    label: str
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class TorqueRow:
    """A row of the torque table. Texts carry their unit; `window` is None without a tolerance.

    `workings` tell how its numbers were worked out, in the order of the reckoning.
    """

    fastener: str
    name: str
    designation: str
    count: int
    target: Measure
    window: Measure | None
    stages: str
    sequence: str
    order: tuple[int, ...]
    thread: str
    wrench: str
    drive: str
    setting: Measure | None
    remarks: tuple[str, ...]
    models: tuple[str, ...]
    step_numbers: tuple[str, ...]
    workings: tuple[WorkingView, ...] = ()
    altered: bool = False


@dataclass(frozen=True, slots=True)
class LiftRow:
    """A part that is lifted by hand, what it weighs, and how its weight limit was worked out.

    `step_numbers` are given where it is lifted in several ways.
    """

    part: str
    mass: str
    models: tuple[str, ...]
    workings: tuple[WorkingView, ...]
    step_numbers: tuple[str, ...] = ()
    altered: bool = False


@dataclass(frozen=True, slots=True)
class RevisionView:
    """Revision, its day as ISO date, what changed."""

    name: str
    day: str
    change: str


@dataclass(frozen=True, slots=True)
class IssueView:
    """A revision that was issued: its day, the content mark of its prints, and what changed in it.

    `is_issued` is False for the present one as long as it is not in the list as it is.
    """

    revision: str
    day: str
    mark: str
    is_issued: bool = True
    change: str = ""


@dataclass(frozen=True, slots=True)
class SinceView:
    """What is different from the issue before: what has a bar at the margin.

    `parts` names what has its bar as a whole: `title`, `facts`, `needs` …, and lists of which rows
    are gone: `tools`, `torques` … `text` tells all of it in words, `taken_out` what stood at the
    end of the work. On the pieces of the document `altered` asks for a bar, and `taken_out` tells
    what stood before the piece.
    """

    revision: str
    day: str
    text: str
    parts: tuple[str, ...] = ()
    taken_out: str = ""


@dataclass(frozen=True, slots=True)
class Document:
    """One procedure, ready to be shown. `id` is the procedure's name.

    `issues` are the issues on the list beside the procedures, in their order, and the present
    revision; empty without such a list. `since` is None where no earlier issue is known.

    Ids of steps are unique in it, except that a step which differs between models stands once for
    each group of models with the same id and number; the groups never overlap.
    """

    id: str
    title: str
    machine_id: str
    machine_title: str
    location: str
    models: tuple[str, ...]
    revision: RevisionView | None
    author: str
    approved: str
    purpose: str
    every: str
    people: int
    time_text: str
    time_note: str
    needs: tuple[Line, ...]
    leaves: tuple[Line, ...]
    wear: tuple[WearView, ...]
    safety: tuple[SafetyPanel, ...]
    energies: tuple[EnergyView, ...]
    notes: tuple[Line, ...]
    pictures: tuple[PictureView, ...]
    clips: tuple[ClipView, ...]
    tools: tuple[ToolView, ...]
    supplies: tuple[SupplyView, ...]
    torques: tuple[TorqueRow, ...]
    body: tuple[NodeView, ...]
    signatures: tuple[Field, ...]
    follows: tuple[tuple[str, str], ...]
    followed_by: tuple[tuple[str, str], ...]
    rules: tuple[str, ...]
    source_file: str
    digest: str
    shop_title: str
    lifts: tuple[LiftRow, ...] = ()
    issues: tuple[IssueView, ...] = ()
    since: SinceView | None = None


# --- The other pages --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part on a machine's page; `models` are those that have it, () for all."""

    anchor: str
    label: str
    name: str
    count: int
    mass: str
    number: str
    renew: bool
    facts: tuple[Line, ...]
    models: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FastenerRow:
    """A fastener on a machine's page; `models` are those that have it, () for all."""

    anchor: str
    label: str
    name: str
    designation: str
    count: int
    tool: str
    torque: str
    facts: tuple[Line, ...]
    models: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OtherRow:
    """Anything else on a machine's page: a condition, fluid, connection, place, tool or aid."""

    anchor: str
    text: Line
    models: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ProcedureRow:
    """A procedure in a list. `tools` are anchors of the tools it needs; `words` feed the search."""

    id: str
    title: str
    machine_id: str
    machine_title: str
    models: tuple[str, ...]
    revision: str
    day: str
    time_text: str
    people: int
    steps: int
    tools: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class MachinePage:
    """A machine: what it is, what can hurt, its parts and fasteners, its procedures."""

    id: str
    title: str
    location: str
    models: tuple[str, ...]
    wear: tuple[WearView, ...]
    safety: tuple[SafetyPanel, ...]
    pictures: tuple[PictureView, ...]
    energies: tuple[EnergyView, ...]
    parts: tuple[PartRow, ...]
    fasteners: tuple[FastenerRow, ...]
    others: tuple[tuple[str, tuple[OtherRow, ...]], ...]
    procedures: tuple[ProcedureRow, ...]


@dataclass(frozen=True, slots=True)
class ToolPage:
    """A tool of the crib and where it is needed: (procedure row, reasons)."""

    id: str
    title: str
    kind: str
    facts: tuple[tuple[str, str], ...]
    uses: tuple[tuple[ProcedureRow, tuple[WhyView, ...]], ...]


@dataclass(frozen=True, slots=True)
class JobView:
    """One job of a visit."""

    number: int
    procedure: ProcedureRow
    machine_title: str
    model: str
    serial: str
    after: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PlanMark:
    """A moment along a plan: its words, and where it stands, 0 at the start and 1 at the end."""

    text: str
    left: float


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One job of a plan; `left` and `width` are shares of the whole, `decides`: on the chain."""

    number: int
    title: str
    starts: str
    takes: str
    people: int
    decides: bool
    left: float
    width: float


@dataclass(frozen=True, slots=True)
class PlanView:
    """When the jobs of a visit are done: how long it takes, a row a job, what to know about it."""

    text: str
    rows: tuple[PlanRow, ...]
    marks: tuple[PlanMark, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class VisitPage:
    """A visit: its jobs and all that has to be taken along, each line with where it is needed.

    `safety`, `notes`, `whys`, `pictures` and `clips` are what is said of the whole visit; `wear` is
    that of the visit and of all of its jobs.
    """

    id: str
    title: str
    day: str
    crew: int
    jobs: tuple[JobView, ...]
    time_text: str
    wear: tuple[WearView, ...]
    tools: tuple[ToolView, ...]
    supplies: tuple[SupplyView, ...]
    torques: tuple[TorqueRow, ...]
    notes: tuple[Line, ...]
    rules: tuple[str, ...]
    digest: str
    shop_title: str
    safety: tuple[SafetyPanel, ...] = ()
    whys: tuple[Line, ...] = ()
    pictures: tuple[PictureView, ...] = ()
    clips: tuple[ClipView, ...] = ()
    plan: PlanView | None = None


@dataclass(frozen=True, slots=True)
class Library:
    """Everything to be published from one folder, sorted by id.

    `site` is the address that the pages are found at, '' when the shop tells none.
    """

    title: str
    documents: tuple[Document, ...]
    machines: tuple[MachinePage, ...]
    tools: tuple[ToolPage, ...]
    visits: tuple[VisitPage, ...]
    rows: tuple[ProcedureRow, ...]
    site: str = ""
