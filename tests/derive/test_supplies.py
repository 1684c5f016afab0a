"""New parts, fluids and consumables to bring."""

from __future__ import annotations

from derive_support import lists, parts

ASK = 'ask worn "Is it worn?"\n'


def test_a_new_part_with_its_numbers() -> None:
    line = parts(lists("replace seal"))["seal"]
    assert (line.kind, line.count, line.number, line.formerly) == ("part", 1, "S-2", ("S-1",))
    assert [(r.step_id, r.text) for r in line.reasons] == [("replace-seal", "new seal")]


def test_members_and_counts_multiply() -> None:
    assert parts(lists("replace ring"))["ring"].count == 6
    assert parts(lists("replace ring[1]"))["ring"].count == 3
    assert parts(lists("repeat for each n in 1..2\n  replace ring[n]"))["ring"].count == 6


def test_what_is_used_twice_is_needed_twice() -> None:
    assert parts(lists("replace seal\nreplace seal"))["seal"].count == 2


def test_single_use_fasteners_and_what_goes_on_threads() -> None:
    found = parts(lists("remove frame\nfit frame\ntighten frame"))
    assert (found["pin"].kind, found["pin"].count, found["pin"].number) == ("fastener", 1, "CP-4")
    assert found["thread locker"].reasons[0].text == "thread of nut"
    assert found["thread locker"].number == "C-7"


def test_rings_of_a_stack() -> None:
    found = parts(lists("remove stack-bolt\nfit stack-bolt\ntighten stack-bolt"))
    assert (found["copper ring"].kind, found["copper ring"].count) == ("stack-item", 4)
    assert (found["copper ring"].number, found["copper ring"].formerly) == ("CR-6", ("CR-5",))
    assert found["shim"].count == 0


def test_fluids() -> None:
    new = parts(lists("drain oil\nfill oil"))["oil"]
    assert new.amount is not None
    assert float(new.amount.low.value) == 2
    assert parts(lists("top-up water"))["water"].amount is None
    assert "water" not in parts(lists("drain water\nfill water"))


def test_consumables_of_phrases() -> None:
    found = parts(lists('wipe cover with cloth\nclean "the face" with cloth'))["cloth"]
    assert [r.text for r in found.reasons] == ["wipe cover", "clean the face"]


def test_spares_are_there_when_their_part_comes_off() -> None:
    found = parts(lists("replace seal"))["thick seal"]
    assert (found.kind, found.number, found.count) == ("spare", "S-9", 0)
    assert "thick seal" not in parts(lists("wipe seal"))


def test_what_may_not_be_needed_says_when_it_is() -> None:
    found = parts(lists(ASK + "if worn is yes\n  replace seal"))
    assert found["seal?"].only_if == "“Is it worn?” is yes"
    found = parts(lists('replace seal  only if "the lip is hard"'))
    assert found["seal?"].only_if == "the lip is hard"


def test_of_arms_that_exclude_each_other_the_larger_count_is_enough() -> None:
    body = ASK + "if worn is yes\n  replace ring\notherwise\n  replace ring[1]"
    line = parts(lists(body))["ring?"]
    assert line.count == 6
    assert line.only_if == "“Is it worn?” is yes or not: “Is it worn?” is yes"


def test_certain_and_possible_needs_stand_apart() -> None:
    found = parts(lists(ASK + "replace ring[1]\nif worn is yes\n  replace ring[2]"))
    assert (found["ring"].count, found["ring?"].count) == (3, 3)


def test_as_needed_is_one_line() -> None:
    body = ASK + "wipe cover with cloth\nif worn is yes\n  wipe frame with cloth"
    found = parts(lists(body))
    assert "cloth?" not in found
    assert len(found["cloth"].reasons) == 2


def test_a_consumable_that_is_itself_applied() -> None:
    found = parts(lists('apply locker to "the thread"'))
    assert found["thread locker"].kind == "consumable"
