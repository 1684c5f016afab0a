"""What one line of the author comes to, verb by verb."""

from __future__ import annotations

import pytest
from walk_support import done, job, steps, walk

from compiler.model import MeasureStep
from compiler.walk.flat import flat_steps


def test_a_part_comes_off_with_all_that_holds_it() -> None:
    assert done("remove guard") == ["undo guard-screw", "remove guard"]


def test_what_locks_comes_off_first() -> None:
    assert done("remove wheel") == ["unlock wheel-tab", "undo wheel-nut", "remove wheel"]


def test_what_was_taken_out_before_is_not_taken_out_again() -> None:
    body = "remove guard-screw\nslacken wheel-nut\nremove guard\nremove wheel"
    assert done(body) == [
        "undo guard-screw",
        "unlock wheel-tab",
        "slacken wheel-nut",
        "remove guard",
        "undo wheel-nut",
        "remove wheel",
    ]


def test_dowels_stay_where_they_are() -> None:
    assert done("remove plate") == ["undo plate-bolt", "remove plate"]


def test_members_of_two_sets_belong_together() -> None:
    assert done("remove cap[2]") == ["undo cap-screw[2]", "remove cap[2]"]
    assert done("remove cap") == ["undo cap-screw", "remove cap"]
    assert done("remove cap[1, 3]") == ["undo cap-screw[1,3]", "remove cap[1,3]"]


def test_several_things_come_off_one_after_the_other() -> None:
    assert done("remove guard, cap[1]") == [
        "undo guard-screw",
        "remove guard",
        "undo cap-screw[1]",
        "remove cap[1]",
    ]


def test_implied_deeds_say_why() -> None:
    node = steps(walk(job("remove wheel")))["remove-wheel"]
    assert [(a.implied, a.why) for a in node.acts] == [
        (True, "locks the wheel nut"),
        (True, "holds the wheel"),
        (False, ""),
    ]
    assert [a.verb.word if a.verb else "" for a in node.acts] == ["", "", "remove"]


def test_fitting_puts_the_fasteners_in_by_hand() -> None:
    body = "remove guard\nfit guard\ntighten guard-screw"
    assert done(body)[2:] == ["fit guard", "start guard-screw", "tighten guard-screw"]


def test_tightening_a_part_tightens_what_holds_it_and_locks_it() -> None:
    body = "remove wheel\nfit wheel\ntighten wheel"
    assert done(body)[3:] == [
        "fit wheel",
        "start wheel-nut",
        "tighten wheel-nut",
        "lock wheel-tab new",
    ]


def test_a_pin_is_in_when_it_is_in_and_then_it_is_locked() -> None:
    body = "remove arm\nfit arm"
    assert done(body) == [
        "unlock arm-clip",
        "undo arm-pin",
        "remove arm",
        "fit arm",
        "start arm-pin",
        "lock arm-clip",
    ]


def test_what_the_author_writes_further_down_is_not_implied() -> None:
    body = "remove wheel\nfit wheel\nfit wheel-nut\ntighten wheel-nut\nlock wheel-nut"
    assert done(body)[3:] == [
        "fit wheel",
        "start wheel-nut",
        "tighten wheel-nut",
        "lock wheel-tab new",
    ]
    node = steps(walk(job(body)))["tighten-wheel-nut"]
    assert len(node.acts) == 1


def test_what_is_undone_in_between_is_implied_all_the_same() -> None:
    body = (
        "slacken wheel-nut\ntighten wheel-nut\nslacken wheel-nut\ntighten wheel-nut\nlock wheel-nut"
    )
    assert done(body) == [
        "unlock wheel-tab",
        "slacken wheel-nut",
        "tighten wheel-nut",
        "lock wheel-tab new",
        "unlock wheel-tab",
        "slacken wheel-nut",
        "tighten wheel-nut",
        "lock wheel-tab new",
    ]


def test_unlock_and_lock_take_the_locked_or_the_locking_one() -> None:
    assert done("unlock wheel-nut\nlock wheel-nut") == ["unlock wheel-tab", "lock wheel-tab new"]
    assert done("unlock wheel-tab\nlock wheel-tab") == ["unlock wheel-tab", "lock wheel-tab new"]


def test_a_part_is_replaced_as_tight_as_it_was() -> None:
    assert done("replace wheel") == [
        "unlock wheel-tab",
        "undo wheel-nut",
        "remove old wheel",
        "fit new wheel new",
        "start wheel-nut",
        "tighten wheel-nut",
        "lock wheel-tab new",
    ]


def test_a_part_that_is_off_is_replaced_by_fitting_the_new_one() -> None:
    assert done("remove gasket\nreplace gasket") == ["remove gasket", "fit new gasket new"]


def test_what_was_loose_before_a_part_was_replaced_stays_loose() -> None:
    assert done("slacken wheel-nut\nreplace wheel")[-2:] == ["fit new wheel new", "start wheel-nut"]


def test_a_fastener_is_replaced() -> None:
    assert done("replace wheel-nut") == [
        "unlock wheel-tab",
        "undo old wheel-nut",
        "start new wheel-nut new",
        "tighten wheel-nut",
        "lock wheel-tab new",
    ]
    assert done("replace wheel-tab") == ["undo old wheel-tab", "start new wheel-tab new"]


def test_other_things_are_replaced() -> None:
    assert done("replace cable") == ["disconnect old cable", "connect new cable new"]
    assert done('replace sump-oil into "the can"') == [
        "drain sump-oil <into the can>",
        "fill sump-oil new",
    ]


