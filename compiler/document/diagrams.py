"""The drawn sequence of a group: where the bolts stand, in which order and passes."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from compiler.derive.tightening import stages_of, target_of
from compiler.document.context import Context
from compiler.document.model import Bolt, BoltDiagram
from compiler.model import Amount, Fastener
from compiler.model import Sequence as Order
from compiler.trade.patterns import positions
from compiler.trade.units import Quantity, format_quantity, rounded
from compiler.walk.nodes import Act, Deed, Target
from compiler.wording.english import listed, number, plural
from compiler.wording.fasteners import described
from compiler.wording.nouns import name_of
from compiler.wording.text import upper_first
from compiler.wording.values import amount_text
from compiler.wording.voice import count_meant

_MARGIN = 0.1
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
    """Return where the bolts stand, numbered as `trade/patterns.py` counts them: clockwise."""
    found = positions(sequence.layout, count, sequence.rows, sequence.columns)
    return tuple(Bolt(n, _share(x), _share(y)) for n, (x, y) in enumerate(found, 1))


def _share(place: float) -> float:
    """Return a place in the drawing, which leaves a margin around the bolts."""
    return round(_MARGIN + (1 - 2 * _MARGIN) * place, 4) + 0.0


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
            "counted clockwise from the top left"
        )
    return (
        f"{upper_first(number(count))} {kind} {shape}. "
        f"Order: {listed([str(n) for n in order], 'then')}."
    )
