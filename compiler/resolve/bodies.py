"""Steps with others below them: sections, repeats, branches, lanes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from compiler import model, syntax
from compiler.resolve.conditions import condition
from compiler.resolve.extras import extras
from compiler.resolve.ids import join, slug
from compiler.resolve.loose import Settled, settle
from compiler.resolve.models import model_name, named_models
from compiler.resolve.numbers import whole
from compiler.resolve.repeats import SHOWN_EACH_UP_TO, Source, each, loop_of
from compiler.resolve.steps import step
from compiler.resolve.work import Work

MOST_TIMES = 500


@dataclass(frozen=True, slots=True)
class Bodies:
    """Resolves bodies of one procedure. `tables` are those its repeats may run over."""

    tables: Mapping[str, model.Table]

    def whole(
        self, work: Work, given: Sequence[syntax.Statement]
    ) -> tuple[model.Extras, tuple[model.Block, ...]]:
        """Return what stands loose before the first step of a procedure, and all of its steps."""
        settled = settle(given, in_section=True)
        return extras(work.ctx, settled.first), self._settled(work, settled)

    def body(self, work: Work, given: Sequence[syntax.Statement]) -> tuple[model.Block, ...]:
        """Return the steps of a body that is no section's."""
        return self._settled(work, settle(given, in_section=False))

    def _settled(self, work: Work, settled: Settled) -> tuple[model.Block, ...]:
        for loose in settled.stranded:
            work.ctx.report.add(
                "not-understood",
                loose.span,
                "This stands after the last step, so it belongs to none.",
                hint="Put it before the step it is about, or in the lines under that step.",
            )
        for between in settled.unsure:
            work.ctx.report.add(
                "which-step",
                between.line.span,
                "This stands between two steps; it goes with the one after it.",
                (between.after.span, "this one"),
                hint="Indent it under the step it is about; then nobody has to know the rule.",
            )
        found: list[model.Block] = []
        for statement in settled.body:
            block = self._block(work, statement)
            if block is not None:
                found.append(block)
        return tuple(found)

    def _block(self, work: Work, node: syntax.Statement) -> model.Block | None:
        match node:
            case syntax.Section():
                return self._section(work, node)
            case syntax.RepeatTimes():
                return self._times(work, node)
            case syntax.RepeatEach():
                return self._each(work, node)
            case syntax.RepeatUntil():
                return self._until(work, node)
            case syntax.Branch():
                return self._branch(work, node)
            case syntax.OnlyFor():
                return self._only_for(work, node)
            case syntax.SideBySide():
                return self._lanes(work, node)
            case syntax.LooseAttachment():
                return None
            case _:
                return step(work, node)

    def _section(self, work: Work, node: syntax.Section) -> model.SectionBlock:
        settled = settle(node.body, in_section=True)
        name = node.name.text if node.name is not None else ""
        title = node.title.value if node.title is not None else name.replace("-", " ").capitalize()
        if node.way_back:
            title = title or "Way back"
        made = "way-back" if node.way_back else join(slug(title)) or "section"
        return model.SectionBlock(
            span=node.span,
            id=work.ids.given(name) if name else work.ids.made(made),
            name=name,
            title=title,
            extras=extras(work.ctx, (*node.attachments, *settled.first)),
            body=self._settled(work, settled),
            way_back=node.way_back,
        )

    def _times(self, work: Work, node: syntax.RepeatTimes) -> model.RepeatBlock:
        count = whole(work.ctx.report, node.count, "How often", most=MOST_TIMES) or 1
        return model.RepeatBlock(
            span=node.span,
            id=work.ids.made(f"repeat-{count}-times"),
            variable="",
            bindings=("",) * count,
            shown=_shown(node.shown, count),
            extras=extras(work.ctx, node.attachments),
            body=self.body(work, node.body),
        )

    def _each(self, work: Work, node: syntax.RepeatEach) -> model.RepeatBlock:
        source: Source = each(work.ctx, node, self.tables)
        run_over = _source_words(node)
        return model.RepeatBlock(
            span=node.span,
            id=work.ids.made(join("each", node.variable.text, run_over)),
            variable=node.variable.text,
            bindings=source.bindings,
            shown=_shown(node.shown, len(source.bindings)),
            set_key=source.set_key,
            extras=extras(work.ctx, node.attachments),
            body=self.body(work.inside(loop_of(node, source)), node.body),
        )

    def _until(self, work: Work, node: syntax.RepeatUntil) -> model.RepeatBlock:
        most = whole(work.ctx.report, node.most, "How often at most", most=MOST_TIMES)
        return model.RepeatBlock(
            span=node.span,
            id=work.ids.made(join("until", _condition_words(node.condition))),
            variable="",
            bindings=("",),
            until=condition(work.ctx, work.labels, node.condition),
            most=most or 0,
            extras=extras(work.ctx, node.attachments),
            body=self.body(work, node.body),
        )

    def _branch(self, work: Work, node: syntax.Branch) -> model.BranchBlock:
        first = node.arms[0].condition if node.arms else None
        made = work.ids.made(join("if", _condition_words(first)))
        arms: list[tuple[model.When | None, tuple[model.Block, ...]]] = []
        for arm in node.arms:
            when: model.When | None = None
            if arm.condition is not None:
                when = condition(work.ctx, work.labels, arm.condition)
                if when is None:  # reported; the arm still needs a condition to stay an arm
                    text = model.Prose(arm.condition.span, (_condition_words(arm.condition),))
                    when = model.Judged(arm.condition.span, text)
            arms.append((when, self.body(work, arm.body)))
        return model.BranchBlock(span=node.span, id=made, arms=tuple(arms))

    def _only_for(self, work: Work, node: syntax.OnlyFor) -> model.OnlyForBlock:
        ctx = work.ctx
        models = named_models(ctx.report, node.models, ctx.models, ctx.scope.lost)
        made = join("only-for", *(slug(model_name(word)) for word in node.models))
        return model.OnlyForBlock(
            span=node.span,
            id=work.ids.made(made),
            models=models,
            body=self.body(work.for_models(models), node.body),
        )

    def _lanes(self, work: Work, node: syntax.SideBySide) -> model.LanesBlock:
        made = work.ids.made("side-by-side")
        seen: dict[str, syntax.Lane] = {}
        for lane in node.lanes:
            first = seen.setdefault(lane.who.value, lane)
            if first is not lane:
                work.ctx.report.add(
                    "duplicate-name",
                    lane.who.span,
                    f"{lane.who.value} has a lane already.",
                    (first.who.span, "this one"),
                    hint="One person cannot do two things at the same time.",
                )
        lanes = tuple((lane.who.value, self.body(work, lane.body)) for lane in node.lanes)
        return model.LanesBlock(span=node.span, id=made, lanes=lanes)


def _shown(given: Literal["", "once", "each"], count: int) -> Literal["once", "each"]:
    if given:
        return given
    return "each" if count <= SHOWN_EACH_UP_TO else "once"


def _source_words(node: syntax.RepeatEach) -> str:
    """Return the first thing that is run over, for the id."""
    first = node.source[0] if node.source else None
    return first.name.text if isinstance(first, syntax.Ref) else ""


def _condition_words(given: syntax.Condition | None) -> str:
    """Return a condition as words, for an id."""
    if given is None:
        return ""
    if isinstance(given, syntax.JudgedCondition):
        return slug(given.text.value)
    if isinstance(given, syntax.HistoryCondition):
        return join(given.subject.name.text, "was", given.deed.text)
    return join(given.subject.name.text, "is", given.state.text)
