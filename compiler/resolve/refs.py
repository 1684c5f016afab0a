"""Looks up names: a use of a name in, a selection of a thing or a loop variable out."""

from __future__ import annotations

from collections.abc import Sequence

from compiler import model, syntax
from compiler.findings.near import suggest
from compiler.resolve.context import Context, Loop
from compiler.resolve.elsewhere import told
from compiler.resolve.numbers import index_members
from compiler.resolve.scope import EVERY_KIND, Kind, Named, one_of, with_article
from compiler.source import Span
from compiler.trade.tools import KINDS


def select(
    ctx: Context, ref: syntax.Ref, kinds: frozenset[Kind] = EVERY_KIND, what: str = ""
) -> model.Selection | None:
    """Return the members of a thing that `ref` names, None (and a finding) when there is none.

    `what` is the start of a sentence that says what is wanted: "`holds` takes".
    """
    found = operand(ctx, ref, kinds, what)
    if isinstance(found, model.LoopUse):
        ctx.report.add(
            "wrong-kind",
            ref.span,
            f"{ref.name.text} stands for something else each time, and cannot be used here.",
            hint="Name the thing itself.",
        )
        return None
    return found


def selections(
    ctx: Context, refs: Sequence[syntax.Ref], kinds: frozenset[Kind], what: str
) -> tuple[model.Selection, ...]:
    """Return the selections of those names that mean something."""
    found = (select(ctx, ref, kinds, what) for ref in refs)
    return tuple(selection for selection in found if selection is not None)


def operand(
    ctx: Context, ref: syntax.Ref, kinds: frozenset[Kind] = EVERY_KIND, what: str = ""
) -> model.Selection | model.LoopUse | None:
    """Return what `ref` names where loop variables may be used too; None with a finding."""
    loop = ctx.loops.get(ref.name.text)
    if loop is not None:
        return _loop_use(ctx, ref, loop, kinds, what)
    named = look_up(ctx, ref.name, kinds, what)
    if named is None:
        return None
    if ref.field is not None:
        ctx.report.add(
            "wrong-kind",
            ref.field.span,
            f"{named.name} is {with_article(named.kind)}, not a row of a table, so nothing can "
            f"stand after a dot.",
            hint=f"Write {named.name} alone, or repeat for each row of a table.",
        )
    members = _members(ctx, ref, named)
    return model.Selection(ref.span, named.key, members, ref.age)


def look_up(
    ctx: Context, word: syntax.Word, kinds: frozenset[Kind], what: str = ""
) -> Named | None:
    """Return what a name stands for; a finding when nothing, or a thing of a wrong kind, has it."""
    named = ctx.scope.get(word.text)
    if named is None:
        unknown(ctx, word, kinds)
        return None
    ctx.usage.note(ctx.user, named.key)
    if named.kind not in kinds:
        wanted = f"{what} {one_of(kinds)}" if what else f"Here {one_of(kinds)} is meant"
        ctx.report.add(
            "wrong-kind",
            word.span,
            f"{wanted}, but {named.name} is {with_article(named.kind)}.",
            (named.span, f"{named.name} is declared here"),
            hint=_instead(ctx, word, kinds),
        )
        return None
    if ctx.user and named.models and not set(named.models) & set(ctx.models):
        return None  # a declaration for all models simply does not reach what one of them lacks
    _on_these_models(ctx, word.span, named)
    return named


def unknown(ctx: Context, word: syntax.Word, kinds: frozenset[Kind]) -> None:
    """Report a name that nothing has, with the nearest one; silent for words that were lost."""
    if word.text in ctx.scope.lost or _machine_unread(ctx, word):
        return
    names = ctx.scope.of(kinds) + sorted(ctx.loops)
    everything = ctx.scope.of(EVERY_KIND)
    message, otherwise = f"Nothing is called {word.text} here", _declare(ctx, word, kinds)
    alike = _tools_of_kind(ctx, word.text) if "tool" in kinds else []
    if alike:
        message = f"{message}; it is a kind of tool"
        otherwise = f"Of this kind there is: {', '.join(alike)}."
    elif alike := _names_that_end_so(ctx, word.text, kinds):
        otherwise = f"There is: {', '.join(alike[:6])}{' and more' if len(alike) > 6 else ''}."
    others = ctx.folder.others(word.text, word.span.file)
    if others:
        said, otherwise = told(ctx.folder, others, word.span.file)
        message = f"{message}: {said}"
    ctx.report.unknown(
        word.span,
        word.text,
        [] if len(alike) > 1 else names or everything,
        f"{message}.",
        *[(one.span, f"{word.text} is declared here") for one in others[:3]],
        otherwise=otherwise,
        sure=_called_so(ctx, word.text, kinds) or (alike[0] if len(alike) == 1 else ""),
    )


