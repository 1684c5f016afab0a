"""The shortest safe way to a part: the fewest things to take off, in an order that works.

What stands in the way (`behind`) may be taken off itself, or with what carries it. A guard stays on
while its energy is live; what contains an energy or a fluid stays shut until that is let out.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable
from dataclasses import dataclass

from compiler.model import Connection, Energy, Fluid, Part
from compiler.walk.assembly import Assembly, Unit, Units, locates
from compiler.walk.state import State

_MOST_SETS = 1500
"""So many sets of removals are weighed against each other, in about a second; real assemblies need
a few dozen. A row in which each part stands behind the next leaves no choice and counts nothing.
"""


@dataclass(frozen=True, slots=True)
class Way:
    """What to take off, in order."""

    units: Units


@dataclass(frozen=True, slots=True)
class Blocked:
    """There is no safe way. `unit` must not come off because of `because` (an energy or fluid).

    Both are None when what stands in the way goes round in a circle, or is `tangled`: the search
    was given up.
    """

    unit: Unit | None = None
    because: Unit | None = None
    tangled: bool = False


def shortest_way(assembly: Assembly, state: State, goal: Unit) -> Way | Blocked:
    """Return the fewest removals after which nothing stands in the way of `goal`.

    Exact: a search over sets of removals, smallest first; equal ones in the order of declaration.
    """
    return _Search(assembly, state, goal).run()


class _Search:
    def __init__(self, assembly: Assembly, state: State, goal: Unit) -> None:
        self.assembly = assembly
        self.state = state
        self.goal = goal
        self.blocked: Blocked | None = None

    def run(self) -> Way | Blocked:
        first: frozenset[Unit] = frozenset()
        waiting: list[tuple[int, tuple[tuple[int, str], ...], frozenset[Unit]]] = [(0, (), first)]
        seen = {first}
        looked = 0
        while waiting:
            _, _, chosen = heapq.heappop(waiting)
            looked += bool(waiting)
            if looked > _MOST_SETS:
                return Blocked(tangled=True)
            order, stuck = self._order(chosen)
            if not stuck:
                return Way(order)
            for more in self._grown(chosen, stuck, set(order)):
                if more not in seen:
                    seen.add(more)
                    heapq.heappush(waiting, (len(more), self._rank(more), more))
        return self.blocked or Blocked()

    def _rank(self, units: Iterable[Unit]) -> tuple[tuple[int, str], ...]:
        order = self.assembly.order
        return tuple(sorted((order.get(key, 0), member) for key, member in units))

    def _order(self, chosen: frozenset[Unit]) -> tuple[Units, list[Unit]]:
        """Take off what can be taken off; return that in order, and what then is stuck.

        The goal stands among what is stuck as long as something is in its way.
        """
        off: dict[Unit, None] = {}
        left = sorted(chosen, key=lambda u: self._rank((u,)))
        moved = True
        while moved:
            moved = False
            for unit in left:
                if unit not in off and not self._needs(unit, off):
                    off[unit] = None
                    moved = True
                    break
        stuck = [u for u in left if u not in off]
        if self._needs(self.goal, off):
            stuck.append(self.goal)
        return tuple(off), stuck

    def _grown(
        self, chosen: frozenset[Unit], stuck: list[Unit], off: set[Unit]
    ) -> Iterable[frozenset[Unit]]:
        """Return the sets to try next.

        Whatever the way is, it takes off one of the options of each need. A need that the whole
        choice cannot meet is enough to branch on; when only the order is stuck, any option of any
        need may be the missing one.
        """
        everything = dict.fromkeys(chosen)
        for unit in stuck:
            for need in self._needs(unit, everything):
                yield from (chosen | {o} for o in need if o not in chosen and self._allowed(o))
                return
        for unit in stuck:
            for need in self._needs(unit, dict.fromkeys(off)):
                yield from (chosen | {o} for o in need if o not in chosen and self._allowed(o))

    # --- What must be out of the way ----------------------------------------------------------

    def _needs(self, unit: Unit, off: dict[Unit, None]) -> list[Units]:
        """Return what still is in the way of taking `unit` off, or of reaching the goal.

        Each need is met when one of its units comes off.
        """
        if self._is_off(unit, {}):
            return []
        found = list(self._chain_needs(unit, unit, off))
        if unit == self.goal:
            for held in self.assembly.held.get(unit, ()):
                found += self._chain_needs(unit, held, off)
            return found
        for holder in self._holders(unit):
            for each in (holder, *self.assembly.lockers.get(holder, ())):
                found += self._blockers(unit, each, off, ())
        return [*found, *self._lines(unit, off)]

    def _chain_needs(self, unit: Unit, start: Unit, off: dict[Unit, None]) -> Iterable[Units]:
        """Return what `start`, and what carries it, stands behind.

        What a carrier stands behind does not matter once the carrier is off.
        """
        carriers: list[Unit] = []
        for each in self.assembly.chain(start):
            if each != start:
                if self._is_off(each, off):
                    return
                carriers.append(each)
            yield from self._blockers(unit, each, off, tuple(carriers))

    def _blockers(
        self, unit: Unit, behind: Unit, off: dict[Unit, None], carriers: Units
    ) -> Iterable[Units]:
        """Return what `behind` stands behind. What carries `unit` as well is no way out."""
        mine = set(self.assembly.chain(unit))
        for blocker in self.assembly.behind.get(behind, ()):
            way_out = tuple(u for u in self.assembly.chain(blocker) if u not in mine)
            if not any(self._is_off(u, off) for u in way_out):
                yield (*way_out, *carriers)

    def _holders(self, unit: Unit) -> Iterable[Unit]:
        """Return the fasteners that have to be undone to take the unit off."""
        for holder in self.assembly.holders.get(unit, ()):
            fastener = self.assembly.fastener(holder)
            out = self.state.fastener(holder).hold == "out"
            if fastener is not None and not locates(fastener) and not out:
                yield holder

    def _lines(self, unit: Unit, off: dict[Unit, None]) -> Iterable[Units]:
        """Return the lines that would be torn: those joined to what moves and to something else."""
        load = [u for u in self.assembly.load(unit) if u == unit or not self._is_off(u, off)]
        for moving in load:
            for line in self.assembly.connections.get(moving, ()):
                ends = self.assembly.joins.get(line, ())
                whole = len(ends) > 1 and set(load).issuperset(ends)
                if line != unit and not whole and not self._is_off(line, off):
                    yield (line,)

    def _is_off(self, unit: Unit, off: dict[Unit, None]) -> bool:
        return unit in off or self.state.away(unit, self.assembly)

    # --- What must stay on --------------------------------------------------------------------

    def _allowed(self, unit: Unit) -> bool:
        """Return whether the unit may be taken off now; remember the first reason why not."""
        for key in self._kept_in(unit):
            for each in self.assembly.units(key):
                if self._is_live(each):
                    self.blocked = self.blocked or Blocked(unit, each)
                    return False
        return True

    def _kept_in(self, unit: Unit) -> Iterable[str]:
        """Yield the energies and fluids that people are kept from by what would come off.

        A guard that is on it comes off along with it.
        """
        thing = self.assembly.things[unit[0]]
        if isinstance(thing, Part):
            yield from (*thing.guards, *thing.contains)
            for other in self.assembly.load(unit)[1:]:
                part = self.assembly.part(other)
                if part is not None and not self._is_off(other, {}):
                    yield from part.guards
        elif isinstance(thing, Connection):
            yield from (*thing.contains, *((thing.carries,) if thing.carries else ()))

    def _is_live(self, unit: Unit) -> bool:
        thing = self.assembly.things[unit[0]]
        if isinstance(thing, Energy):
            return not self.state.energy(unit).isolated
        return isinstance(thing, Fluid) and self.state.fluid(unit).filled
