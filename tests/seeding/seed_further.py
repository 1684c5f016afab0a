"""Further defects: variants, units of single torques, safety messages, guards not done up."""

from __future__ import annotations

import re
from collections.abc import Iterator

from seed_left import FIT
from seed_text import Edit, Step, Texts

_TORQUE = frozenset({"torque-too-high", "torque-too-low"})
_MESSAGES = ("danger", "warning", "caution")


def torque_in_pound_inches(texts: Texts) -> Iterator[Edit]:
    """A single torque stands in pound-inches for newton-metres, a ninth of it."""
    return _torque_in(texts, "lbf·in")


def torque_in_pound_feet(texts: Texts) -> Iterator[Edit]:
    """A single torque stands in pound-feet for newton-metres, a third more."""
    return _torque_in(texts, "lbf·ft")


def _torque_in(texts: Texts, unit: str) -> Iterator[Edit]:
    for one in texts.of_block("fasteners"):
        line = texts.files[one.path][one.line]
        changed = re.sub(r"(torque [\d.]+) N·m(?! *\(| then)", rf"\1 {unit}", line, count=1)
        if changed != line and "(" not in line:
            yield Edit({(one.path, one.line): (changed,)}, _TORQUE, frozenset({one.name}))


def torque_decimal_slipped(texts: Texts) -> Iterator[Edit]:
    """The decimal point of a torque slipped: 90 N·m or 0.9 N·m for 9 N·m."""
    for one in texts.of_block("fasteners"):
        line = texts.files[one.path][one.line]
        found = re.search(r"torque (\d+(?:\.\d+)?) N·m(?! *\(| then)", line)
        if found and "(" not in line:
            for value in (float(found[1]) * 10, float(found[1]) / 10):
                changed = line.replace(found[0], f"torque {value:g} N·m", 1)
                yield Edit({(one.path, one.line): (changed,)}, _TORQUE, frozenset({one.name}))


def wrong_variant(texts: Texts) -> Iterator[Edit]:
    """A step about what only one model has is written for another model."""
    models = {
        name
        for lines in texts.files.values()
        for line in lines
        if line.startswith("  models ")
        for name in re.findall(r"[\w-]+", line)[1:]
    }
    rules = frozenset({"unknown-name", "unknown-model", "left-off", "left-loose", "already-so"})
    for step in texts.steps:
        line = texts.files[step.path][step.line]
        found = re.search(r"  only for ([A-Z]{2}-\d+)$", line)
        if found is None or not step.names or step.names[0] not in texts.declared:
            continue
        if f"only for {found[1]}" not in texts.declared[step.names[0]].text:
            continue
        for other in sorted(models - {found[1]})[:1]:
            changed = line.replace(found[0], f"  only for {other}")
            yield Edit({(step.path, step.line): (changed,)}, rules, frozenset(step.names))


def _run_on(texts: Texts, step: Step) -> Iterator[Step]:
    """Yield the steps of the same body behind a step."""
    above = texts.parent(step.path, step.line)
    for other in texts.steps_of(step.path):
        if other.line > step.line and texts.parent(step.path, other.line) == above:
            yield other


def released_before_tight(texts: Texts) -> Iterator[Edit]:
    """A heavy part is let go of when it is on, but before what holds it is tight."""
    for step in texts.steps:
        if step.verb not in FIT or not step.names:
            continue
        turned: list[Step] = []
        for later in _run_on(texts, step):
            if later.verb == "tighten":
                held = {
                    part
                    for name in later.names
                    if name in texts.declared
                    for part in (name, *texts.declared[name].after("holds"))
                }
                turned += [later] if held & set(step.names) else []
            if later.verb == "release" and later.names == step.names and turned:
                changes = dict(texts.drop(step.path, later.line))
                line = texts.files[step.path][later.line]
                changes[step.path, turned[0].line] = (
                    line,
                    texts.files[step.path][turned[0].line],
                )
                names = frozenset({*step.names, *turned[0].names})
                yield Edit(changes, frozenset({"unsupported"}), names)
                break


def guard_not_done_up(texts: Texts) -> Iterator[Edit]:
    """The guard's screws are only put in by hand when the energy is given back."""
    guards = {p.name for p in texts.of_block("parts") if p.after("guards")}
    screws = {f.name for f in texts.of_block("fasteners") if guards & set(f.after("holds"))}
    for step in texts.steps:
        if step.verb != "tighten" or not set(step.names) & (screws | guards):
            continue
        gives = [
            s
            for s in texts.steps_of(step.path)
            if s.line > step.line and s.verb == "restore" and s.indent <= step.indent
        ]
        if not gives or len(texts.block_of(step.path, step.line)) > 1:
            continue
        if all(_by_hand(texts, name) for name in set(step.names) & screws):
            texts.skip("guard not done up: what holds it is done up by hand anyway")
            continue
        kept = {e for g in guards for e in texts.declared[g].after("guards")}
        if not kept & set(gives[0].names):
            continue
        if _done_up_again(texts, step, gives[0]):
            texts.skip("guard not done up: it is tightened again before the energy is back")
            continue
        last = (gives[0].line, *texts.children(step.path, gives[0].line))[-1]
        changes = dict(texts.drop(step.path, step.line))
        moved = " " * gives[0].indent + texts.files[step.path][step.line].lstrip()
        changes[step.path, last] = (texts.files[step.path][last], moved)
        names = frozenset({*step.names, *guards})
        yield Edit(changes, frozenset({"live-with-guard-off"}), names)