def _machine_unread(ctx: Context, word: syntax.Word) -> bool:
    """Return whether the machine is not known: its line could not be read, or no file describes it.

    All that the machine declares is unknown then, which is told once; it counts as used.
    """
    path = word.span.file
    unread = "machine" in ctx.scope.lost and path not in ctx.folder.machines
    if not unread and not ctx.folder.lacks_machine(path):
        return False
    for other in ctx.folder.others(word.text, word.span.file):
        ctx.usage.note("", f"{other.owner}/{word.text}")
    return True


def _called_so(ctx: Context, word: str, kinds: frozenset[Kind]) -> str:
    """Return the name of the one thing that people call so: `elbow` for `outlet-elbow`."""
    said = word.replace("-", " ").casefold()
    found = [
        name
        for name in ctx.scope.of(kinds)
        if (named := ctx.scope.get(name)) is not None
        and named.thing is not None
        and named.thing.label is not None
        and named.thing.label.value.casefold() == said
    ]
    return found[0] if len(found) == 1 else ""


def _names_that_end_so(ctx: Context, word: str, kinds: frozenset[Kind]) -> list[str]:
    """Return the names whose last word is meant: `bolts` where there are `guard-bolt`, `lid-bolt`.

    Not where a name is nearly the word itself.
    """
    names = ctx.scope.of(kinds)
    if suggest(word, names):
        return []
    ends = {word, word.removesuffix("s"), word.removesuffix("es")}
    return [name for name in names if name.rpartition("-")[2] in ends and "-" in name]


def _tools_of_kind(ctx: Context, word: str) -> list[str]:
    """Return the tools that are of the kind `word`: `with brush` where the crib has `oil-brush`."""
    if word not in KINDS:
        return []
    return [
        name
        for name in ctx.scope.of(frozenset(("tool",)))
        if (named := ctx.scope.get(name)) is not None
        and named.thing is not None
        and named.thing.kind_word is not None
        and named.thing.kind_word.text == word
    ]


def _declare(ctx: Context, word: syntax.Word, kinds: frozenset[Kind]) -> str:
    """Return what to do about a name that is like no other."""
    if kinds == {"role"}:
        return "List it under `roles`, in the shop file or here."
    if ctx.user:
        return "Declare it, or take it out."
    return f'Declare it, or put it in quotes: "{word.text.replace("-", " ")}".'


def _instead(ctx: Context, word: syntax.Word, kinds: frozenset[Kind]) -> str:
    """Return a hint that names what could be meant."""
    if ctx.user and kinds == {"place"} and ctx.scope.names[word.text].kind == "part":
        return f"What it sits on is written `on {word.text}`; `at` is for a place of its own."
    own = {ctx.user} if ctx.user else set()
    names = [n for n in ctx.scope.of(kinds) if (known := ctx.scope.get(n)) and known.key not in own]
    if not names:
        return f"Declare {one_of(kinds)} first, or take it out."
    shown = ", ".join(names[:6]) + (" and more" if len(names) > 6 else "")
    return f"Here could stand: {shown}."


def _on_these_models(ctx: Context, span: Span, named: Named) -> None:
    """Report a thing that not all of the models at this place have."""
    if not named.models:
        return
    without = [m for m in ctx.models if m not in named.models]
    if without:
        ctx.report.add(
            "unknown-model",
            span,
            f"{named.name} is only on {', '.join(named.models)}, but this is for "
            f"{', '.join(without)} as well.",
            (named.span, f"only for {', '.join(named.models)}"),
            hint=f"Add: only for {', '.join(named.models)}.",
        )


def _members(ctx: Context, ref: syntax.Ref, named: Named) -> tuple[str | model.LoopUse, ...]:
    """Return the members that an index names, each checked against those there are."""
    if not ref.index:
        return ()
    if not named.members:
        ctx.report.add(
            "unknown-name",
            ref.span,
            f"{named.name} is one thing and not a set, so there is no {_written(ref)}.",
            (named.span, "declared without members"),
            hint=f"Write {named.name}, or declare a set: {named.name}[1..4].",
        )
        return ()
    members: list[str | model.LoopUse] = []
    for part in ref.index:
        members += _part(ctx, part, named)
    return tuple(dict.fromkeys(members))


def _part(ctx: Context, part: syntax.IndexPart, named: Named) -> list[str | model.LoopUse]:
    """Return the members of one piece between the brackets."""
    if isinstance(part, syntax.Word):
        loop = ctx.loops.get(part.text)
        if loop is not None and part.text not in named.members:
            _each_is_member(ctx, part, loop, named)
            return [model.LoopUse(part.span, part.text)]
    kept: list[str | model.LoopUse] = []
    for member in index_members(ctx.report, part):
        if member in named.members:
            kept.append(member)
        else:
            _no_member(ctx, part.span, member, named)
    return kept


