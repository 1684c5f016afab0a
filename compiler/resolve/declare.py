"""Gathers the names that a file declares, before anything is looked up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from compiler import syntax
from compiler.resolve.models import named_models
from compiler.resolve.numbers import index_members
from compiler.resolve.report import Report
from compiler.resolve.scope import Named, Scope, duplicate


def declare(
    file: syntax.File, owner: str, models: Sequence[str], report: Report
) -> tuple[Scope, tuple[tuple[Named, syntax.Thing], ...]]:
    """Return the names of a file's things and tables, and each thing with what it is called.

    A name that is there already is reported, and the first one counts.
    """
    names: dict[str, Named] = {}
    things: list[tuple[Named, syntax.Thing]] = []
    for thing in file.things:
        named = Named(
            key=f"{owner}/{thing.name.text}",
            name=thing.name.text,
            kind=thing.kind,
            span=thing.name.span,
            owner=owner,
            members=_members(thing, report),
            models=_models_of(thing, models, file.lost_words, report),
            thing=thing,
        )
        if _is_new(named, names, report):
            things.append((named, thing))
    for table in file.tables:
        columns = tuple(word.text for word in table.columns)
        key = f"{owner}/{table.name.text}"
        _is_new(
            Named(key, table.name.text, "table", table.name.span, owner, columns=columns),
            names,
            report,
        )
    return Scope(names, file.lost_words), tuple(things)


def _is_new(named: Named, names: dict[str, Named], report: Report) -> bool:
    first = names.setdefault(named.name, named)
    if first is named:
        return True
    duplicate(report, named, first)
    return False


def _members(thing: syntax.Thing, report: Report) -> tuple[str, ...]:
    """Return the members of a set, in order, each once."""
    members: dict[str, syntax.IndexPart] = {}
    for part in thing.index:
        for member in index_members(report, part):
            first = members.setdefault(member, part)
            if first is not part:
                report.add(
                    "duplicate-name",
                    part.span,
                    f"{thing.name.text} has a member {member} already.",
                    (first.span, "here"),
                    hint="Name each member once.",
                )
    return tuple(members)


def _models_of(
    thing: syntax.Thing, models: Sequence[str], lost: frozenset[str], report: Report
) -> tuple[str, ...]:
    """Return the models that `only for` leaves, () when it says nothing."""
    words = [
        arg
        for clause in thing.clauses
        if clause.key == "only-for"
        for arg in clause.args
        if isinstance(arg, syntax.Word | syntax.Text)
    ]
    return named_models(report, words, models, lost)


def narrowed(named: Named, models: tuple[str, ...]) -> Named:
    """Return the same name on fewer models."""
    return replace(named, models=models)
