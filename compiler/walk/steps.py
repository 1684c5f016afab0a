"""One step of the author as acts: an action by its verb, any other step as the one act it is."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from compiler.model import (
    ActionStep,
    FollowStep,
    GoBackStep,
    MeasureStep,
    Operand,
    ProseStep,
    QuestionStep,
    RefitStep,
    SignStep,
    Step,
    StopStep,
)
from compiler.walk import bind
from compiler.walk.bind import Loops
from compiler.walk.deeds import Deeds, Meant
from compiler.walk.effects import write_out
from compiler.walk.nodes import Act, Deed, Spot, Target, WalkPhrase

_QUESTIONS: Mapping[str, Deed] = {
    "ask": Deed.ASK,
    "confirm": Deed.CONFIRM,
    "record": Deed.RECORD,
}


def write_step(deeds: Deeds, step: Step, loops: Loops, go_to: Callable[[str], str]) -> None:
    """Write out a step that is neither `follow`, `refit` nor `reach`, as it is on one model.

    `go_to` gives the id in the walk for the step or section to go back to.
    """
    match step:
        case ActionStep():
            deeds.verb = step.verb
            said = bind.phrases(step.phrases, loops)
            meant = [mean(deeds, target, loops) for target in step.targets]
            write_out(deeds, step.verb.effect, meant, said)
        case ProseStep():
            _only(deeds, Deed.PROSE, (bind.prose(step.text, loops),))
        case MeasureStep():
            _only(deeds, Deed.MEASURE, (), bind.phrases(step.phrases, loops))
        case QuestionStep():
            _only(deeds, _QUESTIONS[step.kind], (bind.prose(step.text, loops),))
        case SignStep():
            deed = Deed.HOLD if step.kind == "hold" else Deed.SIGN
            _only(deeds, deed, (Target(step.role),) if step.role else ())
        case StopStep():
            deed = Deed.HAND_OVER if step.role else Deed.STOP
            _only(deeds, deed, (Target(step.role),) if step.role else ())
        case GoBackStep():
            _only(deeds, Deed.GO_BACK, (go_to(step.target),))
        case FollowStep() | RefitStep():
            raise AssertionError("what comes to a whole section is written out elsewhere")


def _only(
    deeds: Deeds, deed: Deed, spots: tuple[Spot, ...], phrases: tuple[WalkPhrase, ...] = ()
) -> None:
    deeds.acts.append(Act(deed, spots, deeds.span, None, phrases))


def mean(deeds: Deeds, operand: Operand, loops: Loops) -> Meant:
    """Return an operand as it is said, with the units it means in this round."""
    said = bind.spot(operand, loops)
    real = bind.spot(operand, bind.concrete(loops))
    return Meant(said, deeds.assembly.units_of(real) if isinstance(real, Target) else ())
