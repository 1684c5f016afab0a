"""Takes the arguments of a clause: names, values, texts, counts.

Arguments of a wrong sort were reported when the file was read, and are passed over here.
"""

from __future__ import annotations

from datetime import date

from compiler import model, syntax
from compiler.resolve.clauses import Clauses, words
from compiler.resolve.context import Context
from compiler.resolve.numbers import whole
from compiler.resolve.prose import prose
from compiler.resolve.refs import select
from compiler.resolve.scope import Kind
from compiler.resolve.values import LENGTH, Expected, amount, quantity
from compiler.trade.units import Quantity


def refs(
    ctx: Context, clauses: Clauses, key: str, kinds: frozenset[Kind]
) -> tuple[model.Selection, ...]:
    """Return the things that a clause names, `holds A, B`."""
    found: list[model.Selection] = []
    for clause in clauses.items:
        if clause.key != key:
            continue
        for arg in clause.args:
            if isinstance(arg, syntax.Ref):
                selection = select(ctx, arg, kinds, f"`{words(clause)}` takes")
                found += [selection] if selection is not None else []
    return tuple(found)


def one_ref(
    ctx: Context, clauses: Clauses, key: str, kinds: frozenset[Kind]
) -> model.Selection | None:
    """Return the one thing that a clause names, `on A`; a second one is reported."""
    found = refs(ctx, clauses, key, kinds)
    if len(found) > 1:
        ctx.report.add(
            "wrong-kind",
            found[1].span,
            f"`{key.replace('-', ' ')}` takes one name.",
            hint="Keep the first name.",
        )
    return found[0] if found else None


def keys(ctx: Context, clauses: Clauses, key: str, kinds: frozenset[Kind]) -> tuple[str, ...]:
    """Return the keys of the things that a clause names, each once."""
    return tuple(dict.fromkeys(selection.key for selection in refs(ctx, clauses, key, kinds)))


def texts(ctx: Context, clauses: Clauses, key: str) -> tuple[model.Prose, ...]:
    """Return the texts of a clause, `isolate at "…"`, with their links."""
    return tuple(prose(ctx, text) for text in clauses.args(key, syntax.Text))


def amount_of(ctx: Context, clauses: Clauses, key: str, expected: Expected) -> model.Amount | None:
    """Return the value of a clause."""
    found = clauses.arg(key, syntax.AmountLit)
    return amount(ctx.report, found, expected) if found is not None else None


def quantity_of(ctx: Context, clauses: Clauses, key: str, expected: Expected) -> Quantity | None:
    """Return the one plain quantity of a clause, `drive 3/8 in`."""
    found = clauses.arg(key, syntax.AmountLit)
    if found is None:
        return None
    if found.high is not None or found.tolerance is not None or found.twin is not None:
        ctx.report.add(
            "quantity-sanity",
            found.span,
            f"`{key.replace('-', ' ')}` takes one plain value.",
            hint="Write a number with its unit.",
        )
    return quantity(ctx.report, found.low, expected)


def sizes(ctx: Context, clauses: Clauses) -> tuple[Quantity, ...]:
    """Return sizes, `10, 13 mm`; the last one's unit is that of those before it without one."""
    given = clauses.args("sizes", syntax.QuantityLit)
    unit = next((size.unit for size in reversed(given) if size.unit is not None), None)
    found = (quantity(ctx.report, size, LENGTH, unit) for size in given)
    return tuple(size for size in found if size is not None)


def count_of(ctx: Context, clauses: Clauses) -> int:
    """Return how many there are, 1 when nothing is said."""
    number = clauses.arg("count", syntax.NumberLit)
    if number is not None:
        return whole(ctx.report, number, "How many there are") or 1
    few = clauses.arg("count", syntax.IndexRange)
    if few is not None:
        ctx.report.add(
            "count-sanity",
            few.span,
            "How many there are is one number; only on a stack it may vary.",
            hint=f"Write {few.last.text} ×.",
        )
    return 1


def day_of(clauses: Clauses, key: str) -> date | None:
    """Return the day of a clause; one that no calendar has was reported when the file was read."""
    found = clauses.arg(key, syntax.DateLit)
    return found.value if found is not None else None
