"""Fasteners: designation, what they hold, how tight, what is stacked on them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from compiler import model, syntax
from compiler.resolve import arguments as args
from compiler.resolve.clauses import Clauses
from compiler.resolve.context import Context
from compiler.resolve.designations import HouseTorques, designation, standard_at
from compiler.resolve.fields import Common
from compiler.resolve.refs import look_up
from compiler.resolve.scope import Kind
from compiler.resolve.sequence import sequence
from compiler.resolve.stacks import stack_of
from compiler.resolve.values import ANGLE, TORQUE, amount

_PART: frozenset[Kind] = frozenset(("part",))
_HELD: frozenset[Kind] = frozenset(("part", "connection", "fastener"))
_BEHIND: frozenset[Kind] = frozenset(("part", "connection"))
_FASTENER: frozenset[Kind] = frozenset(("fastener",))
_STEADY: frozenset[Kind] = frozenset(("part", "fastener"))
_INSIDE: frozenset[Kind] = frozenset(("energy", "fluid"))
_CONSUMABLE: frozenset[Kind] = frozenset(("consumable",))


def fastener(
    ctx: Context, thing: syntax.Thing, clauses: Clauses, house: HouseTorques, common: Common
) -> model.Fastener:
    """Return a fastener; `house` gives the torque of one that says nothing."""
    what = designation(ctx, thing, clauses)
    tightening = _tightening(ctx, clauses)
    if tightening is None and clauses.get("torque") is None:
        tightening = house.tightening(what, thing.name.span)
    torqued = tightening is not None and tightening.how == "torque"
    thread, thread_with = _thread(ctx, clauses)
    return model.Fastener(
        designation=what,
        said_at=standard_at(thing, what),
        holds=args.refs(ctx, clauses, "holds", _HELD),
        behind=args.refs(ctx, clauses, "behind", _BEHIND),
        tightening=tightening,
        running=args.amount_of(ctx, clauses, "running-torque", TORQUE),
        sequence=sequence(ctx, clauses, common, torqued),
        thread=thread,
        thread_with=thread_with,
        left_hand=clauses.has("left-hand"),
        counter_hold=args.one_ref(ctx, clauses, "counter-hold", _STEADY),
        locks=args.one_ref(ctx, clauses, "locks", _FASTENER),
        matched_with=args.refs(ctx, clauses, "matched-with", _STEADY),
        seals=args.keys(ctx, clauses, "seals", _INSIDE),
        stack=stack_of(ctx, thing),
        **common,
    )


def _tightening(ctx: Context, clauses: Clauses) -> model.Tightening | None:
    clause = clauses.get("torque", "hand-tight", "snug")
    if clause is None:
        return None
    if clause.key == "hand-tight":
        return model.Tightening(clause.span, "hand-tight")
    if clause.key == "snug":
        return model.Tightening(clause.span, "snug")
    stages = [
        stage
        for given in clause.args
        if isinstance(given, syntax.Stage) and (stage := _stage(ctx, given)) is not None
    ]
    if not stages:
        return None
    _check_stages(ctx, stages)
    return model.Tightening(clause.span, "torque", tuple(stages))


def _stage(ctx: Context, given: syntax.Stage) -> model.Stage | None:
    """Return one stage; None when its value means nothing."""
    if given.amount is None:
        return model.Stage(given.span, given.kind)
    turning = given.kind in ("angle", "back-off")
    value = amount(ctx.report, given.amount, ANGLE if turning else TORQUE)
    return model.Stage(given.span, given.kind, value) if value is not None else None


def _check_stages(ctx: Context, stages: Sequence[model.Stage]) -> None:
    """Check what must come before what."""
    first = stages[0]
    if first.kind != "torque":
        ctx.report.add(
            "quantity-sanity",
            first.span,
            "Tightening begins with a torque.",
            hint="For example: torque 20 N·m then 90 deg.",
        )
    torques = [s for s in stages if s.kind == "torque" and s.amount is not None]
    for stage in stages:
        if stage.kind != "next-hole" or stage.amount is None or not torques:
            continue
        least = torques[-1].amount
        if least is not None and stage.amount.low.si < (least.high or least.low).si:
            ctx.report.add(
                "quantity-sanity",
                stage.span,
                "The most it may take up to the next hole is less than the torque before.",
                (torques[-1].span, "the torque before"),
                hint="Give a higher value after `up to`.",
            )


_THREADS: dict[str, Literal["dry", "oiled"]] = {"dry": "dry", "oiled": "oiled"}


def _thread(ctx: Context, clauses: Clauses) -> tuple[Literal["", "dry", "oiled", "with"], str]:
    """Return the state of the thread, and the key of what is put on it."""
    clause = clauses.get("thread")
    if clause is None or not clause.args:
        return "", ""
    arg = clause.args[0]
    if isinstance(arg, syntax.Ref):
        named = look_up(ctx, arg.name, _CONSUMABLE, "`thread with` takes")
        return ("with", named.key) if named is not None else ("", "")
    word = arg.text if isinstance(arg, syntax.Word) else ""
    if word in _THREADS:
        return _THREADS[word], ""
    ctx.report.unknown(
        arg.span,
        word,
        list(_THREADS),
        f"A thread is dry, oiled, or has something on it, not {word or 'this'}.",
        otherwise="Write: thread dry, thread oiled, or thread with thread-locker.",
    )
    return "", ""
