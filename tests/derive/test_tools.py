"""Tools: worked out from fasteners, named by the author, missing in the crib."""

from __future__ import annotations

import pytest
from derive_support import PUMP, SHOP, lists, tools

from compiler.derive.lists import ToolLine
from compiler.derive.tools import sizes_words


def plain(found: dict[str, ToolLine]) -> set[str]:
    """Return the names of tools and the words for missing ones, without no-break spaces."""
    return {name.replace("\N{NO-BREAK SPACE}", " ") for name in found}


def test_what_takes_a_screw_out_follows_from_its_designation() -> None:
    found = tools(lists("remove guard"))
    assert set(found) == {"keys"}
    assert (found["keys"].need, found["keys"].sizes) == ("5 mm hex key", ("5 mm",))
    assert [(r.step_id, r.text) for r in found["keys"].reasons] == [
        ("remove-guard", "takes out screw")
    ]


def test_a_torque_takes_a_wrench_and_what_goes_on_it() -> None:
    found = tools(lists("slacken screw with keys\ntighten screw"))
    assert set(found) == {"keys", "small", "bits"}
    assert found["bits"].need == "5 mm hex bit, 3/8\N{NO-BREAK SPACE}in drive"
    assert found["small"].need == "torque wrench, 5 to 25 N·m".replace(" N", "\N{NO-BREAK SPACE}N")
    assert found["small"].tag == "TW-1"


def test_the_drive_must_fit() -> None:
    """20 to 24 N·m is in the range of both wrenches, but the sockets only fit the larger one."""
    assert set(tools(lists("slacken bolt\ntighten bolt"))) == {"spanners", "medium", "sockets"}


def test_sizes_out_of_one_set_stand_in_one_line() -> None:
    found = tools(lists("remove cover\nremove frame"))
    assert found["spanners"].sizes == ("13 mm", "18 mm")
    assert found["spanners"].need == "13 and 18 mm spanners"


def test_fingers_need_no_tool() -> None:
    assert lists("slacken knob\ntighten knob").tools == ()


def test_a_or_b_is_one_line() -> None:
    found = tools(lists("pull frame with puller or bar"))
    assert set(found) == {"puller"}
    assert found["puller"].alternatives == ("house/bar",)


def test_of_a_or_b_the_first_is_meant_first() -> None:
    assert set(tools(lists("pull frame with bar or puller"))) == {"bar"}


def test_of_a_or_b_the_one_that_is_there_anyway_is_taken() -> None:
    found = tools(lists("pull frame with puller or bar\nlift cover with bar"))
    assert set(found) == {"bar"}
    assert found["bar"].alternatives == ("house/puller",)


def test_a_and_b_are_two_lines() -> None:
    assert set(tools(lists("pull frame with puller, bar"))) == {"puller", "bar"}


def test_what_the_crib_does_not_have_stays_in_words() -> None:
    more = SHOP.replace("hex-keys 4, 5, 6 mm", "hex-keys 4 mm").replace("20..100", "70..100")
    found = tools(lists("remove guard\nslacken nut with spanners\ntighten nut", more=more))
    assert "(5 mm hex key)" in found
    assert "(torque wrench that sets 60 N·m, square 1/2 in, ±8.33 % or better)" in plain(found)
    assert found["sockets"].sizes == ("18 mm",)


def test_a_wrench_that_nothing_fits_on() -> None:
    more = SHOP.replace("sockets 13, 16, 18 mm drive 1/2 in", "sockets 13, 16, 18 mm drive 3/8 in")
    found = tools(lists("slacken nut with spanners\ntighten nut", more=more))
    assert {
        "medium",
        "sockets",
        "(adapter from square 1/2 in to square 3/8 in)",
    } <= plain(found)


def test_without_a_shop_the_needs_are_listed_in_words() -> None:
    machine = PUMP.replace("  thread with locker", "")
    found = tools(lists("remove guard\nfit guard\ntighten screw", more="", machine=machine))
    assert plain(found) == {
        "(5 mm hex key)",
        "(torque wrench that sets 9 N·m, ±10 % or better)",
        "(5 mm hex bit)",
    }
    assert all(line.key == "" for line in found.values())


def test_one_wrench_for_all_stages_of_a_joint() -> None:
    machine = PUMP.replace("torque 60 N·m +5 -10 N·m", "torque 24 N·m then slacken then 60 N·m")
    found = tools(lists("slacken nut\ntighten nut", machine=machine))
    assert "small" not in found
    assert [r.text for r in found["medium"].reasons] == [
        "tightens nut to 24\N{NO-BREAK SPACE}N·m and 60\N{NO-BREAK SPACE}N·m"
    ]


def test_pins_take_their_own_tools() -> None:
    more = SHOP.replace("    bar ", '    pliers pliers "pliers"\n    bar ')
    found = tools(lists("slacken nut\ntighten nut", more=more))
    assert [r.text for r in found["pliers"].reasons] == ["undoes pin", "locks with pin"]


def test_aids_are_laid_out_too() -> None:
    found = tools(lists("fit chock\nremove chock"))
    assert (found["chock"].count, found["chock"].label) == (2, "chock")


def test_measuring_tools_and_ends() -> None:
    more = SHOP.replace(
        "    bar ",
        '    dial dial-indicator "dial"\n    driver special "driver" ends "a", "b"\n    bar ',
    )
    body = 'measure runout "Runout" with dial at most 1 mm\nfit new seal with driver end "b"'
    found = tools(lists(body, more=more))
    assert found["dial"].reasons[0].text == "measure runout"
    assert found["driver"].need == "driver, b end"


