"""The torque table: one line for each fastener group and target, with wrench, order and setting."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from compiler.derive.accuracy import accuracy_of, rooms_of
from compiler.derive.crib import in_range, measures_torque
from compiler.derive.doings import Doing
from compiler.derive.joints import set_to
from compiler.derive.lists import TorqueLine
from compiler.derive.passes import pass_torques
from compiler.derive.tightening import (
    Adapter,
    adapter_of,
    added,
    measured,
    middle,
    setting_for,
    stages_of,
    target_of,
    window_of,
    with_running,
)
from compiler.derive.tools import Choice, tool_words
from compiler.derive.words import label_of, name_of_key
from compiler.derive.workings import Lever, levers_of, working_of
from compiler.model import Amount, AnyThing, Fastener, Shop, Stage, Tool
from compiler.trade.patterns import (
    circular_order,
    crosswise_order,
    grid_places,
    middle_order,
    star_order,
)
from compiler.trade.rounding import converted, narrower, other_unit
from compiler.trade.units import Quantity, rounded
from compiler.trade.wrenching import torque_need
from compiler.walk.assembly import turns
from compiler.walk.nodes import Deed, Target


@dataclass(slots=True)
class _Group:
    """Tightenings of one fastener to one target."""

    fastener: Fastener
    stages: tuple[Stage, ...]
    adapter: Adapter | None
    members: dict[str, None] = field(default_factory=dict)
    step_ids: dict[str, None] = field(default_factory=dict)


def torque_lines(
    things: Mapping[str, AnyThing], steps: Sequence[Doing], choice: Choice, shop: Shop | None
) -> tuple[TorqueLine, ...]:
    """Return a line for each group of fasteners that is brought to a torque, in order."""
    groups: dict[tuple[str, tuple[Stage, ...], Adapter | None], _Group] = {}
    for step in steps:
        for act in step.node.acts:
            for target in act.targets:
                thing = things.get(target.key) if isinstance(target, Target) else None
                if not isinstance(thing, Fastener) or not isinstance(target, Target):
                    continue
                locked = act.deed is Deed.LOCK and turns(thing)
                stages = stages_of(thing, act) if act.deed is Deed.TIGHTEN or locked else ()
                if target_of(stages) is None:
                    continue
                adapter = adapter_of(things, act)
                plain = tuple(Stage(stages[0].span, s.kind, s.amount) for s in stages)
                made = _Group(thing, stages, adapter)
                group = groups.setdefault((thing.key, plain, adapter), made)
                group.members.update(dict.fromkeys(target.members or thing.members))
                group.step_ids[step.id] = None
    lines = (_line(things, group, choice, shop) for group in groups.values())
    return tuple(line for line in lines if line is not None)


def _line(
    things: Mapping[str, AnyThing], group: _Group, choice: Choice, shop: Shop | None
) -> TorqueLine | None:
    fastener, stages = group.fastener, group.stages
    target = target_of(stages)
    if target is None:
        return None
    low, high = window_of(stages)
    wrench = _wrench(things, group, choice, target)
    count = fastener.count * max(1, len(group.members))
    return TorqueLine(
        key=fastener.key,
        label=label_of(fastener),
        designation=fastener.designation.text,
        count=count,
        target=target,
        low=low,
        high=high,
        second=_second(target, shop),
        stages=stages,
        sequence=fastener.sequence,
        order=order_of(fastener, count),
        thread=_thread(things, fastener),
        wrench=wrench.key if wrench is not None else "",
        drive_tool=_drive_tool(group),
        setting=_setting(group, wrench, target) if wrench is not None else None,
        from_house=fastener.tightening is not None and fastener.tightening.from_house,
        left_hand=fastener.left_hand,
        step_ids=tuple(group.step_ids),
        settings=_settings(group, wrench, target) if wrench is not None else (),
        apart=_apart(things, group, choice, wrench) if wrench is not None else (),
        with_running=_with_running(group, wrench, target) if wrench is not None else (),
        working=working_of(fastener, target, things, shop, _levers(group, wrench, target)),
    )


def _setting(group: _Group, wrench: Tool, target: Amount) -> Quantity | None:
    """Return what the wrench is set to; None where that is the torque as it is written."""
    aim = middle(target)
    changed = setting_for(aim, wrench, group.adapter)
    return changed or (aim if aim.value != target.low.value else None)


def _with_running(
    group: _Group, wrench: Tool, target: Amount
) -> tuple[tuple[Quantity, Quantity], ...]:
    """Return torque plus running torque, at least and at most, and what an adapter makes of it."""
    running = group.fastener.running
    if running is None:
        return ()
    drags = dict.fromkeys((running.low, running.high or running.low))
    sums = [added(middle(target), drag) for drag in drags]
    found = ((total, setting_for(total, wrench, group.adapter)) for total in sums)
    return tuple((total, setting) for total, setting in found if setting is not None)


def _levers(group: _Group, wrench: Tool | None, target: Amount) -> tuple[Lever, ...]:
    if wrench is None:
        return ()
    on_top = [total for total, _ in _with_running(group, wrench, target)]
    return levers_of(on_top or _on_the_way(group, target), wrench, group.adapter)


def _settings(group: _Group, wrench: Tool, target: Amount) -> tuple[tuple[Quantity, Quantity], ...]:
    """Return every torque on the way with what the wrench is set to, where an adapter changes it.

    A wrench left at the last setting would take the first stage or pass too far.
    """
    found = (
        (torque, setting_for(torque, wrench, group.adapter))
        for torque in _on_the_way(group, target)
    )
    return tuple((torque, _plain(setting)) for torque, setting in found if setting is not None)


def _on_the_way(group: _Group, target: Amount) -> list[Quantity]:
    """Return the torques of every stage and pass, the lowest first.

    A wrench left at the last setting would take the first stage or pass too far.
    """
    final = middle(target)
    shares = group.fastener.sequence.passes if len(group.fastener.sequence.passes) > 1 else ()
    passes = [
        rounded(Quantity(final.value * Fraction(str(share)) / 100, final.unit), final)
        for share in shares
    ]
    torques = {_plain(torque) for torque in (*measured(group.stages), *passes, final)}
    return sorted(torques, key=lambda torque: torque.si)


def _plain(quantity: Quantity) -> Quantity:
    """Return a quantity without the digits it was written with: 22 and 22.0 are one torque."""
    return Quantity(quantity.value, quantity.unit)


def _second(target: Amount, shop: Shop | None) -> Quantity | None:
    """Return the target in the other unit: the author's own pair, or the shop's second unit."""
    if target.twin is not None:
        return target.twin.low if target.high is None else None
    if shop is None or target.high is not None:
        return None
    unit = other_unit(target.low, shop.units, shop.second_units)
    if unit is None:
        return None
    off = target.tolerance
    room = narrower(off.plus, off.minus) if off is not None else None
    return converted(target.low, unit, room=room).quantity


def order_of(fastener: Fastener, count: int) -> tuple[int, ...]:
    """Return the order in one group of `count`; () when any order will do.

    Several fasteners at each member of a set (`spacer-bolt[2 ends]  4 ×`) are groups of their own.
    """
    in_group = fastener.count if fastener.count > 1 and fastener.members else count
    sequence = fastener.sequence
    if in_group < 2:
        return ()
    if sequence.pattern == "given":
        return sequence.given if len(sequence.given) == in_group else ()
    places = sequence.places
    if sequence.layout == "rectangle":
        places = grid_places(sequence.rows, sequence.columns)
    if sequence.pattern == "middle" and len(places) == in_group:
        return middle_order(places)
    if sequence.pattern in ("star", "middle"):
        known = sequence.layout == "given" and len(places) == in_group
        return crosswise_order(places) if known else star_order(in_group)
    return circular_order(in_group) if sequence.pattern == "circular" else ()


def _apart(
    things: Mapping[str, AnyThing], group: _Group, choice: Choice, wrench: Tool
) -> tuple[tuple[Quantity, str], ...]:
    """Return the torques on the way that the wrench does not show, and the one that does."""
    at_hand = _at_hand(things, group, choice)
    on_the_way = (*pass_torques(group.fastener, group.stages), *measured(group.stages))
    found: dict[Quantity, str] = {}
    for torque in on_the_way:
        if not in_range(wrench, set_to(torque, wrench, group.adapter)):
            others = (t for t in at_hand if in_range(t, set_to(torque, t, group.adapter)))
            found[torque] = next((tool.key for tool in others), "")
    return tuple(found.items())


def _at_hand(things: Mapping[str, AnyThing], group: _Group, choice: Choice) -> list[Tool]:
    """Return the torque wrenches that were chosen for the steps of a group."""
    listed = [t for t in things.values() if isinstance(t, Tool) and measures_torque(t)]
    used = choice.serving(group.step_ids, (t.key for t in listed))
    return [tool for tool in listed if tool.key in used]


def _wrench(
    things: Mapping[str, AnyThing], group: _Group, choice: Choice, target: Amount
) -> Tool | None:
    """Return the torque wrench that was chosen: one for all of the stages, or for the last."""
    torques, rooms = measured(group.stages), dict(rooms_of(group.stages))
    at_hand = _at_hand(things, group, choice)
    for wanted in (torques, (middle(target),)):
        shown = (*wanted, *with_running(wanted, group.fastener.running))
        room = min((rooms[torque] for torque in wanted if torque in rooms), default=None)
        in_reach = [
            tool
            for tool in at_hand
            if all(in_range(tool, set_to(torque, tool, group.adapter)) for torque in shown)
        ]
        # One that is named by hand is told as it is, even where it is not exact enough.
        exact = [tool for tool in in_reach if room is None or accuracy_of(tool) <= room]
        if in_reach:
            return (exact or in_reach)[0]
    return None


def _drive_tool(group: _Group) -> str:
    """Return what turns the head on the torque wrench: `10 mm socket`, or the adapter."""
    if group.adapter is not None:
        return tool_words(group.adapter.tool) or label_of(group.adapter.tool)
    need = torque_need(group.fastener.designation)
    return need.text if need is not None else ""


def _thread(things: Mapping[str, AnyThing], fastener: Fastener) -> str:
    if fastener.thread == "with":
        return name_of_key(things, fastener.thread_with)
    return fastener.thread
