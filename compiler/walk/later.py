"""Whether what is off is put back by a line further down: by a `fit`, or by a way back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Literal, TypeAlias

from compiler.model import (
    ActionStep,
    Block,
    BranchBlock,
    FollowStep,
    LoopUse,
    OnlyForBlock,
    RefitStep,
    RepeatBlock,
    Selection,
    Step,
    World,
)
from compiler.trade.verbs import Effect
from compiler.walk.ahead import Ahead
from compiler.walk.assembly import Assembly, Unit
from compiler.walk.nodes import Deed
from compiler.walk.size import half_of
from compiler.walk.state import FastenerState, LineState, PartState, Status
from compiler.walk.things import bodies_of
from compiler.walk.wayback import Entry, Record

How: TypeAlias = Literal["", "new", "the same"]
"""How it is put back: not at all, as a new one in any case, or as what lies there."""

_OFF = frozenset({Deed.REMOVE, Deed.UNDO, Deed.UNLOCK, Deed.DISCONNECT})
_PUTS_IN = frozenset({Effect.FIT, Effect.CONNECT})
_IN_PLACE = frozenset(
    {Effect.REMOVE, Effect.SLACKEN, Effect.TIGHTEN, Effect.LOCK, Effect.OPEN, Effect.CLOSE}
)
"""What can only be done to what is in place: before such a line it has to be in."""

_MOST = 2000
"""So many lines ahead are looked at."""

_Bound: TypeAlias = Mapping[str, tuple[str, ...]]
"""The keys that a loop variable stands for."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A step further down, the procedure it stands in, and whether it is done on every path."""

    step: Step
    key: str
    sure: bool
    bound: _Bound


@dataclass(frozen=True, slots=True)
class Later:
    """What comes after a step, and what was done before it."""

    world: World
    assembly: Assembly
    ahead: Ahead
    trail: Sequence[Entry]
    records: Mapping[tuple[str, str], Record]

    def puts_back(self, unit: Unit) -> How:
        """Return how a unit that is off is put back further down."""
        for line in islice(self._lines(), _MOST):
            step = line.step
            if isinstance(step, RefitStep | FollowStep):
                key = step.target if isinstance(step, FollowStep) else line.key
                section = step.section if isinstance(step, RefitStep) else ""
                if line.sure and self._undoes((key, section), unit):
                    return "new" if self._single_use(unit) else "the same"
            elif isinstance(step, ActionStep):
                found = self._action(line, step, unit)
                if found is not None:
                    return found
        return ""

    def _single_use(self, unit: Unit) -> bool:
        return bool(getattr(self.assembly.things[unit[0]], "renew", False))

    def _action(self, line: _Line, step: ActionStep, unit: Unit) -> How | None:
        """Return what a line says of the unit; None when it leaves the question open."""
        effect = step.verb.effect
        named = dict(self._named(step, line.bound))
        if effect in _PUTS_IN and line.sure:
            if unit in named:
                said_new = named[unit] == "new" or self._is_new_fastener(unit)
                return "new" if said_new else "the same"
            if named.keys() & set(self.assembly.held.get(unit, ())):
                return "new" if self._single_use(unit) else "the same"
        if unit in named and effect in _IN_PLACE:
            return ""
        if effect in _IN_PLACE | _PUTS_IN and named.keys() & set(
            self.assembly.holders.get(unit, ())
        ):
            return ""
        before_it = named.keys() & set(self.assembly.behind.get(unit, ()))
        return "" if before_it and effect in _PUTS_IN else None

    def _is_new_fastener(self, unit: Unit) -> bool:
        return self.assembly.fastener(unit) is not None and self._single_use(unit)

    def _named(self, step: ActionStep, bound: _Bound) -> Iterator[tuple[Unit, str]]:
        """Yield the units that a line names, and whether it says `new` or `old`."""
        for target in step.targets:
            if isinstance(target, Selection):
                members = [m for m in target.members if isinstance(m, str)]
                open_ = len(members) != len(target.members)
                for unit in self.assembly.units(target.key, () if open_ else members):
                    yield unit, target.age
            elif isinstance(target, LoopUse):
                for key in bound.get(target.variable, ()):
                    for unit in self.assembly.units(key):
                        yield unit, ""

    def _undoes(self, key: tuple[str, str], unit: Unit) -> bool:
        """Return whether a way back puts the unit in: it was in, and what is undone took it off."""
        record = self.records.get(key)
        if record is None or not _is_in(record.start.status(unit, self.assembly)):
            return False
        trail = record.trail if record.since < 0 else self.trail[record.since :]
        return any(entry.done.act.deed in _OFF and unit in entry.done.units for entry in trail)

    # --- The lines further down ---------------------------------------------------------------

    def _lines(self) -> Iterator[_Line]:
        here: Ahead | None = self.ahead
        while here is not None:
            yield from self._body(here.body[here.at :], here.key, True, {}, ())
            here = here.then

    def _body(
        self, body: Sequence[Block], key: str, sure: bool, bound: _Bound, stack: tuple[str, ...]
    ) -> Iterator[_Line]:
        for block in body:
            if isinstance(block, Step):
                yield from self._step(block, key, sure, bound, stack)
                continue
            if isinstance(block, OnlyForBlock) and self.ahead.model not in block.models:
                continue
            inner = {**bound, **_bindings(block)} if isinstance(block, RepeatBlock) else bound
            for each in bodies_of(block):
                surely = sure and not isinstance(block, BranchBlock)
                yield from self._body(each, key, surely, inner, stack)

    def _step(
        self, step: Step, key: str, sure: bool, bound: _Bound, stack: tuple[str, ...]
    ) -> Iterator[_Line]:
        if step.only_for and self.ahead.model not in step.only_for:
            return
        surely = sure and step.only_if is None
        called = self.world.procedures.get(step.target) if isinstance(step, FollowStep) else None
        if not isinstance(step, FollowStep) or called is None:
            yield _Line(step, key, surely, bound)
            return
        body = half_of(called, step.half)
        if body and called.key not in stack:
            yield from self._body(body, called.key, surely, {}, (*stack, called.key))
        elif not body and step.half == "way back":
            yield _Line(step, key, surely, bound)


def _is_in(status: Status | None) -> bool:
    match status:
        case PartState():
            return status.seat == "fitted"
        case FastenerState():
            return status.hold != "out"
        case LineState():
            return status.connected
        case _:
            return False


def _bindings(block: RepeatBlock) -> _Bound:
    keys = tuple(dict.fromkeys(b.key for b in block.bindings if isinstance(b, Selection)))
    return {block.variable: keys} if block.variable and keys else {}
