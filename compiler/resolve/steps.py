"""Single steps: prose, measurements, questions, signatures, and what leads elsewhere."""

from __future__ import annotations

from typing import TypeAlias

from compiler import model, syntax
from compiler.resolve.actions import action, put_back
from compiler.resolve.ids import join, slug
from compiler.resolve.labels import Label
from compiler.resolve.measures import measure
from compiler.resolve.prose import prose
from compiler.resolve.scope import EVERY_KIND, with_article
from compiler.resolve.trailers import common, narrowed, role_key
from compiler.resolve.work import Follows, Work

StepNode: TypeAlias = (
    syntax.Action
    | syntax.ProseStep
    | syntax.Follow
    | syntax.Refit
    | syntax.Measure
    | syntax.Question
    | syntax.Sign
    | syntax.Stop
    | syntax.GoBack
)


def step(work: Work, node: StepNode) -> model.Step | None:
    """Return a step of the model; None when nothing is left of it but findings."""
    work = narrowed(work, node.trailer)
    match node:
        case syntax.Action():
            return action(work, node)
        case syntax.ProseStep():
            shared = common(work, node.trailer, node.attachments, slug(node.text.value), node.span)
            return model.ProseStep(text=prose(work.ctx, node.text), **shared)
        case syntax.Follow():
            return _follow(work, node)
        case syntax.Refit():
            return _refit(work, node)
        case syntax.Measure():
            return measure(work, node)
        case syntax.Question():
            return _question(work, node)
        case syntax.Sign():
            base = join(node.kind, node.role.text)
            shared = common(work, node.trailer, node.attachments, base, node.span)
            text = prose(work.ctx, node.text) if node.text is not None else None
            return model.SignStep(
                kind=node.kind, role=role_key(work, node.role), text=text, **shared
            )
        case syntax.Stop():
            return _stop(work, node)
        case syntax.GoBack():
            return _go_back(work, node)


def _follow(work: Work, node: syntax.Follow) -> model.FollowStep | None:
    name = node.target.name.text
    base = join("follow", name, node.half.replace(" ", "-"))
    shared = common(work, node.trailer, node.attachments, base, node.span)
    found = work.can_follow.get(name)
    if found is None:
        if name not in work.ctx.scope.lost:
            work.ctx.report.unknown(
                node.target.name.span,
                name,
                sorted(work.can_follow),
                f"There is no procedure and no block called {name}.",
                otherwise="Its file may be missing from this folder.",
            )
        return None
    _serves(work, node, found)
    return model.FollowStep(target=found.key, half=node.half, **shared)


def _serves(work: Work, node: syntax.Follow, found: Follows) -> None:
    """Check that what is followed is for this machine and all of these models."""
    if found.machine and work.machine and found.machine != work.machine:
        work.ctx.report.add(
            "wrong-kind",
            node.target.span,
            f"{found.name} is for {found.machine}, but this is for {work.machine}.",
            (found.span, f"{found.name} is here"),
            hint="Do both in one visit, or follow one for this machine.",
        )
        return
    missing = [m for m in work.ctx.models if found.models and m not in found.models]
    if missing:
        work.ctx.report.add(
            "unknown-model",
            node.target.span,
            f"{found.name} is only for {', '.join(found.models)}, but this is for "
            f"{', '.join(missing)} as well.",
            (found.span, f"{found.name} is here"),
            hint=f"Add: only for {', '.join(found.models)}.",
        )


def _refit(work: Work, node: syntax.Refit) -> model.Step:
    """Return the way back of a section, or the refitting of a part with that name."""
    target = node.target
    if target is not None:
        label = work.labels.spoken.get(target.name.text)
        if label is None and work.ctx.scope.get(target.name.text) is not None:
            return put_back(work, node, target)
        if label is None and target.name.text in work.ctx.loops:
            return put_back(work, node, target)
        if label is None or label.kind != "section":
            _no_section(work, target)
        else:
            _no_thing(work, target, label)
    name = target.name.text if target is not None else ""
    shared = common(
        work, node.trailer, node.attachments, join("refit", name or "everything"), node.span
    )
    return model.RefitStep(section=name, **shared)


def _no_thing(work: Work, target: syntax.Ref, label: Label) -> None:
    """Report a section with the name of a thing that could be refitted as well."""
    named = work.ctx.scope.get(target.name.text)
    if named is not None:
        work.ctx.report.add(
            "duplicate-name",
            target.span,
            f"{named.name} is a section and {with_article(named.kind)}; which one is meant?",
            (label.span, "the section"),
            (named.span, f"{with_article(named.kind)}"),
            hint="Give the section another name.",
        )


def _no_section(work: Work, target: syntax.Ref) -> None:
    name = target.name.text
    label = work.labels.spoken.get(name)
    if label is not None:
        work.ctx.report.add(
            "wrong-kind",
            target.span,
            f"{name} is a step; the way back is worked out for a section.",
            (label.span, f"{name} is named here"),
            hint="Put the steps into a section and name that.",
        )
    elif name not in work.ctx.scope.lost:
        sections = [la.name for la in work.labels.spoken.values() if la.kind == "section"]
        work.ctx.report.unknown(
            target.name.span,
            name,
            sorted((*sections, *work.ctx.scope.of(EVERY_KIND))),
            f"There is no section, part or fastener called {name}.",
            otherwise="Name the section that took it off, or write: refit everything.",
        )


def _question(work: Work, node: syntax.Question) -> model.QuestionStep:
    name = node.name.text if node.name is not None else ""
    base = join(node.kind, name or slug(node.text.value))
    shared = common(work, node.trailer, node.attachments, base, node.span)
    answers: dict[str, syntax.Word] = {}
    for word in node.answers:
        first = answers.setdefault(word.text, word)
        if first is not word:
            work.ctx.report.add(
                "duplicate-name",
                word.span,
                f"There is an answer {word.text} already.",
                (first.span, "this one"),
                hint="Give each answer a word of its own.",
            )
    return model.QuestionStep(
        kind=node.kind, name=name, text=prose(work.ctx, node.text), answers=tuple(answers), **shared
    )


def _stop(work: Work, node: syntax.Stop) -> model.StopStep:
    text = prose(work.ctx, node.text) if node.text is not None else None
    said = slug(node.text.value) if node.text is not None else ""
    base = join("hand-over", node.role.text) if node.role is not None else join("stop", said)
    shared = common(work, node.trailer, node.attachments, base, node.span)
    role = role_key(work, node.role) if node.role is not None else ""
    return model.StopStep(role=role, text=text, **shared)


def _go_back(work: Work, node: syntax.GoBack) -> model.GoBackStep | None:
    name = node.target.text
    shared = common(work, node.trailer, node.attachments, join("go-back", name), node.span)
    if name not in work.labels.spoken:
        if name not in work.ctx.scope.lost:
            work.ctx.report.unknown(
                node.target.span,
                name,
                sorted(work.labels.spoken),
                f"No step or section is called {name}.",
                otherwise=f"Name the step to go back to: put `as {name}` at the end of its line.",
            )
        return None
    return model.GoBackStep(target=name, **shared)
