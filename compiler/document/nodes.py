"""From the walk-through of one model to what is shown; numbers come when models are merged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from compiler.derive.lists import TorqueLine
from compiler.document.context import Context, Known
from compiler.document.diagrams import diagrams
from compiler.document.fields import answer_text, fields
from compiler.document.model import (
    ArmView,
    BranchView,
    LanesView,
    LaneView,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
)
from compiler.document.panels import (
    clip_views,
    panels,
    picture_views,
    text_lines,
    wear_texts,
)
from compiler.document.rounds import called, round_names
from compiler.document.tools import step_tools, turning_for
from compiler.model import (
    GoBackStep,
    MeasureStep,
    QuestionStep,
    SignStep,
    StateIs,
    StopStep,
    When,
)
from compiler.source import Span
from compiler.trade.units import format_quantity
from compiler.walk.nodes import (
    BranchNode,
    LanesNode,
    Node,
    Origin,
    RepeatNode,
    SectionNode,
    StepNode,
    prefix_of,
)
from compiler.wording.actions import act_lines
from compiler.wording.checks import check_lines, role_words
from compiler.wording.headings import (
    branch_heading,
    only_if,
    origin_text,
    repeat_heading,
    section_title,
)
from compiler.wording.text import Line, upper_first
from compiler.wording.tightening import drag_settings, wrench_settings
from compiler.wording.values import duration_text
from compiler.wording.voice import Voice


@dataclass(frozen=True, slots=True)
class _Around:
    """What surrounds a node: how deep, from where, in which rounds of a repeat shown once."""

    level: int = 1
    origin: tuple[Origin, ...] = ()
    items: tuple[str, ...] = ()


def _written(node: Node) -> Span | None:
    """Return the author's line that a node comes from; of a section, that of its first step."""
    if isinstance(node, StepNode | SectionNode) and node.origin:
        return node.origin[0].span
    if isinstance(node, StepNode):
        return node.step.span
    if isinstance(node, SectionNode):
        return next((span for inner in node.nodes if (span := _written(inner))), None)
    return node.span


