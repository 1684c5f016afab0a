"""Defects of the way back: what is forgotten, half done, or put in another place."""

from __future__ import annotations

import re
from collections.abc import Iterator

from seed_text import Edit, Step, Texts

FIT = ("fit", "install", "mount", "insert")
LEFT = frozenset({"left-off", "left-loose", "left-disconnected"})
OPEN = LEFT | {"live-with-guard-off"}


def _taken_off(texts: Texts, path: str, section: str) -> frozenset[str]:
    """Return what the steps of a section take off; with a block it follows, what that does."""
    names: set[str] = set()
    for step in texts.steps_of(path):
        if step.verb == "section" and step.rest.split(" ")[0] == section:
            below = set(texts.children(path, step.line))
            names |= _removed_in(texts, path, below)
    return frozenset(names)


def _removed_in(texts: Texts, path: str, below: set[int]) -> set[str]:
    names: set[str] = set()
    for step in texts.steps_of(path):
        if step.line in below and step.verb == "reach":
            # The way in that is worked out takes off what stands in front.
            names |= {
                front
                for name in step.names
                if name in texts.declared
                for front in (name, *texts.declared[name].after("behind"))
            }
        if step.line in below and step.verb in ("remove", "disconnect", "unlock", "slacken"):
            names |= set(step.names) | _looped(texts, step)
    return names


def _looped(texts: Texts, step: Step) -> set[str]:
    """Return the set that a step's loop goes through, when the step names the loop's word."""
    for number in texts.chain(step.path, step.line):
        found = re.match(r" *repeat for each (\w+) in ([\w-]+)", texts.files[step.path][number])
        if found and found[1] in step.names:
            return {found[2]}
    return set()


def _refits(texts: Texts) -> Iterator[tuple[Step, int]]:
    """Yield the refit lines with how many their procedure has."""
    for path in texts.procedures:
        found = [s for s in texts.steps_of(path) if s.verb == "refit"]
        yield from ((step, len(found)) for step in found)


def _refit_dropped(texts: Texts, several: bool) -> Iterator[Edit]:
    for step, count in _refits(texts):
        if (count > 1) is not several:
            continue
        later = [s for s in texts.steps_of(step.path) if s.verb == "refit" and s.line > step.line]
        if any(s.rest == "everything" for s in later):
            texts.skip("refit dropped: `refit everything` follows and puts the same back")
            continue
        sections = [step.rest.split(" ")[0]]
        if sections == ["everything"]:
            names = frozenset(_removed_in(texts, step.path, set(range(step.line))))
        else:
            names = _taken_off(texts, step.path, sections[0])
        yield Edit(texts.drop(step.path, step.line), OPEN, names)


def refit_dropped(texts: Texts) -> Iterator[Edit]:
    """The only refit of a procedure is missing."""
    return _refit_dropped(texts, False)


def one_refit_dropped(texts: Texts) -> Iterator[Edit]:
    """One of several refits is missing."""
    return _refit_dropped(texts, True)


def _refitted_later(texts: Texts, path: str, line: int, names: set[str]) -> bool:
    """Return whether a refit further down works out the way back of one of the things."""
    for step in texts.steps_of(path):
        if step.verb == "refit" and step.line > line:
            section = step.rest.split(" ")[0]
            if section == "everything" or names & _taken_off(texts, path, section):
                return True
    return False


_REFITTED = "way back dropped: a refit further down works it out again"


def fit_dropped(texts: Texts) -> Iterator[Edit]:
    """A fit line of a way back written by hand is missing."""
    for step in texts.steps:
        kinds = {texts.declared[n].block for n in step.names if n in texts.declared}
        if step.verb not in FIT or not kinds & {"parts", "fasteners"}:
            continue
        yield Edit(texts.drop(step.path, step.line), OPEN | {"not-in-yet"}, frozenset(step.names))


def _turned(texts: Texts, step: Step) -> bool:
    """Return whether a later step turns what holds the thing, which would then not be in."""
    meant = _fasteners_meant(texts, step)
    return any(
        s.verb == "tighten" and s.line > step.line and meant & _fasteners_meant(texts, s)
        for s in texts.steps_of(step.path)
    )


