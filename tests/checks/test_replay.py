"""The walk-through done again on every way: ways part, meet, end, and what was decided stays so."""

from __future__ import annotations

import pytest
from replay_support import abnormal, ends, moments_at, replayed, world_of

from compiler.checks.replay.facts import Facts
from compiler.checks.replay.way import MOST_WAYS
from compiler.model import Judged, Prose, StateIs, WasDone
from compiler.model import Selection as Chosen
from compiler.source import Span

HERE = Span("job.proc", 0, 0)


def record(subject: str, state: str) -> StateIs:
    return StateIs(HERE, "record", subject, state)


def judged(text: str) -> Judged:
    return Judged(Span("other.proc", 5, 9), Prose(HERE, (text,)))


# --- Facts ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("known", "taken", "asked", "expected"),
    [
        ("out", True, "in", False),
        ("out", True, "above", None),
        ("out", False, "in", True),
        ("above", True, "out", True),
        ("above", True, "below", False),
        ("above", True, "in", False),
        ("above", False, "below", None),
        ("above", False, "in", None),
        ("in", True, "below", False),
        ("in", False, "out", True),
        ("yes", True, "no", False),
        ("yes", False, "no", True),
        ("no", True, "no", True),
    ],
)
def test_one_decision_says_this_of_another(
    known: str, taken: bool, asked: str, expected: bool | None
) -> None:
    facts = Facts().told(record("x", known), taken)
    assert facts.says(record("x", asked)) is expected
    assert facts.says(record("y", asked)) is None


def test_what_is_neither_above_nor_in_is_below() -> None:
    facts = Facts().told(record("x", "above"), False).told(record("x", "in"), False)
    assert facts.says(record("x", "below")) is True
    assert facts.says(record("x", "out")) is True


def test_answers_rule_each_other_out_and_the_last_one_is_known() -> None:
    asked = Facts().without("level", ("low", "middle", "high"))
    assert asked.told(record("level", "low"), True).says(record("level", "high")) is False
    rest = asked.told(record("level", "low"), False)
    assert rest.says(record("level", "high")) is None
    assert rest.told(record("level", "middle"), False).says(record("level", "high")) is True


def test_answers_that_were_never_asked_for_are_not_counted_out() -> None:
    facts = Facts().told(record("level", "low"), False)
    assert facts.says(record("level", "high")) is None
    assert facts.told(record("level", "high"), True).says(record("level", "low")) is False


def test_answers_may_be_words_of_measurements() -> None:
    asked = Facts().without("valve", ("in", "out"))
    assert asked.told(record("valve", "in"), False).says(record("valve", "out")) is True


def test_the_same_words_are_judged_the_same_wherever_they_stand() -> None:
    facts = Facts().told(judged("it is worn"), True)
    assert facts.says(Judged(HERE, Prose(HERE, ("it is worn",)))) is True
    assert facts.says(judged("it is wet")) is None


def test_what_is_measured_again_is_open_again() -> None:
    facts = Facts().told(record("x", "out"), True).told(record("y", "yes"), True)
    assert facts.without("x").says(record("x", "out")) is None
    assert facts.without("x").says(record("y", "yes")) is True


def test_of_two_ways_that_meet_either_may_be_so() -> None:
    above, below = (Facts().told(record("x", word), True) for word in ("above", "below"))
    both = above.shared(below)
    assert both.says(record("x", "out")) is True
    assert both.says(record("x", "above")) is None
    assert above.shared(Facts()).says(record("x", "out")) is None


def test_what_was_done_to_other_members_is_another_question() -> None:
    one = WasDone(HERE, Chosen(HERE, "press/cap", ("1",)), "removed")
    two = WasDone(HERE, Chosen(HERE, "press/cap", ("2",)), "removed")
    facts = Facts().told(one, True)
    assert facts.says(one) is True
    assert facts.says(two) is None


# --- Ways part and meet -------------------------------------------------------------------------


def test_without_a_branch_there_is_one_way() -> None:
    assert ends(replayed("remove lid")) == [["lid"]]


def test_ways_part_at_a_branch_and_stay_apart_while_the_machine_differs() -> None:
    found = replayed('ask worn "Worn?"\nif worn is yes\n  remove lid\ncheck guard')
    assert ends(found) == [["lid"], []]


def test_ways_meet_when_the_machine_stands_alike() -> None:
    found = replayed(
        'ask worn "Worn?"\nif worn is yes\n  remove lid\n  fit lid\n'
        'otherwise\n  check lid\n"After."'
    )
    assert ends(found) == [[]]
    assert found.endings[0].way.choices == ()
    assert len(moments_at(found, "After.")) == 1


