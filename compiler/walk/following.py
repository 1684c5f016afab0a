"""`follow`: another procedure or block done here, whole or half."""

from __future__ import annotations

from dataclasses import replace

from compiler.model import Extras, FollowStep, Procedure
from compiler.walk import bind
from compiler.walk.frame import Frame
from compiler.walk.nodes import Origin, SectionNode
from compiler.walk.refitting import undone
from compiler.walk.size import half_of
from compiler.walk.start import initial_state
from compiler.walk.state import State
from compiler.walk.walker import Outcome, Walker


def follow(walker: Walker, frame: Frame, state: State, step: FollowStep) -> Outcome:
    """Walk another procedure here, whole or half; a way back that is not written is worked out."""
    called = walker.world.procedures.get(step.target)
    if (
        called is None
        or called.key in frame.stack
        or not walker.tally.has_room(step, frame.depth, step.span)
    ):
        return Outcome((), state)
    node_id = walker.tally.unique(frame.id(step.id))
    inner = _inside(frame, step, called)
    body = half_of(called, step.half)
    back = step.half == "way back"
    if back and (called.key, "") not in walker.records:
        _rehearse(walker, inner, called)
    if back and not body:
        record = walker.records[called.key, ""]
        outcome = undone(walker, inner, state, step, record, "way-back", whole=True)
    elif back:
        outcome = walker.body(inner, state, body)
    else:
        outcome = walker.procedure(inner, state, body)
    extras = _called_extras(bind.extras(step.extras, frame.loops), called, step.half)
    node = SectionNode(node_id, called.title, outcome.nodes, extras, inner.origin, back)
    return replace(outcome, nodes=(node,))


def _inside(frame: Frame, step: FollowStep, called: Procedure) -> Frame:
    return replace(
        frame,
        procedure=called,
        prefix=f"{frame.prefix}{called.name}/",
        origin=(*frame.origin, Origin("follow", called.key, called.title, step.span)),
        loops={},
        role=step.by or frame.role,
        depth=frame.depth + 1,
        stack=(*frame.stack, called.key),
    )


def _rehearse(walker: Walker, frame: Frame, called: Procedure) -> None:
    """Walk a way in that is not part of this walk, to know what its way back has to undo.

    The other half of a job may have been done weeks ago: then the start is what that half started
    with, not what is the case now.
    """
    start = initial_state(walker.assembly, called.ends)
    with walker.trial():
        walker.procedure(frame, start, half_of(called, "way in"))
        rehearsed = dict(walker.records)
    for key, record in rehearsed.items():
        walker.records.setdefault(key, record)


def _called_extras(own: Extras, called: Procedure, half: str) -> Extras:
    """Return what hangs on the section made for `follow`.

    Messages in the head of a procedure belong to the whole job and go there; those of a shared
    block stand before its steps. On the way back only what the line itself says is shown.
    """
    if half == "way back":
        return own
    theirs = called.extras if called.is_block else replace(called.extras, safety=())
    return Extras(
        safety=(*theirs.safety, *own.safety),
        notes=(*theirs.notes, *own.notes),
        whys=(*theirs.whys, *own.whys),
        wear=tuple(dict.fromkeys((*theirs.wear, *own.wear))),
        pictures=(*theirs.pictures, *own.pictures),
        clips=(*theirs.clips, *own.clips),
        takes=own.takes or (theirs.takes if not half else None),
        people=max(theirs.people, own.people),
    )