def _fasteners_meant(texts: Texts, step: Step) -> set[str]:
    """Return the fasteners a step speaks of, by their own name or by what they hold."""
    found: set[str] = set()
    for name in step.names:
        one = texts.declared.get(name)
        if one is not None and one.block == "fasteners":
            found.add(name)
        found |= {f.name for f in texts.of_block("fasteners") if name in f.after("holds")}
    return found


def tighten_dropped(texts: Texts) -> Iterator[Edit]:
    """A fastener that is put in is not tightened."""
    for step in texts.steps:
        if step.verb != "tighten":
            continue
        meant = _fasteners_meant(texts, step)
        others = [
            s
            for s in texts.steps_of(step.path)
            if s.verb == "tighten" and s.line != step.line and meant & _fasteners_meant(texts, s)
        ]
        if any(s.line > step.line for s in others):
            texts.skip("tighten dropped: the same fastener is tightened again later")
            continue
        if _passed_by(texts, step, others):
            texts.skip("tighten dropped: a step before it has tightened the same already")
            continue
        names = frozenset({*step.names, *_with_held(texts, meant)})
        if _refitted_later(texts, step.path, step.line, set(names)):
            texts.skip(_REFITTED)
            continue
        yield Edit(texts.drop(step.path, step.line), frozenset({"left-loose"}), names)


def _passed_by(texts: Texts, step: Step, others: list[Step]) -> bool:
    """Return whether the fastener is tight before the step: nothing slackened it in between."""
    before = [s for s in others if s.line < step.line and "snug" not in s.rest]
    before = [s for s in before if "hand-tight" not in s.rest]
    if not before:
        return False
    meant, last = _fasteners_meant(texts, step), before[-1].line
    return not any(
        s.verb in ("slacken", "remove", *FIT) and meant & _fasteners_meant(texts, s)
        for s in texts.steps_of(step.path)
        if last < s.line < step.line
    )


def _with_held(texts: Texts, fasteners: set[str]) -> set[str]:
    """Return the fasteners with what they hold: the step that put that on is concerned too."""
    known = [texts.declared[n] for n in fasteners if n in texts.declared]
    return fasteners | {held for one in known for held in one.after("holds")}


def lock_dropped(texts: Texts) -> Iterator[Edit]:
    """What secures a fastener is not done again."""
    for step in texts.steps:
        if step.verb == "lock":
            if any(
                s.verb == "tighten" and set(s.names) == set(step.names) and s.line < step.line
                for s in texts.steps_of(step.path)
            ):
                texts.skip("lock dropped: `tighten` before it secures the nut as well")
                continue
            if _refitted_later(texts, step.path, step.line, set(step.names)):
                texts.skip(_REFITTED)
                continue
            locks = {
                f.name
                for f in texts.of_block("fasteners")
                if set(step.names) & set(f.after("locks"))
            }
            names = frozenset({*step.names, *locks})
            yield Edit(texts.drop(step.path, step.line), frozenset({"left-loose"}), names)


def tightened_too_low(texts: Texts) -> Iterator[Edit]:
    """A step gives a torque far below that of the joint."""
    for step in texts.steps:
        if step.verb != "tighten" or re.search(r" (to|hand-tight|snug)\b", step.rest):
            continue
        meant = _fasteners_meant(texts, step)
        asked = [texts.declared[n] for n in meant if texts.declared[n].has("torque")]
        if not asked or any(a.has("then") for a in asked):
            continue
        if _again_later(texts, step, meant):
            texts.skip("tightened too low: it is tightened again later")
            continue
        line = texts.files[step.path][step.line]
        low = re.sub(r"^( *tighten [\w\[\], -]+?)(?=  | holding| with|$)", r"\1 to 1 N·m", line)
        yield Edit(
            {(step.path, step.line): (low,)},
            frozenset({"left-loose"}),
            frozenset(_with_held(texts, meant)),
        )


def _again_later(texts: Texts, step: Step, meant: set[str]) -> bool:
    """Return whether a later step, or a refit, tightens the same."""
    if _refitted_later(texts, step.path, step.line, _with_held(texts, meant)):
        return True
    return any(
        s.verb == "tighten" and s.line > step.line and meant & _fasteners_meant(texts, s)
        for s in texts.steps_of(step.path)
    )


