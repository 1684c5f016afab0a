"""The drawn sequence of a group: where the bolts stand, in which order and passes."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import cos, pi, sin

from compiler.derive.tightening import stages_of, target_of
from compiler.document.context import Context
from compiler.document.model import Bolt, BoltDiagram
from compiler.model import Amount, Fastener
from compiler.model import Sequence as Order
from compiler.trade.units import Quantity, format_quantity, rounded
from compiler.walk.nodes import Act, Deed, Target
from compiler.wording.english import listed, number, plural
from compiler.wording.fasteners import described
from compiler.wording.nouns import name_of
from compiler.wording.text import upper_first
from compiler.wording.values import amount_text
from compiler.wording.voice import count_meant

_RADIUS = 0.4
_EDGE = 0.15
_FEWEST = 3


def diagrams(ctx: Context, acts: Sequence[Act]) -> tuple[BoltDiagram, ...]:
    """Return one diagram for each group that a step tightens in a sequence."""
    made: list[BoltDiagram] = []
    for act in acts:
        if act.deed is not Deed.TIGHTEN:
            continue
        for spot in act.targets:
            thing = ctx.voice.thing(spot.key) if isinstance(spot, Target) else None
            if isinstance(thing, Fastener) and isinstance(spot, Target):
                diagram = _diagram(ctx, act, thing, spot)
                if diagram is not None:
                    made.append(diagram)
    return tuple(dict.fromkeys(made))


def _diagram(ctx: Context, act: Act, thing: Fastener, spot: Target) -> BoltDiagram | None:
    total = count_meant(thing, spot)
    # Several groups of one kind are drawn once: each is tightened the same way.
    count = thing.count if thing.count > 1 and total > thing.count else total
    target = target_of(stages_of(thing, act))
    if target is None:
        return None  # By hand or until snug: the passes are those of the torque, which comes later.
    torque = next((one for one in ctx.derived.torques if one.key == spot.key), None)
    order = torque.order if torque is not None else ()
    if count < _FEWEST or len(order) != count or thing.sequence.pattern == "any":
        return None
    bolts = places(thing.sequence, count)
    name = plural(name_of(thing))
    each = f", {number(total // count)} times" if total > count else ""
    return BoltDiagram(
        title=f"{upper_first(name)} ({count}{each})",
        bolts=bolts,
        order=order,
        passes=passes(thing.sequence, target),
        alt=_alt(thing, count, order),
    )


def places(sequence: Order, count: int) -> tuple[Bolt, ...]:
    """Return where the bolts stand, numbered as the order counts them.

    On a circle clockwise from the top; in a rectangle of given order row by row from the top left,
    otherwise clockwise round its edge from the top left.
    """
    if sequence.layout == "rectangle" and sequence.rows * sequence.columns == count:
        return _rectangle(sequence.rows, sequence.columns)
    turn = 2 * pi / count
    return tuple(
        Bolt(n + 1, _share(0.5 + _RADIUS * sin(n * turn)), _share(0.5 - _RADIUS * cos(n * turn)))
        for n in range(count)
    )


def _rectangle(rows: int, columns: int) -> tuple[Bolt, ...]:
    return tuple(
        Bolt(row * columns + column + 1, _along(column, columns), _along(row, rows))
        for row in range(rows)
        for column in range(columns)
    )


def _along(at: int, count: int) -> float:
    if count == 1:
        return 0.5
    return _share(_EDGE + (1 - 2 * _EDGE) * at / (count - 1))


def _share(value: float) -> float:
    return round(value, 4) + 0.0


def passes(sequence: Order, target: Amount | None) -> tuple[str, ...]:
    """Return the passes with their torques: `Pass 1: 18 N·m (30 %)`."""
    made: list[str] = []
    if len(sequence.passes) > 1:
        for n, share in enumerate(sequence.passes, 1):
            torque = f"{_part(target, share)} ({share:g} %)" if target else f"{share:g} %"
            made.append(f"Pass {n}: {torque}")
    if sequence.then_circular:
        at = f" at {amount_text(_bare(target))}" if target is not None else ""
        made.append(f"Then once round{at}")
    return tuple(made)


def _bare(amount: Amount) -> Amount:
    return Amount(amount.span, amount.low, amount.high)


def _part(target: Amount, share: float) -> str:
    """Return a share of the target torque; the middle of a range counts as its target."""
    value = target.low.value
    if target.high is not None and target.high.unit == target.low.unit:
        value = (target.low.value + target.high.value) / 2
    if share == 100:
        return format_quantity(Quantity(value, target.low.unit))
    exact = Quantity(value * Fraction(str(share)) / 100, target.low.unit)
    value = rounded(exact, target.low).value
    return format_quantity(Quantity(value, target.low.unit))


def _alt(thing: Fastener, count: int, order: Sequence[int]) -> str:
    kind = plural(described(thing)[1] or name_of(thing))
    sequence = thing.sequence
    shape = "on a circle, counted clockwise from the top"
    if sequence.layout == "rectangle" and sequence.rows * sequence.columns == count:
        shape = (
            f"in a rectangle of {sequence.rows} rows and {sequence.columns} columns, "
            "counted row by row from the top left"
        )
    return (
        f"{upper_first(number(count))} {kind} {shape}. "
        f"Order: {listed([str(n) for n in order], 'then')}."
    )
