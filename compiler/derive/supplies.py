"""New parts, fasteners, fluids and consumables to bring, each with the steps that need it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from compiler.derive.doings import Arm, Doing
from compiler.derive.filling import own_amount
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
_USES_UP = frozenset({"apply", "brush", "feed", "pour", "rub", "spray", "spread", "squeeze"})
"""Verbs that put a fluid on or into something (common practice, no source)."""

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


_Taken: TypeAlias = tuple[_Need, Doing]
"""A need with the step it comes from."""


def supplies(things: Mapping[str, AnyThing], steps: Sequence[Doing]) -> tuple[PartLine, ...]:
    """Return what has to be brought, in the order of kinds and then of the work.

    What every arm of a branch needs is brought in any case. What is needed on some paths only, or
    more of it there, stands on a line of its own with its condition; of arms that exclude each
    other the larger count is enough.
    """
    lines: dict[tuple[object, ...], list[_Taken]] = {}
    drained: set[str] = set()
    for step in steps:
        for act in step.node.acts:
            for need in _needs(things, step, act, drained):
                # Amounts that differ cannot be added up by how often: each is a line.
                size = (need.amount.low, need.amount.high) if need.amount is not None else None
                lines.setdefault((need.kind, need.key, size), []).append((need, step))
    return by_kind(one for taken in lines.values() for one in _lines(taken))


def by_kind(lines: Iterable[PartLine]) -> tuple[PartLine, ...]:
    """Return lines in the order of kinds, those of one kind in the order they come."""
    return tuple(sorted(lines, key=lambda one: _ORDER[one.kind]))


@dataclass(slots=True)
class _Tally:
    """How many are needed at least and at most, and which needs are in any case, which perhaps."""

    least: int = 0
    most: int = 0
    always: list[_Taken] = field(default_factory=list)
    perhaps: list[_Taken] = field(default_factory=list)

    def add(self, arms: Sequence[_Tally], *, one_is_done: bool) -> None:
        """Add a branch: the least of its arms is sure, if one of them is done in any case."""
        sure = min(arm.least for arm in arms) if one_is_done else 0
        most = max(arm.most for arm in arms)
        self.least += sure
        self.most += most
        for arm in arms:
            if sure:
                self.always += arm.always
            if arm.most > sure:
                self.perhaps += arm.perhaps if arm.least == sure > 0 else arm.all

    @property
    def all(self) -> list[_Taken]:
        return [*self.always, *self.perhaps]


def _tally(taken: Sequence[_Taken], depth: int = 0) -> _Tally:
    """Add up needs; those that stand in more than `depth` arms go by their branch at that depth.

    What is taken as needed, without a count, counts as one: it is there or it is not.
    """
    found = _Tally()
    branches: dict[str, dict[Arm, list[_Taken]]] = {}
    for need, step in taken:
        if len(step.arms) > depth:
            arm = step.arms[depth]
            branches.setdefault(arm.branch, {}).setdefault(arm, []).append((need, step))
            continue
        found.least += need.count or 1
        found.most += need.count or 1
        found.always.append((need, step))
    for arms in branches.values():
        every_arm = next(iter(arms)).of == len(arms)
        tallies = [_tally(inner, depth + 1) for inner in arms.values()]
        found.add(tallies, one_is_done=every_arm)
    return found


def _lines(taken: Sequence[_Taken]) -> Iterator[PartLine]:
    first, found = taken[0][0], _tally(taken)
    if found.least:
        # As needed is as needed: a second line would not say more.
        listed = found.always if first.count else taken
        yield _line(first, found.least if first.count else 0, "", listed)
    if found.most > found.least and not (found.least and not first.count):
        conditions = dict.fromkeys(" and ".join(filter(None, s.only_if)) for _, s in found.perhaps)
        count = found.most - found.least if first.count else 0
        yield _line(first, count, " or ".join(conditions), found.perhaps)


def _line(need: _Need, count: int, only_if: str, taken: Iterable[_Taken]) -> PartLine:
    reasons = dict.fromkeys(Reason(step.id, one.why) for one, step in taken)
    return PartLine(
        key=need.key,
        kind=need.kind,
        label=need.label,
        number=need.number,
        formerly=need.formerly,
        count=0 if need.amount is not None and count == 1 else count,
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
                yield from _fluid(thing, act, drained, _why(things, step, act))
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


def _fluid(thing: Fluid, act: Act, drained: set[str], why: str) -> Iterator[_Need]:
    """Return a fluid that is filled in or put on; what was only let out and goes back is there."""
    label = label_of(thing)
    if act.verb is not None and act.verb.word in _USES_UP:
        yield _Need("fluid", thing.key, label, why)
    if act.deed is Deed.DRAIN:
        drained.add(thing.key)
    elif act.deed is Deed.FILL and act.new_part:
        drained.discard(thing.key)
        yield _filled(thing, own_amount(act)[0] or thing.amount, f"fills in new {label}")
    elif act.deed is Deed.FILL and thing.key not in drained:
        yield _filled(thing, own_amount(act)[0], f"tops up {label}")


def _filled(thing: Fluid, amount: Amount | None, why: str) -> _Need:
    """Return a fluid that is filled in: once its amount, or as needed."""
    return _Need(
        "fluid",
        thing.key,
        label_of(thing),
        why,
        1 if amount is not None else 0,
        amount,
        thing.number,
        thing.formerly,
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
