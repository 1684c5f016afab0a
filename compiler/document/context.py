"""All that is needed to put one procedure on one model into words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from compiler.derive.lists import Derived, ToolLine
from compiler.model import AnyThing, MeasureStep, Procedure, QuestionStep, Variant, World
from compiler.source import SourceFile, Span
from compiler.walk.nodes import (
    BranchNode,
    LanesNode,
    Node,
    RepeatNode,
    SectionNode,
    StepNode,
    Walk,
    prefix_of,
)
from compiler.walk.things import gather_things
from compiler.wording.voice import Voice


@dataclass(frozen=True, slots=True)
class Context:
    """One procedure on one model, with what was worked out for it.

    `aliases` leads from the ids of a round that is not shown to those of the body that is. `tools`
    are those that each step needs, by the id it is shown under.
    """

    world: World
    procedure: Procedure
    variant: Variant
    walk: Walk
    derived: Derived
    sources: Mapping[str, SourceFile]
    voice: Voice
    aliases: Mapping[str, str]
    tools: Mapping[str, tuple[ToolLine, ...]]

    def shown_id(self, id: str) -> str:
        """Return the id a step is shown under: for a hidden round that of the general body."""
        return self.aliases.get(id, id)

    def place(self, span: Span) -> str:
        """Return `file:line` of a span; '' for what no line declares."""
        source = self.sources.get(span.file)
        if not span.file:
            return ""
        return f"{span.file}:{source.position(span.start).line}" if source else span.file


def make_context(
    world: World,
    procedure: Procedure,
    variant: Variant,
    walk: Walk,
    derived: Derived,
    sources: Mapping[str, SourceFile],
) -> Context:
    """Return the context of one procedure on one model."""
    # What is followed speaks of its own things too.
    things = gather_things(world, procedure, variant.model)
    voice = make_voice(world, things, procedure.machine)
    aliases = dict(_aliases(walk.nodes))
    tools: dict[str, dict[ToolLine, None]] = {}
    for tool in derived.tools:
        for reason in tool.reasons:
            tools.setdefault(aliases.get(reason.step_id, reason.step_id), {})[tool] = None
    by_step = {id: tuple(lines) for id, lines in tools.items()}
    return Context(world, procedure, variant, walk, derived, sources, voice, aliases, by_step)


def _aliases(nodes: Sequence[Node]) -> Iterator[tuple[str, str]]:
    """Lead from each step of a round that is not shown to the step that stands for it."""
    for node in nodes:
        if isinstance(node, RepeatNode):
            shown = shown_body(node)
            if shown is not None:
                for one in node.rounds:
                    pairs = zip(step_ids(one), step_ids(shown), strict=False)
                    yield from ((hidden, seen) for hidden, seen in pairs if hidden != seen)
        for body in bodies_of(node):
            yield from _aliases(body)


def shown_body(node: RepeatNode) -> tuple[Node, ...] | None:
    """Return the one body of a repeat that is shown once, None when each round is shown."""
    if node.until is not None:
        return node.rounds[0] if node.rounds else node.general
    if node.shown == "once":
        return node.general or (node.rounds[0] if node.rounds else ())
    return None


def bodies_of(node: Node) -> tuple[tuple[Node, ...], ...]:
    """Return the bodies inside a node that a reader sees."""
    if isinstance(node, SectionNode):
        return (node.nodes,)
    if isinstance(node, RepeatNode):
        shown = shown_body(node)
        return node.rounds if shown is None else (shown,)
    if isinstance(node, BranchNode):
        return tuple(body for _, body in node.arms)
    if isinstance(node, LanesNode):
        return tuple(body for _, body in node.lanes)
    return ()


def step_ids(nodes: Sequence[Node]) -> Iterator[str]:
    """Return the ids of all steps a reader sees, in order."""
    for step in steps_in(nodes):
        yield step.id


def steps_in(nodes: Sequence[Node]) -> Iterator[StepNode]:
    """Return all steps a reader sees, in order."""
    for node in nodes:
        if isinstance(node, StepNode):
            yield node
        for body in bodies_of(node):
            yield from steps_in(body)


def sections_in(nodes: Sequence[Node]) -> Iterator[SectionNode]:
    """Return all sections a reader sees, in order."""
    for node in nodes:
        if isinstance(node, SectionNode):
            yield node
        for body in bodies_of(node):
            yield from sections_in(body)


def make_voice(world: World, things: Mapping[str, AnyThing], machine: str) -> Voice:
    """Return how the things of one model are spoken of."""
    shop = world.shop
    units = shop.units if shop is not None else ()
    second = shop.second_units if shop is not None else ()
    return Voice(things, units, second, machine)


@dataclass(slots=True)
class Known:
    """The records met so far on the way through one walk-through, and the ids of their fields.

    Two procedures may use the same name, so they are kept by the prefix of what is followed.
    """

    _records: dict[str, dict[str, MeasureStep | QuestionStep]] = field(default_factory=dict)
    _fields: dict[tuple[str, str], str] = field(default_factory=dict)

    def add(self, step_id: str, step: MeasureStep | QuestionStep, field_id: str) -> None:
        """Keep a record that is made in the step with this id."""
        self._records.setdefault(prefix_of(step_id), {})[step.name] = step
        self._fields[prefix_of(step_id), step.name] = field_id

    def records(self, id: str) -> Mapping[str, MeasureStep | QuestionStep]:
        """Return the records that the node with this id can speak of, by name."""
        return self._records.get(prefix_of(id), {})

    def field_id(self, id: str, name: str) -> str:
        """Return the field of a record that the node with this id speaks of; '' for none."""
        return self._fields.get((prefix_of(id), name), "")
