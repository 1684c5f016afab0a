"""Tools: their kind, sizes, range, and what a measuring tool is good for."""

from __future__ import annotations

from compiler import model, syntax
from compiler.resolve import arguments as args
from compiler.resolve.clauses import Clauses
from compiler.resolve.context import Context
from compiler.resolve.fields import Common
from compiler.resolve.scope import Kind
from compiler.resolve.values import ACCURACY, ANYTHING, LENGTH, MASS, TORQUE, Expected
from compiler.resolve.words import tool_word

_TORQUE_WRENCH = "torque-wrench"
_PLACE: frozenset[Kind] = frozenset(("place", "part"))


def tool(ctx: Context, thing: syntax.Thing, clauses: Clauses, common: Common) -> model.Tool:
    """Return a tool."""
    kind = tool_word(ctx, thing)
    return model.Tool(
        kind=kind,
        sizes=args.sizes(ctx, clauses),
        range=args.amount_of(ctx, clauses, "range", _range_of(kind)),
        drive=args.quantity_of(ctx, clauses, "drive", LENGTH),
        length=args.quantity_of(ctx, clauses, "length", LENGTH),
        extends=args.quantity_of(ctx, clauses, "extends", LENGTH),
        accuracy=args.quantity_of(ctx, clauses, "accuracy", ACCURACY),
        calibrated_until=args.day_of(clauses, "calibrated-until"),
        tag=clauses.text("tag"),
        ends=clauses.texts("ends"),
        lifts=args.quantity_of(ctx, clauses, "lifts", MASS),
        at=args.one_ref(ctx, clauses, "at", _PLACE),
        **common,
    )


def _range_of(kind: str) -> Expected:
    return TORQUE if kind == _TORQUE_WRENCH else ANYTHING
