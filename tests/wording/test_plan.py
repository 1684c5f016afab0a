"""The plan of a visit in words."""

from __future__ import annotations

from compiler.derive.schedule import Task, plan
from compiler.wording.times import plan_notes, plan_text


def test_a_plan_in_words() -> None:
    found = plan([Task("a", 60, spread=6), Task("b", 30)], 1)
    assert plan_text(found, is_open=False) == "1 person: about 1 h 30 min, give or take 6 min"
    assert plan_text(found, is_open=True) == "1 person: about 1 h 30 min or more"
    notes = plan_notes(found, chain="1 and 2", path="1", open_times="2", too_big="")
    assert [note.split(":")[0].split(",")[0] for note in notes] == [
        "Jobs 1 and 2 decide how long it takes",
        "By the order of the jobs alone the critical path is job 1",
        "Job 2 gives too few times to be planned",
    ]


def test_a_plan_that_may_not_be_the_shortest_says_so() -> None:
    found = plan([Task(f"t{n}", 7 + n * n % 11, 1 + n % 3) for n in range(14)], 4, most=3)
    notes = plan_notes(found, chain="1", path="1", open_times="", too_big="3")
    assert any("none under" in note for note in notes)
    assert notes[-1] == "Job 3 needs more people than come."