@dataclass(slots=True)
class Views:
    """Makes the views of one walk-through; what it knows grows on the way.

    `undone` leads from the id of a step or section of the way back to that of what it undoes.
    `written` tells where in the author's file a node comes from, by its id.
    """

    ctx: Context
    known: Known = field(default_factory=Known)
    undone: dict[str, str] = field(default_factory=dict)
    written: dict[str, int] = field(default_factory=dict)

    def body(self) -> tuple[NodeView, ...]:
        """Return everything that is done, in order, without numbers."""
        return self._nodes(self.ctx.walk.nodes, _Around())

    def _nodes(self, given: Sequence[Node], around: _Around) -> tuple[NodeView, ...]:
        return tuple(self._node(node, around) for node in given)

    def _node(self, node: Node, around: _Around) -> NodeView:
        span = _written(node)
        if span is not None and span.file == self.ctx.procedure.file:
            self.written.setdefault(node.id, span.start)
        if isinstance(node, StepNode):
            return self._step(node, around)
        if isinstance(node, SectionNode):
            return self._section(node, around)
        if isinstance(node, RepeatNode):
            return self._repeat(node, around)
        if isinstance(node, BranchNode):
            return self._branch(node, around)
        return self._lanes(node, around)

    # --- Steps --------------------------------------------------------------------------------

    def _step(self, node: StepNode, around: _Around) -> StepView:
        ctx, voice = self.ctx, self.ctx.voice
        step, extras = node.step, node.extras
        seconds = int(node.timer.si) if node.timer is not None else 0
        condition = only_if(voice, node.when, self.known.records(node.id)) if node.when else ()
        made = fields(ctx, node, around.items)
        if isinstance(step, MeasureStep | QuestionStep) and step.name:
            self.known.add(node.id, step, made[0].id)
        takes = extras.takes
        lines = self._lines(node)
        return StepView(
            id=node.id,
            number="",
            lines=lines,
            condition=condition,
            safety=panels(voice, extras.safety),
            wear=wear_texts(extras.wear),
            notes=text_lines(voice, extras.notes),
            whys=text_lines(voice, extras.whys),
            pictures=picture_views(voice, extras.pictures),
            clips=clip_views(voice, extras.clips),
            diagrams=diagrams(ctx, node.acts),
            fields=made,
            tools=step_tools(ctx, node, lines),
            time_text=duration_text(takes) if takes is not None else "",
            people=extras.people,
            timer_seconds=seconds,
            timer_text=format_quantity(node.timer) if node.timer is not None else "",
            by=role_words(voice, node.by) if node.by else "",
            from_text=self._from_text(node, around),
            source=ctx.place(step.span),
            kind=_kind(node),
            go_to=_goes_to(node),
        )

    def _lines(self, node: StepNode) -> tuple[Line, ...]:
        """Return the instructions, each once: two groups may need the same word of warning."""
        voice, step = self.ctx.voice, node.step
        turning = turning_for(self.ctx, node)
        rows = [t for t in self.ctx.derived.torques if node.id in t.step_ids]
        made = [line for row in rows if (line := _setting_line(voice, row))]
        for act in node.acts:
            made += act_lines(voice, act, turning) or check_lines(voice, act, step)
            turning = replace(turning, named=turning.named.union(act.keys()))
        return tuple(dict.fromkeys(made))

    # --- Sections, repeats, branches ----------------------------------------------------------

    def _section(self, node: SectionNode, around: _Around) -> SectionView:
        voice, extras = self.ctx.voice, node.extras
        inside = replace(around, level=around.level + 1, origin=node.origin)
        return SectionView(
            id=node.id,
            number="",
            title=section_title(node),
            level=around.level,
            nodes=self._nodes(node.nodes, inside),
            safety=panels(voice, extras.safety),
            wear=wear_texts(extras.wear),
            notes=text_lines(voice, extras.notes),
            whys=text_lines(voice, extras.whys),
            pictures=picture_views(voice, extras.pictures),
            clips=clip_views(voice, extras.clips),
            from_text=self._from_text(node, around),
        )

    def _from_text(self, node: StepNode | SectionNode, around: _Around) -> str:
        """Return where a node comes from; what surrounds it has said the same already."""
        if not node.origin or node.origin == around.origin:
            return ""
        last = node.origin[-1]
        if last.kind == "refit":
            # A step names the step it undoes, a section its section, by the id it has there.
            undone = last.name if isinstance(node, StepNode) else prefix_of(node.id) + last.name
            self.undone[node.id] = self.ctx.shown_id(undone)
        procedure = self.ctx.world.procedures.get(last.name) if last.kind == "follow" else None
        return origin_text(last, shared=procedure is not None and procedure.is_block)

    def _repeat(self, node: RepeatNode, around: _Around) -> RepeatView:
        ctx, extras, voice = self.ctx, node.extras, self.ctx.voice
        items: tuple[str, ...] = ()
        if node.until is not None:
            body = node.rounds[0] if node.rounds else node.general
            nodes = self._nodes(body, around)
        elif node.shown == "once":
            items = round_names(ctx, node)
            body = node.general or (node.rounds[0] if node.rounds else ())
            many = tuple(f"{o}, {i}" for o in around.items for i in items) or items
            nodes = self._nodes(body, replace(around, items=many))
        else:
            names = round_names(ctx, node)
            nodes = tuple(self._round(node, at, names, around) for at in range(len(names)))
        return RepeatView(
            id=node.id,
            # After the body, because the condition speaks of a record that is made in it.
            heading=repeat_heading(voice, node, self.known.records(node.id), called(ctx, node)),
            items=items,
            nodes=nodes,
            until=node.until is not None,
            most=node.most,
            safety=panels(voice, extras.safety),
            notes=text_lines(voice, extras.notes),
            whys=text_lines(voice, extras.whys),
            pictures=picture_views(voice, extras.pictures),
        )

    def _round(
        self, node: RepeatNode, at: int, names: Sequence[str], around: _Around
    ) -> SectionView:
        inside = replace(around, level=around.level + 1)
        nodes = self._nodes(node.rounds[at], inside)
        title = upper_first(names[at])
        return SectionView(f"{node.id}-{at + 1}", "", title, around.level, nodes)

    def _branch(self, node: BranchNode, around: _Around) -> BranchView:
        arms = tuple(
            self._arm(node.id, when, nodes, at == 0, around)
            for at, (when, nodes) in enumerate(node.arms)
        )
        return BranchView(node.id, arms)

    def _arm(
        self, id: str, when: When | None, nodes: Sequence[Node], first: bool, around: _Around
    ) -> ArmView:
        heading = branch_heading(self.ctx.voice, when, self.known.records(id), first)
        field_id = ""
        answers: tuple[str, ...] = ()
        if isinstance(when, StateIs) and when.kind == "record":
            field_id = self.known.field_id(id, when.subject)
            answers = (answer_text(when.state),) if field_id else ()
        return ArmView(heading, self._nodes(nodes, around), field_id, answers, when is None)

    def _lanes(self, node: LanesNode, around: _Around) -> LanesView:
        lanes = tuple(LaneView(who, self._nodes(nodes, around)) for who, nodes in node.lanes)
        return LanesView(node.id, lanes)


def _setting_line(voice: Voice, row: TorqueLine) -> Line:
    """Return what the wrench is set to for a row of the torque table; () for the torque itself."""
    if row.with_running and row.factor is not None:
        return drag_settings(voice, row.with_running, row.factor)
    return wrench_settings(voice, row.settings) if row.settings else ()


def _goes_to(node: StepNode) -> str:
    """Return the id of the step or section a step leads back to; '' for any other step."""
    if not isinstance(node.step, GoBackStep):
        return ""
    return next((spot for act in node.acts for spot in act.targets if isinstance(spot, str)), "")


def _kind(node: StepNode) -> Literal["do", "check", "hold", "stop", "go-back"]:
    step = node.step
    if isinstance(step, SignStep):
        return "hold"
    if isinstance(step, StopStep):
        return "stop"
    if isinstance(step, GoBackStep):
        return "go-back"
    return "check" if isinstance(step, MeasureStep | QuestionStep) else "do"
