"""New parts, fasteners, fluids and consumables to bring, each with the steps that need it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from compiler.derive.doings import Doing
from compiler.derive.lists import PartLine, Reason
from compiler.derive.words import act_words, label_of, with_members
from compiler.model import (
    Amount,
    AnyThing,
    Connection,
    Consumable,
    Fastener,
    Fluid,
    Part,
    StackItem,
)
from compiler.trade.units import Quantity
from compiler.walk.nodes import Act, Deed, Target

Kind = Literal["part", "fastener", "fluid", "consumable", "stack-item", "spare"]
_ORDER: Mapping[Kind, int] = {
    "part": 0,
    "fastener": 1,
    "stack-item": 2,
    "spare": 3,
    "fluid": 4,
    "consumable": 5,
}
_NEW_BY = frozenset({Deed.FIT, Deed.CONNECT, Deed.TRANSFER, Deed.RENEW})
_PUT_IN = frozenset({Deed.START, Deed.LOCK, Deed.RENEW})


@dataclass(frozen=True, slots=True)
class _Need:
    """One thing that one step needs. `count` 0 means as needed."""

    kind: Kind
    key: str
    label: str
    why: str
    count: int = 0
    amount: Amount | None = None
    number: str = ""
    formerly: tuple[str, ...] = ()
    sizes: tuple[Quantity, ...] = ()


@dataclass(slots=True)
class _Line:
    """What was gathered for one line: certain needs, and those of each arm of each branch."""

    first: _Need
    count: int = 0
    by_arm: dict[str, dict[int, int]] = field(default_factory=dict)
    always: list[Reason] = field(default_factory=list)
    perhaps: list[Reason] = field(default_factory=list)
    conditions: dict[str, None] = field(default_factory=dict)


def supplies(things: Mapping[str, AnyThing], steps: Sequence[Doing]) -> tuple[PartLine, ...]:
    """Return what has to be brought, in the order of kinds and then of the work.

    What is needed on some paths only stands on a line of its own with its condition; of arms that
    exclude each other the larger count is enough.
    """
    lines: dict[tuple[Kind, str], _Line] = {}
    drained: set[str] = set()
    for step in steps:
        for act in step.node.acts:
            for need in _needs(things, step, act, drained):
                _take(lines.setdefault((need.kind, need.key), _Line(need)), need, step)
    made = [one for line in lines.values() for one in _lines(line)]
    return by_kind(made)


def by_kind(lines: Iterable[PartLine]) -> tuple[PartLine, ...]:
    """Return lines in the order of kinds, those of one kind in the order they come."""
    return tuple(sorted(lines, key=lambda one: _ORDER[one.kind]))


def _take(line: _Line, need: _Need, step: Doing) -> None:
    reason = Reason(step.id, need.why)
    if step.arm is None:
        line.count += need.count
        if reason not in line.always:
            line.always.append(reason)
        return
    branch, arm = step.arm
    arms = line.by_arm.setdefault(branch, {})
    arms[arm] = arms.get(arm, 0) + need.count
    line.conditions[" and ".join(filter(None, step.only_if))] = None
    if reason not in line.perhaps:
        line.perhaps.append(reason)


def _lines(line: _Line) -> Iterator[PartLine]:
    if line.always:
        all_reasons = line.always if line.first.count else [*line.always, *line.perhaps]
        yield _line(line.first, line.count, "", dict.fromkeys(all_reasons))
    if line.perhaps and not (line.always and not line.first.count):
        count = sum(max(arms.values()) for arms in line.by_arm.values())
        yield _line(line.first, count, " or ".join(line.conditions), line.perhaps)


def _line(need: _Need, count: int, only_if: str, reasons: Iterable[Reason]) -> PartLine:
    return PartLine(
        key=need.key,
        kind=need.kind,
        label=need.label,
        number=need.number,
        formerly=need.formerly,
        count=count,
        amount=need.amount,
        only_if=only_if,
        reasons=tuple(reasons),
        sizes=need.sizes,
    )


# --- What an act needs ------------------------------------------------------------------------


def _needs(
    things: Mapping[str, AnyThing], step: Doing, act: Act, drained: set[str]
) -> Iterator[_Need]:
    for target in act.targets:
        thing = things.get(target.key) if isinstance(target, Target) else None
        if thing is None or not isinstance(target, Target):
            continue
        named = with_members(label_of(thing), () if step.general else target.members)
        match thing:
            case Part() | Connection():
                if act.deed in _NEW_BY and _is_new(act, target):
                    yield _new_thing("part", thing, target, named)
                yield from _spares(things, thing, act)
            case Fastener():
                yield from _fastener(things, thing, act, target, named)
            case Fluid():
                yield from _fluid(thing, act, drained)
            case Consumable():
                yield _consumable(thing, _why(things, step, act))
            case _:
                pass
    for phrase in act.phrases:
        for operand in phrase.operands if phrase.word != "without" else ():
            thing = things.get(operand.key) if isinstance(operand, Target) else None
            if isinstance(thing, Consumable):
                yield _consumable(thing, _why(things, step, act))
            elif isinstance(thing, Fluid) and phrase.word == "with":
                yield _Need("fluid", thing.key, label_of(thing), _why(things, step, act))


def _is_new(act: Act, target: Target) -> bool:
    if act.deed is Deed.RENEW:
        return act.new_part
    return act.new_part or target.age == "new"


def _many(thing: AnyThing, target: Target) -> int:
    """Return how many are meant: members times the count of each; one round's worth for `each`."""
    return thing.count * (1 if target.each else len(target.members) or len(thing.members) or 1)