def test_a_decision_is_taken_once() -> None:
    found = replayed(
        'ask worn "Worn?"\nif worn is yes\n  remove lid\n"Between."\nif worn is yes\n  fit lid'
    )
    assert ends(found) == [[]]
    assert len(moments_at(found, "Between.")) == 2


def test_each_arm_of_a_chain_is_taken() -> None:
    found = replayed(
        'ask level "Where?" answers low, middle, high\n'
        "if level is low\n  remove lid\notherwise if level is middle\n  remove guard\n"
        "otherwise\n  move arm aside"
    )
    assert ends(found) == [["lid"], ["guard"], ["arm"]]


def test_a_step_that_is_only_done_if_parts_the_ways() -> None:
    assert ends(replayed('remove lid only if "it is wet"')) == [["lid"], []]


def test_a_state_of_the_machine_is_no_guess() -> None:
    body = "if brake is set\n  remove lid\notherwise\n  remove guard"
    assert ends(replayed(body)) == [["lid"]]
    assert ends(replayed(body, "starts with brake released")) == [["brake", "guard"]]
    assert ends(replayed(f"bring brake to released\n{body}")) == [["brake", "guard"]]


def test_what_was_done_is_known_on_each_way() -> None:
    body = (
        'ask worn "Worn?"\nif worn is yes\n  remove lid\n'
        "if lid was removed\n  fit lid\n  remove guard"
    )
    assert ends(replayed(body)) == [["guard"], []]


def test_what_was_done_on_some_of_the_ways_that_met_is_decided_once() -> None:
    met = 'ask wet "Wet?"\nif wet is yes\n  remove lid\n  fit lid\n'
    once = "if lid was removed\n  move arm aside\n"
    assert ends(replayed(f"{met}{once}")) == [["arm"], []]
    assert ends(replayed(f'{met}{once}"After."\nif lid was removed\n  fit arm')) == [[]]


def test_a_question_asked_on_one_way_only_is_still_answered_once() -> None:
    body = (
        'ask worn "Worn?"\nif worn is yes\n  ask level "Where?" answers low, middle, high\n'
        "if level is low\n  remove lid\n"
        "if level is low\n  fit lid\n"
    )
    assert ends(replayed(body)) == [[]]


def test_what_is_done_on_all_ways_is_certain_also_after_they_met() -> None:
    body = (
        'ask wet "Wet?"\nif wet is yes\n  remove lid\n  fit lid\nremove lid\nfit lid\n'
        "if lid was removed\n  remove guard"
    )
    assert ends(replayed(body)) == [["guard"]]


def test_a_branch_for_a_model_is_no_way_on_another() -> None:
    body = "only for P-2\n  remove lid"
    assert ends(replayed(body)) == [[]]
    assert ends(replayed(body, model="P-2")) == [["lid"]]


# --- Repeats and lanes --------------------------------------------------------------------------


def test_a_question_in_a_repeat_is_open_again_in_each_round() -> None:
    body = (
        'repeat 2 times\n  ask wet "Wet?"\n  if wet is yes\n    move block to station[2]\n'
        "  otherwise\n    move block to station[3]"
    )
    assert len(moments_at(replayed(body), "Wet?")) == 3


def test_a_repeat_until_is_gone_through_again_from_where_it_ends() -> None:
    body = (
        'repeat until gap is in at most 5 times\n  "Round."\n  remove lid only if "it is stuck"\n'
        '  measure gap "Gap" with gauge at most 1 mm\n"After."'
    )
    found = replayed(body)
    rounds = [abnormal(m.before, found.assembly) for m in moments_at(found, "Round.")]
    assert rounds == [[], ["lid"], []]
    assert ends(found) == [["lid"], []]


def test_a_repeat_until_that_changes_nothing_is_gone_through_once() -> None:
    body = (
        "repeat until gap is in at most 5 times\n"
        '  "Round."\n  measure gap "Gap" with gauge at most 1 mm'
    )
    assert len(moments_at(replayed(body), "Round.")) == 1


def test_lanes_are_done_one_after_the_other() -> None:
    body = 'side by side\n  lane "A"\n    remove lid\n  lane "B"\n    remove guard'
    assert ends(replayed(body)) == [["guard", "lid"]]


# --- Ends ---------------------------------------------------------------------------------------


def test_a_stop_ends_its_way_only() -> None:
    found = replayed('remove lid\nif "there is a crack"\n  stop "Lock it out."\nfit lid')
    assert ends(found) == [["lid"], []]
    assert [ending.stopped for ending in found.endings] == [True, False]


def test_what_stands_behind_a_stop_is_not_reached() -> None:
    found = replayed('stop "Lock it out."\ncheck lid')
    assert len(found.unreached) == 1
    assert [ending.stopped for ending in found.endings] == [True]


