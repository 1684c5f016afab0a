"""The tools that a procedure needs against those that the crib and the procedure list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.checks.subject import Job, Subject
from compiler.derive import derive_visit
from compiler.derive.accuracy import accuracy_words
from compiler.derive.crib import has_size, is_run_out, measures_torque
from compiler.derive.doings import doings
from compiler.derive.lists import Reason
from compiler.derive.tightening import amount_words
from compiler.findings.model import Finding, Label
from compiler.model import AnyThing, Tool, Visit
from compiler.trade.units import format_quantity


def tool_not_in_shop(subject: Subject) -> Iterator[Finding]:
    """Find needs that no tool of the crib, the machine or the procedure serves.

    Without a shop file there is no crib to look in.
    """
    shop = subject.world.shop
    if shop is None:
        return
    for job in subject.jobs:
        # By the id a step is shown under: one of a repeat that is shown once stands for all rounds.
        spans = {doing.id: doing.node.step.span for doing in doings(job.walk, job.things)}
        for line in job.derived.tools:
            if line.key or not line.reasons:
                continue
            first = line.reasons[0]
            yield Finding(
                "tool-not-in-shop",
                spans[first.step_id],
                f"This step needs: {line.need or line.label} ({first.text}). "
                f"Nothing in the crib of {shop.name} serves.",
                hint="Add the tool to the shop file if it is there, or list it under `tools` in "
                f"the procedure and say where it comes from.{_at_hand(job, line.need)}",
            )


def _at_hand(job: Job, need: str) -> str:
    """Return what there is instead: torque wrenches, or a bit or socket that lacks its ratchet."""
    if not need.startswith("torque wrench"):
        return _lacks_ratchet(job, need)
    said = [
        f"{tool.name} {amount_words(tool.range)}, {accuracy_words(tool)}"
        for tool in job.things.values()
        if isinstance(tool, Tool) and measures_torque(tool) and tool.range is not None
    ]
    return f" There is: {'; '.join(said)}." if said else " There is no torque wrench yet."


_ON_A_RATCHET = (("spanner", "sockets"), ("hex key", "hex-bits"))
"""What turns the same head on a ratchet, by kind of tool (common practice, no source)."""


def _lacks_ratchet(job: Job, need: str) -> str:
    for kind, tools in _ON_A_RATCHET:
        size, found, _ = need.partition(f" {kind}")
        for tool in job.things.values() if found else ():
            if isinstance(tool, Tool) and tool.kind == tools and has_size(tool, size):
                square = f" of {format_quantity(tool.drive)}" if tool.drive is not None else ""
                return (
                    f" There is one of {size} among {tool.name}: it would do on a ratchet{square}."
                )
    return ""


def tool_not_used(subject: Subject) -> Iterator[Finding]:
    """Find tools that a procedure lists for itself and none of its steps needs, on any model."""
    jobs_of: dict[str, list[Job]] = {}
    for job in subject.jobs:
        jobs_of.setdefault(job.procedure.key, []).append(job)
    for key, jobs in jobs_of.items():
        used = {tool for job in jobs for tool in _used(job)}
        own = {t.key: t for j in jobs for t in j.things.values() if t.owner == key}
        for tool in own.values():
            if isinstance(tool, Tool) and tool.key not in used:
                yield Finding(
                    "tool-not-used",
                    tool.span,
                    f"{tool.name} is listed, but no step of {jobs[0].procedure.name} needs it.",
                    hint=f"Name it in a step (`with {tool.name}`), or take the line out.",
                )


def _used(job: Job) -> Iterator[str]:
    for line in job.derived.tools:
        yield line.key
        yield from line.alternatives
    for turn in job.derived.turning:
        yield from turn.tools
    for torque in job.derived.torques:
        yield torque.wrench


def out_of_calibration(subject: Subject) -> Iterator[Finding]:
    """Find tools that a visit takes along although their calibration has run out on its day.

    Others that serve and are in calibration were chosen first, so there are none. Procedures have
    no day; there the date is printed.
    """
    walks = {(job.procedure.key, job.model): job.walk for job in subject.jobs}
    derived = {(job.procedure.key, job.model): job.derived for job in subject.jobs}
    things = {key: thing for job in subject.jobs for key, thing in job.things.items()}
    for visit in subject.world.visits.values():
        # Most visits have none such in reach, and need not be chosen for twice.
        if any(is_run_out(thing, visit.day) for thing in things.values()):
            lists = derive_visit(subject.world, visit, walks, derived)
            for line in lists.tools:
                yield from _run_out(visit, things.get(line.key), line.reasons)


def _run_out(visit: Visit, tool: AnyThing | None, reasons: Sequence[Reason]) -> Iterator[Finding]:
    if not isinstance(tool, Tool) or not is_run_out(tool, visit.day) or not reasons:
        return
    day, until = visit.day, tool.calibrated_until
    if day is None or until is None:
        return
    jobs = {job.id: job for job in visit.jobs}
    needed = list(dict.fromkeys(reason.step_id.partition(": ")[0] for reason in reasons))
    tagged = f" ({tool.tag})" if tool.tag else ""
    yield Finding(
        "out-of-calibration",
        jobs[needed[0]].span,
        f"{tool.name}{tagged} is needed for {_and(needed)} on {day.isoformat()}, but it is "
        f"calibrated only until {until.isoformat()}.",
        labels=(Label(tool.span, f"{tool.name} is declared here"),),
        hint="Have it calibrated before the visit and write the new date, add another tool that "
        "serves and is in calibration, or move the visit to an earlier day.",
    )


def _and(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