def wrong_fastener_tightened(texts: Texts) -> Iterator[Edit]:
    """Another fastener of the machine is tightened in place of the right one."""
    for step in texts.steps:
        if step.verb != "tighten" or len(step.names) != 1:
            continue
        own = step.names[0]
        one = texts.declared.get(own)
        if one is None or one.block != "fasteners":
            continue
        others = [
            f.name
            for f in texts.of_block("fasteners")
            if f.path == one.path
            and f.name != own
            and f.has("torque")
            and "[" not in f.text
            and not f.after("only for")
        ]
        if _again_later(texts, step, {own}):
            texts.skip("wrong fastener tightened: the right one is tightened later")
            continue
        if others and "[" not in step.rest:
            line = texts.files[step.path][step.line].replace(own, others[-1])
            yield Edit(
                {(step.path, step.line): (line,)},
                frozenset({"left-loose"}),
                frozenset(_with_held(texts, {own})),
            )


def _found_so(texts: Texts, path: str) -> set[str]:
    """Return what the work needs from its start to its end, so that it may stay so."""
    found: set[str] = set()
    for number, line in enumerate(texts.files[path]):
        if line.startswith("  needs "):
            under = texts.children(path, number)
            whole = " ".join([line, *(texts.files[path][i] for i in under)])
            found |= set(re.findall(r"[a-z][\w-]+", whole.replace("needs", "")))
    return found


_AS_FOUND = "way back dropped: the work needs it so from start to end"


def restore_dropped(texts: Texts) -> Iterator[Edit]:
    """The energies are not given back."""
    for step in texts.steps:
        if step.verb == "restore":
            if set(step.names) <= _found_so(texts, step.path):
                texts.skip(_AS_FOUND)
                continue
            yield Edit(
                texts.drop(step.path, step.line),
                frozenset({"left-isolated"}),
                frozenset(step.names),
            )


def one_restore_dropped(texts: Texts) -> Iterator[Edit]:
    """One of several energies is not given back."""
    for step in texts.steps:
        if step.verb == "restore":
            for name, line in _without_one(texts, step):
                if name in _found_so(texts, step.path):
                    texts.skip(_AS_FOUND)
                    continue
                yield Edit(
                    {(step.path, step.line): (line,)},
                    frozenset({"left-isolated"}),
                    frozenset({name}),
                )


def _without_one(texts: Texts, step: Step) -> Iterator[tuple[str, str]]:
    """Yield each name of a list with the line that lacks it."""
    line = texts.files[step.path][step.line]
    for name in step.names if len(step.names) > 1 else ():
        short = re.sub(rf"(?:, {name}(?![\w-])|(?<![\w-]){name}, )", "", line, count=1)
        if short != line:
            yield name, short


def support_left(texts: Texts) -> Iterator[Edit]:
    """A part is not let go of after it is held again."""
    for step in texts.steps:
        if step.verb == "release" and _supported(texts, step):
            before = [
                s.verb
                for s in texts.steps_of(step.path)
                if s.line < step.line
                and set(s.names) & set(step.names)
                and s.verb in ("remove", *FIT)
            ]
            if not before or before[-1] not in FIT:
                texts.skip("release dropped: the part is off, and let go of when it is back")
                continue
            rules = frozenset({"left-supported"})
            yield Edit(texts.drop(step.path, step.line), rules, frozenset(step.names))


def _supported(texts: Texts, step: Step) -> bool:
    return any(s.verb == "support" and set(s.names) & set(step.names) for s in texts.steps)


def aid_left_in(texts: Texts) -> Iterator[Edit]:
    """An aid is not taken out again."""
    for step in texts.steps:
        if step.verb == "remove" and _is_aid(texts, step):
            rules = frozenset({"left-in"})
            yield Edit(texts.drop(step.path, step.line), rules, frozenset(step.names))


def aid_never_in(texts: Texts) -> Iterator[Edit]:
    """An aid is taken out that was never put in."""
    for step in texts.steps:
        if step.verb in FIT and _is_aid(texts, step):
            rules = frozenset({"already-so"})
            yield Edit(texts.drop(step.path, step.line), rules, frozenset(step.names))


