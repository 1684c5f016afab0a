"""The plan of a visit as a chart and as rows: which job when, and which of them decide the end."""

from __future__ import annotations

from collections.abc import Mapping

from compiler.derive.lists import VisitLists
from compiler.derive.schedule import Schedule, Slot
from compiler.document.model import JobView, PlanMark, PlanRow, PlanView
from compiler.wording.english import listed
from compiler.wording.times import plan_notes, plan_start, plan_text
from compiler.wording.values import minutes_text

_STEPS = (5, 10, 15, 30, 60, 120, 240, 480, 960)
_MOST_MARKS = 6


def plan_view(lists: VisitLists, jobs: Mapping[str, JobView]) -> PlanView | None:
    """Return the plan of a visit's jobs, by job id; None where there is nothing to plan.

    A single job, or jobs of which none says how long it takes, make no plan.
    """
    schedule = lists.schedule
    if schedule is None or not schedule.length or len(jobs) < 2:
        return None
    slots = [slot for slot in schedule.slots if slot.id in jobs]
    rows = [_row(schedule, slot, jobs[slot.id], slot.id in lists.open_times) for slot in slots]
    return PlanView(
        text=plan_text(schedule, bool(lists.open_times)),
        rows=tuple(sorted(rows, key=lambda row: (row.left, row.number))),
        marks=_marks(schedule.length),
        notes=plan_notes(
            schedule,
            chain=_numbers(schedule.chain, jobs),
            path=_numbers(schedule.path, jobs),
            open_times=_numbers(lists.open_times, jobs),
            too_big=_numbers(schedule.too_big, jobs),
        ),
    )


def _row(schedule: Schedule, slot: Slot, job: JobView, is_open: bool) -> PlanRow:
    lasts = slot.end - slot.start
    takes = minutes_text(lasts) if lasts else "–"
    return PlanRow(
        number=job.number,
        title=job.procedure.title,
        starts=plan_start(slot.start),
        takes=f"{takes} or more" if is_open and lasts else takes,
        people=slot.people,
        decides=slot.decides,
        left=round(slot.start / schedule.length, 4),
        width=round(lasts / schedule.length, 4),
    )


def _marks(length: float) -> tuple[PlanMark, ...]:
    """Return round moments along the plan, few enough to be read on a phone."""
    step = next((step for step in _STEPS if length / step <= _MOST_MARKS), _STEPS[-1])
    while length / step > _MOST_MARKS:
        step *= 2
    count = int(length // step) + 1
    moments = [n * step for n in range(count)]
    return tuple(PlanMark(minutes_text(at) if at else "0", round(at / length, 4)) for at in moments)


def _numbers(ids: tuple[str, ...], jobs: Mapping[str, JobView]) -> str:
    return listed([str(jobs[id].number) for id in ids if id in jobs])
