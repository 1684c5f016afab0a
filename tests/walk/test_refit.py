"""`refit`: reverse order, new parts, tightening, locks, supports; never twice; properties."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from walk_support import acts, compile_world, done, ids, job, play, rules, steps, walk

from compiler.walk.assembly import build_assembly
from compiler.walk.flat import flat_acts, sections
from compiler.walk.nodes import Deed, Target
from compiler.walk.start import initial_state
from compiler.walk.state import FastenerState, LineState, PartState
from compiler.walk.things import gather_things


def back(body: str, head: str = "") -> list[str]:
    """Return the acts of the (last) section that is a way back."""
    return acts([s for s in sections(walk(job(body, head))) if s.way_back][-1].nodes)


def test_the_way_back_runs_in_reverse() -> None:
    assert back("section a\n  remove guard\n  remove plate\n  remove gasket\nrefit a") == [
        "fit new gasket new",
        "fit plate",
        "start plate-bolt",
        "tighten plate-bolt",
        "fit guard",
        "start guard-screw",
        "tighten guard-screw",
    ]


def test_ids_come_from_what_is_undone() -> None:
    found = walk(job("section a\n  remove guard  as guard-off\n  remove arm, plate\nrefit a"))
    assert ids(found)[2:] == [
        "refit-a/remove-arm.plate",
        "refit-a/remove-arm.plate.tighten",
        "refit-a/remove-arm.arm",
        "refit-a/remove-arm.arm.tighten",
        "refit-a/guard-off",
        "refit-a/guard-off.tighten",
    ]
    for id in ("refit-a/guard-off", "refit-a/guard-off.tighten"):
        assert steps(found)[id].origin[-1].name == "guard-off"


def test_a_job_of_the_way_back_is_one_step_a_stage() -> None:
    body = (
        "section a\n  support wheel with hoist\n  remove wheel\n"
        '    warning crush "It swings."\n    wear gloves\n    people 2\n  release wheel\nrefit a'
    )
    found = [node for id, node in steps(walk(job(body))).items() if id.startswith("refit-a/")]
    assert {node.id.removeprefix("refit-a/"): acts([node]) for node in found} == {
        "remove-wheel.support": ["support wheel <with hoist>"],
        "remove-wheel": ["fit wheel", "start wheel-nut"],
        "remove-wheel.tighten": ["tighten wheel-nut", "lock wheel-tab new"],
        "remove-wheel.release": ["let-go wheel"],
    }
    # The message stands once, before the weight is taken; what is worn is worn to the end.
    assert [len(node.extras.safety) for node in found] == [1, 0, 0, 0]
    assert {(node.extras.wear, node.extras.people) for node in found} == {(("gloves",), 2)}


def test_what_is_only_loosened_is_one_step() -> None:
    found = walk(job("section a\n  slacken wheel-nut\nrefit a"))
    assert ids(found)[1:] == ["refit-a/slacken-wheel-nut"]


def test_what_was_loosened_is_tightened_and_locked() -> None:
    assert back("section a\n  slacken wheel-nut\nrefit a") == [
        "tighten wheel-nut",
        "lock wheel-tab new",
    ]
    assert back("section a\n  unlock wheel-nut\nrefit a") == ["lock wheel-tab new"]


def test_only_as_tight_as_at_the_start() -> None:
    body = "section a\n  remove wheel\nrefit a"
    assert back(body, "starts with wheel-nut slackened") == ["fit wheel", "start wheel-nut"]


def test_what_was_not_there_at_the_start_is_not_put_back() -> None:
    body = "section a\n  remove plate\n  remove arm\nrefit a"
    assert "fit arm" not in back(body, "starts with arm off")


def test_what_holds_two_goes_in_when_both_are_there() -> None:
    from walk_support import PRESS

    machine = PRESS.replace("holds guard  torque", "holds guard, arm  torque")
    text = job("section a\n  remove guard\n  remove arm\nrefit a", machine=machine)
    assert acts([s for s in sections(walk(text)) if s.way_back][-1].nodes) == [
        "fit arm",
        "start arm-pin",
        "lock arm-clip",
        "fit guard",
        "start guard-screw",
        "tighten guard-screw",
    ]


def test_the_weight_is_taken_as_on_the_way_in() -> None:
    body = "section a\n  support wheel with hoist\n  remove wheel\n  release wheel\nrefit a"
    assert back(body) == [
        "support wheel <with hoist>",
        "fit wheel",
        "start wheel-nut",
        "tighten wheel-nut",
        "lock wheel-tab new",
        "let-go wheel",
    ]


def test_what_hangs_still_is_let_go_when_it_is_tight() -> None:
    body = "section a\n  support wheel with hoist\n  remove wheel\nrefit a"
    assert back(body)[0] == "fit wheel"
    assert back(body)[-1] == "let-go wheel"


def test_aside_places_lines_and_lids() -> None:
    body = (
        "section a\n  move arm aside\n  disconnect cable\n  open plate\n"
        "  move block to station[3]\nrefit a"
    )
    assert back(body) == [
        "move block <to station[1]>",
        "close plate",
        "connect cable",
        "move arm <back>",
    ]


def test_refit_leaves_energies_conditions_fluids_and_aids_alone() -> None:
    body = (
        "isolate supply\nbring brake to released\nfit chock\ndrain sump-oil\n"
        "remove guard\nrefit everything"
    )
    assert back(body) == ["fit guard", "start guard-screw", "tighten guard-screw"]


def test_everything_is_everything_since_the_start() -> None:
    body = "section a\n  remove guard\nremove plate\nrefit everything"
    assert [a for a in back(body) if a.startswith("fit")] == ["fit plate", "fit guard"]


def test_nothing_is_put_back_twice() -> None:
    body = "section a\n  remove guard\n  remove plate\nfit plate\ntighten plate\nrefit a"
    assert back(body) == ["fit guard", "start guard-screw", "tighten guard-screw"]
    body = "section a\n  remove guard\nremove plate\nrefit a\nrefit everything"
    assert back(body) == ["fit plate", "start plate-bolt", "tighten plate-bolt"]


def test_a_part_fitted_but_not_tightened_is_only_tightened() -> None:
    body = "section a\n  remove guard\nfit guard\nrefit a"
    assert back(body) == ["tighten guard-screw"]


def test_members_taken_off_in_rounds_go_back_together() -> None:
    body = "section a\n  repeat for each n in 1..3\n    remove cap[n]\n    wipe cap[n]\nrefit a"
    assert back(body) == ["fit cap", "start cap-screw", "tighten cap-screw"]
    assert ids(walk(job(body)))[-2:] == ["refit-a/remove-cap-n", "refit-a/remove-cap-n.tighten"]


def test_members_with_others_in_between_go_back_one_by_one() -> None:
    body = "section a\n  remove cap[1]\n  remove arm\n  remove cap[2]\nrefit a"
    assert [a for a in back(body) if a.startswith("fit")] == ["fit cap[2]", "fit arm", "fit cap[1]"]


def test_what_was_held_while_it_was_undone_is_held_again() -> None:
    body = "section a\n  slacken wheel-nut holding hub with hoist\n  remove wheel\nrefit a"
    assert back(body)[2] == "tighten wheel-nut <holding hub> <with hoist>"


def test_warnings_about_handling_stay_those_about_what_is_gone_do_not() -> None:
    body = (
        'section a\n  wear gloves\n  warning cut "Sharp." avoid "Wear gloves."\n  remove guard\n'
        '    warning eye "It can fly off."\n    warning pressure "Oil comes out."\n'
        '    notice "Do not scratch it."\n    note "Mark it."\n    people 2\nrefit a'
    )
    found = walk(job(body))
    node = steps(found)["refit-a/remove-guard"]
    hazards = {s.hazard for s in node.extras.safety}
    section = [s for s in sections(found) if s.way_back][-1]
    assert hazards | {s.hazard for s in section.extras.safety} == {"cut", "eye"}
    assert node.extras.notes == ()
    assert node.extras.people == 2
    assert section.extras.wear == ("gloves",)


def test_nothing_to_put_back_is_told() -> None:
    assert rules(job("section a\n  wipe guard\nrefit a")) == ["cannot-refit"]
    assert rules(job("section a\n  remove guard\nfit guard\ntighten guard\nrefit a")) == [
        "cannot-refit"
    ]
    assert rules(job("refit a\nsection a\n  remove guard")) == ["cannot-refit"]


def test_replaced_parts_need_no_way_back() -> None:
    body = "section a\n  remove guard\n  replace gasket\nrefit a"
    assert "fit new gasket new" not in back(body)


# --- Properties -------------------------------------------------------------------------------

PARTS = ("guard", "plate", "wheel", "arm", "block", "gasket", "cap[1]", "cap[2]", "cap")
LINES = (
    *(f"remove {part}" for part in PARTS),
    "slacken wheel-nut",
    "unlock wheel-nut",
    "remove plate-bolt",
    "slacken guard",
    "disconnect cable",
    "move arm aside",
    "move block to station[2]",
    "support wheel with hoist",
    "release wheel",
    "open block",
    "replace wheel",
    "fit wheel",
    "tighten wheel",
    'remove guard  only if "it is there"',
)


@given(st.lists(st.sampled_from(LINES), min_size=1, max_size=9))
def test_after_the_way_back_everything_is_as_at_the_start(lines: list[str]) -> None:
    """Whatever was taken off, in whatever order: the way back leaves the machine whole."""
    body = "section a\n" + "\n".join(f"  {line}" for line in lines) + "\nrefit a"
    text = job(body)
    assembly, start, end = play(text)
    for unit in end.units:
        now, then = end.status(unit, assembly), start.status(unit, assembly)
        if isinstance(now, PartState) and isinstance(then, PartState):
            assert (now.seat, now.opened, now.supported) == ("fitted", False, False), (unit, lines)
            assert now.place in (None, ("press/station", "1")), (unit, lines)
        if isinstance(now, FastenerState):
            assert now.hold == "tight", (unit, lines)
        if isinstance(now, LineState):
            assert now.connected, (unit, lines)


@given(st.permutations(["guard", "plate", "wheel", "arm", "gasket"]))
def test_the_way_back_never_fits_behind_what_is_in_place(order: list[str]) -> None:
    """Removed in an order that works, parts go back in an order that works."""
    world = compile_world(job("wipe guard"))
    assembly = build_assembly(gather_things(world, world.procedures["job"], "P-1"))
    state = initial_state(assembly, ())
    chosen: list[str] = []
    waiting = list(order)
    while waiting:
        name = next(
            n
            for n in waiting
            if all(
                b[0].rsplit("/", 1)[-1] in chosen
                for b in assembly.behind.get((f"press/{n}", ""), ())
            )
        )
        chosen.append(name)
        waiting.remove(name)
    body = "section a\n" + "\n".join(f"  remove {n}" for n in chosen) + "\nrefit a"
    for flat in flat_acts(walk(job(body))):
        for target in flat.act.targets:
            if flat.act.deed is Deed.FIT and isinstance(target, Target):
                for unit in assembly.units_of(target):
                    assert all(state.gone(b, assembly) for b in assembly.behind.get(unit, ()))
        from compiler.walk.change import apply

        state = apply(state, flat.act, assembly)


def test_done_is_pure() -> None:
    body = "section a\n  remove guard\n  remove plate\nrefit a"
    assert done(body) == done(body)
