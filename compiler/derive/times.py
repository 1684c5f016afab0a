"""Time: three points a step, through repeats and branches, and the PERT expectation of the sum.

One step: expectation (low + 4 likely + high) / 6, spread (high - low) / 6. In a chain expectations
add up, and so do the squares of spreads (programme evaluation and review technique).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from math import sqrt

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
    """Minutes: least, likely, most, expected, the square of the spread; steps with and without.

    What is done several times is counted as often, with a time or without.
    """

    low: float = 0.0
    likely: float = 0.0
    high: float = 0.0
    expected: float = 0.0
    variance: float = 0.0
    untimed: int = 0
    timed: int = 0


def total_time(procedure: Procedure, walk: Walk) -> TimeTotal | None:
    """Return the time of the whole job; None when nothing in it gives a time.

    What the head of the procedure says goes before the sum of its steps.
    """
    if procedure.takes is not None:
        return _total(_covering(procedure.takes, walk.nodes))
    total = _sum(walk.nodes)
    return _total(total) if total.timed else None


def _total(time: Span3) -> TimeTotal:
    return TimeTotal(
        time.low,
        time.likely,
        time.high,
        time.expected,
        time.untimed,
        time.timed,
        sqrt(time.variance),
    )


def expected(low: float, likely: float, high: float) -> float:
    """Return the PERT expectation of three points in any one unit: (low + 4 likely + high) / 6."""
    return (low + 4 * likely + high) / 6


def spread(low: float, high: float) -> float:
    """Return the PERT spread (one standard deviation), in the unit of both: (high - low) / 6."""
    return (high - low) / 6


def _of(given: Duration) -> Span3:
    low = given.likely if given.low is None else given.low
    high = given.likely if given.high is None else given.high
    return _points(low, given.likely, high, 0, 1)


def _points(low: float, likely: float, high: float, untimed: int, timed: int) -> Span3:
    middle = expected(low, likely, high)
    return Span3(low, likely, high, middle, spread(low, high) ** 2, untimed, timed)


def _covering(given: Duration, nodes: Iterable[Node]) -> Span3:
    """Return a time that stands for all the steps below it, whatever those say themselves."""
    below = _sum(nodes)
    return replace(_of(given), timed=max(1, below.timed + below.untimed))


def _sum(nodes: Iterable[Node]) -> Span3:
    return reduce(_plus, (_time(node) for node in nodes), Span3())


def _plus(one: Span3, other: Span3) -> Span3:
    return Span3(
        one.low + other.low,
        one.likely + other.likely,
        one.high + other.high,
        one.expected + other.expected,
        one.variance + other.variance,
        one.untimed + other.untimed,
        one.timed + other.timed,
    )


def _time(node: Node) -> Span3:
    match node:
        case StepNode():
            return _step(node)
        case SectionNode():
            takes = node.extras.takes
            return _covering(takes, node.nodes) if takes is not None else _sum(node.nodes)
        case RepeatNode():
            inside = [one for body in node.rounds for one in body]
            takes = node.extras.takes
            return _covering(takes, inside) if takes is not None else _repeat(node)
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
        time = _points(minutes, minutes, minutes, 0, 1)
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
    """Rounds add up; a repeat until something is in limits takes one round, or up to its most."""
    total = reduce(_plus, (_sum(body) for body in node.rounds), Span3())
    if node.until is None:
        return total
    high = total.high * max(1, node.most)
    return _points(total.low, total.likely, high, total.untimed, total.timed)


def _branch(arms: Sequence[Span3], has_otherwise: bool) -> Span3:
    """The least and the most of all arms. Without `otherwise` the likely case is that none is
    taken; with it, the middle of the arms.
    """
    low = min(arm.low for arm in arms) if has_otherwise else 0.0
    high = max(arm.high for arm in arms)
    likely = sum(arm.likely for arm in arms) / len(arms) if has_otherwise else 0.0
    untimed = sum(arm.untimed for arm in arms)
    return _points(low, likely, high, untimed, sum(arm.timed for arm in arms))


def _side_by_side(lanes: Sequence[Span3]) -> Span3:
    """What is done at the same time takes as long as the slowest, and spreads like that one."""
    if not lanes:
        return Span3()
    return Span3(
        max(lane.low for lane in lanes),
        max(lane.likely for lane in lanes),
        max(lane.high for lane in lanes),
        max(lane.expected for lane in lanes),
        max((lane.expected, lane.variance) for lane in lanes)[1],
        sum(lane.untimed for lane in lanes),
        sum(lane.timed for lane in lanes),
    )
