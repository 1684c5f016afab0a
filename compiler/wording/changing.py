"""The words in which a change is told: what it is about, what was there, what is there now."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from compiler.wording.english import listed
from compiler.wording.phrases import LABELS

TITLE = "What changed"
WHOLE_JOB = "Whole job"
WHOLE_VISIT = "Whole visit"
START_OF = "at the start"

PLACES: Mapping[str, str] = MappingProxyType(
    {
        "revision": "Revision",
        "isolation": "Isolation",
        "wear": "Protective equipment",
        "torque": "Torque",
        "tool": "Tool",
        "part": "Part",
        "time": "Time",
        "people": "People",
        "rest": "Other",
    }
)
"""Where a change is that is in no step, by what it is about."""


def quoted(text: str) -> str:
    """Return words of the author in quotation marks."""
    return f"“{text}”"


def from_to(label: str, before: str, after: str) -> str:
    """Return `label: before → after`; what is not there on one side is said to be new or gone."""
    if not before:
        return f"{label}: now {after}"
    return f"{label}: {before} → {after}" if after else f"{label}: no longer {before}"


def only_for(models: Sequence[str]) -> str:
    """Return ` (only TP-60)`, '' for all models."""
    return f" (only {listed(models)})" if models else ""


def for_models(models: Sequence[str]) -> str:
    """Return `for TP-60`, or `for all models`."""
    return f"for {listed(models)}" if models else "for all models"


def step_place(kind: str, number: str, was: str) -> str:
    """Return `Step 2.4`, with the number on an old print where that was another one."""
    place = f"{kind} {number}".rstrip()
    return f"{place} (was {was})" if was and was != number else place


def job_place(number: int, was: int) -> str:
    """Return `Job 3 (was 2)`; `was` is 0 for a job that is new or gone."""
    return step_place("Job", str(number), str(was) if was else "")


def job_said(title: str, machine: str, model: str, serial: str) -> str:
    """Return what is done on what: `Change the filter, Juice press, JP-2, machine number 7`."""
    number = f"{LABELS.machine_serial.lower()} {serial}" if serial else ""
    return ", ".join(filter(None, (title, machine, model, number)))


def of_visit(title: str) -> str:
    """Return the head of what changed in a visit."""
    return f"{LABELS.visit}: {title}"


def raise_it(revision: str) -> str:
    """Return the remark on content that changed under a revision that did not."""
    return f"The revision is still {revision}: raise it before this is printed."


NOTHING = "Nothing changed."


def compared(old: str, new: str) -> str:
    """Return what was compared, in the words of who asked."""
    return f"From {old} to {new}"


def revisions(before: str, after: str) -> str:
    """Return `revision E → F`, '' for a procedure without one."""
    if before == after:
        return f"revision {after}" if after else ""
    return f"revision {before or 'none'} → {after or 'none'}"


def goes_through(names: Sequence[str]) -> str:
    """Return what is told of followed procedures and goes for this one as well."""
    return f"It follows {listed(names)}: what changed there has changed here."


def affected(followers: Sequence[str], visits: Sequence[str]) -> tuple[str, ...]:
    """Return who else is affected: procedures that follow this one, visits that do it."""
    said: list[str] = []
    if followers:
        said.append(f"Followed by: {', '.join(followers)}")
    if visits:
        said.append(f"Done on the {'visits' if len(visits) > 1 else 'visit'}: {', '.join(visits)}")
    return tuple(said)


def not_compared(procedure: str, side: str) -> str:
    """Return that a procedure could not be compared, and why."""
    return f"{procedure} was not compared: there are errors in its way in {side}."


def summed_up(changed: int, same: int, visits: int = 0) -> str:
    """Return how many procedures changed and how many did not, and how many visits did."""
    said = _procedures(changed, same)
    if not visits:
        return said
    of_visits = f"{visits} {'visit' if visits == 1 else 'visits'} changed."
    return f"{said.removeprefix(NOTHING).strip()} {of_visits}".strip()


def _procedures(changed: int, same: int) -> str:
    if not changed and not same:
        return "There is no procedure on either side."
    word = "procedure" if changed == 1 else "procedures"
    if not changed:
        return f"{NOTHING} {same} {'procedure says' if same == 1 else 'procedures say'} the same."
    rest = f", {same} did not" if same else ""
    return f"{changed} {word} changed{rest}."
