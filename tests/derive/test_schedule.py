"""The plan of a visit against trying every plan, and its critical path against every path."""

from __future__ import annotations

from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.derive.schedule import Schedule, Task, plan


def starts(found: Schedule) -> dict[str, float]:
    return {slot.id: slot.start for slot in found.slots}


def works(tasks: list[Task], at: tuple[int, ...], crew: int) -> bool:
    """Return whether these starts keep the order, the crew and the places, minute by minute."""
    ends = {t.id: s + t.minutes for t, s in zip(tasks, at, strict=True)}
    if any(s < ends[one] for t, s in zip(tasks, at, strict=True) for one in t.after):
        return False
    for minute in range(int(max(ends.values()))):
        now = [t for t, s in zip(tasks, at, strict=True) if s <= minute < s + t.minutes]
        places = [t.place for t in now if t.place]
        if sum(t.people for t in now) > crew or len(set(places)) < len(places):
            return False
    return True


def shortest(tasks: list[Task], crew: int) -> float:
    """Return the length of the shortest plan by trying all starts in whole minutes."""
    total = int(sum(t.minutes for t in tasks))
    tries = product(range(total + 1), repeat=len(tasks))
    ends = (
        max(s + t.minutes for t, s in zip(tasks, at, strict=True))
        for at in tries
        if works(tasks, at, crew)
    )
    return min(ends)


def longest_path(tasks: list[Task]) -> float:
    """Return the longest chain of `after` by walking all of them."""
    by_id = {t.id: t for t in tasks}

    def behind(task: Task) -> float:
        return task.minutes + max((behind(by_id[one]) for one in task.after), default=0)

    return max(behind(task) for task in tasks)


@st.composite
def small(draw: st.DrawFn) -> list[Task]:
    count = draw(st.integers(1, 4))
    tasks = []
    for n in range(count):
        after = draw(st.sets(st.integers(0, n - 1), max_size=2)) if n else set()
        tasks.append(
            Task(
                f"t{n}",
                draw(st.integers(1, 3)),
                draw(st.integers(1, 2)),
                tuple(f"t{one}" for one in sorted(after)),
                draw(st.sampled_from(["", "", "press"])),
            )
        )
    return tasks


@given(small(), st.integers(2, 3))
@settings(max_examples=25, deadline=None)
def test_no_plan_is_shorter_than_the_one_found(tasks: list[Task], crew: int) -> None:
    found = plan(tasks, crew)
    assert found.exact
    assert found.length == shortest(tasks, crew)
    assert found.bound == found.length
    at = tuple(int(slot.start) for slot in found.slots)
    assert works(tasks, at, crew)


@given(small(), st.integers(2, 3))
@settings(deadline=None)
def test_the_chain_has_no_gap_and_is_as_long_as_the_plan(tasks: list[Task], crew: int) -> None:
    found = plan(tasks, crew)
    slots = {slot.id: slot for slot in found.slots}
    chain = [slots[id] for id in found.chain]
    assert chain[0].start == 0
    assert chain[-1].end == found.length
    assert all(one.end == two.start for one, two in pairwise(chain))
    assert {slot.id for slot in found.slots if slot.decides} == set(found.chain)


@given(small())
@settings(deadline=None)
def test_the_critical_path_is_the_longest_of_all(tasks: list[Task]) -> None:
    found = plan(tasks)
    assert found.path_length == longest_path(tasks)
    by_id = {task.id: task for task in tasks}
    assert sum(by_id[id].minutes for id in found.path) == found.path_length
    pairs = zip(found.path, found.path[1:], strict=False)
    assert all(one in by_id[two].after for one, two in pairs)


def test_with_people_enough_the_plan_is_as_long_as_the_critical_path() -> None:
    tasks = [Task("a", 30), Task("b", 20), Task("c", 15, 2, ("a", "b")), Task("d", 5)]
    found = plan(tasks)
    assert found.length == found.path_length == 45
    assert found.path == found.chain == ("a", "c")


def test_one_pair_of_hands_does_one_thing_after_the_other() -> None:
    tasks = [Task("a", 30, spread=3), Task("b", 20, spread=4)]
    found = plan(tasks, 1)
    assert found.length == 50
    assert found.spread == 5  # the squares add up along the chain: 3² + 4² = 5²
    assert set(found.chain) == {"a", "b"}
    assert found.path == ("a",)


def test_two_jobs_on_one_machine_are_not_put_side_by_side() -> None:
    tasks = [Task("a", 30, place="press"), Task("b", 20, place="press"), Task("c", 10)]
    found = plan(tasks, 3)
    assert found.length == 50
    assert starts(found)["c"] == 0


def test_a_job_for_more_than_come_is_named() -> None:
    found = plan([Task("a", 30, 3), Task("b", 20)], 2)
    assert found.too_big == ("a",)
    assert found.length == 50


def test_a_search_that_ends_early_says_so() -> None:
    tasks = [Task(f"t{n}", 7 + n * n % 11, 1 + n % 3) for n in range(14)]
    found = plan(tasks, 4, most=3)
    assert not found.exact
    assert found.bound < found.length
    assert plan(tasks, 4).length <= found.length


@pytest.mark.parametrize("tasks", [[], [Task("a", 0)], [Task("a", 0), Task("b", 0, 1, ("a",))]])
def test_nothing_to_plan(tasks: list[Task]) -> None:
    assert plan(tasks, 2).length == 0


def test_a_circle_of_jobs_is_no_trap() -> None:
    """Another rule tells the author of it."""
    found = plan([Task("a", 5, 1, ("b",)), Task("b", 5, 1, ("a",)), Task("c", 5, 1, ("x",))], 2)
    assert found.length == 10


def test_many_jobs_are_planned_quickly_and_the_same_each_time() -> None:
    tasks = [Task(f"t{n}", 10 + n * 7 % 13, 1 + n % 2) for n in range(30)]
    first, second = plan(tasks, 3, most=300), plan(tasks, 3, most=300)
    assert first == second
    assert first.bound <= first.length <= 1.5 * first.bound
