"""The time of a whole job in words."""

from __future__ import annotations

from typing import Protocol

from compiler.wording.values import minutes_text


class Total(Protocol):
    """Minutes of a job: least, most, expected, spread; how many steps say nothing, how many do."""

    @property
    def low(self) -> float:
        """Return the least."""

    @property
    def high(self) -> float:
        """Return the most."""

    @property
    def expected(self) -> float:
        """Return the expectation."""

    @property
    def untimed_steps(self) -> int:
        """Return how many steps give no time."""

    @property
    def timed_steps(self) -> int:
        """Return how many steps give one."""

    @property
    def spread(self) -> float:
        """Return one standard deviation."""


def total_text(total: Total) -> str:
    """Return `about 1 h 30 min`, with its range when there is one.

    Where most of the steps give no time it is only `at least` what the others take, or ''.
    """
    if total.untimed_steps > total.timed_steps:
        return f"at least {minutes_text(total.low)}" if total.low else ""
    about = f"about {minutes_text(total.expected)}"
    if total.low == total.high:
        return about
    return f"{about} ({minutes_text(total.low)} to {minutes_text(total.high)})"


def total_note(total: Total) -> str:
    """Return the spread of a time, and how much of the job it leaves out; '' for nothing."""
    notes: list[str] = []
    count = total.untimed_steps
    if total.spread >= 0.5 and count <= total.timed_steps:
        notes.append(f"give or take {minutes_text(total.spread)}")
    if count:
        notes.append("1 step gives no time" if count == 1 else f"{count} steps give no time")
    return "; ".join(notes)


class Plan(Protocol):
    """A plan of jobs for a crew, in minutes."""

    @property
    def crew(self) -> int:
        """Return how many people come; 0 for as many as are needed."""

    @property
    def length(self) -> float:
        """Return how long it takes."""

    @property
    def spread(self) -> float:
        """Return one standard deviation of it."""

    @property
    def path_length(self) -> float:
        """Return how long it would take with people enough."""

    @property
    def bound(self) -> float:
        """Return what no plan is shorter than."""

    @property
    def exact(self) -> bool:
        """Return whether no plan is shorter than this one."""


def plan_text(plan: Plan, is_open: bool) -> str:
    """Return how long a plan takes: `4 people: about 3 h 20 min, give or take 12 min`.

    Jobs are planned with what is expected of them: where one gives too few times it is `or more`,
    which is no least time.
    """
    who = {0: "", 1: "1 person: "}.get(plan.crew, f"{plan.crew} people: ")
    if is_open:
        return f"{who}about {minutes_text(plan.length)} or more"
    give = f", give or take {minutes_text(plan.spread)}" if plan.spread >= 0.5 else ""
    return f"{who}about {minutes_text(plan.length)}{give}"


def plan_start(minutes: float) -> str:
    """Return when a job starts: `at once`, `after 40 min`."""
    return f"after {minutes_text(minutes)}" if minutes else "at once"


def plan_notes(plan: Plan, chain: str, path: str, open_times: str, too_big: str) -> tuple[str, ...]:
    """Return what to know about a plan; the jobs are given by their numbers: `1, 2 and 5`."""
    decide = _verb(chain, "decides", "decide")
    notes = [f"{_jobs(chain)} {decide} how long it takes: a delay there delays the end."]
    if plan.length > plan.path_length:
        notes.append(
            f"By the order of the jobs alone the critical path is {_jobs(path, 'job')}, about "
            f"{minutes_text(plan.path_length)}. Longer than that is for want of people, or because "
            "two jobs are on one machine: those are not put side by side."
        )
    if not plan.exact:
        notes.append(
            f"There may be a shorter plan, but none under {minutes_text(plan.bound)}: the jobs can "
            "be put in too many orders to try them all."
        )
    if open_times:
        notes.append(
            f"{_jobs(open_times)} {_verb(open_times, 'gives', 'give')} too few times to be "
            "planned: the visit takes longer."
        )
    if too_big:
        notes.append(f"{_jobs(too_big)} {_verb(too_big, 'needs', 'need')} more people than come.")
    return tuple(notes)


def _jobs(numbers: str, word: str = "Job") -> str:
    return f"{word}s {numbers}" if " " in numbers else f"{word} {numbers}"


def _verb(numbers: str, one: str, several: str) -> str:
    return several if " " in numbers else one
