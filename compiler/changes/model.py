"""What a comparison gives: one entry a procedure, one line a change."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

Subject: TypeAlias = Literal[
    "procedure",
    "revision",
    "head",
    "safety",
    "isolation",
    "wear",
    "torque",
    "step",
    "limits",
    "entry",
    "tool",
    "part",
    "time",
    "people",
    "note",
    "picture",
    "rest",
    "visit",
    "job",
]
"""What a change is about. `entry` is what the reader writes down, without the limits of it."""

Deed: TypeAlias = Literal["new", "gone", "changed", "moved"]


@dataclass(frozen=True, slots=True)
class Change:
    """One change. `where` is its place in words ("Step 2.4"), `text` what is different there.

    `before` and `after` are what stood there and what stands there now, '' for nothing. `step` is
    the id of the step it is in, '' when it is in none. `details` are lines that belong to it: the
    steps of a new section, what a new step warns of.
    """

    subject: Subject
    deed: Deed
    where: str
    text: str
    before: str = ""
    after: str = ""
    step: str = ""
    details: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ProcedureChanges:
    """The changes of one procedure, the weighty ones first.

    `through` names followed procedures that were changed as well: what is told of them is not told
    again. `followed_by` are the procedures that follow this one, over others too, as it stands now
    (before, when it is gone); `visits` are those that do it or one of these.
    `revision_before` and `revision_after` are '' when it is new or gone. `not_raised` says that the
    content is another one under the same revision.
    """

    procedure: str
    title: str
    revision_before: str
    revision_after: str
    not_raised: bool
    changes: tuple[Change, ...]
    through: tuple[str, ...] = ()
    followed_by: tuple[str, ...] = ()
    visits: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class VisitChanges:
    """What is planned otherwise for one visit; `day` is its day now (then, when it is gone)."""

    visit: str
    title: str
    day: str
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A procedure that could not be compared: on the side `old` or `new` an error is in its way."""

    procedure: str
    side: Literal["old", "new"]


@dataclass(frozen=True, slots=True)
class Changes:
    """All of two issues; `old` and `new` are what they were asked for by.

    Procedures stand in the order of their names. `same` is how many did not change. `visits` are
    those that are planned otherwise; none where something is left out, as a visit needs all of its
    jobs.
    """

    old: str
    new: str
    procedures: tuple[ProcedureChanges, ...]
    left_out: tuple[LeftOut, ...] = ()
    same: int = 0
    visits: tuple[VisitChanges, ...] = ()
