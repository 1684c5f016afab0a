"""Actions: the verb, what it is done to, and the phrases that say how."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler import model, syntax
from compiler.resolve.context import Context
from compiler.resolve.ids import join, slug
from compiler.resolve.models import named_models
from compiler.resolve.overrides import report_twice
from compiler.resolve.phrases import operand_of, phrases
from compiler.resolve.scope import EVERY_KIND, Kind, with_article
from compiler.resolve.trailers import common
from compiler.resolve.work import Work
from compiler.source import Span
from compiler.trade.verbs import VERBS, Effect, Verb, house_verb

_FITTED: frozenset[Kind] = frozenset(("part", "fastener", "connection", "aid"))
_HELD: frozenset[Kind] = frozenset(("part", "fastener"))
_OPENED: frozenset[Kind] = frozenset(("part", "fluid", "energy", "connection"))
_ENERGY: frozenset[Kind] = frozenset(("energy",))

_SAID_FOR: Mapping[str, str] = {
    "take": "Verbs are one word: `take-off` or `take-out`, or write `remove`.",
    "put": "Verbs are one word: `put-back`, `put-in` or `put-on`, or write `fit`.",
    "undo": "Write `slacken` where it stays in, `remove` where it comes out.",
    "switch": "To make it safe for the work, write `isolate` and the energy; else `switch-off` or "
    "`switch-on` and what is switched.",
    "time": "How long it takes stands at the end of a line, or under it: takes 10 min.",
    "ppe": "What is worn stands in the head or under a step: wear gloves.",
    "lockout": "Write `isolate` and the energy; locking and proving follow from it.",
    "see": 'A picture stands on a line under the step: picture "drawings/pump.svg".',
    "goto": "Write: go back to NAME, the name of a step (`as NAME` at its end) or a section.",
}
"""Words that are said for other verbs; the nearest by its letters would be another thing."""

TAKES: Mapping[Effect, frozenset[Kind]] = {
    Effect.REMOVE: _FITTED,
    Effect.FIT: _FITTED,
    Effect.SLACKEN: _HELD,
    Effect.TIGHTEN: _HELD,
    Effect.REPLACE: frozenset(("part", "fastener", "connection", "fluid")),
    Effect.TRANSFER: _HELD,
    Effect.MOVE: frozenset(("part", "connection", "aid", "tool")),
    Effect.SUPPORT: frozenset(("part",)),
    Effect.RELEASE: frozenset(("part", "energy")),
    Effect.OPEN: _OPENED,
    Effect.CLOSE: _OPENED,
    Effect.DRAIN: frozenset(("fluid", "energy")),
    Effect.FILL: frozenset(("fluid",)),
    Effect.BLEED: frozenset(("fluid", "energy")),
    Effect.LEAK_TEST: frozenset(("part", "fastener", "fluid", "connection", "energy")),
    Effect.ISOLATE: _ENERGY,
    Effect.VERIFY: _ENERGY,
    Effect.RESTORE: _ENERGY,
    Effect.CONNECT: frozenset(("connection",)),
    Effect.DISCONNECT: frozenset(("connection",)),
    Effect.LOCK: frozenset(("fastener",)),
    Effect.UNLOCK: frozenset(("fastener",)),
    Effect.BRING: frozenset(("condition",)),
    Effect.REACH: _HELD,
}
"""What each effect may be done to; text in quotes is always possible, `NEUTRAL` takes anything."""


def action(work: Work, step: syntax.Action) -> model.ActionStep:
    """Return an action; what it names wrongly is left out of it."""
    verb = _verb(work, step.verb)
    base = join(step.verb.text, _first_target(step))
    ctx = work.ctx
    shared = common(
        work,
        step.trailer,
        step.attachments,
        base,
        step.span,
        by_model=True,
        by_hand=verb.effect in _BY_HAND and _names_a_part(ctx, step),
    )
    targets = _targets(ctx, step, verb)
    said = phrases(ctx, verb.effect, step.phrases, _state_names(ctx, step, verb))
    overrides = _overrides(ctx, step, verb)
    return model.ActionStep(verb=verb, targets=targets, phrases=said, overrides=overrides, **shared)


_BY_HAND = frozenset(
    (Effect.REMOVE, Effect.FIT, Effect.REPLACE, Effect.TRANSFER, Effect.MOVE, Effect.NEUTRAL)
)
"""What hands that lift a part do with it."""


def _names_a_part(ctx: Context, step: syntax.Action) -> bool:
    """Return whether a part is among what is acted on; a loop variable may stand for one."""
    found = [ctx.scope.get(t.name.text) for t in step.targets if isinstance(t, syntax.Ref)]
    return any(named is None or named.kind == "part" for named in found)


def put_back(work: Work, step: syntax.Refit, target: syntax.Ref) -> model.ActionStep:
    """Return `refit PART`: the same letters as `refit SECTION`, but an action."""
    word = syntax.Word(Span(step.span.file, step.span.start, step.span.start + 5), "refit")
    return action(
        work,
        syntax.Action(step.span, word, (target,), (), step.trailer, step.attachments),
    )


def _verb(work: Work, word: syntax.Word) -> Verb:
    """Return the verb; an unknown one is reported and taken as one without effect."""
    known = VERBS.get(word.text) or work.verbs.get(word.text)
    if known is not None:
        return known
    meant = _SAID_FOR.get(word.text.lower())
    if word.text in work.ctx.scope.lost:
        pass
    elif meant is not None:
        said = f"{word.text} is no verb of the language."
        work.ctx.report.add("unknown-verb", word.span, said, hint=meant)
    else:
        names = sorted((*VERBS, *work.verbs))
        work.ctx.report.unknown(
            word.span,
            word.text,
            names,
            f"{word.text} is no verb of the language.",
            otherwise="A line may also be prose alone, in quotes; a shop file may add verbs.",
            rule="unknown-verb",
        )
    return house_verb(word.text, VERBS["adjust"])


def _first_target(step: syntax.Action) -> str:
    """Return the first thing in a form fit for an id: `foot-1`, `the-sight-glass`."""
    if not step.targets:
        return ""
    target = step.targets[0]
    if isinstance(target, syntax.Ref):
        return join(target.name.text, *(_index_text(part) for part in target.index))
    return slug(target.value) if isinstance(target, syntax.Text) else ""


def _index_text(part: syntax.IndexPart) -> str:
    if isinstance(part, syntax.IndexRange):
        return f"{part.first.text}-{part.last.text}"
    return slug(part.text)


def _targets(ctx: Context, step: syntax.Action, verb: Verb) -> tuple[model.Operand, ...]:
    kinds = TAKES.get(verb.effect, EVERY_KIND)
    what = f"`{verb.word}` takes"
    if verb.effect is not Effect.NEUTRAL and not step.targets:
        ctx.report.add(
            "wrong-kind",
            step.verb.span,
            f"`{verb.word}` does not say what is meant.",
            hint=_lock_out_hint(step, verb)
            or f'Name the things, or write in quotes what has no name: {verb.word} "…".',
        )
    found: list[model.Operand] = []
    for target in step.targets:
        resolved = _target(ctx, target, kinds, what, verb)
        if resolved is not None:
            found.append(resolved)
    return tuple(found)


def _lock_out_hint(step: syntax.Action, verb: Verb) -> str:
    """Return what to write for `lock out drive`, which reads as a fastener that is secured."""
    if verb.effect is not Effect.LOCK or not any(p.word.startswith("out") for p in step.phrases):
        return ""
    return "To lock out an energy write `isolate` and its name; locking is part of it."


def _target(
    ctx: Context, target: syntax.Operand, kinds: frozenset[Kind], what: str, verb: Verb
) -> model.Operand | None:
    """Return one target; on the way tell a few slips from others."""
    if verb.effect is Effect.NEUTRAL:
        return operand_of(ctx, target, kinds, what)
    if isinstance(target, syntax.AmountLit | syntax.NumberLit):
        ctx.report.add(
            "wrong-kind",
            target.span,
            f"{what} things, not a value.",
            hint="Name the thing first, then the value.",
        )
        return None
    if isinstance(target, syntax.Ref) and _is_state_of(ctx, target, verb):
        return None
    if isinstance(target, syntax.Ref) and _is_tool_put_somewhere(ctx, target, verb):
        return None
    resolved = operand_of(ctx, target, kinds, what)
    if isinstance(resolved, model.LoopUse) and not resolved.column:
        loop = ctx.loops[resolved.variable]
        if not loop.kinds:
            ctx.report.add(
                "wrong-kind",
                target.span,
                f"{what} things, but {loop.variable} stands for {_value_words(loop.bindings)}.",
                (loop.span, f"{loop.variable} is made here"),
                hint=f"Use it in brackets: foot[{loop.variable}].",
            )
            return None
    return resolved


def _is_tool_put_somewhere(ctx: Context, target: syntax.Ref, verb: Verb) -> bool:
    """Report `place drain-pan under plug`: a tool is no part of the machine."""
    named = ctx.scope.get(target.name.text)
    if named is None or named.kind != "tool" or verb.effect is not Effect.FIT:
        return False
    ctx.usage.note(ctx.user, named.key)
    ctx.report.add(
        "wrong-kind",
        target.span,
        f"`{verb.word}` puts in what belongs to the machine, but {named.name} is a tool.",
        (named.span, f"{named.name} is declared here"),
        hint=f"Write `set {named.name}` and where. What stays in and must come out again before "
        "the end is listed under `aids`, not under `tools`.",
    )
    return True


def _value_words(bindings: Sequence[object]) -> str:
    return "a number" if all(str(b).isdecimal() for b in bindings) else "a word"


def _is_state_of(ctx: Context, target: syntax.Ref, verb: Verb) -> bool:
    """Report `open drain-cock` where drain-cock is a condition that can be brought to a state."""
    named = ctx.scope.get(target.name.text)
    if named is None or named.kind != "condition" or verb.effect is Effect.BRING:
        return False
    ctx.usage.note(ctx.user, named.key)
    states = [s.name.text for s in named.thing.states] if named.thing is not None else []
    state = verb.word if verb.word in states else (states[-1] if states else "STATE")
    ctx.report.add(
        "wrong-kind",
        target.span,
        f"{named.name} is {with_article(named.kind)}, and is brought into a state.",
        (named.span, f"{named.name} is declared here"),
        hint=f"Write: bring {named.name} to {state}.",
    )
    return True


def _state_names(ctx: Context, step: syntax.Action, verb: Verb) -> tuple[str, ...] | None:
    """Return the states that `bring X to …` may name, None for any other verb."""
    if verb.effect is not Effect.BRING:
        return None
    first = next((t for t in step.targets if isinstance(t, syntax.Ref)), None)
    named = ctx.scope.get(first.name.text) if first is not None else None
    if named is None or named.thing is None or named.kind != "condition":
        return ()
    if not any(phrase.word == "to" for phrase in step.phrases):
        states = ", ".join(state.name.text for state in named.thing.states)
        ctx.report.add(
            "unknown-name",
            step.span,
            f"Into which state {named.name} is brought is not said.",
            (named.span, f"{named.name} is declared here"),
            hint=f"Write `to` and one of: {states}.",
        )
    return tuple(state.name.text for state in named.thing.states)


def _overrides(
    ctx: Context, step: syntax.Action, verb: Verb
) -> tuple[tuple[tuple[str, ...], tuple[model.Phrase, ...]], ...]:
    """Return the other phrases for some models, `for TP-60 to 0.4 mm`."""
    found: list[tuple[tuple[str, ...], tuple[model.Phrase, ...]]] = []
    for line in step.attachments:
        if not isinstance(line, syntax.OverrideLine):
            continue
        models = named_models(ctx.report, line.models, ctx.models, ctx.scope.lost)
        inner = ctx.for_models(models) if models else ctx
        said = phrases(inner, verb.effect, line.phrases, _state_names(ctx, step, verb))
        if models:
            found.append((models, said))
    report_twice(ctx, ((models, [(p.word, p.span) for p in said]) for models, said in found))
    return tuple(found)
