"""Follows a walk-through act by act, through both arms of every branch.

Ways on which the machine stands alike again go on as one, so that the work stays linear in the
steps, however many branches there are. A later branch on a condition that was decided before is
decided the same way. Ways that go back are followed round, until they bring nothing new.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from compiler.checks.replay.way import (
    MOST_WAYS,
    Core,
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
from compiler.walk.flat import FlatAct, flat_acts
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
    prefix_of,
)
from compiler.walk.start import initial_state
from compiler.walk.state import ConditionState, State
from compiler.walk.wayback import still

_STOPS = frozenset({Deed.STOP, Deed.HAND_OVER})
Ways: TypeAlias = tuple[Way, ...]


MOST_ROUNDS = 4
"""How often ways that go back are followed round; more than two brings news hardly ever."""


def replay(
    walk: Walk,
    assembly: Assembly,
    ends: Iterable[EndState],
    acts: Sequence[FlatAct] | None = None,
) -> Replay:
    """Return all ways through a walk, from what `ends` say of the start; `acts` are its acts."""
    start = initial_state(assembly, ends)
    flat = flat_acts(walk) if acts is None else acts
    doors = {target: Door() for target in _gone_back_to(flat)}
    for _ in range(MOST_ROUNDS):
        run = _Run(assembly, doors)
        going = run.nodes(walk.nodes, (Way(start),))
        news = [door.opened(assembly) for door in doors.values()]
        if not any(news):
            break
    endings = (*run.endings, *(Ending(way) for way in going))
    unreached = () if run.dropped else tuple(run.unreached)
    return Replay(start, assembly, tuple(run.moments), endings, unreached)


def _gone_back_to(acts: Iterable[FlatAct]) -> frozenset[str]:
    """Return the ids of the steps and sections that the work goes back to."""
    back = (one.act for one in acts if one.act.deed is Deed.GO_BACK)
    return frozenset(str(act.targets[0]) for act in back)


@dataclass(slots=True)
class Door:
    """Where ways that go back come in again. `judged` is what was judged before it, on some way."""

    waiting: Ways = ()
    coming: list[Way] = field(default_factory=list)
    seen: set[Core] = field(default_factory=set)
    judged: set[str] = field(default_factory=set)

    def opened(self, assembly: Assembly) -> bool:
        """Let in, from the next round on, the ways that have come; return whether any is new."""
        new = [way for way in self.coming if core(way.state, assembly) not in self.seen]
        self.coming = []
        self.waiting = merged((*self.waiting, *new), assembly)
        return bool(new)


@dataclass(slots=True)
class _Run:
    assembly: Assembly
    doors: Mapping[str, Door] = field(default_factory=dict)
    dropped: bool = False
    """Whether there were more ways than are followed: then some go unchecked."""
    moments: list[Moment] = field(default_factory=list)
    endings: list[Ending] = field(default_factory=list)
    unreached: list[StepNode] = field(default_factory=list)
    meant: dict[int, tuple[Unit, ...]] = field(default_factory=dict)
    """The units of each act, by its identity: an act is done on many ways."""

    def nodes(self, nodes: Sequence[Node], ways: Ways) -> Ways:
        for node in nodes:
            ways = self.node(node, ways)
        return ways

    def merged(self, ways: Iterable[Way]) -> Ways:
        found = merged(ways, self.assembly)
        self.dropped = self.dropped or len(found) == MOST_WAYS
        return found

    def node(self, node: Node, ways: Ways) -> Ways:
        door = self.doors.get(node.id)
        if door is not None:
            ways = self.merged((*ways, *door.waiting))
            door.seen |= {core(way.state, self.assembly) for way in ways}
            door.judged |= {subject for way in ways for subject in way.facts.open}
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
            ways = self.merged((*ways, *again))
        return ways

    def branch(self, node: BranchNode, ways: Ways) -> Ways:
        after: list[Way] = []
        left = ways
        for when, body in node.arms:
            taken, left = (left, ()) if when is None else self.split(when, left, node.id)
            after += self.nodes(body, taken)
        return self.merged((*after, *left))

    def split(self, when: When, ways: Ways, id: str) -> tuple[Ways, Ways]:
        """Return the ways on which a condition holds, and those on which it does not.

        `id` is that of the node that asks.
        """
        where = prefix_of(id)
        yes: list[Way] = []
        no: list[Way] = []
        for way in ways:
            verdict = self.verdict(when, way, where)
            if verdict is not False:
                yes.append(way if verdict else way.choosing(when, True, where))
            if verdict is not True:
                no.append(way if verdict is False else way.choosing(when, False, where))
        return tuple(yes), tuple(no)

    def verdict(self, when: When, way: Way, where: str) -> bool | None:
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
                return way.facts.says(when, where)

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
        doing, leaving = self.split(node.when, ways, node.id)
        after = [way for one in doing for way in self.acts(node, one)]
        return self.merged((*after, *leaving))

    def acts(self, node: StepNode, way: Way) -> Ways:
        """Do the acts of a step; () when the way ends there."""
        if isinstance(node.step, MeasureStep | QuestionStep):
            answers = node.step.answers if isinstance(node.step, QuestionStep) else ()
            name = f"{prefix_of(node.id)}{node.step.name}"
            way = replace(way, facts=way.facts.without(name, answers))
        for act in node.acts:
            doing = Doing(act, node)
            after = self.act(doing, way)
            self.moments.append(Moment(doing, way, after))
            way = after
            if act.deed in _STOPS:
                self.endings.append(Ending(way, stopped=True))
                return ()
            if act.deed is Deed.GO_BACK:
                door = self.doors[str(act.targets[0])]
                facts = way.facts.but_judged(door.judged)
                door.coming.append(replace(way, facts=facts, back=node.step.span))
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
        # Made anew, not by `replace`: this is done for every act on every way.
        return Way(state, last, since, way.choices, way.facts, way.blurred, way.back)

    def where_it_was(self, state: State, units: Iterable[Unit]) -> State:
        """Return the state with parts in their own place: the way back ends where the way in began.

        A part that the author fits stays in the place it was moved to.
        """
        parts = {unit: state.part(unit) for unit in units}
        back = {u: replace(s, place=None) for u, s in parts.items() if s.place is not None}
        return state.with_statuses(back)


def units_of(act: Act, assembly: Assembly) -> tuple[Unit, ...]:
    """Return the units that an act is about."""
    targets = [target for target in act.targets if isinstance(target, Target)]
    if len(targets) == 1:
        return assembly.units_of(targets[0])
    return tuple(unit for target in targets for unit in assembly.units_of(target))
