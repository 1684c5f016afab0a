"""`follow`: whole, way in, way back; ids, origins, safety and wear; a worked-out way back."""

from __future__ import annotations

from walk_support import acts, compile_world, ids, job, steps, walk

from compiler.walk import walk_procedure
from compiler.walk.flat import sections

OPEN = """\
## file: open.proc
procedure open-it "Open it"
  machine press
  revision A 2026-11-02
  wear gloves
  warning cut "The edge is sharp."
  remove guard
  section inner "Inside"
    remove plate
  way back
    refit inner
    fit guard
    tighten guard
"""
PLAIN = """\
## file: plain.proc
procedure plain "Plain"
  machine press
  revision A 2026-11-02
  bring brake to released
  fit chock
  isolate supply, oil
  drain sump-oil
  support wheel with hoist
  remove guard  by fitter
  remove wheel
  move arm aside
  release wheel
  roles
    fitter "fitter"
"""
ROLES = PLAIN.replace('  roles\n    fitter "fitter"\n', "").replace(
    "  revision A 2026-11-02\n", '  revision A 2026-11-02\n  roles\n    fitter "fitter"\n'
)


def test_the_whole_of_another() -> None:
    found = walk(job("follow open-it", more=OPEN))
    assert acts(found) == [
        "undo guard-screw",
        "remove guard",
        "undo plate-bolt",
        "remove plate",
        "fit plate",
        "start plate-bolt",
        "tighten plate-bolt",
        "fit guard",
        "start guard-screw",
        "tighten guard-screw",
    ]


def test_ids_start_with_the_name_of_what_is_followed() -> None:
    found = walk(job("follow open-it", more=OPEN))
    assert ids(found) == [
        "open-it/remove-guard",
        "open-it/remove-plate",
        "open-it/refit-inner/remove-plate",
        "open-it/refit-inner/remove-plate.tighten",
        "open-it/fit-guard",
        "open-it/tighten-guard",
    ]
    assert [s.id for s in sections(found)] == [
        "follow-open-it",
        "open-it/inner",
        "open-it/way-back",
        "open-it/refit-inner",
    ]


def test_halves_with_work_in_between() -> None:
    found = walk(job("follow open-it way in\nwipe wheel\nfollow open-it way back", more=OPEN))
    assert acts(found)[4] == "neutral wheel"
    assert acts(found)[5:] == [
        "fit plate",
        "start plate-bolt",
        "tighten plate-bolt",
        "fit guard",
        "start guard-screw",
        "tighten guard-screw",
    ]
    assert [s.way_back for s in sections(found)] == [False, False, True, True]


def test_where_a_step_comes_from() -> None:
    node = steps(walk(job("follow open-it", more=OPEN)))["open-it/refit-inner/remove-plate"]
    assert [(o.kind, o.name, o.title) for o in node.origin] == [
        ("follow", "open-it", "Open it"),
        ("refit", "open-it/remove-plate", ""),
    ]


def test_safety_and_wear_are_taken_over() -> None:
    found = walk(job("follow open-it way in", more=OPEN))
    assert [s.hazard for s in found.safety] == ["cut"]
    assert found.wear == ("gloves",)


def test_a_way_back_that_nobody_wrote_is_worked_out() -> None:
    body = "follow plain way in\nwipe hub\nfollow plain way back"
    found = walk(job(body, more=ROLES))
    back = next(s for s in sections(found) if s.way_back)
    assert acts(back.nodes) == [
        "move arm <back>",
        "support wheel <with hoist>",
        "fit wheel",
        "start wheel-nut",
        "tighten wheel-nut",
        "lock wheel-tab new",
        "let-go wheel",
        "fit guard",
        "start guard-screw",
        "tighten guard-screw",
        "fill sump-oil new",
        "clear oil, supply",
        "unlock-out oil, supply",
        "tell oil, supply",
        "energize oil, supply",
        "take-aid chock",
        "bring brake set",
    ]
    assert ids(back.nodes)[0] == "plain/way-back/move-arm"
    assert steps(back.nodes)["plain/way-back/remove-guard"].by.endswith("fitter")


def test_the_way_back_alone_undoes_what_the_other_half_did_weeks_ago() -> None:
    head = (
        "starts with guard off, wheel off, arm aside, sump-oil drained, supply isolated,\n"
        "  oil isolated, brake released, chock in\nstarts with cable disconnected"
    )
    found = walk(job("follow plain way back", head=head, more=ROLES))
    assert acts(found)[1:6] == [
        "support wheel <with hoist>",
        "fit wheel",
        "start wheel-nut",
        "tighten wheel-nut",
        "lock wheel-tab new",
    ]
    assert acts(found)[-1] == "bring brake set"


def test_a_written_way_back_alone() -> None:
    head = "starts with guard off, plate off"
    found = walk(job("follow open-it way back", head=head, more=OPEN))
    assert acts(found)[0:3] == ["fit plate", "start plate-bolt", "tighten plate-bolt"]


def test_what_is_back_already_is_left_alone() -> None:
    body = "follow plain way in\nfit wheel\ntighten wheel\nfollow plain way back"
    found = walk(job(body, more=ROLES))
    back = next(s for s in sections(found) if s.way_back)
    assert "fit wheel" not in acts(back.nodes)


def test_followed_twice_the_ids_differ() -> None:
    found = walk(job("follow open-it\nfollow open-it", more=OPEN))
    assert ids(found)[6:8] == ["open-it/remove-guard-2", "open-it/remove-plate-2"]
    assert len(set(ids(found))) == 12


def test_a_circle_ends() -> None:
    from compiler.parse import parse_text
    from compiler.resolve import no_pictures, resolve

    texts = {
        "a.proc": 'procedure a "A"\n  revision A 2026-11-02\n  follow b\n  "Look."\n',
        "b.proc": 'procedure b "B"\n  revision A 2026-11-02\n  follow a\n  "Listen."\n',
    }
    files = [parse_text(text, path)[0] for path, text in texts.items()]
    world, findings = resolve([f for f in files if f is not None], no_pictures)
    assert [f.rule for f in findings] == ["circular-follow"]
    found, _ = walk_procedure(world, world.procedures["a"], "")
    assert acts(found) == ["prose Listen.", "prose Look."]


def test_a_block_keeps_its_warnings_by_its_steps() -> None:
    from walk_support import PRESS

    machine = PRESS + (
        '  block lift-it "Lift it"\n    warning lift "It is heavy."\n    wear gloves\n'
        "    remove guard\n"
    )
    world = compile_world(job("follow lift-it", machine=machine))
    found, _ = walk_procedure(world, world.procedures["job"], "P-1")
    (section,) = sections(found)
    assert found.safety == ()
    hazards = [s.hazard for s in section.extras.safety]
    hazards += [s.hazard for n in steps(found).values() for s in n.extras.safety]
    assert hazards == ["lift"]
