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


def test_what_a_step_says_is_filled_in_is_brought() -> None:
    rinsed = lists("drain oil\nfill oil 500 mL\ndrain oil\nfill oil\ndrain oil\nfill oil")
    oils = [line for line in rinsed.parts if line.label == "oil"]
    said = [(float(o.amount.low.value), o.amount.low.unit, o.count) for o in oils if o.amount]
    assert said == [(500, "mL", 0), (2, "L", 2)], "one rinse, and twice all that goes in"


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


WORN = "“Is it worn?” is yes"


def test_what_every_arm_needs_is_brought_in_any_case() -> None:
    """The larger count of two arms is enough, and the smaller one of them is certain."""
    body = ASK + "if worn is yes\n  replace ring\notherwise\n  replace ring[1]"
    found = parts(lists(body))
    assert (found["ring"].count, found["ring"].only_if) == (3, "")
    assert (found["ring?"].count, found["ring?"].only_if) == (3, WORN)
    assert len(found["ring"].reasons) == 2
    assert len(found["ring?"].reasons) == 1


def test_the_same_in_every_arm_is_one_line_without_a_condition() -> None:
    body = ASK + "if worn is yes\n  replace seal\notherwise\n  clean frame\n  replace seal"
    found = parts(lists(body))
    assert "seal?" not in found
    assert (found["seal"].count, len(found["seal"].reasons)) == (1, 2)


def test_without_an_otherwise_nothing_is_certain() -> None:
    body = ASK + "if worn is yes\n  replace ring\nif worn is no\n  replace ring[1]"
    found = parts(lists(body))
    assert "ring" not in found
    assert found["ring?"].count == 9, "two branches, which might both be gone through"


def test_an_arm_within_an_arm() -> None:
    """Both arms renew the seal; inside one of them a second one may be needed."""
    body = (
        ASK
        + "if worn is yes\n  replace seal\n"
        + '  ask torn "Is the new one torn?"\n  if torn is yes\n    replace seal\n'
        + "otherwise\n  replace seal"
    )
    found = parts(lists(body))
    assert (found["seal"].count, found["seal?"].count) == (1, 1)
    assert found["seal?"].only_if == f"{WORN} and “Is the new one torn?” is yes"


def test_as_needed_in_every_arm_has_no_condition() -> None:
    body = ASK + "if worn is yes\n  wipe frame with cloth\notherwise\n  wipe cover with cloth"
    found = parts(lists(body))
    assert "cloth?" not in found
    assert (found["cloth"].count, len(found["cloth"].reasons)) == (0, 2)


def test_a_fluid_that_is_applied_is_brought() -> None:
    found = parts(lists('apply oil to "the lip"'))
    assert (found["oil"].kind, found["oil"].amount) == ("fluid", None)
    assert [r.text for r in found["oil"].reasons] == ["apply oil"]
    assert "oil" not in parts(lists("check oil"))


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