def _is_aid(texts: Texts, step: Step) -> bool:
    found = [texts.declared[n] for n in step.names if n in texts.declared]
    return bool(found) and all(one.block == "aids" for one in found)


def arm_not_closed(texts: Texts) -> Iterator[Edit]:
    """An arm of a branch takes something off and does not put it back."""
    for step in texts.steps:
        if step.verb != "if":
            continue
        below = set(texts.children(step.path, step.line))
        removed = _removed_in(texts, step.path, below)
        back = [
            s
            for s in texts.steps_of(step.path)
            if s.line in below and (s.verb == "refit" or (s.verb in (*FIT, "tighten", "lock")))
        ]
        if removed and any(s.verb == "refit" or set(s.names) & removed for s in back):
            changes: dict[tuple[str, int], tuple[str, ...]] = {}
            if _refitted_later(texts, step.path, max(below), removed):
                texts.skip(_REFITTED)
                continue
            for one in back:
                changes |= {k: tuple(v) for k, v in texts.drop(one.path, one.line).items()}
            yield Edit(changes, OPEN, frozenset(removed))


def callee_leaves_off(texts: Texts) -> Iterator[Edit]:
    """What is followed now ends with a part off, and says so; who follows it does not know."""
    followed = {s.rest.split(" ")[0] for s in texts.steps if s.verb == "follow"}
    for path in texts.procedures:
        head = next(i for i, ln in enumerate(texts.files[path]) if ln.startswith("procedure"))
        name = texts.files[path][head].split()[1]
        if name not in followed or any(s.verb == "way" for s in texts.steps_of(path)):
            continue
        calls = [s for s in texts.steps if s.verb == "follow" and s.rest.split(" ")[0] == name]
        if all(_refits_everything(texts, call) for call in calls):
            texts.skip(_REFITTED)
            continue
        changes: dict[tuple[str, int], tuple[str, ...]] = {}
        steps = texts.steps_of(path)
        removed = _removed_in(texts, path, set(range(len(texts.files[path]))))
        removed = {n for n in removed if texts.declared[n].block == "parts"}
        back = [s for s in steps if s.verb == "refit" or (set(s.names) & removed and s.verb in FIT)]
        back += [s for s in steps if s.verb == "tighten"] if removed else []
        for one in back:
            changes |= {k: tuple(v) for k, v in texts.drop(path, one.line).items()}
        if removed and changes:
            lines = [f"  leaves {n} off" for n in sorted(removed)]
            at = next(
                i for i, ln in enumerate(texts.files[path]) if ln.strip().startswith("revision")
            )
            changes[path, at] = (texts.files[path][at], *lines)
            yield Edit(changes, OPEN, frozenset(removed))


def _refits_everything(texts: Texts, call: Step) -> bool:
    return any(
        s.verb == "refit" and s.rest == "everything" and s.line > call.line
        for s in texts.steps_of(call.path)
    )


def promise_broken(texts: Texts) -> Iterator[Edit]:
    """A `leaves` line says what the work does not do."""
    for path in texts.procedures:
        refits = [s for s in texts.steps_of(path) if s.verb == "refit" and s.rest != "everything"]
        for step in refits:
            names = {
                n
                for n in _taken_off(texts, path, step.rest.split(" ")[0])
                if n in texts.declared and texts.declared[n].block == "parts"
            }
            at = next(
                i for i, ln in enumerate(texts.files[path]) if ln.strip().startswith("revision")
            )
            for name in sorted(names)[:2]:
                lines = (texts.files[path][at], f"  leaves {name} off")
                yield Edit({(path, at): lines}, frozenset({"not-left-so"}), frozenset({name}))
        moves = [
            (i, line)
            for i, line in enumerate(texts.files[path])
            if re.match(r"  leaves [\w\[\]-]+ at ", line)
        ]
        for number, line in moves:
            found = re.match(r"  leaves ([\w-]+)(.*)", line)
            if found is not None:
                name = found[1]
                moved = [s for s in texts.steps_of(path) if s.verb == "move" and name in s.names]
                for step in moved:
                    if f"{name}[" in line and f"{name}[" not in step.rest:
                        continue
                    yield Edit(
                        texts.drop(path, step.line),
                        frozenset({"not-left-so"}),
                        frozenset({name}),
                        frozenset({(path, number)}),
                    )


