"""Limits: what would be too much is told quickly and is not written out."""

from __future__ import annotations

import time

from walk_support import acts, compile_world, job, walked

from compiler.walk import walk_procedure
from compiler.walk.size import MOST_STEPS, Sizes


def procedures(count: int, times: int) -> str:
    """Return procedures that each follow the next one so many times."""
    made = []
    for n in range(count):
        lines = [f'procedure p{n} "P"', "  revision A 2026-11-02"]
        lines += [f"  follow p{n + 1}"] * times
        made.append("\n".join([f"## file: p{n}.proc", *lines]))
    made.append(
        f'## file: p{count}.proc\nprocedure p{count} "P"\n  revision A 2026-11-02\n  "Look."\n'
    )
    return "\n".join(made)


def test_repeats_in_repeats() -> None:
    body = "repeat 400 times\n  repeat 400 times\n    wipe guard"
    start = time.perf_counter()
    found, findings = walked(job(body))
    assert time.perf_counter() - start < 1
    assert [f.rule for f in findings] == ["too-many-steps"]
    assert "160 000" in findings[0].message
    assert acts(found) == []


def test_following_that_doubles_each_time() -> None:
    world = compile_world(procedures(30, 2))
    start = time.perf_counter()
    found, findings = walk_procedure(world, world.procedures["p0"], "")
    assert time.perf_counter() - start < 1
    assert {f.rule for f in findings} == {"too-many-steps"}
    assert len(findings) == 2
    assert acts(found) == []


def test_following_too_deep() -> None:
    world = compile_world(procedures(60, 1))
    found, findings = walk_procedure(world, world.procedures["p0"], "")
    assert [f.rule for f in findings] == ["too-many-steps"]
    assert "41st level" in findings[0].message
    assert acts(found) == []


def test_a_very_long_chain_is_no_crash() -> None:
    world = compile_world(procedures(400, 1))
    assert Sizes(world, "").half(world.procedures["p0"]) == 1


def test_as_many_as_allowed() -> None:
    body = "repeat 500 times\n  repeat 40 times\n    wipe guard"
    found, findings = walked(job(body))
    assert not findings
    assert len(acts(found)) == MOST_STEPS


def test_one_more_than_allowed() -> None:
    body = "wipe guard\nrepeat 500 times\n  repeat 40 times\n    wipe guard"
    found, findings = walked(job(body))
    assert [f.rule for f in findings] == ["too-many-steps"]
    assert len(acts(found)) == 1


def test_ways_back_count_too() -> None:
    taken_off = ("cap[1]", "arm", "cap[2]")
    body = (
        "repeat 500 times\n  repeat 5 times\n    section a\n"
        + "".join(f"      remove {name}\n      wipe {name}\n" for name in taken_off)
        + "    refit a"
    )
    _, findings = walked(job(body))
    assert [f.rule for f in findings] == ["too-many-steps"]
