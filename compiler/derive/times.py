"""Time: three points a step, through repeats and branches, and the PERT expectation of the sum.

Expectation of one step: (low + 4 likely + high) / 6 (programme evaluation and review technique).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce

from compiler.derive.lists import TimeTotal
from compiler.model import Amount, Duration, Procedure
from compiler.trade.units import Quantity
from compiler.walk.nodes import (
    BranchNode,
    Deed,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
    Walk,
)

_UNTIMED_DEEDS = frozenset({Deed.STOP, Deed.HAND_OVER, Deed.GO_BACK})
"""What ends the work or leads elsewhere takes no time of its own."""


@dataclass(frozen=True, slots=True)
class Span3:
    """Minutes: least, likely, most, expected; and how many steps give no time."""

    low: float = 0.0
    likely: float = 0.0
    high: float = 0.0
    expected: float = 0.0
    untimed: int = 0
    timed: int = 0


def total_time(procedure: Procedure, walk: Walk) -> TimeTotal | None:
    """Return the time of the whole job; None when nothing in it gives a time.

    What the head of the procedure says goes before the sum of its steps.
    """
    if procedure.takes is not None:
        whole = _of(procedure.takes)
        return TimeTotal(whole.low, whole.likely, whole.high, whole.expected, 0)
    total = _sum(walk.nodes)
    if not total.timed:
        return None
    return TimeTotal(total.low, total.likely, total.high, total.expected, total.untimed)


def expected(low: float, likely: float, high: float) -> float:
    """Return the PERT expectation of three points."""
    return (low + 4 * likely + high) / 6


def _of(given: Duration) -> Span3:
    low = given.likely if given.low is None else given.low
    high = given.likely if given.high is None else given.high
    return Span3(low, given.likely, high, expected(low, given.likely, high), timed=1)


def _sum(nodes: Iterable[Node]) -> Span3:
    return reduce(_plus, (_time(node) for node in nodes), Span3())


def _plus(one: Span3, other: Span3) -> Span3:
    return Span3(
        one.low + other.low,
        one.likely + other.likely,
        one.high + other.high,
        one.expected + other.expected,
        one.untimed + other.untimed,
        one.timed + other.timed,
    )


def _time(node: Node) -> Span3:
    match node:
        case StepNode():
            return _step(node)
        case SectionNode():
            return _of(node.extras.takes) if node.extras.takes is not None else _sum(node.nodes)
        case RepeatNode():
            return _of(node.extras.takes) if node.extras.takes is not None else _repeat(node)
        case BranchNode():
            return _branch([_sum(body) for _, body in node.arms], node.arms[-1][0] is None)
        case LanesNode():
            return _side_by_side([_sum(body) for _, body in node.lanes])


def _step(node: StepNode) -> Span3:
    own = node.extras.takes
    if own is not None:
        time = _of(own)
    else:
        minutes = _minutes(node.timer) if node.timer is not None else _waited(node)
        if minutes is None:
            ends = any(act.deed in _UNTIMED_DEEDS for act in node.acts)
            return Span3(untimed=0 if ends else 1)
        time = Span3(minutes, minutes, minutes, minutes, timed=1)
    return _branch([time], has_otherwise=False) if node.when is not None else time


def _waited(node: StepNode) -> float | None:
    """Return the minutes after `for` (`rinse for 2 min`), None when there are none."""
    for act in node.acts:
        for phrase in act.phrases:
            for operand in phrase.operands if phrase.word == "for" else ():
                if isinstance(operand, Amount) and operand.low.dimension == "time":
                    return _minutes(operand.low)
    return None


def _minutes(quantity: Quantity) -> float | None:
    return float(quantity.si) / 60 if quantity.dimension == "time" else None


def _repeat(node: RepeatNode) -> Span3:
    """Rounds add up; a repeat until something is in limits takes one round, or up to its most.

    Steps without a time are counted as a reader sees them, not once a round.
    """
    rounds = [_sum(body) for body in node.rounds]
    if not rounds:
        return Span3()
    total = reduce(_plus, rounds)
    if node.until is not None:
        high = total.high * max(1, node.most)
        middle = expected(total.low, total.likely, high)
        return Span3(total.low, total.likely, high, middle, total.untimed, total.timed)
    return Span3(
        total.low, total.likely, total.high, total.expected, rounds[0].untimed, total.timed
    )


def _branch(arms: Sequence[Span3], has_otherwise: bool) -> Span3:
    """The least and the most of all arms. Without `otherwise` the likely case is that none is
    taken; with it, the middle of the arms.
    """
    low = min(arm.low for arm in arms) if has_otherwise else 0.0
    high = max(arm.high for arm in arms)
    likely = sum(arm.likely for arm in arms) / len(arms) if has_otherwise else 0.0
    return Span3(
        low,
        likely,
        high,
        expected(low, likely, high),
        sum(arm.untimed for arm in arms),
        sum(arm.timed for arm in arms),
    )


def _side_by_side(lanes: Sequence[Span3]) -> Span3:
    """What is done at the same time takes as long as the slowest."""
    if not lanes:
        return Span3()
    return Span3(
        max(lane.low for lane in lanes),
        max(lane.likely for lane in lanes),
        max(lane.high for lane in lanes),
        max(lane.expected for lane in lanes),
        sum(lane.untimed for lane in lanes),
        sum(lane.timed for lane in lanes),
    )
