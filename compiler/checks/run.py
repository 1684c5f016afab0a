"""All checks in their order."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TypeAlias

from compiler.checks.alone import energy_alone, gasket_alone, holds_nothing
from compiler.checks.crew import too_few_people
from compiler.checks.crib import out_of_calibration, tool_not_in_shop, tool_not_used
from compiler.checks.energy import guard_off_live, live_with_guard_off
from compiler.checks.filling import filled_too_much, runs_out_again
from compiler.checks.isolation import isolation_not_said, isolation_order, not_shut_again
from compiler.checks.leftover import left_over
from compiler.checks.lifting import hard_to_lift, lifts_too_little, unsupported
from compiler.checks.loads import lighter_than_its_parts
from compiler.checks.messages import no_avoidance
from compiler.checks.order import already_so, in_the_way, not_in_yet
from compiler.checks.reached import never_reached
from compiler.checks.rounds import renewed_each_round
from compiler.checks.single_use import not_renewed, used_again
from compiler.checks.subject import Subject, WalkKey, subject_of
from compiler.checks.tightness import adapter_setting, missing_torque
from compiler.checks.torque import torque_out_of_reason
from compiler.checks.trial import tested_isolated
from compiler.checks.two_torques import two_torques
from compiler.checks.unlisted import tool_not_said, unlisted_standard
from compiler.checks.wrench import wrong_wrench
from compiler.checks.writing import hard_to_read
from compiler.derive.lists import Derived
from compiler.findings.model import Finding
from compiler.model import World
from compiler.walk.nodes import Walk

Check: TypeAlias = Callable[[Subject], Iterator[Finding]]

CHECKS: tuple[Check, ...] = (
    guard_off_live,
    live_with_guard_off,
    isolation_not_said,
    isolation_order,
    not_shut_again,
    tested_isolated,
    energy_alone,
    no_avoidance,
    lifts_too_little,
    lighter_than_its_parts,
    unsupported,
    hard_to_lift,
    in_the_way,
    not_in_yet,
    already_so,
    runs_out_again,
    filled_too_much,
    used_again,
    not_renewed,
    renewed_each_round,
    gasket_alone,
    left_over,
    never_reached,
    unlisted_standard,
    tool_not_said,
    holds_nothing,
    missing_torque,
    adapter_setting,
    torque_out_of_reason,
    two_torques,
    tool_not_in_shop,
    wrong_wrench,
    tool_not_used,
    out_of_calibration,
    too_few_people,
    hard_to_read,
)
"""A new check is a function here, an entry in the registry, a page, and cases in tests/cases."""


def run_checks(
    world: World, walks: Mapping[WalkKey, Walk], derived: Mapping[WalkKey, Derived]
) -> list[Finding]:
    """Return what all checks find. A line that serves several procedures is found once for each."""
    subject = subject_of(world, walks, derived)
    return [finding for check in CHECKS for finding in check(subject)]
