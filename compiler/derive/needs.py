"""What each step needs tools for: named by the author, or worked out from the fastener."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from compiler.derive.accuracy import rooms_of
from compiler.derive.cover import Option, Options
from compiler.derive.crib import Crib, crib_of, has_size, measures_torque
from compiler.derive.doings import Doing
from compiler.derive.holding import held_need, side_by_side
from compiler.derive.joints import Joint, asked_by, reaching
from compiler.derive.passes import pass_torques
from compiler.derive.tightening import (
    adapter_of,
    is_by_hand,
    measured,
    own_phrases,
    stages_of,
)
from compiler.derive.words import act_words, label_of, with_members
from compiler.model import Aid, AnyThing, Fastener, Tool
from compiler.trade.units import Quantity
from compiler.trade.wrenching import WrenchNeed, hand_need, torque_need
from compiler.walk.assembly import turns
from compiler.walk.nodes import Act, Deed, Target, WalkPhrase


@dataclass(frozen=True, slots=True)
class Need:
    """One need of one step. `options` are sets of tools any of which will do.

    `sizes` tells which size of a tool is meant, by its key. `missing` is the need in words when
    nothing that is listed serves (then there are no options). `turns` is the key of the fastener
    that is turned by hand. `rather` are the options that serve best, of those that are laid out.
    """

    step_id: str
    why: str
    options: Options
    sizes: tuple[tuple[str, str], ...] = ()
    missing: str = ""
    turns: str = ""
    rather: Options = ()


_TURNED = frozenset({Deed.UNLOCK, Deed.SLACKEN, Deed.UNDO})
_PUT = frozenset({Deed.START, Deed.LOCK})
_DOES: Mapping[Deed, str] = {
    Deed.UNLOCK: "undoes",
    Deed.SLACKEN: "slackens",
    Deed.UNDO: "takes out",
    Deed.START: "puts in",
    Deed.LOCK: "locks with",
    Deed.TIGHTEN: "tightens",
}


@dataclass(slots=True)
class NeedFinder:
    """Finds the needs of steps; what was worked out for one fastener serves all of its steps."""

    things: Mapping[str, AnyThing]
    crib: Crib = field(init=False)
    _by_hand: dict[WrenchNeed, tuple[Options, dict[str, str]]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.crib = crib_of(self.things)

    def find(self, steps: Iterable[Doing]) -> list[Need]:
        """Return the needs of all steps, each once, in the order of the work."""
        found: dict[Need, None] = {}
        for step in steps:
            for act in step.node.acts:
                found.update(dict.fromkeys(self._of_act(step, act)))
        return list(found)

    def _of_act(self, step: Doing, act: Act) -> Iterator[Need]:
        step_id = step.id
        doing = self._doing(step, act)
        yield from self._named(step_id, act, doing)
        for target in act.targets:
            thing = self.things.get(target.key) if isinstance(target, Target) else None
            if isinstance(thing, Fastener) and isinstance(target, Target):
                why = self._works_on(step, act, thing, target)
                yield from self._fastener(step_id, act, thing, why)
            elif isinstance(thing, Aid) and act.deed is Deed.PUT_AID:
                yield Need(step_id, f"put in: {label_of(thing)}", (frozenset({thing.key}),))
            elif isinstance(thing, Tool):
                yield Need(step_id, doing, (frozenset({thing.key}),))

    def _doing(self, step: Doing, act: Act) -> str:
        """Return what a named tool is for, in the words in which a tool worked out is."""
        for target in act.targets if act.deed in _DOES else ():
            thing = self.things.get(target.key) if isinstance(target, Target) else None
            if isinstance(thing, Fastener) and isinstance(target, Target):
                return self._works_on(step, act, thing, target)
        return act_words(act, step.node.step, self.things, general=step.general)

    def _works_on(self, step: Doing, act: Act, thing: Fastener, target: Target) -> str:
        named = with_members(label_of(thing), () if step.general else target.members)
        return f"{_DOES.get(act.deed, 'works on')} {named}"

    # --- Named by the author ------------------------------------------------------------------

    def _named(self, step_id: str, act: Act, doing: str) -> Iterator[Need]:
        """Yield the tools and aids of `with`, `via` and the like."""
        for phrase in act.phrases:
            if phrase.word == "without":
                continue
            keys = [k for k in map(self._tool_key, phrase.operands) if k]
            if not keys:
                continue
            sizes = tuple((key, phrase.end) for key in keys if phrase.end)
            alone = tuple(frozenset({key}) for key in keys)
            options = alone if phrase.joined == "or" else (frozenset(keys),)
            yield Need(step_id, doing, options, sizes)

    def _tool_key(self, operand: object) -> str:
        thing = self.things.get(operand.key) if isinstance(operand, Target) else None
        return thing.key if isinstance(thing, Tool | Aid) else ""

    # --- Worked out ---------------------------------------------------------------------------

    def _fastener(self, step_id: str, act: Act, thing: Fastener, why: str) -> Iterator[Need]:
        named = self._tools_in(own_phrases(act))
        tightened = act.deed is Deed.TIGHTEN or (act.deed is Deed.LOCK and turns(thing))
        by_fingers = is_by_hand(thing, act)
        if tightened and not by_fingers and measured(stages_of(thing, act)):
            held = held_need(self.things, thing, act)
            found = list(self._torque(step_id, act, thing, why, named))
            yield from found if held is None else self._both(step_id, found, *held)
            return
        turned = (act.deed in _TURNED or tightened) and not by_fingers
        pressed = act.deed in _PUT and not turns(thing)
        if turned or pressed:
            held = held_need(self.things, thing, act) if turned and not named else None
            found = list(self._hand(step_id, thing, why, named))
            yield from found if held is None else self._both(step_id, found, *held)

    def _both(
        self, step_id: str, turning: Sequence[Need], held: Fastener, need: WrenchNeed
    ) -> Iterator[Need]:
        """Yield what turns and what holds its mate, which must not be the same spanner."""
        holders = tuple(self.crib.turning(need))
        for one in turning:
            if not one.options:
                yield from (one, self._held(step_id, held, need, holders))
                continue
            sizes = {size for _, size in one.sizes}
            turners, holding = side_by_side(
                self.things, one.options, holders, one_size=not sizes or need.size in sizes
            )
            yield replace(one, options=turners or one.options)
            yield self._held(step_id, held, need, holding, second=bool(holders))

    def _held(
        self,
        step_id: str,
        held: Fastener,
        need: WrenchNeed,
        options: Options,
        *,
        second: bool = False,
    ) -> Need:
        sizes = tuple(self._sizes(options, need.size).items())
        missing = "" if options else f"second {need.text}" if second else need.text
        return Need(step_id, f"holds {label_of(held)}", options, sizes, missing)

    def _tools_in(self, phrases: Iterable[WalkPhrase]) -> list[Tool]:
        found: list[Tool] = []
        for phrase in phrases:
            for operand in phrase.operands if phrase.word in ("with", "via") else ():
                thing = self.things.get(operand.key) if isinstance(operand, Target) else None
                if isinstance(thing, Tool):
                    found.append(thing)
        return found

    def _hand(
        self, step_id: str, thing: Fastener, why: str, named: Sequence[Tool]
    ) -> Iterator[Need]:
        """Yield what turns the head by hand: the tool the line names, or whatever fits."""
        need = hand_need(thing.designation)
        if named:
            keys = [tool.key for tool in named if tool.sizes and has_size(tool, need.size)]
            if need.size and keys:
                sizes = tuple((key, need.size) for key in keys)
                yield Need(step_id, why, (frozenset({keys[0]}),), sizes, turns=thing.key)
            return
        if need.kind == "none":
            return
        if need not in self._by_hand:
            options = tuple(self.crib.turning(need))
            self._by_hand[need] = options, self._sizes(options, need.size)
        options, sized = self._by_hand[need]
        missing = "" if options else need.text
        yield Need(step_id, why, options, tuple(sized.items()), missing, thing.key)

    def _sizes(self, options: Options, size: str) -> dict[str, str]:
        """Return which size is meant of the tools that come in sizes."""
        if not size:
            return {}
        keys = dict.fromkeys(key for option in options for key in sorted(option))
        return {key: size for key in keys if self._comes_in_sizes(key)}

    def _comes_in_sizes(self, key: str) -> bool:
        thing = self.things.get(key)
        return isinstance(thing, Tool) and bool(thing.sizes)

    def _torque(
        self, step_id: str, act: Act, thing: Fastener, why: str, named: Sequence[Tool]
    ) -> Iterator[Need]:
        """Yield a wrench that shows the torques of the joint, with what goes on it."""
        head = torque_need(thing.designation)
        stages, adapter = stages_of(thing, act), adapter_of(self.things, act)
        rooms = rooms_of(stages)
        joint = Joint(measured(stages), head, adapter, tuple(named), thing.running, rooms)
        size = head.size if head is not None else ""
        passes = pass_torques(thing, stages)
        for asked in asked_by(self.crib, joint):
            sizes = tuple(self._sizes(asked.options, size).items())
            rather = self._rather(asked.options, joint, passes)
            words = f"{why} to {asked.to}"
            yield Need(step_id, words, asked.options, sizes, asked.missing, rather=rather)
            for torque in passes if rather != asked.options else ():
                yield from self._pass(step_id, joint, torque, why, rather)

    def _rather(self, options: Options, joint: Joint, passes: Sequence[Quantity]) -> Options:
        """Return the options whose wrench reaches down to every pass; bits need not reach."""
        if not any(measures_torque(t) for option in options for t in self._tools(option)):
            return options
        able = reaching(self.crib, joint, passes)
        return tuple(option for option in options if option & able)

    def _tools(self, option: Option) -> list[Tool]:
        return [thing for key in option if isinstance(thing := self.things.get(key), Tool)]

    def _pass(
        self, step_id: str, joint: Joint, torque: Quantity, why: str, rather: Options
    ) -> Iterator[Need]:
        """Yield a wrench that reaches down to a pass; nothing where there is none: feel must do."""
        drivers = tuple(tool for tool in joint.named if not measures_torque(tool))
        found = list(
            asked_by(self.crib, replace(joint, torques=(torque,), named=drivers, rooms=()))
        )
        if any(asked.missing for asked in found):
            return
        size = joint.head.size if joint.head is not None else ""
        for asked in found:
            sizes = tuple(self._sizes(asked.options, size).items())
            same = tuple(option for option in asked.options if option in rather)
            words = f"{why}, pass to {asked.to}"
            yield Need(step_id, words, asked.options, sizes, rather=same)
