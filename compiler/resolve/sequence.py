"""The order in which a group of fasteners is tightened, and how it is laid out."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from compiler import model, syntax
from compiler.resolve.clauses import Clauses
from compiler.resolve.context import Context
from compiler.resolve.fields import Common, group_size
from compiler.resolve.numbers import whole
from compiler.resolve.values import PLACE, RATIO, quantity

PATTERNS: dict[str, Literal["star", "middle", "circular", "given"]] = {
    "star": "star",
    "from-the-middle": "middle",
    "circular": "circular",
    "order": "given",
}
"""The clauses that say an order."""

STAR_FROM = 4
"""From so many torqued fasteners up the order is a star when nothing is said."""


def sequence(ctx: Context, clauses: Clauses, common: Common, torqued: bool) -> model.Sequence:
    """Return the sequence of a group; `torqued` tells whether it is brought to a torque."""
    number = group_size(common)
    places = _places(ctx, clauses, number)
    rows, columns = _rectangle(ctx, clauses, number)
    return model.Sequence(
        pattern=_pattern(clauses, number, torqued, is_long=max(rows, columns) > 2),
        given=_given(ctx, clauses, number),
        passes=_passes(ctx, clauses),
        then_circular=clauses.has("then-circular"),
        layout="given" if places else "rectangle" if rows else "circle",
        rows=rows,
        columns=columns,
        stated=clauses.get(*PATTERNS) is not None,
        places=places,
    )


def _pattern(
    clauses: Clauses, number: int, torqued: bool, is_long: bool
) -> Literal["star", "middle", "circular", "given", "any"]:
    said = clauses.get(*PATTERNS)
    if said is not None:
        return PATTERNS[said.key]
    if not torqued or number < STAR_FROM:
        return "any"
    # A long cover that is pulled down at its ends first arches in the middle.
    return "middle" if is_long else "star"


def _places(ctx: Context, clauses: Clauses, number: int) -> tuple[tuple[float, float], ...]:
    """Return where the fasteners sit, across and down in one scale; () when it is not given."""
    clause = clauses.get("positions")
    if clause is None:
        return ()
    given = clauses.args("positions", syntax.QuantityLit)
    unit = next((one.unit for one in reversed(given) if one.unit is not None), None)
    if unit is None:
        ctx.report.add(
            "unknown-unit",
            clause.span,
            "The positions have no unit.",
            hint="Write it once, after the last: positions 0 × 0, 60 × 0, 30 × 40 mm.",
        )
        return ()
    sizes: list[float] = []
    kinds = set[str]()
    for one in given:
        found = quantity(ctx.report, one, PLACE, unit)
        if found is None:
            return ()  # the others are as wrong in most cases: once is enough
        sizes.append(round(float(found.si), 9))
        kinds.add(found.dimension)
    if len(kinds) > 1:
        ctx.report.add(
            "wrong-dimension",
            clause.span,
            "Some positions are lengths and others are shares.",
            hint="Give all of them in millimetres, or all in per cent.",
        )
        return ()
    places = tuple(zip(sizes[::2], sizes[1::2], strict=True))
    if len(places) != number:
        ctx.report.add(
            "count-sanity",
            clause.span,
            f"There are {number}, but {len(places)} positions.",
            hint="Give one position for each: across × down, parted by commas.",
        )
        return ()
    return places if _all_apart(ctx, clause, places) else ()


def _all_apart(
    ctx: Context, clause: syntax.Clause, places: tuple[tuple[float, float], ...]
) -> bool:
    """Return whether no two sit in one place; two that do are reported."""
    first: dict[tuple[float, float], int] = {}
    for n, place in enumerate(places, 1):
        if place in first:
            ctx.report.add(
                "count-sanity",
                clause.span,
                f"Positions {first[place]} and {n} are one and the same place.",
                hint="Give each fastener a place of its own.",
            )
            return False
        first[place] = n
    return True


def _given(ctx: Context, clauses: Clauses, number: int) -> tuple[int, ...]:
    """Return the order given by numbers; each fastener must be in it once."""
    clause = clauses.get("order")
    if clause is None:
        return ()
    found = [
        whole(ctx.report, arg, "A place in the order", most=1000)
        for arg in clause.args
        if isinstance(arg, syntax.NumberLit)
    ]
    order = tuple(n for n in found if n is not None)
    if sorted(order) != list(range(1, number + 1)):
        ctx.report.add(
            "count-sanity",
            clause.span,
            f"The order must name each of the {number} once, from 1 to {number}; "
            f"{_slip(order, number)}.",
            hint=f"For example: order {', '.join(map(str, _example(number)))}.",
        )
        return ()
    return order


def _slip(order: Sequence[int], number: int) -> str:
    """Return the first thing that is wrong with an order."""
    for n in order:
        if order.count(n) > 1:
            return f"{n} stands in it twice"
        if not 1 <= n <= number:
            return f"there is no {n}"
    missing = next(n for n in range(1, number + 1) if n not in order)
    return f"{missing} is missing"


def _example(number: int) -> list[int]:
    """Return a short order that is right: every second one, then those between."""
    shown = min(number, 8)
    return [*range(1, shown + 1, 2), *range(2, shown + 1, 2)]


def _passes(ctx: Context, clauses: Clauses) -> tuple[float, ...]:
    """Return the passes in per cent of the torque; they must grow and end at 100."""
    clause = clauses.get("passes")
    if clause is None:
        return ()
    passes: list[float] = []
    for arg in clause.args:
        if isinstance(arg, syntax.AmountLit):
            share = quantity(ctx.report, arg.low, RATIO)
            if share is None:
                return ()
            passes.append(float(share.si) * 100)
    growing = all(a < b for a, b in pairwise(passes))
    if not passes or not growing or abs(passes[-1] - 100) > 1e-9 or passes[0] <= 0:
        ctx.report.add(
            "quantity-sanity",
            clause.span,
            "Passes grow from one to the next, and the last one is 100 %.",
            hint="For example: in 30 %, 70 %, 100 %.",
        )
        return ()
    return tuple(passes)


def _rectangle(ctx: Context, clauses: Clauses, number: int) -> tuple[int, int]:
    """Return rows and columns, (0, 0) for a circle."""
    clause = clauses.get("rectangle")
    if clause is None:
        return 0, 0
    sides = [
        whole(ctx.report, arg, "A side of the rectangle", most=1000)
        for arg in clause.args
        if isinstance(arg, syntax.NumberLit)
    ]
    if len(sides) != 2 or sides[0] is None or sides[1] is None:
        return 0, 0
    rows, columns = sides[0], sides[1]
    if rows * columns != number:
        ctx.report.add(
            "count-sanity",
            clause.span,
            f"{rows} × {columns} is {rows * columns}, but there are {number}.",
            hint="Give rows and columns that make as many as there are, or take it out.",
        )
        return 0, 0
    return rows, columns
