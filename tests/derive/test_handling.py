"""The lift of a part by hand, from what is written to what stands in the step."""

from __future__ import annotations

import pytest
from derive_support import compile_world

from compiler.derive.handling import hand_lift
from compiler.model import Part
from compiler.wording.lifting import lift_text


def part(clauses: str) -> Part:
    world = compile_world(
        '## file: job.proc\nprocedure job "Job"\n  revision A 2026-10-05\n  leaves rotor off\n'
        f'  parts\n    rotor "rotor" {clauses}\n  remove rotor\n'
    )
    (found,) = world.procedures["job"].variants[0].things.values()
    assert isinstance(found, Part)
    return found


def test_the_solved_problem_as_it_is_written() -> None:
    """Solved problem in metric units (R2), but lifted now and then: 15.7 kg / 0.88 = 17.8 kg.

    Lifted from 55 cm by 95 cm; the far end at 150 cm is the worse one: VM 0.775, CM 1.
    """
    low = hand_lift(part("12 kg  lifted 55..150 cm  hands out 25 cm  fair grasp"))
    assert low is not None
    assert low.lift.height == 150
    assert low.limit == pytest.approx(23 * 0.775 * (0.82 + 4.5 / 95), abs=0.01)
    assert lift_text(low) == "one person lifts at most 15.5 kg so (RWL, NIOSH 94-110; LI 0.78)"


def test_several_share_the_load() -> None:
    found = part("24 kg  lifted 70..110 cm  hands out 40 cm")
    one, two = hand_lift(found), hand_lift(found, 2)
    assert one is not None
    assert two is not None
    assert one.limit == two.limit
    assert one.index is not None
    assert two.index == pytest.approx(one.index / 2)


def test_inches_and_turning() -> None:
    found = hand_lift(part("10 kg  lifted 30..40 in  hands out 10 in  turned 90 deg"))
    assert found is not None
    assert found.am == pytest.approx(1 - 0.0032 * 90)
    assert found.hm == pytest.approx(25 / 25.4)


@pytest.mark.parametrize(
    "clauses",
    ["14 kg", "14 kg  lifted 70..110 cm", "14 kg  lifted -20..50 cm  hands out 30 cm"],
)
def test_what_is_not_said_is_not_guessed(clauses: str) -> None:
    assert hand_lift(part(clauses)) is None


def test_where_nobody_may_lift() -> None:
    found = hand_lift(part("1 kg  lifted 70..110 cm  hands out 70 cm"))
    assert found is not None
    assert lift_text(found) == "nobody may lift anything so (RWL 0 kg, NIOSH 94-110)"
