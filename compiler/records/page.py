"""What a page asks of the one who does the work, as far as a record tells which ways were open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from compiler.document.model import (
    ArmView,
    BranchView,
    Document,
    Field,
    LanesView,
    NodeView,
    RepeatView,
    StepView,
)
from compiler.records.limits import verdict
from compiler.records.model import Entry

Said: TypeAlias = Mapping[str, frozenset[str]]
"""What was answered to a field, by its id: a choice, or a verdict on what was read."""

Asked: TypeAlias = StepView | RepeatView
"""What is ticked: a step, or the rounds of a repeat."""


@dataclass(frozen=True, slots=True)
class Page:
    """What a document asks for, by id.

    Of what differs between models there are several fields under one id while no model was picked.
    `always` are the steps and rounds of all ways that the answers leave open; `rounds` maps the
    name of each to its text.
    """

    fields: Mapping[str, tuple[Field, ...]]
    steps: Mapping[str, StepView]
    rounds: Mapping[str, str]
    always: frozenset[str]
    holds: frozenset[str]
    optional: frozenset[str]


def page_of(document: Document, model: str, entries: Iterable[Entry] = ()) -> Page:
    """Return what the page asks for on one model (any when '') where this was entered."""
    fields: dict[str, tuple[Field, ...]] = {field.id: (field,) for field in document.signatures}
    steps: dict[str, StepView] = {}
    rounds: dict[str, str] = {}
    for node, _ in walked(document.body):
        if model and node.models and model not in node.models:
            continue
        if isinstance(node, RepeatView):
            rounds.update(_rounds(node))
            continue
        steps[node.id] = node
        for field in node.fields:
            fields[field.id] = (*fields.get(field.id, ()), field)
    always = {
        name
        for node, certain in walked(document.body, _said(fields, entries))
        if certain and (model in node.models or not node.models)
        for name in _names(node)
    }
    holds = frozenset(step.id for step in steps.values() if step.kind == "hold")
    # As the page has it: what the reader has to find out first may stay open at the end.
    free = {name for node in _of_free_arms(document.body) for name in _names(node)}
    optional = frozenset(free | {step.id for step in steps.values() if step.condition})
    return Page(fields, steps, rounds, frozenset(always), holds, optional)


def _rounds(node: RepeatView) -> list[tuple[str, str]]:
    """Return the name under which the page keeps each round of a repeat, and what it is called."""
    return [(f"{node.id}-{n}", item) for n, item in enumerate(node.items, 1)]


def _names(node: Asked) -> list[str]:
    return [node.id] if isinstance(node, StepView) else [name for name, _ in _rounds(node)]


# --- Which ways were open -------------------------------------------------------------------------


def _said(fields: Mapping[str, tuple[Field, ...]], entries: Iterable[Entry]) -> Said:
    """Return what was answered where one entry settles it; of the rest nobody is sure."""
    by_field: dict[str, list[Entry]] = {}
    for entry in entries:
        by_field.setdefault(entry.field, []).append(entry)
    said = {}
    for name, (entry, *more) in by_field.items():
        asked = fields.get(name, ())
        if more or len(asked) != 1 or not _is_single(asked[0]):
            continue
        result = verdict(asked[0], entry.entered, asked[0].pass_choices, asked[0].second_unit)
        if entry.entered.strip() and result != "unread":
            outside = {"out"} if result in ("above", "below") else set()
            said[name] = frozenset({entry.entered, result, *outside} - {""})
    return said


def _is_single(field: Field) -> bool:
    return field.count == 1 and not field.items and field.sums is None and field.spreads is None


def _open_arms(branch: BranchView, said: Said) -> tuple[ArmView, ...] | None:
    """Return the arms that an answer opened; None where no single one decides."""
    deciding = {arm.field for arm in branch.arms if not arm.otherwise}
    answer = said.get(next(iter(deciding))) if len(deciding) == 1 else None
    if answer is None:
        return None
    opened = tuple(arm for arm in branch.arms if not arm.otherwise and answer & {*arm.answers})
    return opened or tuple(arm for arm in branch.arms if arm.otherwise)


_NOTHING: Said = {}


def walked(nodes: Iterable[NodeView], said: Said = _NOTHING) -> Iterator[tuple[Asked, bool]]:
    """Yield every step and repeat, and whether each is done whatever else is found.

    That is so where no branch leads round it but one that was answered, and the work cannot have
    ended before it.
    """
    yield from _walked(nodes, said, True)


def _walked(nodes: Iterable[NodeView], said: Said, certain: bool) -> Iterator[tuple[Asked, bool]]:
    for node in nodes:
        if isinstance(node, StepView):
            yield node, certain
        elif isinstance(node, BranchView):
            opened = _open_arms(node, said) or ()
            for arm in node.arms:
                taken = certain and not node.models and arm in opened
                yield from _walked(arm.nodes, said, taken)
        elif isinstance(node, LanesView):
            for lane in node.lanes:
                yield from _walked(lane.nodes, said, certain and not node.models)
        else:
            if isinstance(node, RepeatView):
                # Where the work may end within, nobody knows how many rounds were due.
                yield node, certain and not _may_end(node.nodes, said)
            yield from _walked(node.nodes, said, certain and not node.models)
        certain = certain and not _may_end((node,), said)


def _may_end(nodes: Iterable[NodeView], said: Said) -> bool:
    """Return whether the work may have ended, or gone back, among these."""
    for node in nodes:
        if isinstance(node, StepView):
            inner: tuple[tuple[NodeView, ...], ...] = ()
            if node.kind in ("stop", "go-back"):
                return True
        elif isinstance(node, BranchView):
            opened = _open_arms(node, said)
            inner = tuple(arm.nodes for arm in (node.arms if opened is None else opened))
        elif isinstance(node, LanesView):
            inner = tuple(lane.nodes for lane in node.lanes)
        else:
            inner = (node.nodes,)
        if any(_may_end(one, said) for one in inner):
            return True
    return False


def _of_free_arms(nodes: Iterable[NodeView]) -> Iterator[Asked]:
    """Yield the steps and repeats in branches that no entry decides."""
    for node in nodes:
        if isinstance(node, BranchView):
            decided = any(arm.field for arm in node.arms)
            for arm in node.arms:
                if decided:
                    yield from _of_free_arms(arm.nodes)
                else:
                    yield from (within for within, _ in walked(arm.nodes))
        elif isinstance(node, LanesView):
            for lane in node.lanes:
                yield from _of_free_arms(lane.nodes)
        elif not isinstance(node, StepView):
            yield from _of_free_arms(node.nodes)
