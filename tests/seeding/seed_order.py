"""Defects of the order of the work, of energies, lifting and single use."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from seed_left import FIT
from seed_text import Declared, Edit, Step, Texts

_OPENING = ("remove", "disconnect", "open", "move")


def _swap(texts: Texts, first: Step, second: Step) -> dict[tuple[str, int], Sequence[str]]:
    """Return the changes that put the second step in front of the first; both in one body."""
    moved = texts.block_of(second.path, second.line)
    changes = texts.drop(second.path, second.line)
    changes[first.path, first.line] = (*moved, texts.files[first.path][first.line])
    return changes


def _pairs(texts: Texts) -> Iterator[tuple[Step, Step]]:
    """Yield the steps of one body that follow each other, also with others between."""
    for path in texts.files:
        steps = texts.steps_of(path)
        for number, first in enumerate(steps):
            for second in steps[number + 1 : number + 6]:
                if texts.parent(path, first.line) == texts.parent(path, second.line):
                    yield first, second


def tighten_before_fit(texts: Texts) -> Iterator[Edit]:
    """A fastener is tightened before it is in, or before what it holds is on."""
    for first, second in _pairs(texts):
        if first.verb not in FIT or second.verb != "tighten" or "aside" in first.rest:
            continue
        held = {
            n
            for name in second.names
            if name in texts.declared
            for n in texts.declared[name].after("holds")
        }
        if {*second.names, *held} & set(first.names):
            names = frozenset({*first.names, *second.names})
            yield Edit(_swap(texts, first, second), frozenset({"not-in-yet"}), names)


def out_in_wrong_order(texts: Texts) -> Iterator[Edit]:
    """A part comes out before the part that is in front of it."""
    for first, second in _pairs(texts):
        if first.verb != "remove" or second.verb != "remove" or "[" in first.rest + second.rest:
            continue
        if not second.names or second.names[0] not in texts.declared:
            continue
        one = texts.declared[second.names[0]]
        if not set(one.after("behind")) & set(first.names):
            continue
        names = frozenset({*first.names, *second.names})
        yield Edit(_swap(texts, first, second), frozenset({"in-the-way", "opened-live"}), names)


def in_in_wrong_order(texts: Texts) -> Iterator[Edit]:
    """A part goes in after the part that is in front of it."""
    for first, second in _pairs(texts):
        if first.verb not in FIT or second.verb not in FIT:
            continue
        if not first.names or first.names[0] not in texts.declared:
            continue
        one = texts.declared[first.names[0]]
        if set(one.after("behind")) & set(second.names):
            names = frozenset({*first.names, *second.names})
            yield Edit(_swap(texts, first, second), frozenset({"in-the-way"}), names)


def _guarding(texts: Texts) -> list[Declared]:
    return [p for p in texts.of_block("parts") if p.after("guards")]


_BEFORE_GUARD = frozenset({"live-with-guard-off"})


def guard_on_after_restore(texts: Texts) -> Iterator[Edit]:
    """The guard goes on only after the energy is given back."""
    for path in texts.procedures:
        steps = texts.steps_of(path)
        reaching = frozenset((s.path, s.line) for s in steps if s.verb == "reach")
        restores = [s for s in steps if s.verb == "restore" or _is_way_back(s)]
        for step in restores[-1:]:
            # The last steps of the same body before it that put something back.
            above = texts.parent(path, step.line)
            backs = [
                s
                for s in steps
                if s.line < step.line and texts.parent(path, s.line) == above and s.verb == "refit"
            ]
            guards = {g.name for g in _guarding(texts)}
            fits = [
                s for s in steps if s.line < step.line and s.verb in FIT and set(s.names) & guards
            ]
            if backs and _opens_guard(texts, path, backs[-1], guards):
                moved = texts.block_of(path, backs[-1].line)
                changes = texts.drop(path, backs[-1].line)
                last = (step.line, *texts.children(path, step.line))[-1]
                changes[path, last] = (texts.files[path][last], *moved)
                yield Edit(changes, _BEFORE_GUARD, frozenset(guards), reaching)
            elif fits:
                moved = [ln.lstrip() for ln in texts.block_of(path, step.line)]
                indent = " " * fits[-1].indent
                changes = texts.drop(path, step.line)
                at = texts.files[path][fits[-1].line]
                changes[path, fits[-1].line] = (indent + moved[0], at)
                yield Edit(changes, _BEFORE_GUARD, frozenset(guards), reaching)


def _is_way_back(step: Step) -> bool:
    return step.verb == "follow" and step.rest.endswith(" way back") and "safe" in step.rest


def _opens_guard(texts: Texts, path: str, refit: Step, guards: set[str]) -> bool:
    if refit.rest == "everything":
        return True
    return any(
        s.verb == "section"
        and s.rest.split(" ")[0] == refit.rest.split(" ")[0]
        and any(
            set(r.names) & guards
            for r in texts.steps_of(path)
            if r.line in texts.children(path, s.line) and r.verb == "remove"
        )
        for s in texts.steps_of(path)
    )


def _behind_guards(
    texts: Texts, energies: list[str]
) -> tuple[set[str], frozenset[tuple[str, int]]]:
    """Return the guards of energies, and the `reach` lines, which take guards off unsaid."""
    lines = frozenset((s.path, s.line) for s in texts.steps if s.verb == "reach")
    guards = {g.name for g in _guarding(texts) if set(g.after("guards")) & set(energies)}
    return guards, lines


def _opened(texts: Texts, energy: str, path: str) -> set[str]:
    """Return what the steps of a file take off that keeps an energy from people."""
    found: set[str] = set()
    for step in texts.steps:
        if step.verb in _OPENING and (step.path == path or not path):
            for name in step.names:
                one = texts.declared.get(name)
                if one and energy in (
                    *one.after("guards"),
                    *one.after("contains"),
                    *one.after("carries"),
                ):
                    found.add(name)
    return found


def isolation_dropped(texts: Texts) -> Iterator[Edit]:
    """The energies are not isolated at all."""
    for step in texts.steps:
        if step.verb != "isolate":
            continue
        where = "" if any(s.verb == "way" for s in texts.steps_of(step.path)) else step.path
        opened = {n for energy in step.names for n in _opened(texts, energy, where)}
        rules = frozenset({"opened-live", "already-so", "cannot-reach"})
        guards, reaching = _behind_guards(texts, step.names)
        names = frozenset({*step.names, *opened, *guards})
        yield Edit(texts.drop(step.path, step.line), rules, names, reaching)


def one_isolation_dropped(texts: Texts) -> Iterator[Edit]:
    """One of several energies is not isolated, and what keeps it off is opened."""
    return _one_isolation_dropped(texts, True)


def one_isolation_dropped_unopened(texts: Texts) -> Iterator[Edit]:
    """One of several energies is not isolated, but given back; nothing is opened that keeps it."""
    return _one_isolation_dropped(texts, False)


def _one_isolation_dropped(texts: Texts, is_opened: bool) -> Iterator[Edit]:
    for step in texts.steps:
        if step.verb != "isolate" or len(step.names) < 2:
            continue
        where = "" if any(s.verb == "way" for s in texts.steps_of(step.path)) else step.path
        for name in step.names:
            line = texts.files[step.path][step.line]
            short = re.sub(rf"(?:, {name}(?![\w-])|(?<![\w-]){name}, )", "", line, count=1)
            guards, reaching = _behind_guards(texts, [name])
            opened = _opened(texts, name, where)
            if bool(opened or (reaching and guards)) is not is_opened:
                continue
            rules = frozenset({"opened-live", "already-so", "cannot-reach"})
            names = frozenset({name, *opened, *guards})
            yield Edit({(step.path, step.line): (short,)}, rules, names, reaching)


def isolated_too_late(texts: Texts) -> Iterator[Edit]:
    """The energies are isolated only after the first part is off."""
    for path in texts.procedures:
        steps = texts.steps_of(path)
        for step in [s for s in steps if s.verb == "isolate"][:1]:
            opened = {n for energy in step.names for n in _opened(texts, energy, path)}
            after = [
                s
                for s in steps
                if s.verb in _OPENING and s.line > step.line and set(s.names) & opened
            ]
            if after:
                changes = texts.drop(path, step.line)
                moved = texts.block_of(path, step.line)[0].strip()
                last = (after[0].line, *texts.children(path, after[0].line))[-1]
                line = f"{' ' * after[0].indent}{moved}"
                changes[path, last] = (texts.files[path][last], line)
                names = frozenset({*step.names, *after[0].names})
                yield Edit(changes, frozenset({"opened-live"}), names)


def proof_not_given(texts: Texts) -> Iterator[Edit]:
    """The machine does not say how an energy is proved dead."""
    for energy in texts.of_block("energy"):
        for number in texts.children(energy.path, energy.line):
            if texts.files[energy.path][number].strip().startswith("verify"):
                used = _opened(texts, energy.name, "")
                names = frozenset({energy.name, *used})
                changes = texts.drop(energy.path, number)
                yield Edit(changes, frozenset({"isolation-not-said"}), names)


def proof_dropped(texts: Texts) -> Iterator[Edit]:
    """What was let out by hand, or was found isolated, is not proved dead."""
    for path in texts.procedures:
        for step in texts.steps_of(path):
            opened = {n for name in step.names for n in _opened(texts, name, path)}
            if step.verb == "verify" and step.names:
                isolated = any(
                    s.verb == "isolate" and set(s.names) & set(step.names) and s.line < step.line
                    for s in texts.steps_of(path)
                )
                if isolated or not opened:
                    texts.skip("proof dropped: `isolate` proved it before, or nothing is opened")
                    continue
                names = frozenset({*step.names, *opened})
                yield Edit(texts.drop(path, step.line), frozenset({"opened-live"}), names)


def released_not_proved(texts: Texts) -> Iterator[Edit]:
    """Only switched off, by hand: nobody proves that it is dead."""
    for path in texts.procedures:
        for step in texts.steps_of(path):
            if step.verb != "isolate" or len(step.names) > 1:
                continue
            opened = _opened(texts, step.names[0], path)
            if opened:
                line = f'{" " * step.indent}turn "the isolating switch" to "off"'
                names = frozenset({*step.names, *opened})
                rules = frozenset({"opened-live", "already-so"})
                yield Edit({(path, step.line): (line,)}, rules, names)


def support_dropped(texts: Texts) -> Iterator[Edit]:
    """A heavy part comes free with nothing to take its weight."""
    for step in texts.steps:
        if step.verb != "support":
            continue
        after = [
            s
            for s in texts.steps_of(step.path)
            if s.line > step.line and set(s.names) & set(step.names)
        ]
        people = _for_two(texts, step.path)
        if people and not _too_heavy_for_two(texts, step):
            texts.skip("support dropped: two people are there and may lift it by hand")
            continue
        lets_go = next((s for s in after if s.verb == "release"), None)
        changes = texts.drop(step.path, step.line)
        if lets_go is not None:
            changes |= texts.drop(step.path, lets_go.line)
        if any(s.verb == "remove" for s in after if lets_go is None or s.line < lets_go.line):
            yield Edit(changes, frozenset({"unsupported"}), frozenset(step.names))
        elif not any(s.verb == "remove" for s in after):
            texts.skip("support dropped on the way in: the part is set down, not taken off")


def _for_two(texts: Texts, path: str) -> bool:
    """Return whether two people are there throughout; with a block, where it is followed."""
    if path in texts.procedures:
        return any(re.match(r"  people +2", line) for line in texts.files[path])
    blocks = {line.split()[1] for line in texts.files[path] if line.startswith("  block ")}
    users = {s.path for s in texts.steps if s.verb == "follow" and s.rest.split(" ")[0] in blocks}
    return bool(users) and all(_for_two(texts, user) for user in users)


def _too_heavy_for_two(texts: Texts, step: Step) -> bool:
    found = [
        float(m[1])
        for n in step.names
        if n in texts.declared
        for m in re.finditer(r"(\d+(?:\.\d+)?) kg", texts.declared[n].text)
    ]
    return max(found, default=0) > 50


def released_too_early(texts: Texts) -> Iterator[Edit]:
    """A heavy part is let go of before it is off."""
    for first, second in _pairs(texts):
        if first.verb != "remove" or second.verb != "release" or first.names != second.names:
            continue
        people = _for_two(texts, first.path)
        if people and not _too_heavy_for_two(texts, first):
            texts.skip("let go of too early: two people are there and may lift it by hand")
            continue
        rules = frozenset({"unsupported"})
        yield Edit(_swap(texts, first, second), rules, frozenset(first.names))


def old_one_used(texts: Texts) -> Iterator[Edit]:
    """A single-use part goes back in, named `old` or not named `new`."""
    for step in texts.steps:
        if step.verb not in FIT or not step.rest.startswith("new ") or not step.names:
            continue
        one = texts.declared.get(step.names[0])
        if one is None or not one.has("renew"):
            texts.skip("old one used: the part is not single use")
            continue
        line = texts.files[step.path][step.line]
        removed = any(
            s.verb in ("remove", "replace") and set(s.names) & set(step.names)
            for s in texts.steps_of(step.path)
        )
        for word in ("old ", "") if removed else ("old ",):
            changed = line.replace(f"{step.verb} new ", f"{step.verb} {word}", 1)
            rules = frozenset({"used-again"})
            yield Edit({(step.path, step.line): (changed,)}, rules, frozenset(step.names))


def done_twice(texts: Texts) -> Iterator[Edit]:
    """A line that takes off or puts on stands there twice."""
    for step in texts.steps:
        declared = [texts.declared[n] for n in step.names if n in texts.declared]
        verbs = ("remove", "connect", "disconnect", *FIT)
        if step.verb not in verbs or not declared:
            continue
        line = texts.files[step.path][step.line]
        twice = [*texts.block_of(step.path, step.line)[:1], line]
        rules = frozenset({"already-so"})
        yield Edit({(step.path, step.line): twice}, rules, frozenset(step.names))


def after_the_end(texts: Texts) -> Iterator[Edit]:
    """A step stands behind the line that ends the work."""
    for path in texts.procedures:
        for step in texts.steps_of(path):
            if step.verb == "stop" and "only if" not in step.rest:
                last = (step.line, *texts.children(path, step.line))[-1]
                line = f'{" " * step.indent}check "the floor under the machine"'
                changes = {(path, last): (texts.files[path][last], line)}
                yield Edit(changes, frozenset({"never-reached"}), frozenset())
