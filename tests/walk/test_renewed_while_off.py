"""`replace` of what is off already: a new one stands ready, and the way back puts it in."""

from __future__ import annotations

from walk_support import acts, compile_world, done, job, rules, steps, walk

from compiler.derive import derive
from compiler.walk.flat import flat_acts
from compiler.walk.nodes import Deed

OPEN = "section open\n  remove guard\n  remove plate\n  remove wheel\n"
ARMS = OPEN + 'if "the wheel is worn"\n  {}\notherwise\n  {}\nrefit open'
BACK = [
    "fit wheel",
    "start wheel-nut",
    "tighten wheel-nut",
    "lock wheel-tab new",
    "fit plate",
    "start plate-bolt",
    "tighten plate-bolt",
    "fit guard",
    "start guard-screw",
    "tighten guard-screw",
]


def after_open(body: str, more: str = "") -> list[str]:
    """Return the acts behind the section `open`."""
    made = done(body, more=more)
    return made[made.index("remove wheel") + 1 :]


def test_in_one_arm_only_the_new_one_is_taken_and_the_way_back_is_one() -> None:
    body = ARMS.format("replace wheel", "clean wheel")
    assert after_open(body) == ["renew new wheel new", "neutral wheel", *BACK]
    found = walk(job(body))
    assert all(step.when is None for id, step in steps(found).items() if id.startswith("refit"))


def test_in_both_arms_nested_and_only_if() -> None:
    both = ARMS.format("replace wheel", "replace wheel")
    assert after_open(both) == ["renew new wheel new"] * 2 + BACK
    nested = ARMS.format('if "the bore is worn"\n    replace wheel', "clean wheel")
    assert after_open(nested) == ["renew new wheel new", "neutral wheel", *BACK]
    only_if = OPEN + 'replace wheel  only if "it is worn"\nrefit open'
    assert after_open(only_if) == ["renew new wheel new", *BACK]


def test_on_every_path_and_inside_the_section_itself() -> None:
    assert after_open(OPEN + "replace wheel\nrefit open") == ["renew new wheel new", *BACK]
    inside = OPEN + "  replace wheel\nrefit everything"
    assert after_open(inside) == ["renew new wheel new", *BACK]


def test_what_holds_it_is_renewed_while_it_is_out() -> None:
    body = ARMS.format("replace wheel-nut", "clean wheel")
    assert after_open(body) == ["renew new wheel-nut new", "neutral wheel", *BACK]


def test_a_line_that_is_off() -> None:
    body = 'section open\n  disconnect cable\nreplace cable  only if "it is chafed"\nrefit open'
    assert done(body) == ["disconnect cable", "renew new cable new", "connect cable"]


def test_what_is_never_used_twice_is_counted_where_it_goes_in() -> None:
    body = (
        "section open\n  remove guard, plate, gasket\n"
        'if "the gasket is torn"\n  replace gasket\nrefit open'
    )
    made = done(body)
    assert made.count("renew new gasket") == 1
    assert made.count("fit new gasket new") == 1


def test_the_parts_list_has_the_new_one_where_it_is_needed() -> None:
    def listed(body: str) -> list[tuple[str, int, str]]:
        world = compile_world(job(body))
        lists = derive(world, world.procedures["job"], walk(job(body)))
        return [(line.label, line.count, line.only_if) for line in lists.parts]

    some = listed(ARMS.format("replace wheel", "clean wheel"))
    assert ("wheel", 1, "the wheel is worn") in some
    assert ("wheel", 1, "") in listed(OPEN + "replace wheel\nrefit open")
    torn = 'section open\n  remove guard, plate, gasket\nif "torn"\n  replace gasket\nrefit open'
    assert [line for line in listed(torn) if line[0] == "gasket"] == [("gasket", 1, "")]


def test_a_fit_further_down_puts_it_in() -> None:
    body = "remove guard, plate, wheel\nreplace wheel\nclean hub\nfit wheel"
    assert done(body).count("renew new wheel new") == 1
    assert done(body).count("fit wheel") == 1
    once = "remove guard, plate, gasket\nreplace gasket\nfit new gasket"
    assert "renew new gasket" in done(once)


def test_without_a_line_that_puts_it_in_it_goes_in_here() -> None:
    assert done("remove guard, plate, wheel\nclean hub\nreplace wheel")[-2:] == [
        "fit new wheel new",
        "start wheel-nut",
    ]
    some = 'remove guard, plate, wheel\nif "it is worn"\n  replace wheel\notherwise\n  fit wheel'
    assert [a for a in done(some) if "fit" in a] == ["fit new wheel new", "fit wheel"]


def test_what_came_off_on_some_paths_only_is_renewed_where_it_is() -> None:
    body = (
        'remove guard, plate\nsection open\n  remove wheel  only if "worn"\n'
        'replace wheel  only if "worn"\nrefit open\nfit plate, guard'
    )
    assert "fit new wheel new" in done(body)


def test_what_is_done_to_it_before_the_way_back_needs_it_in_place() -> None:
    assert after_open(OPEN + "replace wheel\ntighten wheel-nut\nrefit open")[:2] == [
        "fit new wheel new",
        "start wheel-nut",
    ]
    assert "fit new wheel new" in after_open(OPEN + "replace wheel\nfit plate\nrefit open")


def test_the_way_back_of_what_is_followed() -> None:
    other = 'procedure safe "Safe"\n  machine press\n  revision A 2026-11-02\n'
    way_in = "\n## file: safe.proc\n" + other + "  remove guard\n  remove plate, wheel\n"
    body = 'follow safe way in\nreplace wheel  only if "it is worn"\nfollow safe way back'
    assert after_open(body, more=way_in)[:2] == ["renew new wheel new", "fit wheel"]
    written = way_in + "  way back\n    fit wheel\n    tighten wheel-nut\n    fit plate, guard\n"
    assert after_open(body, more=written)[:2] == ["renew new wheel new", "fit wheel"]


def test_members_renewed_one_by_one_are_not_taken_off_again() -> None:
    for shown in ("once", "each"):
        body = (
            "remove guard, cap\n"
            f"repeat for each c in cap  shown {shown}\n  clean c\n"
            'replace cap[2]  only if "it is bent"\nreplace cap[1, 3]\nfit cap'
        )
        found = walk(job(body))
        assert sum(f.act.deed is Deed.REMOVE for f in flat_acts(found)) == 2
        assert acts(found).count("renew new cap[2] new") == 1
        assert not rules(job(body))
