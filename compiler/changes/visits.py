"""Compares the visits of two issues: day, crew, jobs and their order, and what goes along."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.changes.lines import line_texts, safety_changes, text_changes, word_change
from compiler.changes.model import Change, Deed, VisitChanges
from compiler.changes.pairs import moved, paired
from compiler.changes.rows import Told, supply_changes, tool_changes
from compiler.document.model import JobView, VisitPage
from compiler.wording.changing import PLACES, WHOLE_VISIT, job_place, job_said, quoted


def visits_compared(old: Sequence[VisitPage], new: Sequence[VisitPage]) -> Iterator[VisitChanges]:
    """Yield the visits that are new, gone or planned otherwise, in the order of their names.

    What changed in a procedure that a visit does is told there.
    """
    before, after = ({one.id: one for one in visits} for visits in (old, new))
    for name in sorted(before.keys() | after.keys()):
        was, now = before.get(name), after.get(name)
        shown = now or was
        assert shown is not None
        changes = _changes(was, now)
        if changes:
            yield VisitChanges(name, shown.title, shown.day, changes)


def _changes(old: VisitPage | None, new: VisitPage | None) -> tuple[Change, ...]:
    if old is not None and new is not None:
        return () if old.digest == new.digest else tuple(_compared(old, new))
    shown = new or old
    assert shown is not None
    deed: Deed = "new" if old is None else "gone"
    text = f"the visit is {deed}: {quoted(shown.title)}"
    jobs = tuple(f"{job.number}  {_said(job)}" for job in shown.jobs)
    return (Change("visit", deed, WHOLE_VISIT, text, details=jobs),)


def _compared(old: VisitPage, new: VisitPage) -> Iterator[Change]:
    values = (
        ("title", old.title, new.title),
        ("day", old.day, new.day),
        ("crew", str(old.crew or ""), str(new.crew or "")),
    )
    for label, was, now in values:
        yield from word_change("visit", WHOLE_VISIT, label, was, now)
    yield from _jobs(old.jobs, new.jobs)
    yield from safety_changes(WHOLE_VISIT, old.safety, new.safety)
    wear = [[one.text for one in page.wear] for page in (old, new)]
    yield from text_changes("wear", PLACES["wear"], "equipment", wear[0], wear[1])
    told: Told = []
    yield from tool_changes(old.tools, new.tools, told)
    yield from supply_changes(old.supplies, new.supplies, told)
    yield from word_change("time", PLACES["time"], "all jobs", old.time_text, new.time_text)
    plans = [page.plan.text if page.plan is not None else "" for page in (old, new)]
    yield from word_change("time", PLACES["time"], "plan", plans[0], plans[1])
    for label, one, other in (("note", old.notes, new.notes), ("reason", old.whys, new.whys)):
        yield from text_changes("note", WHOLE_VISIT, label, line_texts(one), line_texts(other))


def _jobs(old: Sequence[JobView], new: Sequence[JobView]) -> Iterator[Change]:
    pairs = paired(
        old,
        new,
        lambda j: (j.procedure.id, j.machine_title, j.model, j.serial),
        lambda j: (j.procedure.id, j.machine_title, j.model),
        lambda j: j.procedure.id,
    )
    both = [(one, other) for one, other in pairs if one is not None and other is not None]
    shifted = {both[at][1].number for at in moved([one.number for one, _ in both])}
    numbers = {one.number: other.number for one, other in both}
    for before, after in pairs:
        if after is None and before is not None:
            where = job_place(before.number, 0)
            text = f"gone: {_said(before)}"
            yield Change("job", "gone", where, text, _said(before), "")
        elif before is None and after is not None:
            text = f"new: {_said(after)}"
            yield Change("job", "new", job_place(after.number, 0), text, "", _said(after))
        elif before is not None and after is not None:
            yield from _job(before, after, after.number in shifted, numbers)


def _job(
    before: JobView, after: JobView, is_moved: bool, numbers: dict[int, int]
) -> Iterator[Change]:
    """Yield what is different in one job; `numbers` are those of the jobs now, by those then."""
    where = job_place(after.number, before.number)
    if is_moved:
        was, now = str(before.number), str(after.number)
        yield Change("job", "moved", where, f"moved: {_said(after)}", was, now)
    if _said(before) != _said(after):
        was, now = _said(before), _said(after)
        yield Change("job", "changed", where, f"{was} → {now}", was, now)
    # A job that this one waited for and that is gone is told as gone.
    waited = tuple(sorted(numbers[one] for one in before.after if one in numbers))
    if waited != after.after:
        was, now = (", ".join(map(str, jobs)) for jobs in (waited, after.after))
        yield from word_change("job", where, "after job", was, now)


def _said(job: JobView) -> str:
    return job_said(job.procedure.title, job.machine_title, job.model, job.serial)
