"""When each job of a visit is done: the shortest plan for a crew, and the chain that decides it.

A job takes its expected time and its people from end to end. A plan is searched for by branch and
bound over the orders in which jobs are put as early as possible; one of them gives the shortest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import sqrt

MOST_TRIED = 20_000
"""How many part plans are looked at before the best so far is taken, with a bound beside it."""


@dataclass(frozen=True, slots=True)
class Task:
    """A job: minutes expected, their spread, people, the tasks before it.

    Two tasks at one `place` (a machine) are never put side by side; '' is no place.
    """

    id: str
    minutes: float
    people: int = 1
    after: tuple[str, ...] = ()
    place: str = ""
    spread: float = 0.0


@dataclass(frozen=True, slots=True)
class Slot:
    """When a job is planned, in minutes from the start. `decides`: it is on the longest chain."""

    id: str
    start: float
    end: float
    people: int
    decides: bool


@dataclass(frozen=True, slots=True)
class Schedule:
    """A plan. Slots stand in the order of the tasks; minutes.

    `chain` are the jobs without a gap from start to end that decide how long it takes, `spread`
    that of their sum. `path` is the critical path: the chain that `after` alone makes, however many
    people come, and `path_length` how long it is. Where the search ended early (`exact` false), no
    plan is shorter than `bound`. `too_big`: jobs that need more people than come.
    """

    slots: tuple[Slot, ...]
    crew: int
    length: float
    spread: float
    chain: tuple[str, ...]
    path: tuple[str, ...]
    path_length: float
    bound: float
    exact: bool
    too_big: tuple[str, ...]


def plan(tasks: Sequence[Task], crew: int = 0, most: int = MOST_TRIED) -> Schedule:
    """Return the shortest plan for `crew` people; 0: as many as are needed.

    A job for more people than come is planned as if it took all of them. Names in `after` that are
    no task, and those that lead round in a circle, are left out.
    """
    work = _Work(tasks, crew)
    starts, bound, exact = _search(work, most)
    length = max((starts[at] + work.lasts[at] for at in work.all), default=0)
    chain = _chain(work, starts)
    slots = tuple(
        Slot(task.id, starts[at] / 60, (starts[at] + work.lasts[at]) / 60, task.people, at in chain)
        for at, task in enumerate(tasks)
    )
    path = _path(work)
    return Schedule(
        slots=slots,
        crew=crew,
        length=length / 60,
        spread=sqrt(sum(tasks[at].spread ** 2 for at in chain)),
        chain=tuple(tasks[at].id for at in chain),
        path=tuple(tasks[at].id for at in path),
        path_length=sum(work.lasts[at] for at in path) / 60,
        bound=bound / 60,
        exact=exact,
        too_big=tuple(task.id for task in tasks if crew and task.people > crew),
    )


class _Work:
    """The tasks as numbers: whole seconds, so that ends and starts can be compared."""

    def __init__(self, tasks: Sequence[Task], crew: int) -> None:
        self.all = range(len(tasks))
        self.crew = crew or sum(max(1, task.people) for task in tasks)
        self.lasts = [max(0, round(task.minutes * 60)) for task in tasks]
        self.people = [min(self.crew, max(1, task.people)) for task in tasks]
        self.places = [task.place for task in tasks]
        self.before = _known_before(tasks)
        self.order = _in_order(self.before)
        self.tail = list(self.lasts)
        """From the start of a task to the end of the longest chain behind it."""
        for at in reversed(self.order):
            for one in self.before[at]:
                self.tail[one] = max(self.tail[one], self.lasts[one] + self.tail[at])


def _known_before(tasks: Sequence[Task]) -> list[tuple[int, ...]]:
    """Return the tasks before each one, leaving out what would close a circle."""
    at_id = {task.id: at for at, task in enumerate(tasks)}
    before: list[tuple[int, ...]] = [
        tuple(dict.fromkeys(at_id[id] for id in task.after if id in at_id)) for task in tasks
    ]
    sound = set(_in_order(before))
    return [ones if at in sound else () for at, ones in enumerate(before)]


def _in_order(before: Sequence[Sequence[int]]) -> list[int]:
    """Return the tasks, each behind those before it; none that lies on a circle or behind one."""
    done: list[int] = []
    left = list(range(len(before)))
    while ready := [at for at in left if all(one in done for one in before[at])]:
        done += ready
        left = [at for at in left if at not in ready]
    return done


def _search(work: _Work, most: int) -> tuple[dict[int, int], int, bool]:
    """Return the starts of the best plan found, a time none is shorter than, whether it is best."""
    bound = _bound(work, {})
    best = _greedy(work)
    seen: set[tuple[tuple[int, int], ...]] = set()
    stack: list[dict[int, int]] = [{}]
    while stack and _end(work, best) > bound:
        starts = stack.pop()
        if len(starts) == len(work.all):
            best = starts if _end(work, starts) < _end(work, best) else best
            continue
        if _bound(work, starts) >= _end(work, best):
            continue
        if len(seen) >= most:
            return best, bound, False
        for at in sorted(_ready(work, starts), key=lambda at: (work.tail[at], -at)):
            more = {**starts, at: _earliest(work, starts, at)}
            key = tuple(sorted(more.items()))
            if key not in seen and _bound(work, more) < _end(work, best):
                seen.add(key)
                stack.append(more)
    return best, _end(work, best), True


def _greedy(work: _Work) -> dict[int, int]:
    """Return a good plan to begin with: what has the longest chain behind it goes first."""
    starts: dict[int, int] = {}
    while len(starts) < len(work.all):
        at = max(_ready(work, starts), key=lambda at: (work.tail[at], -at))
        starts[at] = _earliest(work, starts, at)
    return starts


def _ready(work: _Work, starts: dict[int, int]) -> list[int]:
    return [
        at for at in work.all if at not in starts and all(one in starts for one in work.before[at])
    ]


def _end(work: _Work, starts: dict[int, int]) -> int:
    return max((start + work.lasts[at] for at, start in starts.items()), default=0)


def _earliest(work: _Work, starts: dict[int, int], at: int) -> int:
    """Return the first moment when those before are done, and hands and machine are free."""
    first = max((starts[one] + work.lasts[one] for one in work.before[at]), default=0)
    ends = {starts[one] + work.lasts[one] for one in starts}
    moments = sorted({first, *(end for end in ends if end > first)})
    return next(moment for moment in moments if _fits(work, starts, at, moment))


def _fits(work: _Work, starts: dict[int, int], at: int, moment: int) -> bool:
    end = moment + work.lasts[at]
    beside = [o for o, s in starts.items() if s < end and s + work.lasts[o] > moment]
    if work.places[at] and any(work.places[one] == work.places[at] for one in beside):
        return False
    # People are taken only where a job begins, so these are the moments to look at.
    looks = {moment, *(starts[one] for one in beside if starts[one] > moment)}
    return all(
        sum(work.people[o] for o in beside if starts[o] <= look < starts[o] + work.lasts[o])
        <= work.crew - work.people[at]
        for look in looks
    )


def _bound(work: _Work, starts: dict[int, int]) -> int:
    """Return a time that no plan with these starts is shorter than.

    The longest chain through what is open, all work shared out evenly, all work at one place.
    """
    begins: dict[int, int] = {}
    for at in work.order:
        ends = (begins[one] + work.lasts[one] for one in work.before[at])
        begins[at] = starts[at] if at in starts else max(ends, default=0)
    chain = max((begins[at] + work.tail[at] for at in work.all), default=0)
    hands = -(-sum(work.lasts[at] * work.people[at] for at in work.all) // max(1, work.crew))
    places = {place for place in work.places if place}
    alone = (sum(work.lasts[at] for at in work.all if work.places[at] == p) for p in places)
    return max(chain, hands, *alone, 0)


def _chain(work: _Work, starts: dict[int, int]) -> list[int]:
    """Return the jobs that follow each other without a gap up to the end of the plan, first first.

    Each waits for the one before it: because it says so, or for its machine or its people.
    """
    if not work.all:
        return []
    chain = [max(work.all, key=lambda at: (starts[at] + work.lasts[at], starts[at], -at))]
    while (back := next(_waited_for(work, starts, chain), None)) is not None:
        chain.append(back)
    return chain[::-1]


def _waited_for(work: _Work, starts: dict[int, int], chain: Sequence[int]) -> Iterator[int]:
    """Yield what ends just when the last of the chain starts, the best reasons first."""
    at = chain[-1]
    ending = [
        one
        for one in work.all
        if one not in chain and work.lasts[one] and starts[one] + work.lasts[one] == starts[at]
    ]
    yield from (one for one in ending if one in work.before[at])
    yield from (one for one in ending if work.places[at] and work.places[one] == work.places[at])
    yield from ending


def _path(work: _Work) -> list[int]:
    """Return the critical path: the longest chain of tasks that wait for each other."""
    after: list[list[int]] = [[] for _ in work.all]
    for at in work.all:
        for one in work.before[at]:
            after[one].append(at)
    path: list[int] = []
    choices: Sequence[int] = work.all
    while choices:
        path.append(max(choices, key=lambda at: (work.tail[at], -at)))
        choices = after[path[-1]]
    return path
