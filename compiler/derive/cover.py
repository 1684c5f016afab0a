"""The fewest tools that serve every need: an exact search, with a bound for the absurd.

A need has options; an option is a set of tools that serve it together (a torque wrench with a
socket). The choice is the smallest set of tools that contains an option of each need.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

Option: TypeAlias = frozenset[str]
Options: TypeAlias = tuple[Option, ...]

MOST_LOOKED_AT = 5_000
"""So many partial choices are looked at; the jobs of a real shop need a few dozen. Beyond it
the choice is the best one found so far, which is at least as small as the greedy one.
"""


@dataclass(slots=True)
class _Search:
    """A branch and bound over the needs, the one with the fewest options first.

    `rank` breaks ties: of two choices of one size the one with the tools that are listed first.
    """

    rank: Mapping[str, int]
    best: frozenset[str]
    looked: int = 0
    seen: set[frozenset[str]] = field(default_factory=set)

    def run(self, needs: Sequence[Options], chosen: frozenset[str]) -> None:
        """Look for a smaller choice that contains `chosen`."""
        self.looked += 1
        if self.looked > MOST_LOOKED_AT or chosen in self.seen:
            return
        self.seen.add(chosen)
        open_needs = [o for o in needs if not any(option <= chosen for option in o)]
        if not open_needs:
            if self._key(chosen) < self._key(self.best):
                self.best = chosen
            return
        if len(chosen) + _at_least(open_needs, chosen) > len(self.best):
            return
        hardest = min(open_needs, key=len)
        for option in sorted(hardest, key=lambda o: (len(o - chosen), self._ranks(o))):
            self.run(open_needs, chosen | option)

    def _key(self, tools: frozenset[str]) -> tuple[int, list[int]]:
        return len(tools), self._ranks(tools)

    def _ranks(self, tools: frozenset[str]) -> list[int]:
        return sorted(self.rank[tool] for tool in tools)


def fewest_tools(
    needs: Sequence[Options], order: Sequence[str], given: frozenset[str] = frozenset()
) -> frozenset[str]:
    """Return the smallest set of tools that serves each need, `given` ones included.

    `order` lists all tools; it breaks ties, so that the answer is always the same. A need without
    options is passed over.
    """
    wanted = _without_idle([tuple(dict.fromkeys(o)) for o in needs if o])
    search = _Search({tool: at for at, tool in enumerate(order)}, _greedy(wanted, given))
    search.run(wanted, given)
    return search.best


def _without_idle(needs: Sequence[Options]) -> list[Options]:
    """Leave out a need that is served whenever another one is: it has all of its options."""
    unique = sorted(dict.fromkeys(needs), key=len)
    kept: list[Options] = []
    for options in unique:
        if not any(set(other) <= set(options) for other in kept):
            kept.append(options)
    return kept


def _at_least(needs: Sequence[Options], chosen: frozenset[str]) -> int:
    """Return how many tools must be added at least: needs that share no tool add up."""
    used: set[str] = set()
    total = 0
    for options in needs:
        about = frozenset[str]().union(*options) - chosen
        if used.isdisjoint(about):
            used |= about
            total += min(len(option - chosen) for option in options)
    return total


def _greedy(needs: Sequence[Options], given: frozenset[str]) -> frozenset[str]:
    """Return a choice that takes, step by step, the option that adds least and serves most."""
    chosen = given
    left = list(needs)
    while left := [o for o in left if not any(option <= chosen for option in o)]:
        options = dict.fromkeys(option for o in left for option in o)
        best = min(options, key=lambda o: _cost(o, left, chosen))
        chosen |= best
    return chosen


def _cost(
    option: Option, left: Sequence[Options], chosen: frozenset[str]
) -> tuple[float, list[str]]:
    after = chosen | option
    served = sum(1 for options in left if any(o <= after for o in options))
    return len(option - chosen) / served, sorted(option)