def _new_thing(kind: Kind, thing: AnyThing, target: Target, named: str) -> _Need:
    """Return the need of a new one; members with one number are counted together."""
    return _Need(
        kind,
        thing.key,
        label_of(thing),
        f"new {named}",
        _many(thing, target),
        number=thing.number,
        formerly=thing.formerly,
    )


def _fastener(
    things: Mapping[str, AnyThing], thing: Fastener, act: Act, target: Target, named: str
) -> Iterator[_Need]:
    if act.deed in _PUT_IN and _is_new(act, target):
        yield _new_thing("fastener", thing, target, named)
    if act.deed in (Deed.START, Deed.LOCK):
        if thing.thread == "with" and isinstance(
            stuff := things.get(thing.thread_with), Consumable
        ):
            yield _consumable(stuff, f"thread of {named}")
        if thing.thread == "oiled":
            yield _Need("consumable", "", "oil for threads", f"thread of {named}")
    if act.deed is Deed.START:
        for item in thing.stack:
            if item.renew:
                yield _stacked(thing, item, target, named)
    if act.deed in (Deed.UNDO, Deed.SLACKEN):
        for item in thing.stack:
            if item.low != item.high and not item.renew:
                yield _stacked(thing, item, target, named)


def _stacked(thing: Fastener, item: StackItem, target: Target, named: str) -> _Need:
    """Return an item of a stack: new ones as many as there are, optional ones as needed."""
    count = item.high * _many(thing, target) if item.low == item.high else 0
    return _Need(
        "stack-item",
        f"{thing.key}/{item.name}",
        item.label,
        f"on {named}",
        count,
        number=item.number,
        formerly=item.formerly,
        sizes=item.sizes,
    )


def _fluid(thing: Fluid, act: Act, drained: set[str]) -> Iterator[_Need]:
    """Return a fluid that is filled in; what was only let out and goes back need not be brought."""
    label = label_of(thing)
    if act.deed is Deed.DRAIN:
        drained.add(thing.key)
    elif act.deed is Deed.FILL and act.new_part:
        drained.discard(thing.key)
        yield _Need(
            "fluid",
            thing.key,
            label,
            f"fills in new {label}",
            amount=thing.amount,
            number=thing.number,
            formerly=thing.formerly,
        )
    elif act.deed is Deed.FILL and thing.key not in drained:
        yield _Need(
            "fluid",
            thing.key,
            label,
            f"tops up {label}",
            number=thing.number,
            formerly=thing.formerly,
        )


def _consumable(thing: Consumable, why: str) -> _Need:
    return _Need(
        "consumable",
        thing.key,
        label_of(thing),
        why,
        amount=thing.amount,
        number=thing.number,
        formerly=thing.formerly,
    )


def _spares(things: Mapping[str, AnyThing], thing: AnyThing, act: Act) -> Iterator[_Need]:
    """Return the spares of a part that comes off: they only have to be there."""
    if act.deed is not Deed.REMOVE:
        return
    for other in things.values():
        if isinstance(other, Part) and other.spare_for and other.spare_for.key == thing.key:
            yield _Need(
                "spare",
                other.key,
                label_of(other),
                f"spare for {label_of(thing)}",
                0,
                number=other.number,
                formerly=other.formerly,
            )


def _why(things: Mapping[str, AnyThing], step: Doing, act: Act) -> str:
    """Return in a few words what is done with a consumable or fluid."""
    return act_words(act, step.node.step, things, general=step.general)
