"""The state machine: what each deed does, and what `starts with` makes of the start."""

from __future__ import annotations

import pytest
from walk_support import job, play, said

from compiler.walk.flat import flat_acts
from compiler.walk.state import (
    ConditionState,
    EnergyState,
    FastenerState,
    FluidState,
    LineState,
    PartState,
    State,
    Status,
    joined,
)


def after(body: str, head: str = "") -> dict[str, Status]:
    """Return what is not normal after a procedure, by name."""
    _, _, end = play(job(body, head))
    return {
        key.rsplit("/", 1)[-1] + (f"[{member}]" if member else ""): status
        for (key, member), status in end.units.items()
    }


def test_a_part_comes_off_and_goes_back() -> None:
    off = after("remove guard")
    assert off["guard"] == PartState("off", past=frozenset({"removed"}))
    assert off["guard-screw"] == FastenerState("out", past=frozenset({"removed"}))
    on = after("remove guard\nfit guard")
    assert on["guard"] == PartState(past=frozenset({"removed", "fitted"}))
    assert on["guard-screw"].hold == "hand"  # type: ignore[union-attr]
    assert after("remove guard\nfit guard\ntighten guard")["guard-screw"].hold == "tight"  # type: ignore[union-attr]


def test_what_it_was_tightened_to_is_kept() -> None:
    found = after("slacken wheel-nut\ntighten wheel-nut to 70 N·m")["wheel-nut"]
    assert isinstance(found, FastenerState)
    assert found.to is not None
    assert float(found.to.low.value) == 70
    snug = after("slacken wheel-nut\ntighten wheel-nut snug")["wheel-nut"]
    assert isinstance(snug, FastenerState)
    assert snug.how == "snug"


def test_new_parts_are_known_as_new() -> None:
    found = after("replace gasket")["gasket"]
    assert isinstance(found, PartState)
    assert found.new
    assert found.past == {"removed", "fitted", "renewed"}


def test_members_have_states_of_their_own() -> None:
    found = after("remove cap[2]")
    assert "cap[2]" in found
    assert "cap[1]" not in found


def test_each_step_of_an_isolation() -> None:
    body = "isolate oil"
    assert after(body)["oil"] == EnergyState(True, True, True, True, True)
    assert after("isolate supply")["supply"] == EnergyState(True, True, True, False, True)
    assert after("isolate oil\nrestore oil")["oil"] == EnergyState()


def test_the_rest() -> None:
    found = after(
        "disconnect cable\ndrain sump-oil\nfit chock\nbring brake to released\n"
        "support wheel\nmove block to station[2]\nmove arm aside"
    )
    assert found["cable"] == LineState(connected=False, past=frozenset({"removed"}))
    assert found["sump-oil"] == FluidState(filled=False, past=frozenset({"removed"}))
    assert found["brake"] == ConditionState("released")
    assert found["wheel"] == PartState(supported=True)
    assert found["block"] == PartState(place=("press/station", "2"))
    assert found["arm"] == PartState("aside")


def test_neutral_deeds_change_nothing() -> None:
    assert after('wipe guard\nturn wheel\n"Look."\nconfirm "Dry."') == {}


def test_what_starts_off_starts_without_its_fasteners() -> None:
    found = after("wipe guard", "starts with wheel off\nstarts with plate off")
    assert found["wheel"] == PartState("off")
    assert found["wheel-nut"] == FastenerState("out")
    assert found["wheel-tab"] == FastenerState("out")
    assert "dowel" not in found


@pytest.mark.parametrize(
    ("line", "name", "status"),
    [
        ("starts with arm aside", "arm", PartState("aside")),
        ("starts with block at station[3]", "block", PartState(place=("press/station", "3"))),
        ("starts with wheel-nut slackened", "wheel-nut", FastenerState("slackened")),
        ("starts with wheel-nut slackened", "wheel-tab", FastenerState("out")),
        ("starts with guard-screw out", "guard-screw", FastenerState("out")),
        ("starts with guard-screw fitted", "guard-screw", FastenerState("hand")),
        ("starts with supply isolated", "supply", EnergyState(True, True, True, True, True)),
        ("starts with sump-oil drained", "sump-oil", FluidState(filled=False)),
        ("starts with cable disconnected", "cable", LineState(connected=False)),
        ("needs brake released", "brake", ConditionState("released")),
    ],
)
def test_the_start(line: str, name: str, status: Status) -> None:
    assert after("wipe guard", line)[name] == status


def test_leaves_says_nothing_of_the_start() -> None:
    assert after("wipe guard", "leaves guard off") == {}


def test_joining_keeps_the_first_and_remembers_the_others() -> None:
    assembly, start, off = play(job("remove guard"))
    both = joined(off, [start], assembly)
    assert both.units == off.units
    assert both.maybe[("press/guard", "")] == PartState()
    settled = both.with_statuses({("press/guard", ""): PartState()})
    assert ("press/guard", "") not in settled.maybe


def test_an_old_state_is_never_changed() -> None:
    from walk_support import walk

    assembly, start, _ = play(job("remove guard"))
    from compiler.walk.change import apply

    state, seen = start, [start]
    for flat in flat_acts(walk(job("remove guard\nfit guard"))):
        before = dict(state.units)
        state = apply(state, flat.act, assembly)
        assert dict(seen[-1].units) == before, said(flat.act)
        seen.append(state)
    assert isinstance(state, State)