def moved_to_wrong_place(texts: Texts) -> Iterator[Edit]:
    """A part is moved to another place than is meant."""
    for step in texts.steps:
        found = re.search(r"( to [\w-]+)\[(\d)\]", step.rest)
        if step.verb != "move" or found is None:
            continue
        other = "1" if found[2] != "1" else "2"
        line = texts.files[step.path][step.line].replace(found[0], f"{found[1]}[{other}]")
        if any(
            s.line > step.line and s.verb == "move" and s.names == step.names
            for s in texts.steps_of(step.path)
        ):
            texts.skip("moved to the wrong place: it is moved on later")
            continue
        rules = frozenset({"left-moved", "not-left-so"})
        yield Edit({(step.path, step.line): (line,)}, rules, frozenset(step.names))


def condition_not_back(texts: Texts) -> Iterator[Edit]:
    """A state of the machine is not brought back."""
    last: dict[tuple[str, str], Step] = {}
    first: set[tuple[str, str]] = set()
    for step in texts.steps:
        if step.verb == "bring" and step.names:
            key = (step.path, step.names[0])
            first |= {key} if key in last else set()
            last[key] = step
    for key in sorted(first):
        step = last[key]
        rules = frozenset({"left-changed"})
        yield Edit(texts.drop(step.path, step.line), rules, frozenset({key[1]}))


def not_reconnected(texts: Texts) -> Iterator[Edit]:
    """A cable, hose or pipe is not connected again."""
    for step in texts.steps:
        if step.verb == "connect":
            if set(step.names) & _found_so(texts, step.path):
                texts.skip(_AS_FOUND)
                continue
            rules = frozenset({"left-disconnected", "live-with-guard-off"})
            yield Edit(texts.drop(step.path, step.line), rules, frozenset(step.names))


def not_filled(texts: Texts) -> Iterator[Edit]:
    """A fluid that was drained is not filled in again."""
    drained = {n for s in texts.steps if s.verb == "drain" for n in s.names}
    for step in texts.steps:
        if step.verb == "fill" and set(step.names) & drained:
            if set(step.names) & _found_so(texts, step.path):
                texts.skip(_AS_FOUND)
                continue
            rules = frozenset({"left-drained"})
            yield Edit(texts.drop(step.path, step.line), rules, frozenset(step.names))


def repeat_too_short(texts: Texts) -> Iterator[Edit]:
    """A repeat over a set stops one short, or names only some of it."""
    for step in texts.steps:
        found = re.match(r"for each (\w+) in (\d)\.\.(\d)", step.rest)
        if step.verb != "repeat" or found is None or found[3] == "2":
            continue
        below = set(texts.children(step.path, step.line))
        under = [s for s in texts.steps_of(step.path) if s.line in below]
        acts = [s for s in under if s.verb in ("remove", "tighten", *FIT)]
        names = frozenset(n for s in acts for n in s.names)
        if not names:
            continue
        line = texts.files[step.path][step.line]
        short = line.replace(f"{found[2]}..{found[3]}", f"{found[2]}..{int(found[3]) - 1}")
        if not any(s.verb in ("tighten", *FIT) for s in acts):  # noqa: SIM102
            if not any(s.verb in FIT and set(s.names) & names for s in texts.steps_of(step.path)):
                texts.skip(
                    "repeat one short: the last is not taken off, and the way back is worked out"
                )
                continue
        again = {f for s in acts for f in _fasteners_meant(texts, s)}
        if any(
            s.line > max(below) and s.verb == "tighten" and again & _fasteners_meant(texts, s)
            for s in texts.steps_of(step.path)
        ):
            texts.skip("repeat one short: the same is done to all of them later")
            continue
        rules = LEFT | {"already-so", "in-the-way", "not-in-yet"}
        yield Edit({(step.path, step.line): (short,)}, rules, names)
