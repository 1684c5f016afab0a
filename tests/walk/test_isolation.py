"""The order of isolation and restoration, against 29 CFR 1910.147 (d) and (e) (text of the CFR).

The clauses are steps that "shall be done in the following sequence". Clause (e)(2)(ii), telling
those affected, is numbered before (e)(3), taking the locks off, but says that it comes after it.
"""

from __future__ import annotations

import pytest
from walk_support import done, job, play, steps, walk

from compiler.walk.nodes import Deed

D_CLAUSES = {
    Deed.SHUT_DOWN: "(d)(2)",
    Deed.ISOLATE: "(d)(3)",
    Deed.LOCK_OUT: "(d)(4)",
    Deed.DISCHARGE: "(d)(5)",
    Deed.VERIFY: "(d)(6)",
}
E_ORDER = (Deed.CLEAR, Deed.UNLOCK_OUT, Deed.TELL, Deed.ENERGIZE)
"""(e)(1), (e)(2)(i) look round, people clear; (e)(3) locks off; (e)(2)(ii) tell; switch on."""


def deeds(body: str, step_id: str) -> list[Deed]:
    return [act.deed for act in steps(walk(job(body)))[step_id].acts]


def test_isolation_follows_29_cfr_1910_147_d() -> None:
    found = deeds("isolate supply, oil", "isolate-supply")
    assert [D_CLAUSES[deed] for deed in found] == sorted(D_CLAUSES.values())


def test_restoration_follows_29_cfr_1910_147_e() -> None:
    assert tuple(deeds("isolate oil\nrestore oil", "restore-oil")) == E_ORDER


def test_all_energies_go_through_each_step_together() -> None:
    assert done("isolate supply, oil") == [
        "shut-down supply, oil",
        "isolate supply, oil",
        "lock-out supply, oil",
        "discharge oil",
        "verify supply, oil",
    ]


def test_nothing_is_let_out_where_nothing_is_stored() -> None:
    assert "discharge supply" not in done("isolate supply")


def test_the_tester_goes_with_the_proof() -> None:
    body = 'isolate supply with "a tester"'
    assert done(body)[-1] == "verify supply <with a tester>"
    assert not any("tester" in act for act in done(body)[:-1])


def test_what_is_isolated_already_is_only_proved_again() -> None:
    found = done("isolate supply\nisolate supply, oil")
    assert found[4:] == [
        "shut-down oil",
        "isolate oil",
        "lock-out oil",
        "discharge oil",
        "verify supply, oil",
    ]


def test_only_what_is_isolated_is_restored() -> None:
    assert done("isolate oil\nrestore supply, oil")[-1] == "energize oil"


def test_the_state_at_the_end_is_that_at_the_start() -> None:
    _, start, end = play(job("isolate supply, oil\nrestore supply, oil"))
    assert {u: s for u, s in end.units.items() if s != start.units.get(u)} == {
        ("press/supply", ""): end.energy(("nothing", "")),
        ("press/oil", ""): end.energy(("nothing", "")),
    }


@pytest.mark.parametrize("body", ["isolate supply", "isolate supply\nrestore supply"])
def test_only_the_isolation_itself_is_the_author_s_deed(body: str) -> None:
    for node in steps(walk(job(body))).values():
        assert all(not act.implied for act in node.acts)
