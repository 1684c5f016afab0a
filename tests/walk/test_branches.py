"""Branches: both arms are followed; who stops does not join; what may be the case is remembered."""

from __future__ import annotations

from walk_support import acts, compile_world, done, job, play, steps, walk

from compiler.model import StillSo
from compiler.walk import walk_procedure
from compiler.walk.nodes import BranchNode, SectionNode
from compiler.walk.state import PartState

ASK = 'ask worn "Is it worn?"\n'


def test_both_arms_are_written_out() -> None:
    found = walk(job(ASK + "if worn is yes\n  remove guard\notherwise\n  remove cap[1]"))
    (branch,) = (n for n in found.nodes if isinstance(n, BranchNode))
    assert [acts(nodes) for _, nodes in branch.arms] == [
        ["undo guard-screw", "remove guard"],
        ["undo cap-screw[1]", "remove cap[1]"],
    ]
    assert [when is None for when, _ in branch.arms] == [False, True]


def test_after_an_arm_that_ends_the_others_go_on() -> None:
    body = ASK + 'if worn is yes\n  remove guard\n  stop "Tell the lead."\nremove guard'
    assert done(body)[-2:] == ["undo guard-screw", "remove guard"]


def test_the_first_arm_that_goes_on_gives_the_state() -> None:
    body = ASK + "if worn is yes\n  remove guard\nremove guard"
    assert done(body)[-1:] == ["remove guard"]
    assert done(body).count("undo guard-screw") == 1


def test_an_arm_that_goes_back_does_not_join() -> None:
    body = (
        'measure gap "Gap" at most 1 mm  as look\nif gap is out\n'
        "  remove guard\n  go back to look\nremove guard"
    )
    assert done(body)[-2:] == ["undo guard-screw", "remove guard"]


def test_a_step_done_on_a_condition_is_undone_on_the_same_one() -> None:
    body = 'section a\n  remove guard  only if "it is there"\n  remove cap[1]\nrefit a'
    found = steps(walk(job(body)))
    assert found["refit-a/remove-cap-1"].when is None
    when = found["refit-a/remove-guard"].when
    assert isinstance(when, StillSo)
    assert (when.subject.key, when.state) == ("press/guard", "off")


def test_what_only_the_second_arm_took_off_is_put_back_too() -> None:
    body = ASK + (
        "section a\n  if worn is yes\n    remove guard\n  otherwise\n    remove cap[1]\nrefit a"
    )
    found = steps(walk(job(body)))
    back = {id.removeprefix("refit-a/"): acts([found[id]]) for id in found if "refit-a/" in id}
    assert back == {
        "remove-cap-1": ["fit cap[1]", "start cap-screw[1]", "tighten cap-screw[1]"],
        "remove-guard": ["fit guard", "start guard-screw", "tighten guard-screw"],
    }
    assert all(isinstance(found[f"refit-a/{id}"].when, StillSo) for id in back)


def test_after_the_way_back_nothing_may_be_off() -> None:
    body = ASK + (
        "section a\n  if worn is yes\n    remove guard\n  otherwise\n    remove cap[1]\nrefit a"
    )
    _, _, end = play(job(body))
    assert not [u for u, s in end.units.items() if isinstance(s, PartState) and s.seat == "off"]


def test_follow_on_a_condition_becomes_a_branch() -> None:
    more = (
        '## file: other.proc\nprocedure other "Other"\n  machine press\n'
        "  revision A 2026-11-02\n  remove guard\n"
    )
    world = compile_world(job('follow other  only if "it is worn"', more=more))
    found, findings = walk_procedure(world, world.procedures["job"], "P-1")
    assert not findings
    (branch,) = found.nodes
    assert isinstance(branch, BranchNode)
    assert branch.id == "if-follow-other"
    assert isinstance(branch.arms[0][1][0], SectionNode)


def test_side_by_side_lanes_are_done_one_after_the_other() -> None:
    body = (
        'side by side\n  lane "One"\n    remove guard\n  lane "Two"\n    remove cap[1]\nfit guard'
    )
    assert done(body)[-2:] == ["fit guard", "start guard-screw"]