def test_an_arm_that_can_never_be_taken_is_not_reached() -> None:
    found = replayed("if brake is released\n  remove lid")
    assert len(found.unreached) == 1
    assert ends(found) == [[]]


def test_going_back_ends_a_way_without_an_end_of_the_work() -> None:
    found = replayed(
        'check lid as look\nremove guard\nif "it is wet"\n  go back to look\nfit guard'
    )
    assert ends(found) == [[]]


def test_what_was_gone_back_to_is_done_again_from_how_it_is_now() -> None:
    """Two rounds, and a third that would bring nothing new is left."""
    body = '"Look." as look\nremove lid only if "it is wet"\nif "again"\n  go back to look'
    found = replayed(body)
    before = [moment.before for moment in moments_at(found, "Look.")]
    assert sorted(abnormal(way, found.assembly) for way in before) == [[], ["lid"]]
    assert sorted(ends(found)) == [[], ["lid"]]


def test_what_was_judged_before_a_round_stays_so_in_it() -> None:
    body = (
        'remove lid only if "it is wet"\ncheck hub as look\nif "again"\n  go back to look\n'
        'fit lid only if "it is wet"'
    )
    assert ends(replayed(body)) == [[]]


def test_what_is_judged_in_a_round_is_judged_again_in_the_next() -> None:
    body = 'check hub as look\nif "it drips"\n  move arm aside\n  go back to look\ncheck hub'
    assert sorted(ends(replayed(body))) == [[], ["arm"]]


def test_going_back_for_ever_comes_to_an_end() -> None:
    found = replayed("check hub as look\ncheck arm\ngo back to look")
    assert ends(found) == []


# --- What it costs ------------------------------------------------------------------------------


def test_ten_branches_that_do_not_hang_together_stay_linear() -> None:
    """Each step is done once for each arm, not once for each of a thousand ways."""

    def branches(count: int) -> str:
        one = 'if "case {n}"\n  remove lid\n  fit lid\notherwise\n  check lid\n"After {n}."\n'
        return "".join(one.replace("{n}", str(n)) for n in range(count))

    five, ten = (len(replayed(branches(count)).moments) for count in (5, 10))
    assert five == 5 * 4
    assert ten == 10 * 4


def test_never_more_than_so_many_ways_at_once() -> None:
    body = "".join(f'remove cap[{n}] only if "cap {n} is wet"\n' for n in (1, 2, 3))
    body += "".join(
        f'{step} only if "{step} is needed"\n' for step in ("remove lid", "move arm aside")
    )
    found = replayed(f'{body}"After."')
    assert len(moments_at(found, "After.")) == MOST_WAYS < 2**5


def test_when_ways_are_left_out_each_thing_is_still_seen_in_each_state() -> None:
    """Beyond the cap no single forgotten thing gets lost, on or off."""
    body = "".join(f'remove cap[{n}] only if "cap {n} is wet"\n' for n in (1, 2, 3))
    body += 'remove lid only if "the lid is wet"\nmove arm aside only if "the arm is bent"\n'
    seen = ends(replayed(body))
    for name in ("cap[1]", "cap[2]", "cap[3]", "lid", "arm"):
        assert {name in end for end in seen} == {True, False}


# --- Who did what -------------------------------------------------------------------------------


def test_who_touched_what_last_and_which_side_of_it() -> None:
    found = replayed("support block with hoist\nopen block\nmove block to station[2]")
    way = found.endings[0].way
    unit = next(unit for unit in way.last if unit[0].endswith("block"))
    assert "move" in str(way.last[unit].act.deed.value)
    assert way.since[unit, "supported"].act.deed.value == "support"
    assert way.since[unit, "opened"].act.deed.value == "open"
    assert way.since[unit, "place"].act.deed.value == "move"


def test_each_moment_tells_the_state_before_and_after() -> None:
    found = replayed("remove lid\nfit lid")
    off, on = (m for m in found.moments if m.doing.act.keys())
    unit = next(iter(off.after.last))
    assert off.before.state.part(unit).seat == "fitted"
    assert off.after.state.part(unit).seat == on.before.state.part(unit).seat == "off"
    assert on.after.state.part(unit).seat == "fitted"


def test_the_way_back_ends_in_the_place_the_way_in_began() -> None:
    found = replayed('section away "Away"\n  move block to station[2]\nrefit away')
    assert ends(found) == [[]]


def test_the_support_of_the_tests_sees_a_wrong_text() -> None:
    with pytest.raises(AssertionError):
        world_of('procedure job "Job"\n  remove nothing-known\n')
