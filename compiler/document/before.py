"""What stands before the work: state of the machine, equipment, energies, times, people."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from compiler.document.context import Context, sections_in, steps_in
from compiler.document.merge import by_models
from compiler.document.model import EnergyView, Line, WearView
from compiler.document.panels import wear_views
from compiler.model import (
    Block,
    BranchBlock,
    Energy,
    FollowStep,
    LanesBlock,
    OnlyForBlock,
    Procedure,
    RepeatBlock,
    SectionBlock,
    World,
)
from compiler.wording.english import listed
from compiler.wording.isolation import energy_size
from compiler.wording.nouns import name_of
from compiler.wording.operands import prose
from compiler.wording.tables import end_state_line, energy_kind, only_on
from compiler.wording.times import total_note, total_text
from compiler.wording.values import amount_text
from compiler.wording.voice import Voice

Contexts = Mapping[str, Context]


def end_lines(contexts: Contexts, kinds: Sequence[str]) -> tuple[Line, ...]:
    """Return what must hold at the start or is left at the end, in sentences, each once."""
    found = {
        model: [
            end_state_line(ctx.voice, end)
            for end in ctx.procedure.ends
            if end.kind in kinds and ctx.voice.thing(end.subject.key) is not None
        ]
        for model, ctx in contexts.items()
    }
    return tuple(only_on(line, models) for line, models in by_models(found))


def worn(contexts: Contexts) -> tuple[WearView, ...]:
    """Return all protective equipment of the job: that of the whole, then that of single steps."""
    words: list[str] = []
    for ctx in contexts.values():
        words += ctx.walk.wear
    for ctx in contexts.values():
        for section in sections_in(ctx.walk.nodes):
            words += section.extras.wear
        for step in steps_in(ctx.walk.nodes):
            words += step.extras.wear
    return wear_views(words)


def energy_views(contexts: Contexts) -> tuple[EnergyView, ...]:
    """Return the energies of the job on all models, each once."""
    found = {
        model: [
            energy_view(ctx.voice, thing)
            for key in ctx.derived.energies
            if isinstance(thing := ctx.voice.thing(key), Energy)
        ]
        for model, ctx in contexts.items()
    }
    return tuple(replace(view, models=models) for view, models in by_models(found))


def energy_view(voice: Voice, energy: Energy) -> EnergyView:
    """Return an energy as a row: what, where, how it is let out and proved."""
    return EnergyView(
        name=name_of(energy),
        kind=energy_kind(energy.kind),
        level=energy_size(voice, energy),
        device=tuple(prose(voice, text) for text in energy.isolate_at),
        release=tuple(prose(voice, text) for text in energy.release),
        verify=tuple(prose(voice, text) for text in energy.verify),
        anchor=energy.key,
    )


def times_of(contexts: Contexts) -> tuple[str, str]:
    """Return the time of the whole job in words, and what it leaves out; of the longest model."""
    totals = [ctx.derived.time for ctx in contexts.values() if ctx.derived.time is not None]
    if not totals:
        return "", ""
    longest = max(totals, key=lambda total: total.expected)
    without = [model for model, ctx in contexts.items() if ctx.derived.time is None]
    notes = (total_note(longest), f"not known for {listed(without)}" if without else "")
    text = total_text(longest)
    return text, "; ".join(note for note in notes if note) if text else ""


def people_of(contexts: Contexts) -> int:
    """Return how many people are needed; at least one."""
    return max(1, *(ctx.derived.people for ctx in contexts.values()))


def every_text(procedure: Procedure) -> str:
    """Return how often the procedure is due."""
    return f"every {amount_text(procedure.every)}" if procedure.every is not None else ""


def follows_of(world: World, procedure: Procedure) -> tuple[tuple[str, str], ...]:
    """Return the procedures (not blocks) that one follows, each once, in order."""
    found: dict[str, str] = {}
    for step in _follow_steps(procedure.body):
        other = world.procedures.get(step.target)
        if other is not None and not other.is_block:
            found[other.name] = other.title
    return tuple(found.items())


def _follow_steps(body: Iterable[Block]) -> Iterator[FollowStep]:
    for block in body:
        if isinstance(block, FollowStep):
            yield block
        elif isinstance(block, SectionBlock | RepeatBlock | OnlyForBlock):
            yield from _follow_steps(block.body)
        elif isinstance(block, BranchBlock):
            for _, arm in block.arms:
                yield from _follow_steps(arm)
        elif isinstance(block, LanesBlock):
            for _, lane in block.lanes:
                yield from _follow_steps(lane)
