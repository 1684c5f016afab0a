"""Compares one step, section, repeat or branch with what it was before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.changes.lines import (
    clip_changes,
    line_texts,
    picture_changes,
    reworded,
    safety_changes,
    text_changes,
    word_change,
)
from compiler.changes.model import Change
from compiler.changes.pairs import explained, paired
from compiler.changes.rows import Told
from compiler.changes.spots import said
from compiler.document.model import (
    BranchView,
    Field,
    LanesView,
    NodeView,
    RepeatView,
    SectionView,
    StepView,
)
from compiler.wording.changing import for_models, from_to, quoted
from compiler.wording.text import words_only

READINGS = "how many readings"


def node_changes(where: str, old: NodeView, new: NodeView, told: Told) -> Iterator[Change]:
    """Yield what is different in a node itself, without what it contains."""
    if old.models != new.models:
        was, now = for_models(old.models), for_models(new.models)
        yield Change("step", "changed", where, f"{was} → {now}", was, now, new.id)
    if isinstance(old, StepView) and isinstance(new, StepView):
        yield from _step(where, old, new, told)
        return
    if said(old) != said(new) and not explained(said(old), said(new), told):
        was, now = quoted(said(old)), quoted(said(new))
        yield Change("step", "changed", where, f"{was} → {now}", said(old), said(new), new.id)
    if isinstance(old, SectionView) and isinstance(new, SectionView):
        yield from _around(where, old, new)
        yield from text_changes("wear", where, "equipment", old.wear, new.wear, new.id)
        yield from clip_changes(where, old.clips, new.clips, new.id)
    elif isinstance(old, RepeatView) and isinstance(new, RepeatView):
        yield from _around(where, old, new)
        yield from text_changes("step", where, "round", old.items, new.items, new.id)
        most = [str(one.most or "") for one in (old, new)]
        yield from word_change("step", where, "how often at most", most[0], most[1], new.id)
    elif isinstance(old, BranchView | LanesView) and said(old) == said(new) and old != new:
        yield from _answers(where, old, new)


def _answers(where: str, old: NodeView, new: NodeView) -> Iterator[Change]:
    """Yield the answers that open an arm, where the headings say the same as before."""
    if isinstance(old, BranchView) and isinstance(new, BranchView):
        was, now = ("; ".join(" or ".join(arm.answers) for arm in one.arms) for one in (old, new))
        yield from word_change("step", where, "answers that lead here", was, now, new.id)


def _around(
    where: str, old: StepView | SectionView | RepeatView, new: StepView | SectionView | RepeatView
) -> Iterator[Change]:
    """Yield what stands round the instructions: warnings, notes, reasons, pictures."""
    yield from safety_changes(where, old.safety, new.safety, new.id)
    for label, was, now in (("note", old.notes, new.notes), ("reason", old.whys, new.whys)):
        texts = (line_texts(was), line_texts(now))
        yield from text_changes("note", where, label, *texts, new.id)
    yield from picture_changes(where, old.pictures, new.pictures, new.id)


def _step(where: str, old: StepView, new: StepView, told: Told) -> Iterator[Change]:
    before, after = said(old), said(new)
    own = list(_fields(where, old, new, told))
    if before != after and not explained(before, after, [*told, *_told_of(old, new)]):
        # How often to measure stands in the sentence as well.
        own = [one for one in own if f", {READINGS}: " not in one.text]
        text = reworded(before, after)
        yield Change("step", "changed", where, text, before, after, new.id)
    was, now = words_only(old.condition), words_only(new.condition)
    yield from word_change("step", where, "condition", was, now, new.id)
    yield from own
    yield from _around(where, old, new)
    yield from text_changes("wear", where, "equipment", old.wear, new.wear, new.id)
    yield from clip_changes(where, old.clips, new.clips, new.id)
    yield from _small(where, old, new)
    if before == after:
        yield from _beside(where, old, new, told)


def _small(where: str, old: StepView, new: StepView) -> Iterator[Change]:
    """Yield what is one value of a step: its time, who does it, where it leads to."""
    yield from word_change("time", where, "takes", old.time_text, new.time_text, new.id)
    yield from word_change("time", where, "timer", old.timer_text, new.timer_text, new.id)
    people = [str(one.people or "") for one in (old, new)]
    yield from word_change("people", where, "people", people[0], people[1], new.id)
    yield from word_change("people", where, "done by", old.by, new.by, new.id)
    if old.go_to != new.go_to:
        text = "leads back to another step"
        yield Change("step", "changed", where, text, old.go_to, new.go_to, new.id)
    if old.kind != new.kind:
        text = from_to("kind of step", old.kind, new.kind)
        yield Change("step", "changed", where, text, old.kind, new.kind, new.id)


def _beside(where: str, old: StepView, new: StepView, told: Told) -> Iterator[Change]:
    """Yield what the instructions do not show: with which tools, in which order bolts are turned.

    Where the instructions themselves are different, this follows from them.
    """
    was, now = ", ".join(old.tools), ", ".join(new.tools)
    if was != now and not explained(was, now, told):
        yield from word_change("tool", where, "with", was, now, new.id)
    was, now = _orders(old), _orders(new)
    if was != now and not explained(was, now, told):
        text = "order of tightening changed"
        yield Change("torque", "changed", where, text, was, now, new.id)


def _orders(step: StepView) -> str:
    return "; ".join(" ".join((one.alt, *one.passes)) for one in step.diagrams)


# --- What is written down ------------------------------------------------------------------------


def _fields(where: str, old: StepView, new: StepView, told: Told) -> Iterator[Change]:
    pairs = paired(
        old.fields, new.fields, lambda f: f.id, lambda f: (f.kind, f.label), lambda f: f.kind
    )
    for before, after in pairs:
        if before is None and after is not None:
            text = f"to be written down now: {quoted(after.label)}"
            if not after.optional:
                yield Change("entry", "new", where, text, "", after.label, new.id)
        elif after is None and before is not None:
            text = f"no longer to be written down: {quoted(before.label)}"
            if not before.optional:
                yield Change("entry", "gone", where, text, before.label, "", new.id)
        elif before is not None and after is not None:
            yield from _field(where, before, after, new.id, told)


def _field(where: str, old: Field, new: Field, step: str, told: Told) -> Iterator[Change]:
    was, now = _limits(old), _limits(new)
    if was != now and not (old.kind == "torque" and explained(was, now, told)):
        text = from_to(f"{quoted(new.label)}, limits", was, now)
        yield Change("limits", "changed", where, text, was, now, step)
    values = (
        ("what it is called", old.label, new.label),
        (READINGS, _readings(old), _readings(new)),
        ("unit", *(("", "") if was != now else (old.unit, new.unit))),
        ("answers", ", ".join(old.choices), ", ".join(new.choices)),
        ("answers that are good", ", ".join(old.pass_choices), ", ".join(new.pass_choices)),
        ("signed by", old.role, new.role),
        ("kind", old.kind, new.kind),
        ("to be written down", *(("if wanted" if f.optional else "always") for f in (old, new))),
    )
    for label, before, after in values:
        if before != after and not explained(before, after, told):
            yield from word_change(
                "entry", where, f"{quoted(new.label)}, {label}", before, after, step
            )


def _limits(field: Field) -> str:
    return ", ".join(filter(None, (field.limit_text, *field.scope_texts)))


def _readings(field: Field) -> str:
    grid = f"{field.grid[0]} × {field.grid[1]}" if field.grid is not None else ""
    return grid or str(field.count * max(1, len(field.items)))


def _told_of(old: StepView, new: StepView) -> Sequence[tuple[str, str]]:
    """Return what the fields of a step tell themselves, as its instruction may say it again."""
    if old.fields == new.fields:
        return []
    return [(_entered(old), _entered(new))]


def _entered(step: StepView) -> str:
    return " ".join(f"{field.label} {_limits(field)} {_readings(field)}" for field in step.fields)