def _each_is_member(ctx: Context, part: syntax.Word, loop: Loop, named: Named) -> None:
    """Check that whatever the variable stands for is a member of the set."""
    if loop.columns:
        ctx.report.add(
            "wrong-kind",
            part.span,
            f"{loop.variable} stands for a whole row, not for a member of {named.name}.",
            (loop.span, f"{loop.variable} is made here"),
            hint=f"Repeat over the members: repeat for each n in {named.name}.",
        )
        return
    for member in loop_members(loop):
        if member not in named.members:
            # Whichever line goes first tells it: the same repeat is wrong for all that follow.
            if ctx.report.first((loop.span, member)):
                _no_member(ctx, part.span, member, named, loop)
            return


def loop_members(loop: Loop) -> list[str]:
    """Return the member that the variable stands for each time, as far as there is one."""
    found: list[str] = []
    for binding in loop.bindings:
        if isinstance(binding, str):
            found.append(binding)
        elif isinstance(binding, model.Selection):
            found += [m for m in binding.members if isinstance(m, str)]
    return found


def _no_member(
    ctx: Context, span: Span, member: str, named: Named, loop: Loop | None = None
) -> None:
    made: tuple[tuple[Span, str], ...] = ()
    hint = f"Use one of {brief(named.members)}."
    if loop is not None:
        made = ((loop.span, f"{loop.variable} is made here"),)
        hint = f"Let the repeat run over {brief(named.members)}, or name another set here."
    ctx.report.add(
        "unknown-name",
        span,
        f"{named.name} has no member {member}; it has {brief(named.members)}.",
        (named.span, "its members"),
        *made,
        hint=hint,
    )


def brief(members: Sequence[str]) -> str:
    """Return `1 to 4` for numbers in a row, otherwise the members themselves."""
    if len(members) > 2 and all(m.isdecimal() for m in members):
        return f"{members[0]} to {members[-1]}"
    return ", ".join(members)


def _written(ref: syntax.Ref) -> str:
    """Return the name with its index as text."""
    parts = [
        f"{p.first.text}..{p.last.text}" if isinstance(p, syntax.IndexRange) else p.text
        for p in ref.index
    ]
    return f"{ref.name.text}[{', '.join(parts)}]"


def _loop_use(
    ctx: Context, ref: syntax.Ref, loop: Loop, kinds: frozenset[Kind], what: str
) -> model.LoopUse | None:
    """Return the use of a loop variable, checked against what it stands for."""
    if ref.index:
        ctx.report.add(
            "wrong-kind",
            ref.span,
            f"{loop.variable} stands for one thing each time, so it takes no brackets.",
            (loop.span, f"{loop.variable} is made here"),
            hint=f"Write {loop.variable} alone.",
        )
        return None
    if ref.field is not None:
        return _cell(ctx, ref, ref.field, loop, kinds, what)
    if loop.columns:
        ctx.report.add(
            "wrong-kind",
            ref.span,
            f"{loop.variable} stands for a whole row.",
            (loop.span, f"{loop.variable} is made here"),
            hint=f"Name a column: {loop.variable}.{loop.columns[0]}.",
        )
        return None
    if loop.kinds and not loop.kinds <= kinds:
        wrong = min(loop.kinds - kinds)
        wanted = f"{what} {one_of(kinds)}" if what else f"Here {one_of(kinds)} is meant"
        ctx.report.add(
            "wrong-kind",
            ref.span,
            f"{wanted}, but {loop.variable} stands for {with_article(wrong)}.",
            (loop.span, f"{loop.variable} is made here"),
        )
        return None
    return model.LoopUse(ref.span, loop.variable)


def _cell(
    ctx: Context,
    ref: syntax.Ref,
    column: syntax.Word,
    loop: Loop,
    kinds: frozenset[Kind],
    what: str,
) -> model.LoopUse | None:
    """Return the use of a column of a row."""
    if not loop.columns:
        ctx.report.add(
            "wrong-kind",
            ref.span,
            f"{loop.variable} is not a row of a table, so nothing can stand after a dot.",
            (loop.span, f"{loop.variable} is made here"),
            hint=f"Write {loop.variable} alone.",
        )
        return None
    if column.text not in loop.columns:
        ctx.report.unknown(
            column.span,
            column.text,
            loop.columns,
            f"The table has no column {column.text}.",
            otherwise=f"It has: {', '.join(loop.columns)}.",
        )
        return None
    if not kinds >= EVERY_KIND:
        wanted = f"{what} {one_of(kinds)}" if what else f"Here {one_of(kinds)} is meant"
        ctx.report.add(
            "wrong-kind",
            ref.span,
            f"{wanted}, but {loop.variable}.{column.text} is a word or value from a table.",
            (loop.span, f"{loop.variable} is made here"),
            hint="Name the thing itself; a table gives sizes, settings and the like.",
        )
        return None
    return model.LoopUse(ref.span, loop.variable, column.text)
