"""Every kind of change, put in one by one, is told once and by the right words."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from changes.changes_support import FOLDER, Seed, library, seeded
from changes.seeds import SEEDS
from compiler.changes import Change, Changes, ProcedureChanges, compare_libraries
from compiler.changes.telling import as_text

BY_NAME = {seed.name: seed for seed in SEEDS}


def compared(old: str, new: str) -> Changes:
    return compare_libraries(library(old), library(new), ("before", "after"))


def of(changes: Changes, procedure: str) -> ProcedureChanges:
    (found,) = [one for one in changes.procedures if one.procedure == procedure]
    return found


def told(change: Change) -> str:
    text = " ".join((f"{change.where}: {change.text}", *change.details))
    return text.replace("\N{NO-BREAK SPACE}", " ")


def is_told(seed: Seed, changes: Sequence[Change]) -> list[Change]:
    return [
        change
        for change in changes
        if change.subject == seed.subject
        and (not seed.deed or change.deed == seed.deed)
        and all(words in told(change) for words in seed.words)
    ]


@pytest.mark.parametrize("name", BY_NAME)
def test_told_once_and_by_the_right_words(name: str) -> None:
    seed = BY_NAME[name]
    found = of(compared(FOLDER, seeded([seed])), seed.procedure).changes
    assert len(is_told(seed, found)) == 1, [told(change) for change in found]
    assert len(found) == 1 or seed.name in MORE, [told(change) for change in found]


MORE = frozenset({"shop rule", "step's people"})
"""Two short rules have little in common: one is gone, one is new. And the job needs two, too."""


@pytest.mark.parametrize("name", BY_NAME)
def test_the_other_way_round_is_told_the_other_way_round(name: str) -> None:
    seed = BY_NAME[name]
    there = of(compared(FOLDER, seeded([seed])), seed.procedure).changes
    back = of(compared(seeded([seed]), FOLDER), seed.procedure).changes
    turned = {"new": "gone", "gone": "new", "changed": "changed", "moved": "moved"}
    one = sorted((c.subject, c.deed, c.before, c.after) for c in there)
    other = sorted((c.subject, turned[c.deed], c.after, c.before) for c in back)
    assert one == other


@settings(max_examples=20)
@given(st.sets(st.sampled_from(sorted(BY_NAME)), min_size=2, max_size=5))
def test_several_at_once_are_each_told(names: set[str]) -> None:
    seeds = [BY_NAME[name] for name in sorted(names)]
    places = [seed.old for seed in seeds]
    if any(one in other for one in places for other in places if one is not other):
        return
    try:
        text = seeded(seeds)
    except AssertionError:
        return  # two of them are about one line
    changes = compared(FOLDER, text)
    for seed in seeds:
        if seed.subject not in ("step", "note", "limits", "entry", "safety", "torque"):
            assert is_told(seed, of(changes, seed.procedure).changes), seed.name
        else:
            # Numbers of steps are others when steps came or went before them.
            kinds = {(c.subject, c.deed) for c in of(changes, seed.procedure).changes}
            assert (seed.subject, seed.deed) in kinds, seed.name


def test_a_step_that_moves_is_told_once() -> None:
    line = '    "Write the day on the new filter."\n'
    moved = FOLDER.replace(line, "").replace("    remove guard\n", f"    remove guard\n{line}")
    (change,) = of(compared(FOLDER, moved), "filter-change").changes
    assert (change.subject, change.deed) == ("step", "moved")
    assert told(change) == (
        "Step 2.2 (was 6.2): moved, now after 2.1: “Write the day on the new filter.”"
    )


def test_a_section_that_moves_is_told_once_for_all_its_steps() -> None:
    start = FOLDER.index('  section proof "Prove it"')
    end = FOLDER.index("\n## file: season-check")
    section = FOLDER[start:end]
    moved = FOLDER.replace(section, "").replace(
        "  isolate supply\n", f"{section}  isolate supply\n"
    )
    changes = of(compared(FOLDER, moved), "filter-change").changes
    assert [(c.subject, c.deed) for c in changes] == [("step", "moved")]


def test_steps_that_get_a_section_of_their_own_did_not_move() -> None:
    old = '    wipe "the duct" with rag\n    "Empty the tray into the bin."\n'
    new = '    section tidy "Tidy up"\n' + "".join(f"  {line}\n" for line in old.splitlines())
    (change,) = of(compared(FOLDER, FOLDER.replace(old, new)), "filter-change").changes
    assert (change.subject, change.deed) == ("step", "new")
    assert "Tidy up" in change.text


def test_a_part_number_that_takes_the_place_of_another() -> None:
    new = FOLDER.replace('number "F-10"', 'number "F-20"  formerly "F-10"')
    (change,) = of(compared(FOLDER, new), "filter-change").changes
    assert told(change) == "Part: filter, number F-10 is superseded by F-20"


def test_a_tool_that_is_needed_now_and_one_that_is_not() -> None:
    new = FOLDER.replace("at least 20 m/s", "at least 20 m/s").replace(
        'measure hum "Noise level" with dial', 'measure hum "Noise level" with meter'
    )
    changes = of(compared(FOLDER, new), "filter-change").changes
    assert "Tool: needed no longer: dial indicator" in map(told, changes)
    back = of(compared(new, FOLDER), "filter-change").changes
    assert "Tool: needed now: dial indicator" in map(told, back)


def test_who_is_affected() -> None:
    changes = compared(FOLDER, seeded([BY_NAME["torque"]]))
    one = of(changes, "filter-change")
    assert one.followed_by == ("season-check",)
    assert one.visits == ("spring",)
    assert one.not_raised
    follower = of(changes, "season-check")
    assert follower.changes == ()
    assert follower.through == ("filter-change",)
    assert follower.visits == ("spring",)
    assert changes.same == 0


def test_a_raised_revision_is_no_reason_to_raise_it() -> None:
    seeds = [BY_NAME["revision"], BY_NAME["torque"]]
    one = of(compared(FOLDER, seeded(seeds)), "filter-change")
    assert (one.revision_before, one.revision_after, one.not_raised) == ("C", "D", False)
    assert [c.subject for c in one.changes] == ["revision", "torque"]


def test_procedures_that_are_new_or_gone() -> None:
    start = FOLDER.index("## file: season-check")
    without = (
        FOLDER[:start] + FOLDER[FOLDER.index("## file: shop") : FOLDER.index("## file: spring")]
    )
    gone, came = compared(FOLDER, without), compared(without, FOLDER)
    assert told(of(gone, "season-check").changes[0]).startswith("Whole job: the procedure is gone")
    assert told(of(came, "season-check").changes[0]).startswith("Whole job: the procedure is new")
    assert of(came, "season-check").visits == ("spring",)


def test_a_step_that_only_leads_back_is_told_by_where_it_leads() -> None:
    asked = '    ask again "Is it still dirty?"\n    if again is yes\n      go back to flow-read\n'
    old = FOLDER.replace("at least 20 m/s\n", "at least 20 m/s  as flow-read\n")
    new = old.replace('    wipe "the duct"', f'{asked}    wipe "the duct"')
    changes = of(compared(old, new), "filter-change").changes
    details = [line for change in changes for line in change.details]
    assert any("Go back to step" in line for line in details)
    assert not any("“”" in told(change) for change in changes)


def test_the_readme_shows_what_comes(project_root: Path) -> None:
    readme = (project_root / "README.md").read_text(encoding="utf-8")
    shown = readme[readme.index("  Change the filter  (filter-change)") :].partition("  ```")[0]
    text = as_text(compared(FOLDER, seeded([BY_NAME["revision"], BY_NAME["torque"]])), 100)
    assert textwrap.dedent(shown).strip() == text.partition("\n\n")[0]
