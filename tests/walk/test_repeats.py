"""Repeats: rounds written out, the general body, rows, nesting, until."""

from __future__ import annotations

from walk_support import acts, done, ids, job, walk

from compiler.walk.nodes import RepeatNode, Walk


def repeat(found: Walk) -> RepeatNode:
    (node,) = (n for n in found.nodes if isinstance(n, RepeatNode))
    return node


def test_each_member_in_a_round_of_its_own() -> None:
    found = walk(job("repeat for each c in cap\n  remove c\n  wipe c"))
    assert acts(found) == [
        line
        for n in (1, 2, 3)
        for line in (f"undo cap-screw[{n}]", f"remove cap[{n}]", f"neutral cap[{n}]")
    ]
    node = repeat(found)
    assert node.items == ("cap 1", "cap 2", "cap 3")
    assert (node.shown, node.general, node.set_key) == ("each", (), "press/cap")
    assert ids(found)[:2] == ["remove-c.1", "wipe-c.1"]


def test_numbers_as_members() -> None:
    assert done("repeat for each n in 1..2\n  slacken cap-screw[n]") == [
        "slacken cap-screw[1]",
        "slacken cap-screw[2]",
    ]


def test_shown_once_speaks_in_general_and_is_written_out_as_well() -> None:
    body = (
        "repeat for each n in 1..3  shown once\n"
        '  remove cap[n]\n    note "Mark it {n}."\n  wipe cap[1]'
    )
    found = walk(job(body))
    node = repeat(found)
    assert acts(node.general) == ["undo cap-screw[each]", "remove cap[each]", "neutral cap[1]"]
    assert ids(node.general) == ["remove-cap-n", "wipe-cap-1"]
    assert acts(node.rounds[1]) == ["undo cap-screw[2]", "remove cap[2]", "neutral cap[1]"]
    assert ids(found)[2:4] == ["remove-cap-n.2", "wipe-cap-1.2"]


def test_text_has_the_loop_s_value_in_a_round_and_keeps_the_variable_in_general() -> None:
    body = 'repeat for each n in 1..2  shown once\n  "Look at place {n}."'
    node = repeat(walk(job(body)))
    assert acts(node.rounds[1]) == ["prose Look at place 2."]
    assert acts(node.general) == ["prose Look at place ?n."]


def test_things_of_different_kinds_are_always_shown_each() -> None:
    found = walk(job("repeat for each x in guard, arm  shown once\n  remove x"))
    node = repeat(found)
    assert (node.shown, node.general, node.items) == ("each", (), ("guard", "arm"))
    assert ids(found) == ["remove-x.guard", "remove-x.arm"]


def test_so_many_times() -> None:
    found = walk(job("repeat 3 times\n  turn wheel 1 turn"))
    assert ids(found) == ["turn-wheel.1", "turn-wheel.2", "turn-wheel.3"]
    assert repeat(found).items == ()


def test_until_has_one_round() -> None:
    body = 'repeat until gap is in  at most 5 times\n  turn wheel\n  measure gap "Gap" at most 1 mm'
    node = repeat(walk(job(body)))
    assert (len(node.rounds), node.most, node.until is not None) == (1, 5, True)
    assert ids(node.rounds[0]) == ["turn-wheel", "measure-gap"]


def test_rows_of_a_table_nested_with_members() -> None:
    body = (
        "table bottle\n  size | gap\n  small | 0.5 mm\n  large | 0.8 mm\n"
        "repeat for each row in bottle\n  repeat for each n in 1, 2\n"
        "    set cap[n] to row.gap\n  check row.size"
    )
    found = walk(job(body))
    assert acts(found) == [
        "neutral cap[1] <to 0.5 mm>",
        "neutral cap[2] <to 0.5 mm>",
        "neutral small",
        "neutral cap[1] <to 0.8 mm>",
        "neutral cap[2] <to 0.8 mm>",
        "neutral large",
    ]
    assert ids(found)[:3] == ["set-cap-n.small.1", "set-cap-n.small.2", "check-row.small"]
    assert repeat(found).items == ("small", "large")


def test_a_general_row_stands_for_its_value() -> None:
    body = (
        "table bottle\n  size | gap\n  small | 0.5 mm\n  large | 0.8 mm\n"
        "repeat for each row in bottle  shown once\n  set guard to row.gap"
    )
    assert acts(repeat(walk(job(body))).general) == ["neutral guard <to ?row.gap>"]


def test_what_the_general_body_does_leaves_no_trace() -> None:
    body = (
        "section out\n  repeat for each n in 1..3  shown once\n    remove cap[n]\n"
        "refit out\nremove cap"
    )
    assert done(body)[-4:] == [
        "start cap-screw",
        "tighten cap-screw",
        "undo cap-screw",
        "remove cap",
    ]


def test_the_binding_is_told() -> None:
    found = walk(job("repeat for each c in cap\n  repeat 2 times\n    wipe c"))
    first = repeat(found).rounds[1]
    inner = first[0]
    assert isinstance(inner, RepeatNode)
    step = inner.rounds[1][0]
    assert (getattr(step, "binding", ""), getattr(step, "id", "")) == ("cap 2", "wipe-c.2.2")


def test_going_back_names_the_step_of_the_same_round() -> None:
    body = (
        'repeat for each n in 1..2\n  measure gap "Gap" at most 1 mm  as look\n'
        "  if gap is out\n    turn cap[n]\n    go back to look"
    )
    assert [a for a in done(body) if a.startswith("go-back")] == [
        "go-back look.1",
        "go-back look.2",
    ]
