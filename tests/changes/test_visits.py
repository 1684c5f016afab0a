"""What is planned otherwise for a visit: its day, its crew, its jobs, and what goes along."""

from __future__ import annotations

import json

import jsonschema
import pytest

from changes.changes_support import FOLDER, library
from compiler.changes import Changes, LeftOut, compare_libraries
from compiler.changes.telling import as_text
from compiler.emit.changes import changes_json, changes_page, changes_schema

TWO = FOLDER + '  do filter-change on blower\n    model B-2\n    serial "2"\n'
CREWED = TWO.replace("  date 2027-03-08\n", "  date 2027-03-08\n  crew 2\n")


def compared(old: str, new: str) -> Changes:
    """Return what changed from one text of the folder to another."""
    return compare_libraries(library(old), library(new), ("then", "now"))


def told(old: str, new: str) -> list[str]:
    """Return the lines on the visit; there is none on a procedure."""
    changes = compared(old, new)
    assert changes.procedures == ()
    (visit,) = changes.visits
    assert visit.visit == "spring"
    return [f"{change.where}: {change.text}" for change in visit.changes]


def test_the_same_visit_has_nothing_to_tell() -> None:
    assert compared(TWO, TWO).visits == ()
    assert as_text(compared(TWO, TWO), 100).startswith("Nothing changed. 2 procedures")


def test_day_and_crew() -> None:
    new = CREWED.replace("2027-03-08", "2027-03-10")
    assert told(TWO, new)[:2] == [
        "Whole visit: day: 2027-03-08 → 2027-03-10",
        "Whole visit: crew: now 2",
    ]


def test_a_job_that_is_new_and_one_that_is_gone() -> None:
    came = told(FOLDER, TWO)
    assert "Job 2: new: Change the filter, Blower, B-2, machine number 2" in came
    went = told(TWO, FOLDER)
    assert "Job 2: gone: Change the filter, Blower, B-2, machine number 2" in went


def test_what_goes_along_follows_from_the_jobs() -> None:
    """One filter for each job: the picking list of the visit has two now."""
    assert "Part: filter, how much: 1 → 2" in told(FOLDER, TWO)


def test_another_machine_and_another_order() -> None:
    job = "Change the filter, Blower, B-2, machine number"
    other = TWO.replace('serial "2"', 'serial "4"')
    assert told(TWO, other) == [f"Job 2: {job} 2 → {job} 4"]
    start, first, second = TWO.partition("  do season-check")[0], *TWO.split("  do ")[-2:]
    lines = told(TWO, f"{start}  do {second}  do {first}")
    assert len(lines) == 1
    assert "moved: " in lines[0]
    assert "(was " in lines[0]


def test_a_job_that_waits_for_another_one() -> None:
    named = TWO.replace("do season-check on blower", "do season-check on blower as first")
    assert told(named, named + "    after first\n") == [
        "Job 2: after job: now 1",
        "Time: plan: about 30 min → about 1 h",
    ]


def test_a_visit_that_is_new_or_gone() -> None:
    without = FOLDER[: FOLDER.index("## file: spring")]
    (came,) = compared(without, FOLDER).visits
    (went,) = compared(FOLDER, without).visits
    assert (came.changes[0].deed, went.changes[0].deed) == ("new", "gone")
    assert came.changes[0].details == ("1  Check before the season, Blower, B-1, machine number 1",)


def test_a_changed_procedure_alone_is_told_there_and_not_as_a_visit() -> None:
    changes = compared(FOLDER, FOLDER.replace("Hold it in", "Keep it in"))
    assert {one.procedure for one in changes.procedures} == {"filter-change", "season-check"}
    assert changes.visits == ()


def test_where_something_is_left_out_no_visit_is_told_as_gone() -> None:
    without = FOLDER[: FOLDER.index("## file: spring")]
    left_out = [LeftOut("filter-change", "new")]
    assert compare_libraries(library(FOLDER), library(without), left_out=left_out).visits == ()


@pytest.mark.parametrize("new", [CREWED, FOLDER])
def test_text_page_and_json_tell_all_of_it(new: str) -> None:
    changes = compared(TWO, new)
    (visit,) = changes.visits
    text, page = as_text(changes, 200), changes_page(changes)
    body = json.loads(changes_json(changes))
    jsonschema.validate(body, json.loads(changes_schema()))
    for change in visit.changes:
        assert change.text.replace("\N{NO-BREAK SPACE}", " ") in text
        assert change.text in page
    assert "Visit: Spring  (spring)  2027-03-08" in text
    assert "Visit: Spring <small>spring · 2027-03-08</small>" in page
    assert text.splitlines()[-1] == "2 procedures say the same. 1 visit changed."
    assert len(body["visits"][0]["changes"]) == len(visit.changes)