def test_a_part_is_transferred_to_a_new_one() -> None:
    body = "remove wheel\ntransfer hub to new wheel\nfit new wheel"
    assert done(body)[3:5] == ["transfer hub <to new wheel>", "fit new wheel new"]


def test_places_and_aside() -> None:
    assert done("move block to station[3]") == ["move block <to station[3]>"]
    assert done("move arm aside") == ["aside arm <aside>"]


def test_phrases_go_with_the_deed_they_are_about() -> None:
    assert done("remove wheel with hoist") == [
        "unlock wheel-tab",
        "undo wheel-nut",
        "remove wheel <with hoist>",
    ]
    assert done("tighten wheel-nut to 70 N·m") == ["tighten wheel-nut <to 70 N·m>"]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("support wheel with hoist\nrelease wheel", ["support wheel <with hoist>", "let-go wheel"]),
        ("fit chock under wheel\nremove chock", ["put-aid chock <under wheel>", "take-aid chock"]),
        ("disconnect cable\nconnect cable", ["disconnect cable", "connect cable"]),
        ("open plate\nclose plate", ["open plate", "close plate"]),
        ("drain sump-oil\nfill sump-oil", ["drain sump-oil", "fill sump-oil new"]),
        ("top-up sump-oil", ["fill sump-oil"]),
        ("bleed oil", ["bleed oil"]),
        ("leak-test block", ["leak-test block"]),
        ("release oil", ["discharge oil"]),
        ("verify supply", ["verify supply"]),
        ("bring brake to released", ["bring brake <to released> released"]),
        ('wipe "the sight glass"', ["neutral the sight glass"]),
        ('remove "the label"', ["remove the label"]),
        ('exchange "the filter mat"', ["neutral the filter mat"]),
        ('replace "the lamp", "the fuse"', ["neutral the lamp, the fuse"]),
        ('isolate "the steam valve"', ["neutral the steam valve"]),
        ('restore "the steam valve"', ["neutral the steam valve"]),
        ('release "the spring" with hoist', ["neutral the spring <with hoist>"]),
        ('verify supply, "the lamp is out"', ["neutral the lamp is out", "verify supply"]),
        ('"Look round."', ["prose Look round."]),
        ('ask smell "Does it smell?"', ["ask Does it smell?"]),
        ('confirm "It is dry."', ["confirm It is dry."]),
        ('record serial "Serial number"', ["record Serial number"]),
        ('measure gap "Gap"  at most 1 mm', ["measure"]),
        ('stop "Go home."', ["stop"]),
    ],
)
def test_the_other_verbs(body: str, expected: list[str]) -> None:
    assert done(body) == expected


def test_other_phrases_for_a_model() -> None:
    body = 'push hub with hoist until "it sits"\n  for P-2 until "it clicks"'
    assert done(body) == ["neutral hub <with hoist> <until it sits>"]
    assert done(body, of_model="P-2") == ["neutral hub <with hoist> <until it clicks>"]


@pytest.mark.parametrize(
    ("usual", "other", "expected"),
    [
        ("at most 2 mm", "at most 3 mm", ["at most 3"]),
        ("at least 1 mm at most 2 mm", "at least 0.5 mm", ["at least 0.5", "at most 2"]),
        ("at least 1 mm at most 2 mm", "between 3 mm and 4 mm", ["between 3 4"]),
        ("below 2 mm", "at least 1 mm", ["below 2", "at least 1"]),
        ("each at most 2 mm sum at most 9 mm", "sum at most 8 mm", ["at most 2", "at most 8"]),
        ("", "above 1 mm", ["above 1"]),
    ],
)
def test_other_limits_for_a_model(usual: str, other: str, expected: list[str]) -> None:
    body = f'measure gap "Gap" {usual}\n  for P-2 {other}'
    assert limits_of(body, "P-2") == expected
    assert limits_of(body, "P-1") == limits_of(f'measure gap "Gap" {usual}', "P-1")


def limits_of(body: str, of_model: str) -> list[str]:
    (node,) = [flat.node for flat in flat_steps(walk(job(body), of_model=of_model))]
    assert isinstance(node.step, MeasureStep)
    assert node.step.overrides == ()
    ends = [(one.relation, one.low, one.high) for one in node.step.limits]
    return [
        " ".join((word, *(end.low.text for end in (low, high) if end is not None)))
        for word, low, high in ends
    ]


def test_steps_for_one_model() -> None:
    body = "remove guard\nremove cap[1]  only for P-2\nonly for P-1\n  remove cap[2]"
    assert "remove cap[1]" not in done(body)
    assert "remove cap[2]" in done(body)
    assert "remove cap[1]" in done(body, of_model="P-2")
    assert "remove cap[2]" not in done(body, of_model="P-2")


def test_safety_of_a_thing_stands_by_all_work_on_it() -> None:
    machine_line = '    wheel    "wheel"     30 kg  behind plate\n'
    from walk_support import PRESS

    machine = PRESS.replace(
        machine_line, machine_line + '      caution cut "The rim is sharp."\n      wear gloves\n'
    )
    found = steps(walk(job("remove wheel\nwipe wheel", machine=machine)))
    assert [s.hazard for s in found["remove-wheel"].extras.safety] == ["cut"]
    assert found["remove-wheel"].extras.wear == ("gloves",)
    assert found["wipe-wheel"].extras.safety == ()
