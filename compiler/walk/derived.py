"""Which steps come to a whole section of others, and what writes them out."""

from __future__ import annotations

from compiler.model import ActionStep, FollowStep, RefitStep, Step
from compiler.trade.verbs import Effect
from compiler.walk.following import follow
from compiler.walk.frame import Frame
from compiler.walk.reaching import reach
from compiler.walk.refitting import refit
from compiler.walk.state import State
from compiler.walk.walker import Outcome, Walker


def expand(walker: Walker, frame: Frame, state: State, step: Step) -> Outcome | None:
    """Write out a step that comes to a whole section; None for any other step."""
    if isinstance(step, FollowStep):
        return follow(walker, frame, state, step)
    if isinstance(step, RefitStep):
        return refit(walker, frame, state, step)
    if isinstance(step, ActionStep) and step.verb.effect is Effect.REACH:
        return reach(walker, frame, state, step)
    return None
