"""The shapes of the derived lists. Each line carries the reasons it is there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from compiler.derive.schedule import Schedule
from compiler.derive.workings import Working
from compiler.model import Amount, Sequence, Stage
from compiler.trade.units import Quantity


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a line is on a list: the step that needs it and in which words."""

    step_id: str
    text: str


@dataclass(frozen=True, slots=True)
class ToolLine:
    """A tool to lay out.

    `key` is the crib's or the procedure's tool, or an aid; '' when nothing that is listed serves.
    `need` is the need in words ("5 mm hex key"), '' when the label says enough. `sizes` are the
    sizes needed out of a set, or the ends of a special tool, in words, ascending. `alternatives`
    are other tools' keys that would do as well (A or B).
    """

    key: str
    need: str
    label: str
    sizes: tuple[str, ...]
    count: int
    tag: str
    alternatives: tuple[str, ...]
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class PartLine:
    """A new part, fluid or consumable to bring.

    `amount` is given for fluids, `count` otherwise (0: as needed). The key of an item of a stack is
    that of its fastener and the item's name; any of its `sizes` may be wanted. `only_if` is the
    condition in words when it may not be needed.
    """

    key: str
    kind: Literal["part", "fastener", "fluid", "consumable", "stack-item", "spare"]
    label: str
    number: str
    formerly: tuple[str, ...]
    count: int
    amount: Amount | None
    only_if: str
    reasons: tuple[Reason, ...]
    sizes: tuple[Quantity, ...] = ()


@dataclass(frozen=True, slots=True)
class TorqueLine:
    """One fastener group that is tightened to a torque.

    `target` is the final torque; `low` and `high` its window in the same unit (None: no tolerance
    given). `second` is the target in the shop's second unit. `wrench` is the key of the crib's
    torque wrench, '' if none can. `drive_tool` says what turns the head ("10 mm socket"). `order`
    is that of one group, numbered as in `trade/patterns.py`. `setting` is what the wrench is set to
    when that is not `target` itself: when an adapter changes it, or for the middle of a window;
    `settings` are those of every stage and pass with an adapter, behind their torques.
    `working` is what the numbers come from. `apart` are torques on the way that the wrench does not
    show, each with the key of the wrench that does, '' for none. `with_running` is the sum of
    torque and running torque at least and at most, each with what an adapter makes of it.
    Where a visit takes another wrench than the sheet of the job names, `instead_of` is the key of
    that one, and `is_run_out` tells that its calibration has run out on the day.
    """

    key: str
    label: str
    designation: str
    count: int
    target: Amount
    low: Quantity | None
    high: Quantity | None
    second: Quantity | None
    stages: tuple[Stage, ...]
    sequence: Sequence
    order: tuple[int, ...]
    thread: str
    wrench: str
    drive_tool: str
    setting: Quantity | None
    from_house: bool
    left_hand: bool
    step_ids: tuple[str, ...]
    settings: tuple[tuple[Quantity, Quantity], ...] = ()
    working: Working | None = None
    apart: tuple[tuple[Quantity, str], ...] = ()
    with_running: tuple[tuple[Quantity, Quantity], ...] = ()
    instead_of: str = ""
    is_run_out: bool = False

    @property
    def factor(self) -> float | None:
        """Return by what the adapter multiplies every torque; None where it changes nothing."""
        levers = self.working.levers if self.working is not None else ()
        return levers[0].factor if levers else None


@dataclass(frozen=True, slots=True)
class TurnLine:
    """What turns one fastener group by hand: in words ("5 mm hex key"), and the tools chosen."""

    key: str
    need: str
    size: str
    tools: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TimeTotal:
    """Minutes: three points of the whole job, its expectation, and its spread.

    With it, how many steps say nothing and how many are timed; a repeat counts every round.
    """

    low: float
    likely: float
    high: float
    expected: float
    untimed_steps: int
    timed_steps: int = 0
    spread: float = 0.0


@dataclass(frozen=True, slots=True)
class Derived:
    """All that is worked out for one walk. Energies and roles are keys in the order of the work."""

    tools: tuple[ToolLine, ...]
    parts: tuple[PartLine, ...]
    torques: tuple[TorqueLine, ...]
    energies: tuple[str, ...]
    roles: tuple[str, ...]
    time: TimeTotal | None
    people: int
    turning: tuple[TurnLine, ...] = ()


@dataclass(frozen=True, slots=True)
class OnModel:
    """The torques of one job of a visit on one model, with the wrenches that are taken along."""

    job_id: str
    model: str
    torques: tuple[TorqueLine, ...]


@dataclass(frozen=True, slots=True)
class VisitLists:
    """What is taken along to a visit. Reasons name their step as `job-id: step-id`.

    Each tool stands once, chosen for all jobs together; supplies are added up. `time` is the sum of
    the jobs, None when one of them gives none. `people` is the most that any job needs.
    `on_models` has the torques of every job on every model that it may be on. `schedule` is the
    plan of the jobs for the crew; those of `open_times` say too little about how long they take and
    are planned with what they do say.
    """

    tools: tuple[ToolLine, ...]
    parts: tuple[PartLine, ...]
    torques: tuple[TorqueLine, ...]
    energies: tuple[str, ...]
    roles: tuple[str, ...]
    time: TimeTotal | None
    people: int
    on_models: tuple[OnModel, ...] = ()
    schedule: Schedule | None = None
    open_times: tuple[str, ...] = ()
