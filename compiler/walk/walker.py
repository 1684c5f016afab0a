"""Walks a procedure block by block: nodes out, the state carried along, the trail kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from itertools import chain
from typing import TypeAlias

from compiler.model import (
    ActionStep,
    Block,
    BranchBlock,
    Extras,
    FollowStep,
    LanesBlock,
    OnlyForBlock,
    RefitStep,
    RepeatBlock,
    SectionBlock,
    Selection,
    Step,
    When,
    World,
)
from compiler.trade.verbs import Effect
from compiler.walk import bind
from compiler.walk.ahead import Ahead
from compiler.walk.assembly import Assembly
from compiler.walk.bind import Loop
from compiler.walk.deeds import Deeds
from compiler.walk.frame import Frame, item_text, round_suffix
from compiler.walk.later import Later
from compiler.walk.nodes import (
    NO_EXTRAS,
    Act,
    BranchNode,
    Deed,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
)
from compiler.walk.size import DEEPEST
from compiler.walk.state import State, joined
from compiler.walk.steps import write_step
from compiler.walk.tally import Tally
from compiler.walk.wayback import Entry, Record


@dataclass(frozen=True, slots=True)
class Outcome:
    """What walking a body came to. `ended` tells that nobody goes on after it."""

    nodes: tuple[Node, ...]
    state: State
    ended: bool = False


Expand: TypeAlias = "Callable[[Walker, Frame, State, Step], Outcome | None]"


@dataclass(slots=True)
class Walker:
    """What is shared by the whole walk of one procedure on one model.

    `expand` writes out a step that comes to a whole section.
    """

    world: World
    model: str
    assembly: Assembly
    tally: Tally
    expand: Expand
    trail: list[Entry] = field(default_factory=list)
    records: dict[tuple[str, str], Record] = field(default_factory=dict)
    begun: dict[tuple[str, str], Record] = field(default_factory=dict)
    """The sections that are being walked; no line can undo one before its end."""

    @contextmanager
    def trial(self) -> Iterator[None]:
        """Walk something only to see what it does: nothing of it stays but its ids."""
        mark, kept = len(self.trail), dict(self.records)
        try:
            with self.tally.trial():
                yield
        finally:
            del self.trail[mark:]
            self.records = kept

    # --- Bodies -------------------------------------------------------------------------------

    def procedure(self, frame: Frame, state: State, body: Sequence[Block]) -> Outcome:
        """Walk a procedure, or its way in, and keep what is needed for its way back."""
        called = frame.procedure
        record = Record(called.title, called.span, state, since=len(self.trail))
        self.records[called.key, ""] = record
        outcome = self.body(frame, state, body)
        trail = tuple(self.trail[record.since :])
        self.records[called.key, ""] = replace(record, trail=trail, since=-1)
        return outcome

    def body(self, frame: Frame, state: State, body: Sequence[Block]) -> Outcome:
        """Walk the blocks of a body one after the other."""
        nodes: list[Node] = []
        ended = False
        blocks = tuple(body)
        for at, block in enumerate(blocks):
            ahead = Ahead(blocks, at + 1, frame.ahead, self.model, frame.procedure.key)
            outcome = self.block(frame.with_ahead(ahead), state, block)
            nodes += outcome.nodes
            state = outcome.state
            ended = ended or outcome.ended
        return Outcome(tuple(nodes), state, ended)

    def block(self, frame: Frame, state: State, block: Block) -> Outcome:
        """Walk one block."""
        match block:
            case SectionBlock():
                return self._section(frame, state, block)
            case RepeatBlock():
                return self._repeat(frame, state, block)
            case BranchBlock():
                return self._branch(frame, state, block)
            case OnlyForBlock():
                if self.model not in block.models:
                    return Outcome((), state)
                return self.body(frame, state, block.body)
            case LanesBlock():
                return self._lanes(frame, state, block)
            case _:
                if block.only_for and self.model not in block.only_for:
                    return Outcome((), state)
                return self._step(frame, state, block)

    def _section(self, frame: Frame, state: State, block: SectionBlock) -> Outcome:
        if frame.depth >= DEEPEST:
            self.tally.has_room(block, frame.depth, block.span)
            return Outcome((), state)
        node_id = self.tally.unique(frame.id(block.id))
        key = frame.procedure.key, block.id
        extras = bind.extras(block.extras, frame.loops)
        record = Record(block.title, block.span, state, since=len(self.trail), extras=extras)
        self.begun[key] = record
        inner = self.body(frame.deeper(), state, block.body)
        del self.begun[key]
        trail = tuple(self.trail[record.since :])
        self.records[key] = replace(record, trail=trail, since=-1)
        node = SectionNode(node_id, block.title, inner.nodes, extras, frame.origin, block.way_back)
        return Outcome((node,), inner.state, inner.ended)

    def _repeat(self, frame: Frame, state: State, block: RepeatBlock) -> Outcome:
        if not self.tally.has_room(block, frame.depth, block.span):
            return Outcome((), state)
        node_id = self.tally.unique(frame.id(block.id))
        members = frozenset(m for b in block.bindings for m in bind.members_of(b))
        shown = block.shown if _is_one_kind(block) else "each"
        general: tuple[Node, ...] = ()
        if shown == "once" and block.bindings:
            general = self._general(frame, state, block, members)
        rounds: list[tuple[Node, ...]] = []
        items: list[str] = []
        ended = False
        for number, binding in enumerate(block.bindings, start=1):
            item = item_text(binding, number, self._label(binding)) if block.variable else ""
            suffix = "" if block.until is not None else round_suffix(binding, number)
            loop = Loop(binding, False, members)
            inner = self.body(frame.in_round(block.variable, loop, item, suffix), state, block.body)
            state, ended = inner.state, inner.ended
            rounds.append(inner.nodes)
            items.append(item)
        node = RepeatNode(
            node_id,
            tuple(rounds),
            general,
            tuple(items) if block.variable else (),
            shown,
            block.span,
            bind.when(block.until, frame.loops),
            block.most,
            block.set_key,
            bind.extras(block.extras, frame.loops),
        )
        return Outcome((node,), state, ended)

    def _label(self, binding: bind.Binding) -> str:
        thing = self.assembly.things.get(binding.key) if isinstance(binding, Selection) else None
        return (thing.label or thing.name.replace("-", " ")) if thing is not None else ""

    def _general(
        self, frame: Frame, state: State, block: RepeatBlock, members: frozenset[str]
    ) -> tuple[Node, ...]:
        """Return the body as it is shown once, for all rounds."""
        loop = Loop(block.bindings[0], True, members)
        inner = frame.in_round(block.variable, loop, "", "")
        with self.trial():
            return self.body(inner, state, block.body).nodes

    def _branch(self, frame: Frame, state: State, block: BranchBlock) -> Outcome:
        if frame.depth >= DEEPEST:
            self.tally.has_room(block, frame.depth, block.span)
            return Outcome((), state)
        arms = [(when, body) for when, body in block.arms]
        mark = len(self.trail)
        nodes: list[tuple[When | None, tuple[Node, ...]]] = []
        going: list[tuple[State, list[Entry]]] = []
        last: tuple[State, list[Entry]] = (state, [])
        inner_frame = frame.on_some_paths().deeper()
        for when, body in arms:
            inner = self.body(inner_frame, state, body)
            last = (inner.state, self.trail[mark:])
            del self.trail[mark:]
            nodes.append((bind.when(when, frame.loops), inner.nodes))
            if not inner.ended:
                going.append(last)
        if all(when is not None for when, _ in arms):
            going.append((state, []))
        self.trail += [entry for _, entries in going or [last] for entry in entries]
        after = going[0][0] if going else last[0]
        after = joined(after, [other for other, _ in going[1:]], self.assembly)
        node = BranchNode(self.tally.unique(frame.id(block.id)), tuple(nodes), block.span)
        return Outcome((node,), after, not going)

    def _lanes(self, frame: Frame, state: State, block: LanesBlock) -> Outcome:
        node_id = self.tally.unique(frame.id(block.id))
        lanes: list[tuple[str, tuple[Node, ...]]] = []
        for who, body in block.lanes:
            inner = self.body(frame.deeper(), state, body)
            state = inner.state
            lanes.append((who, inner.nodes))
        return Outcome((LanesNode(node_id, tuple(lanes), block.span),), state)

    # --- Steps --------------------------------------------------------------------------------

    def _step(self, frame: Frame, state: State, step: Step) -> Outcome:
        if step.only_if is not None and _is_written_out(step):
            return self._on_condition(frame, state, step, step.only_if)
        return self.expand(self, frame, state, step) or self._plain(frame, state, step)

    def _on_condition(self, frame: Frame, state: State, step: Step, when: When) -> Outcome:
        """Walk a step that comes to several, and is done on a condition, as a branch."""
        branch = BranchBlock(
            span=step.span, id=f"if-{step.id}", arms=((when, (replace(step, only_if=None),)),)
        )
        return self._branch(frame, state, branch)

    def _plain(self, frame: Frame, state: State, step: Step) -> Outcome:
        if not self.tally.count(step.span):
            return Outcome((), state)
        step = bind.on_model(step, self.model)
        deeds = Deeds(
            self.assembly,
            state,
            step.span,
            ahead=frame.ahead,
            general=frame.generals(),
            later=Later(self.world, self.assembly, frame.ahead, self.trail, self._records()),
        )
        write_step(deeds, step, frame.loops, lambda name: self._known_id(frame, name))
        extras = bind.extras(step.extras, frame.loops)
        node = StepNode(
            self.tally.unique(frame.id(step.id)),
            bind.step(step, frame.loops),
            tuple(deeds.acts),
            with_things(self.assembly, extras, deeds.acts),
            bind.when(step.only_if, frame.loops),
            step.timer,
            step.recorded,
            step.by or frame.role,
            frame.origin,
            frame.binding,
        )
        return self.done(frame, state, node, deeds, step.id, extras)

    def _records(self) -> Mapping[tuple[str, str], Record]:
        return {**self.records, **self.begun} if self.begun else self.records

    def _known_id(self, frame: Frame, local: str) -> str:
        """Return the id in the walk of a step of this procedure: in this round, or around it."""
        suffix = frame.suffix
        while suffix and not self.tally.is_taken(f"{frame.prefix}{local}{suffix}"):
            suffix = suffix.rpartition(".")[0]
        return f"{frame.prefix}{local}{suffix}"

    def done(
        self,
        frame: Frame,
        before: State | None,
        node: StepNode,
        deeds: Deeds,
        local: str,
        extras: Extras,
    ) -> Outcome:
        """Put a step on the trail and return what comes of it.

        `before` is given for a step that may be left out: its state is possible afterwards too.
        """
        some = frame.conditional or node.when is not None
        base = local, f"{local}{frame.suffix}"
        self.trail += [
            Entry(done, node.id, *base, node.step, extras, node.by, some) for done in deeds.done
        ]
        after = deeds.state
        if node.when is not None and before is not None:
            after = joined(after, [before], self.assembly)
        ends = any(act.deed in _ENDS for act in node.acts)
        return Outcome((node,), after, ends and node.when is None)


_ENDS = frozenset({Deed.STOP, Deed.HAND_OVER, Deed.GO_BACK})


def _is_written_out(step: Step) -> bool:
    """Return whether a step comes to a whole section of others."""
    if isinstance(step, ActionStep):
        return step.verb.effect is Effect.REACH
    return isinstance(step, FollowStep | RefitStep)


def _is_one_kind(block: RepeatBlock) -> bool:
    """Return whether one general body can stand for all rounds: not for quite different things."""
    keys = {b.key for b in block.bindings if isinstance(b, Selection)}
    return len(keys) <= 1


_NO_WORK = frozenset({Deed.NEUTRAL, Deed.PROSE, Deed.MEASURE, Deed.ASK, Deed.CONFIRM, Deed.RECORD})


def with_things(assembly: Assembly, extras: Extras, acts: Sequence[Act]) -> Extras:
    """Return the attachments with the safety messages and wear of the things that are changed."""
    changed = (act.keys() for act in acts if act.deed not in _NO_WORK)
    keys = dict.fromkeys(chain.from_iterable(changed))
    if not any(key in assembly.things and assembly.things[key].extras != NO_EXTRAS for key in keys):
        return extras
    safety, wear = list(extras.safety), list(extras.wear)
    for key in keys:
        thing = assembly.things.get(key)
        if thing is not None:
            safety += [one for one in thing.extras.safety if one not in safety]
            wear += [one for one in thing.extras.wear if one not in wear]
    return replace(extras, safety=tuple(safety), wear=tuple(wear))
