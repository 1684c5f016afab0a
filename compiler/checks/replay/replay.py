"""Follows a walk-through act by act, through both arms of every branch.

Ways on which the machine stands alike again go on as one, so that the work stays linear in the
steps, however many branches there are. A later branch on a condition that was decided before is
decided the same way.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from compiler.checks.replay.way import (
    Doing,
    Ending,
    Moment,
    Replay,
    Way,
    changed,
    core,
    merged,
    past_of,
)
from compiler.model import EndState, MeasureStep, QuestionStep, StateIs, StillSo, WasDone, When
from compiler.walk.assembly import Assembly, Unit
from compiler.walk.change import act_on
from compiler.walk.nodes import (
    Act,
    BranchNode,
    Deed,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
    Target,
    Walk,
)
from compiler.walk.start import initial_state
from compiler.walk.state import ConditionState, State
from compiler.walk.wayback import still

_STOPS = frozenset({Deed.STOP, Deed.HAND_OVER})
Ways: TypeAlias = tuple[Way, ...]


def replay(walk: Walk, assembly: Assembly, ends: Iterable[EndState]) -> Replay:
    """Return all ways through a walk, from what `ends` say of the start."""
    start = initial_state(assembly, ends)
    run = _Run(assembly)
    going = run.nodes(walk.nodes, (Way(start),))
    endings = (*run.endings, *(Ending(way) for way in going))
    return Replay(start, assembly, tuple(run.moments), endings, tuple(run.unreached))


@dataclass(slots=True)
class _Run:
    assembly: Assembly
    moments: list[Moment] = field(default_factory=list)
    endings: list[Ending] = field(default_factory=list)
    unreached: list[StepNode] = field(default_factory=list)
    meant: dict[int, tuple[Unit, ...]] = field(default_factory=dict)
    """The units of each act, by its identity: an act is done on many ways."""

    def nodes(self, nodes: Sequence[Node], ways: Ways) -> Ways:
        for node in nodes:
            ways = self.node(node, ways)
        return ways

    def node(self, node: Node, ways: Ways) -> Ways:
        match node:
            case StepNode():
                return self.step(node, ways)
            case SectionNode():
                return self.nodes(node.nodes, ways)
            case RepeatNode():
                return self.repeat(node, ways)
            case BranchNode():
                return self.branch(node, ways)
            case LanesNode():
                for _, lane in node.lanes:
                    ways = self.nodes(lane, ways)
                return ways

    def repeat(self, node: RepeatNode, ways: Ways) -> Ways:
        """Do all rounds; those of `until` once and once more, for the second starts elsewhere."""
        for body in node.rounds:
            before = {core(way.state, self.assembly) for way in ways}
            ways = self.nodes(body, ways)
            if node.until is None or {core(w.state, self.assembly) for w in ways} <= before:
                continue
            again = self.nodes(body, ways)
            ways = merged((*ways, *again), self.assembly)
        return ways

    def branch(self, node: BranchNode, ways: Ways) -> Ways:
        after: list[Way] = []
        left = ways
        for when, body in node.arms:
            taken, left = (left, ()) if when is None else self.split(when, left)
            after += self.nodes(body, taken)
        return merged((*after, *left), self.assembly)

    def split(self, when: When, ways: Ways) -> tuple[Ways, Ways]:
        """Return the ways on which a condition holds, and those on which it does not."""
        yes: list[Way] = []
        no: list[Way] = []
        for way in ways:
            verdict = self.verdict(when, way)
            if verdict is not False:
                yes.append(way if verdict else way.choosing(when, True))
            if verdict is not True:
                no.append(way if verdict is False else way.choosing(when, False))
        return tuple(yes), tuple(no)

    def verdict(self, when: When, way: Way) -> bool | None:
        match when:
            case StateIs(kind="condition"):
                status = way.state.status((when.subject, ""), self.assembly)
                return status.state == when.state if isinstance(status, ConditionState) else None
            case WasDone():
                return self.was_done(when, way)
            case StillSo():
                members = [m for m in when.subject.members if isinstance(m, str)]
                units = self.assembly.units(when.subject.key, members)
                return any(self.is_still(way, unit, when.state) for unit in units)
            case _:
                return way.facts.says(when)

    def was_done(self, when: WasDone, way: Way) -> bool | None:
        members = [m for m in when.subject.members if isinstance(m, str)]
        units = self.assembly.units(when.subject.key, members)
        if any(when.deed in past_of(way.state.units.get(unit)) for unit in units):
            return True
        if not units or any((unit, when.deed) in way.blurred for unit in units):
            return way.facts.says(when)
        return False

    def is_still(self, way: Way, unit: Unit, state: str) -> bool:
        status = way.state.status(unit, self.assembly)
        return status is not None and state in still(status)

    # --- Steps --------------------------------------------------------------------------------

    def step(self, node: StepNode, ways: Ways) -> Ways:
        if not ways:
            self.unreached.append(node)
            return ways
        if node.when is None:
            return tuple(way for one in ways for way in self.acts(node, one))
        doing, leaving = self.split(node.when, ways)
        after = [way for one in doing for way in self.acts(node, one)]
        return merged((*after, *leaving), self.assembly)

    def acts(self, node: StepNode, way: Way) -> Ways:
        """Do the acts of a step; () when the way ends there."""
        if isinstance(node.step, MeasureStep | QuestionStep):
            answers = node.step.answers if isinstance(node.step, QuestionStep) else ()
            way = replace(way, facts=way.facts.without(node.step.name, answers))
        for act in node.acts:
            doing = Doing(act, node)
            after = self.act(doing, way)
            self.moments.append(Moment(doing, way, after))
            way = after
            if act.deed in _STOPS:
                self.endings.append(Ending(way, stopped=True))
                return ()
            if act.deed is Deed.GO_BACK:
                return ()
        return (way,)

    def act(self, doing: Doing, way: Way) -> Way:
        units = self.meant.get(id(doing.act))
        if units is None:
            units = self.meant[id(doing.act)] = units_of(doing.act, self.assembly)
        if not units:
            return way
        state = act_on(way.state, doing.act, units, self.assembly)
        if state is way.state:
            return way
        if doing.act.deed is Deed.FIT and any(o.kind == "refit" for o in doing.step.origin):
            state = self.where_it_was(state, units)
        last = {**way.last, **dict.fromkeys(units, doing)}
        aspects = dict.fromkeys(changed(way.state, state, units), doing)
        since = {**way.since, **aspects} if aspects else way.since
        return replace(way, state=state, last=last, since=since)

    def where_it_was(self, state: State, units: Iterable[Unit]) -> State:
        """Return the state with parts in their own place: the way back ends where the way in began.

        A part that the author fits stays in the place it was moved to.
        """
        parts = {unit: state.part(unit) for unit in units}
        back = {u: replace(s, place=None) for u, s in parts.items() if s.place is not None}
        return state.with_statuses(back)


def units_of(act: Act, assembly: Assembly) -> tuple[Unit, ...]:
    """Return the units that an act is about."""
    targets = (target for target in act.targets if isinstance(target, Target))
    return tuple(unit for target in targets for unit in assembly.units_of(target))
