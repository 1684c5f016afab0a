"""What is lifted by hand: the weight limit of each part, and how it was worked out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace

from compiler.derive.handling import hand_lift
from compiler.document.context import Context
from compiler.document.merge import by_models
from compiler.document.model import LiftRow, WorkingView
from compiler.model import Part
from compiler.walk.flat import flat_acts
from compiler.walk.nodes import Deed, Target
from compiler.wording.lifting import lift_workings
from compiler.wording.nouns import name_of
from compiler.wording.tables import mass_text


def lift_rows(contexts: Mapping[str, Context], numbers: Mapping[str, str]) -> tuple[LiftRow, ...]:
    """Return every part that is lifted by hand and how that is described, each once.

    A step that lifts it in a way of its own, or by more people, has a row of its own; alike ones
    share it. `numbers` are those of the steps, by id.
    """
    found = {model: _rows(ctx, numbers) for model, ctx in contexts.items()}
    return tuple(replace(row, models=models) for row, models in by_models(found))


def _rows(ctx: Context, numbers: Mapping[str, str]) -> list[LiftRow]:
    steps: dict[LiftRow, dict[str, None]] = {}
    for row, step_id in _lifts(ctx):
        at = steps.setdefault(row, {})
        if step_id in numbers:
            at[numbers[step_id]] = None
    ways = Counter((row.part, row.mass) for row in steps)
    return [
        replace(row, step_numbers=tuple(at) if ways[row.part, row.mass] > 1 else ())
        for row, at in steps.items()
    ]


_LIFTED = (Deed.REMOVE, Deed.FIT)


def _lifts(ctx: Context) -> Iterator[tuple[LiftRow, str]]:
    """Yield each lift with its step: what comes off or goes in, and what a step says is lifted."""
    for flat in flat_acts(ctx.walk):
        step = flat.step.node
        if flat.act.deed not in _LIFTED and not step.extras.handling:
            continue
        people = max(1, step.extras.people, ctx.procedure.people)
        for target in flat.act.targets:
            part = ctx.voice.thing(target.key) if isinstance(target, Target) else None
            if not isinstance(part, Part):
                continue
            # What hangs on it besides is known only where it stands in the work: no index then.
            weighed = replace(part, mass=None) if part.without else part
            found = hand_lift(weighed, people, handling=step.extras.handling)
            if found is not None:
                workings = tuple(WorkingView(*one) for one in lift_workings(found, people))
                yield LiftRow(name_of(part), mass_text(part), (), workings), ctx.shown_id(step.id)
