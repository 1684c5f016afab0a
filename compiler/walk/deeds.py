"""Writes out acts one by one and carries the state along: what one step of the author comes to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from compiler.model import Fastener
from compiler.source import Span
from compiler.trade.verbs import Verb
from compiler.walk.ahead import Ahead
from compiler.walk.assembly import Assembly, Unit, Units, locates, turns
from compiler.walk.change import act_on
from compiler.walk.nodes import Act, Deed, Spot, Target, WalkPhrase
from compiler.walk.state import State, Status

Phrases = tuple[WalkPhrase, ...]
Generals = tuple[tuple[str, frozenset[str]], ...]


class PutsBack(Protocol):
    """Tells how a unit that is off is put back further down: '', 'new' or 'the same'."""

    def puts_back(self, unit: Unit) -> str:
        """Return how."""
        ...


@dataclass(frozen=True, slots=True)
class Meant:
    """What is acted on: as it is said, and the units it means (none for text)."""

    spot: Spot
    units: Units = ()


@dataclass(frozen=True, slots=True)
class Done:
    """An act that was written out: its units and the state they were in before."""

    act: Act
    units: Units
    before: tuple[Status | None, ...]


@dataclass(slots=True)
class Deeds:
    """The acts of one step so far, and the state they lead to.

    `general` tells the members that a general body speaks of in general, the first and all: an
    implied target that is just the first becomes "each". `ahead` is what the author says later,
    `later` tells how what is off is put back there.
    """

    assembly: Assembly
    state: State
    span: Span
    verb: Verb | None = None
    ahead: Ahead = field(default_factory=Ahead)
    general: Generals = ()
    later: PutsBack | None = None
    acts: list[Act] = field(default_factory=list)
    done: list[Done] = field(default_factory=list)

    def do(
        self,
        deed: Deed,
        meant: Sequence[Meant],
        phrases: Phrases = (),
        *,
        state: str = "",
        new: bool = False,
        why: str = "",
    ) -> None:
        """Write out one deed. With `why` it is implied: the author did not write it."""
        if not meant and deed is not Deed.NEUTRAL:
            return
        act = Act(
            deed,
            tuple(one.spot for one in meant),
            self.span,
            None if why else self.verb,
            phrases,
            state,
            new,
            bool(why),
            why,
        )
        units = tuple(unit for one in meant for unit in one.units)
        before = tuple(self.state.status(unit, self.assembly) for unit in units)
        self.state = act_on(self.state, act, units, self.assembly)
        self.done.append(Done(act, units, before))
        last = self.acts[-1] if self.acts else None
        if last is not None and _alike(last, act):
            self.acts[-1] = replace(last, targets=(*last.targets, *act.targets))
        else:
            self.acts.append(act)

    def implied(self, units: Iterable[Unit]) -> list[Meant]:
        """Return units as what is acted on, those of one thing together."""
        found: dict[str, list[Unit]] = {}
        for unit in units:
            found.setdefault(unit[0], []).append(unit)
        return [Meant(self._said(group), tuple(group)) for group in found.values()]

    def _said(self, group: list[Unit]) -> Target:
        target = self.assembly.targets(group)[0]
        thing = self.assembly.things[target.key]
        if len(group) == 1 and any(
            group[0][1] == first and members <= set(thing.members)
            for first, members in self.general
        ):
            return replace(target, members=(), each=True)
        return target

    # --- Fasteners ----------------------------------------------------------------------------

    def label(self, unit: Unit) -> str:
        """Return what people call the thing a unit belongs to."""
        thing = self.assembly.things[unit[0]]
        return thing.label or thing.name.replace("-", " ")

    def lockers(self, units: Iterable[Unit], *, locked: bool) -> list[Unit]:
        """Return what secures these fasteners and is in its place (or is not)."""
        found: dict[Unit, None] = {}
        for unit in units:
            for locker in self.assembly.lockers.get(unit, ()):
                if (self.state.fastener(locker).hold == "tight") is locked:
                    found[locker] = None
        return list(found)

    def unlock(self, units: Iterable[Unit]) -> None:
        """Undo what secures these fasteners."""
        for meant in self.implied(self.lockers(units, locked=True)):
            locked = self.assembly.locked[meant.units[0]][0]
            self.do(Deed.UNLOCK, [meant], why=f"locks the {self.label(locked)}")

    def lock(self, units: Iterable[Unit], *, ask: bool = True) -> None:
        """Secure these fasteners again, unless the author says so later."""
        wanted = [
            locker
            for locker in self.lockers(units, locked=False)
            if not (ask and self.ahead.locks(locker[0], self.assembly.locked[locker]))
        ]
        for meant in self.implied(wanted):
            locked = self.assembly.locked[meant.units[0]][0]
            new = self.is_renewed(meant.units[0])
            self.do(Deed.LOCK, [meant], new=new, why=f"locks the {self.label(locked)}")

    def is_renewed(self, unit: Unit) -> bool:
        """Return whether putting this back takes a new one: single use, and it was out."""
        thing = self.assembly.things[unit[0]]
        if not thing.renew:
            return False
        return not isinstance(thing, Fastener) or self.state.fastener(unit).hold == "out"

    def holders(self, units: Iterable[Unit]) -> list[Unit]:
        """Return the fasteners that hold any of these, what only locates left aside."""
        found: dict[Unit, None] = {}
        for unit in units:
            for holder in self.assembly.holders.get(unit, ()):
                fastener = self.assembly.fastener(holder)
                if fastener is not None and not locates(fastener):
                    found[holder] = None
        return list(found)

    def loose(self, units: Iterable[Unit]) -> None:
        """Take out what still holds these, with what secures it."""
        still = [h for h in self.holders(units) if self.state.fastener(h).hold != "out"]
        wanted = set(units)
        for meant in self.implied(still):
            self.unlock(meant.units)
            held = self.assembly.held[meant.units[0]]
            first = next(unit for unit in held if unit in wanted)
            self.do(Deed.UNDO, [meant], why=f"holds the {self.label(first)}")

    def started(self, units: Iterable[Unit], *, ask: bool = True) -> list[Unit]:
        """Put in by hand what holds these and is out; return it.

        A fastener goes in only when all that it holds is there. With `ask`, one that the author
        puts in later is left to that step.
        """
        wanted = set(units)
        out = [
            holder
            for holder in self.holders(units)
            if self.state.fastener(holder).hold == "out" and self.may_go_in(holder)
        ]
        if ask:
            out = [h for h in out if not self.ahead.fits(h[0])]
        for meant in self.implied(out):
            held = next(u for u in self.assembly.held[meant.units[0]] if u in wanted)
            new = self.is_renewed(meant.units[0])
            self.do(Deed.START, [meant], new=new, why=f"holds the {self.label(held)}")
        self.lock([h for h in out if not self.turns(h)], ask=ask)
        return out

    def may_go_in(self, holder: Unit) -> bool:
        """Return whether all that a fastener holds is where it belongs."""
        return not any(
            self.state.away(unit, self.assembly)
            for unit in self.assembly.held.get(holder, ())
            if self.assembly.part(unit) is not None
        )

    def turns(self, unit: Unit) -> bool:
        """Return whether the fastener is brought home by turning."""
        fastener = self.assembly.fastener(unit)
        return fastener is not None and turns(fastener)


def _alike(one: Act, other: Act) -> bool:
    """Return whether two acts differ in their targets only, so that they are one."""
    return (one.deed, one.phrases, one.state, one.new_part, one.why) == (
        other.deed,
        other.phrases,
        other.state,
        other.new_part,
        other.why,
    )