def _by_hand(texts: Texts, name: str) -> bool:
    """What asks for no wrench holds once it is in: see `hand-tight`, `snug` in the language."""
    one = texts.declared[name]
    return one.has("hand-tight") or one.has("snug") or "knob" in one.text or one.has("wing")


def _done_up_again(texts: Texts, step: Step, before: Step) -> bool:
    return any(
        s.verb == "refit" or (s.verb == "tighten" and set(s.names) & set(step.names))
        for s in texts.steps_of(step.path)
        if step.line < s.line < before.line
    )


def _messages(texts: Texts) -> Iterator[tuple[str, int, list[int]]]:
    """Yield the safety messages of sections: where, and the lines of the section under them."""
    for step in texts.steps:
        above = texts.parent(step.path, step.line)
        if step.verb in _MESSAGES and above is not None:
            first = texts.files[step.path][above].split()[0]
            children = texts.children(step.path, above)
            own = texts.block_of(step.path, step.line)
            if first == "section" and children[0] == step.line:
                yield step.path, step.line, children[len(own) :]


def message_behind_its_steps(texts: Texts) -> Iterator[Edit]:
    """A safety message stands behind the steps of its section."""
    for path, number, below in _messages(texts):
        if below:
            changes = dict(texts.drop(path, number))
            changes[path, below[-1]] = (
                texts.files[path][below[-1]],
                *texts.block_of(path, number),
            )
            yield Edit(changes, frozenset({"not-understood"}), frozenset())


def message_one_step_late(texts: Texts) -> Iterator[Edit]:
    """A safety message stands one step late, before a step that it is not about."""
    for path, number, below in _messages(texts):
        indent = len(texts.files[path][number]) - len(texts.files[path][number].lstrip())
        steps = [s for s in texts.steps_of(path) if s.line in below and s.indent == indent]
        if len(steps) > 1 and steps[0].verb not in ("repeat", "if", *_MESSAGES):
            last = (steps[0].line, *texts.children(path, steps[0].line))[-1]
            changes = dict(texts.drop(path, number))
            changes[path, last] = (texts.files[path][last], *texts.block_of(path, number))
            yield Edit(changes, frozenset({"not-understood"}), frozenset())


def thread_state_wrong(texts: Texts) -> Iterator[Edit]:
    """The thread of a fastener is said to be dry that is oiled, or oiled that is dry."""
    for one in texts.of_block("fasteners"):
        for number in (one.line, *texts.children(one.path, one.line)):
            line = texts.files[one.path][number]
            for state, other in (("dry", "oiled"), ("oiled", "dry")):
                changed = re.sub(rf"thread {state}(?![\w-])", f"thread {other}", line)
                if changed != line:
                    yield Edit({(one.path, number): (changed,)}, _TORQUE, frozenset({one.name}))


def holds_dropped(texts: Texts) -> Iterator[Edit]:
    """A fastener does not say what it holds."""
    rules = frozenset({"holds-nothing", "unused-name"})
    fasteners = texts.of_block("fasteners")
    for one in fasteners:
        held = one.after("holds")
        others = {name for other in fasteners if other != one for name in other.after("holds")}
        if not held:
            continue
        if others.intersection(held):
            texts.skip("holds dropped: another fastener holds it")
            continue
        line = texts.files[one.path][one.line]
        changed = re.sub(r" +holds [\w\[\].-]+(?:, [\w\[\].-]+)*", "", line, count=1)
        if changed != line:
            names = frozenset({one.name, *held})
            yield Edit({(one.path, one.line): (changed,)}, rules, names)


def tested_too_early(texts: Texts) -> Iterator[Edit]:
    """A look for leaks, or a run, stands before the energies are given back."""
    for step in texts.steps:
        if step.verb != "restore":
            continue
        lines = texts.files[step.path]
        here, after, last = (*lines[step.line : step.line + 3], "", "")[:3]
        alone = _indent(after) == step.indent >= _indent(last)
        if alone and re.search(r"\b(?:leak|drip|ran for)", after, re.IGNORECASE):
            swapped = {(step.path, step.line): (after,), (step.path, step.line + 1): (here,)}
            yield Edit(swapped, frozenset({"tested-isolated"}), frozenset(step.names))


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))