def test_a_reason_is_told_once_and_names_its_object() -> None:
    found = tools(lists("slacken nut with spanners\ntighten nut with medium\nlay bar across cover"))
    assert [r.text.replace("\N{NO-BREAK SPACE}", " ") for r in found["medium"].reasons] == [
        "tightens nut to 60 N·m"
    ]
    assert [r.text for r in found["spanners"].reasons] == ["slackens nut"]
    assert [r.text for r in found["bar"].reasons] == ["lay across cover"]
    both = tools(lists("slide bar between cover, guard"))
    assert [r.text for r in both["bar"].reasons] == ["slide between cover and guard"]


def test_a_name_with_a_comma_is_closed_by_one() -> None:
    measure = 'measure gap "Gap, from the rim" with bar at most 1 mm\n'
    found = lists(f"{measure}if gap is out\n  replace seal")
    assert [p.only_if for p in found.parts if p.label == "seal"] == [
        "gap, from the rim, is out of limits"
    ]


def test_an_adapter_is_what_goes_on_the_wrench() -> None:
    found = tools(lists("slacken nut with spanners\ntighten nut via claw at 45 deg"))
    assert "sockets" not in found
    assert {"medium", "claw"} <= set(found)


def test_a_repeat_shown_once_gives_one_reason() -> None:
    machine = PUMP.replace("    knob ", "    foot[1..6] M12 ISO 4032 8  snug\n    knob ")
    body = "repeat for each n in 1..6  shown once\n  slacken foot[n]"
    found = tools(lists(body, machine=machine))
    assert [(r.step_id, r.text) for r in found["spanners"].reasons] == [
        ("slacken-foot-n", "slackens foot")
    ]


def test_what_turns_a_fastener_is_told_for_the_sentences() -> None:
    (line,) = lists("remove guard").turning
    assert (line.key, line.need, line.size, line.tools) == (
        "pump/screw",
        "5 mm hex key",
        "5 mm",
        ("house/keys",),
    )


HELD = PUMP.replace(
    "  fluids\n",
    "    thru    M8×40 ISO 4014 8.8  snug  counter-hold thru-nut\n"
    "    thru-nut M8 ISO 4032 8\n  fluids\n",
    1,
)
ONE_SET = SHOP.replace("sockets   sockets 13, 16, 18 mm drive 1/2 in", "")


def test_what_is_held_takes_a_second_tool() -> None:
    """One 13 mm spanner cannot be on bolt and nut at once: a socket turns, the spanner holds."""
    ratchet = SHOP.replace("    bar ", "    ratchet ratchet drive 1/2 in\n    bar ")
    found = tools(lists("slacken thru\ntighten thru", more=ratchet, machine=HELD))
    assert set(found) == {"spanners", "ratchet", "sockets"}
    assert [r.text for r in found["spanners"].reasons] == ["holds thru nut"] * 2
    assert [r.text for r in found["sockets"].reasons] == ["slackens thru", "tightens thru"]


def test_a_second_one_that_is_not_there_is_missing() -> None:
    found = tools(lists("slacken thru\ntighten thru", more=ONE_SET, machine=HELD))
    assert "(second 13 mm spanner)" in plain(found)


def test_two_sets_hold_and_turn() -> None:
    two = ONE_SET.replace("spanners 13, 16, 18 mm", "spanners 13, 16, 18 mm  2 ×")
    found = tools(lists("slacken thru\ntighten thru", more=two, machine=HELD))
    assert set(found) == {"spanners"}
    assert (found["spanners"].count, found["spanners"].sizes) == (2, ("13 mm",))


def test_a_torque_and_a_spanner_that_holds() -> None:
    machine = HELD.replace("snug  counter-hold", "torque 22 N·m  counter-hold")
    found = tools(lists("slacken thru\ntighten thru", more=SHOP, machine=machine))
    assert {"medium", "sockets", "spanners"} <= set(found)
    assert "holds thru nut" in {r.text for r in found["spanners"].reasons}


def test_without_a_shop_the_sizes_of_one_kind_are_one_line() -> None:
    machine = PUMP.replace("  thread with locker", "").replace(
        "    knob ",
        "    m8 2 × M8×16 ISO 4762 8.8  snug\n    m5 2 × M5×16 ISO 4762 8.8  snug\n    knob ",
    )
    found = tools(lists("slacken screw\nslacken m8\nslacken m5", more="", machine=machine))
    assert plain(found) == {"(4, 5 and 6 mm hex keys)"}
    (line,) = found.values()
    assert [r.step_id for r in line.reasons] == ["slacken-screw", "slacken-m8", "slacken-m5"]


@pytest.mark.parametrize(
    ("sizes", "words"),
    [
        (["5 mm"], "5 mm"),
        (["4 mm", "5 mm"], "4 and 5 mm"),
        (["2.5 mm", "3 mm", "4 mm"], "2.5, 3 and 4 mm"),
        (["1/4 in", "1 1/2 in"], "1/4 and 1 1/2 in"),
        (["1/4 in", "8 mm"], "1/4 in and 8 mm"),
        (["T20", "T25"], "T20 and T25"),
    ],
)
def test_the_unit_of_several_sizes_stands_once(sizes: list[str], words: str) -> None:
    assert sizes_words(sizes) == words
