"""What is lifted by hand: the weight limit of each part, and how it was worked out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from compiler.derive.handling import hand_lift
from compiler.document.context import Context
from compiler.document.merge import by_models
from compiler.document.model import LiftRow, WorkingView
from compiler.model import Part
from compiler.walk.flat import flat_acts
from compiler.walk.nodes import Target
from compiler.wording.lifting import lift_workings
from compiler.wording.nouns import name_of
from compiler.wording.tables import mass_text


def lift_rows(contexts: Mapping[str, Context]) -> tuple[LiftRow, ...]:
    """Return every part of the work whose lift by hand is described, each once."""
    found = {model: list(dict.fromkeys(_lifts(ctx))) for model, ctx in contexts.items()}
    return tuple(replace(row, models=models) for row, models in by_models(found))


def _lifts(ctx: Context) -> list[LiftRow]:
    made: list[LiftRow] = []
    for flat in flat_acts(ctx.walk):
        for target in flat.act.targets:
            part = ctx.voice.thing(target.key) if isinstance(target, Target) else None
            if not isinstance(part, Part):
                continue
            # What hangs on it besides is known only where it stands in the work: no index then.
            found = hand_lift(replace(part, mass=None) if part.without else part)
            if found is not None:
                workings = (WorkingView(*one) for one in lift_workings(found))
                made.append(LiftRow(name_of(part), mass_text(part), (), tuple(workings)))
    return made
