"""The drawn sequence of a group: where the bolts stand, in which order and passes."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from compiler.derive.tightening import ends_of, middle, stages_of, target_of
from compiler.document.context import Context
from compiler.document.drawing import plan, ring, strokes
from compiler.document.model import Bolt, BoltDiagram
from compiler.model import Amount, Fastener
from compiler.model import Sequence as Order
from compiler.trade.units import Quantity, rounded
from compiler.walk.nodes import Act, Deed, Target
from compiler.wording.english import listed, number, plural, spoken
from compiler.wording.fasteners import described
from compiler.wording.nouns import name_of
from compiler.wording.text import plain_text, upper_first
from compiler.wording.values import measure, measured, nominal
from compiler.wording.voice import Voice, count_meant

_FEWEST = 3
_LONG = 7


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
    found, width, height, radius = plan(thing.sequence, count)
    bolts = tuple(Bolt(n, x, y) for n, (x, y) in enumerate(found, 1))
    each = f", {number(total // count)} times" if total > count else ""
    return BoltDiagram(
        title=f"{_title(thing)} ({count}{each})",
        bolts=bolts,
        order=order,
        passes=passes(ctx.voice, thing.sequence, target),
        alt=_alt(thing, count, order),
        width=width,
        height=height,
        radius=radius,
        groups=_groups(order),
        strokes=strokes(bolts, order, radius),
        ring=ring(bolts, radius) if thing.sequence.then_circular else (),
        times=total // count,
    )


def _title(thing: Fastener) -> str:
    """Return what they are called: the author's words, else the kind: `M12 hexagon nuts, n12`."""
    if thing.label and thing.label != spoken(thing.name):
        return upper_first(plural(thing.label))
    said = " ".join(word for word in described(thing) if word)
    name = name_of(thing)
    return f"{plural(said)}, {name}" if said else upper_first(plural(name))


def _groups(order: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """Return an order in pieces for the eye: by fours, as crosswise orders go, when it is long."""
    if len(order) <= _LONG:
        return (tuple(order),)
    return tuple(tuple(order[at : at + 4]) for at in range(0, len(order), 4))


def passes(voice: Voice, sequence: Order, target: Amount) -> tuple[str, ...]:
    """Return the passes with their torques: `Pass 1, 30 %: 18 N·m (13 lbf·ft)`."""
    made: list[str] = []
    if len(sequence.passes) > 1 or sequence.then_circular:
        for n, share in enumerate(sequence.passes or (100.0,), 1):
            made.append(f"Pass {n}, {share:g} %: {_part(voice, target, share)}")
    if sequence.then_circular:
        made.append(f"Then once round at {plain_text((measure(voice, _bare(target)),))}")
    return tuple(made)


def _bare(amount: Amount) -> Amount:
    """Return an amount without its tolerance; one that is shut on one side is its window."""
    twin, ends = amount.twin, ends_of(amount)
    bare = Amount(twin.span, twin.low, twin.high) if twin is not None else None
    if ends is not None and middle(amount).value != amount.low.value:
        return Amount(amount.span, *ends, twin=bare)
    return Amount(amount.span, amount.low, amount.high, twin=bare)


def _part(voice: Voice, target: Amount, share: float) -> str:
    """Return a share of the target torque; the middle of a window counts as its target."""
    final = middle(target)
    if share == 100 and final.value == target.low.value:
        return plain_text((nominal(voice, target),))
    exact = Quantity(final.value * Fraction(str(share)) / 100, final.unit)
    part = exact if share == 100 else Quantity(rounded(exact, final).value, exact.unit)
    return plain_text((measured(voice, part),))


def _alt(thing: Fastener, count: int, order: Sequence[int]) -> str:
    kind = plural(described(thing)[1] or name_of(thing))
    sequence = thing.sequence
    shape = "on a circle, counted clockwise from the top"
    if sequence.layout == "rectangle" and sequence.rows * sequence.columns == count:
        rows = f"{sequence.rows} row{'s' if sequence.rows > 1 else ''}"
        columns = f"{sequence.columns} column{'s' if sequence.columns > 1 else ''}"
        shape = f"in a rectangle of {rows} and {columns}, counted clockwise from the top left"
    elif sequence.layout == "given":
        shape = "laid out as on the machine"
    return (
        f"{upper_first(number(count))} {kind} {shape}. "
        f"Order: {listed([str(n) for n in order], 'then')}."
    )
