"""The automaton that runs the parse table: a stack of states with a value on each.

It is the textbook LALR loop on lark's table. That it is run here rather than by lark gives what
recovery and messages need: stepping back to the start of a line, and asking what could come next.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from compiler.parse.table import Table

Build = Callable[[list[Any]], Any]


class Machine:
    """One run of the parser. `take` eats a token; `mark` and `reset` step back to an earlier place.

    Values are never changed once they are on the stack below a mark, so stepping back is cheap.
    """

    __slots__ = (
        "_actions",
        "_builds",
        "_defaults",
        "_end",
        "_gotos",
        "_rules",
        "_states",
        "_values",
    )

    def __init__(self, table: Table, start: str, builds: Mapping[str, Build]) -> None:
        first, self._end = table.starts[start]
        self._actions = table.actions
        self._defaults = table.defaults
        self._gotos = table.gotos
        self._rules = table.rules
        self._builds = builds
        self._states = [first]
        self._values: list[Any] = []

    @property
    def choices(self) -> Mapping[str, int]:
        """Return the terminals that may come next; a few of them may turn out not to fit."""
        return self._actions[self._states[-1]]

    def mark(self) -> tuple[list[int], list[Any]]:
        """Return the present place, to come back to with `reset`."""
        return self._states.copy(), self._values.copy()

    def reset(self, mark: tuple[list[int], list[Any]]) -> None:
        """Go back to a place that `mark` returned."""
        self._states, self._values = mark[0].copy(), mark[1].copy()

    def take(self, terminal: str, value: Any) -> bool:
        """Take one token; return False when it cannot stand here."""
        states, actions = self._states, self._actions
        while True:
            move = actions[states[-1]].get(terminal)
            if move is None:
                return False
            if move >= 0:
                states.append(move)
                self._values.append(value)
                self._settle()
                return True
            self._reduce(~move)
            self._settle()

    def finish(self) -> Any:
        """Return the value of the whole, after the last token."""
        while self._states[-1] != self._end:
            move = self._actions[self._states[-1]].get("$END")
            if move is None or move >= 0:
                return None
            self._reduce(~move)
            self._settle()
        return self._values[-1]

    def can_take(self, terminal: str) -> bool:
        """Tell whether a token could stand here, without taking it."""
        states = self._states.copy()
        while True:
            move: int | None = self._defaults[states[-1]]
            if move is None:
                move = self._actions[states[-1]].get(terminal)
                if move is None:
                    return False
                if move >= 0:
                    return True
                move = ~move
            rule = self._rules[move]
            if rule.size:
                del states[-rule.size :]
            states.append(self._gotos[states[-1]][rule.origin])

    def could_follow(self) -> frozenset[str]:
        """Return the terminals that can really stand here."""
        return frozenset(filter(self.can_take, self.choices))

    def _settle(self) -> None:
        # Where only one rule can apply it is applied at once: the next word is then judged by what
        # can really come, not by what could come somewhere else in the language.
        states, defaults = self._states, self._defaults
        default = defaults[states[-1]]
        while default is not None:
            self._reduce(default)
            default = defaults[states[-1]]

    def _reduce(self, number: int) -> None:
        rule = self._rules[number]
        states, values, size = self._states, self._values, rule.size
        if size == 1 and rule.stands_for_itself:
            states[-1] = self._gotos[states[-2]][rule.origin]
            return
        children = values[-size:] if size else []
        if size:
            del values[-size:]
            del states[-size:]
        if rule.gathers:
            value: Any = _gathered(children, rule.spread)
        else:
            value = self._builds[rule.build](
                _poured(children, rule.spread) if rule.spread else children
            )
        states.append(self._gotos[states[-1]][rule.origin])
        values.append(value)


def _gathered(children: list[Any], spread: Sequence[int]) -> list[Any]:
    # A list lives within one line, so it may grow in place; copying it would make long lines slow.
    if spread and spread[0] == 0:
        first: list[Any] = children[0]
        for number, child in enumerate(children[1:], 1):
            if number in spread:
                first.extend(child)
            else:
                first.append(child)
        return first
    return _poured(children, spread)


def _poured(children: list[Any], spread: Sequence[int]) -> list[Any]:
    if not spread:
        return children
    poured: list[Any] = []
    for number, child in enumerate(children):
        if number in spread:
            poured.extend(child)
        else:
            poured.append(child)
    return poured
