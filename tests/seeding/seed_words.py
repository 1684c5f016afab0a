"""Defects of names, values, files and tools: slips of the pen that change what is said."""

from __future__ import annotations

import re
from collections.abc import Iterator

from seed_text import Edit, Texts

_BOLT_OF = {"8": "8.8", "10": "10.9"}
"""A nut of a class goes with bolts of that grade (ISO 898-2), and with their line in the table."""

_PRODUCERS = ("remove", "fit", "tighten", "slacken", "replace", "check", "connect", "disconnect")


def _line(path: str, number: int, new: str, *rules: str, names: tuple[str, ...] = ()) -> Edit:
    return Edit({(path, number): (new,)}, frozenset(rules), frozenset(names))


def torque_dropped(texts: Texts) -> Iterator[Edit]:
    """The torque clause of a fastener is missing."""
    tight = {n for s in texts.steps if s.verb == "tighten" for n in s.names}
    house = {
        " ".join(ln.split()[:2])
        for p, ls in texts.files.items()
        if p.endswith("shop.proc")
        for ln in ls
        if re.match(r"    M\d+ \S+ +\d", ln)
    }
    for one in texts.of_block("fasteners"):
        found = re.search(r"  +torque [^\n]*?(?=  |\n|$)", one.text)
        if found is None or "\n" in found[0] or found[0] not in texts.files[one.path][one.line]:
            continue
        size = re.search(r"(M\d+)\S* \S* ?\S+ (\S+)", one.text)
        grade = re.search(r"(M\d+)(?:×[\d.]+)* (?:ISO|DIN) \S+ ([\d.]+|A\d-\d\d)\s", one.text + " ")
        if grade and f"{grade[1]} {_BOLT_OF.get(grade[2], grade[2])}" in house:
            texts.skip("torque dropped: the house table of the shop has one for it")
            continue
        refitted = any(s.verb == "refit" for s in texts.steps)
        if one.name not in tight and not set(one.after("holds")) & tight and not refitted:
            texts.skip("torque dropped: no step tightens it")
            continue
        if "locks" in one.text and size is None:
            continue
        line = texts.files[one.path][one.line].replace(found[0], "", 1)
        yield _line(one.path, one.line, line, "missing-torque", names=(one.name,))


def unit_slipped(texts: Texts) -> Iterator[Edit]:
    """A torque is typed in mm or kg, a mass in N·m."""
    for path, number, line in _all_lines(texts):
        for wrong in ("mm", "kg"):
            if re.search(r"torque [\d.]+ N·m", line):
                new = re.sub(r"(torque [\d.]+) N·m", rf"\1 {wrong}", line, count=1)
                yield _line(path, number, new, "wrong-dimension", "printed-pair")
        if re.search(r"^    [\w-]+ .*\d kg  ", line):
            yield _line(
                path,
                number,
                re.sub(r"(\d) kg  ", r"\1 N·m  ", line),
                "wrong-dimension",
                "not-understood",
            )


def pair_disagrees(texts: Texts) -> Iterator[Edit]:
    """One unit of a printed pair is another: inch-pounds for foot-pounds."""
    for path, number, line in _all_lines(texts):
        for one, other in (("lbf·in", "lbf·ft"), ("lbf·ft", "lbf·in")):
            if re.search(rf"\([^)]*{one}", line) and "units" not in line:
                new = re.sub(rf"(\([^)]*){one}", rf"\1{other}", line)
                yield _line(path, number, new, "printed-pair")


def pair_digits_swapped(texts: Texts) -> Iterator[Edit]:
    """Two digits of a printed pair are swapped."""
    for path, number, line in _all_lines(texts):
        found = re.search(r"\((\d)(\d)( lbf|\.\.)", line)
        if found and found[1] != found[2]:
            new = line.replace(found[0], f"({found[2]}{found[1]}{found[3]}")
            yield _line(path, number, new, "printed-pair", "quantity-sanity", "count-sanity")


def unit_unknown(texts: Texts) -> Iterator[Edit]:
    """A unit is mistyped."""
    for path, number, line in _all_lines(texts):
        if re.search(r"\d mm$", line) or re.search(r"torque [\d.]+ N·m", line):
            new = re.sub(r"(\d) mm$", r"\1 mn", re.sub(r"(torque [\d.]+) N·m", r"\1 Nn", line))
            yield _line(path, number, new, "unknown-unit", "not-understood")


def limits_wrong_way(texts: Texts) -> Iterator[Edit]:
    """The limits of a range or a measurement are the wrong way round."""
    for path, number, line in _all_lines(texts):
        found = re.search(r"(?<![\d.])(\d+(?:\.\d+)?)\.\.(\d+(?:\.\d+)?) (mm|N·m|bar)", line)
        if found and "(" not in line and found[1] != found[2] and ".tool" not in line:
            new = line.replace(found[0], f"{found[2]}..{found[1]} {found[3]}", 1)
            yield _line(path, number, new, "quantity-sanity", "count-sanity", "bad-designation")
        between = re.search(r"between (.+?) and ([\d.]+ \S+)", line)
        if between and not line.strip().startswith(("slide", "shim")):
            new = line.replace(between[0], f"between {between[2]} and {between[1]}")
            yield _line(path, number, new, "quantity-sanity", "count-sanity")


def _all_lines(texts: Texts) -> Iterator[tuple[str, int, str]]:
    for path, lines in texts.files.items():
        if not path.endswith("shop.proc"):
            yield from ((path, number, line) for number, line in enumerate(lines))


def name_mistyped(texts: Texts) -> Iterator[Edit]:
    """A letter of a name is left out in a step."""
    for step in texts.steps:
        if step.verb not in _PRODUCERS or not step.names or step.names[0] not in texts.declared:
            continue
        name = step.names[0]
        wrong = name[:1] + name[2:]
        if wrong in texts.declared:
            texts.skip("name mistyped: the other word is a name too")
            continue
        line = texts.files[step.path][step.line].replace(name, wrong, 1)
        yield _line(step.path, step.line, line, "unknown-name")


def name_mistyped_in_declaration(texts: Texts) -> Iterator[Edit]:
    """A letter of a name is left out in `holds`, `behind`, `guards` or `locks`."""
    for one in (*texts.of_block("parts"), *texts.of_block("fasteners")):
        line = texts.files[one.path][one.line]
        for word in ("holds", "behind", "guards", "contains", "locks", "on"):
            for name in one.after(word)[:1]:
                new = re.sub(rf"(?<![\w-]){word} {name}", f"{word} {name[:-1]}", line, count=1)
                if new != line and name[:-1] not in texts.declared:
                    yield _line(one.path, one.line, new, "unknown-name", "not-understood")


def verb_mistyped(texts: Texts) -> Iterator[Edit]:
    """A letter of a verb is left out."""
    for step in texts.steps:
        if step.verb in _PRODUCERS and step.names and step.path in texts.procedures:
            line = texts.files[step.path][step.line]
            new = line.replace(step.verb, step.verb[:1] + step.verb[2:], 1)
            yield _line(step.path, step.line, new, "unknown-verb", "not-understood")


def model_wrong(texts: Texts) -> Iterator[Edit]:
    """A model is named that the machine does not have."""
    for path, number, line in _all_lines(texts):
        found = re.search(r"(?<![\w\"-])(?:only for|for) ([A-Z]{2}-\d+)", line)
        if found and not line.strip().startswith("models"):
            new = line.replace(found[1], f"{found[1]}0", 1)
            yield _line(path, number, new, "unknown-model")


def model_lacks_part(texts: Texts) -> Iterator[Edit]:
    """A step for one model is written for all, though only that one has the part."""
    for step in texts.steps:
        line = texts.files[step.path][step.line]
        found = re.search(r"  only for [A-Z]{2}-\d+$", line)
        if found and step.names and "only for" in texts.declared[step.names[0]].text:
            yield _line(
                step.path,
                step.line,
                line.replace(found[0], ""),
                "unknown-name",
                "unknown-model",
                names=tuple(step.names),
            )


def count_wrong(texts: Texts) -> Iterator[Edit]:
    """A member is named that the set does not have, or a repeat goes one too far."""
    for step in texts.steps:
        line = texts.files[step.path][step.line]
        found = re.match(r"for each (\w+) in 1\.\.(\d)", step.rest)
        if step.verb == "repeat" and found:
            below = texts.children(step.path, step.line)
            if not any(f"[{found[1]}]" in texts.files[step.path][i] for i in below):
                texts.skip("count wrong: the number only counts, no member is named")
                continue
            new = line.replace(f"1..{found[2]}", f"1..{int(found[2]) + 1}")
            edit = _line(step.path, step.line, new, "unknown-name", "count-sanity")
            below_at = frozenset((step.path, i) for i in below)
            yield Edit(edit.changes, edit.rules, edit.names, below_at)
        index = re.search(r"([\w-]+)\[(\d)\]", step.rest)
        if index and index[1] in texts.declared:
            new = line.replace(index[0], f"{index[1]}[9]", 1)
            yield _line(step.path, step.line, new, "unknown-name", "count-sanity")


def count_of_none(texts: Texts) -> Iterator[Edit]:
    """A count of none."""
    for one in texts.of_block("fasteners"):
        line = texts.files[one.path][one.line]
        new = re.sub(r"  (\d+) × ", "  0 × ", line, count=1)
        if new != line:
            yield _line(one.path, one.line, new, "count-sanity")


def wrong_kind(texts: Texts) -> Iterator[Edit]:
    """A part is tightened that nothing holds, an energy removed, a fastener isolated."""
    energies = [e.name for e in texts.of_block("energy")]
    for step in texts.steps:
        if step.verb == "remove" and energies and step.names and step.names[0] in texts.declared:
            line = texts.files[step.path][step.line].replace(step.names[0], energies[0], 1)
            line = re.sub(r"\[\w+\]", "", line)
            yield _line(step.path, step.line, line, "wrong-kind", names=tuple(step.names))


def designation_wrong(texts: Texts) -> Iterator[Edit]:
    """A fastener's designation has a size or a grade that no standard gives: M6.7, 8.7."""
    for one in texts.of_block("fasteners"):
        line = texts.files[one.path][one.line]
        for old, new in (
            (r"\bM(\d+)(?=[× ])", r"M\g<1>.7"),
            (r"(\d) 8\.8(?= |$)", r"\1 8.7"),
        ):
            changed = re.sub(old, new, line, count=1)
            if changed != line:
                yield _line(one.path, one.line, changed, "bad-designation")


def standard_wrong(texts: Texts) -> Iterator[Edit]:
    """A fastener's standard is mistyped: ISO 94762 for ISO 4762."""
    for one in texts.of_block("fasteners"):
        line = texts.files[one.path][one.line]
        changed = re.sub(r"ISO (\d{4})(?=[ -])", r"ISO 9\1", line, count=1)
        if changed != line:
            yield _line(one.path, one.line, changed, "bad-designation", "unlisted-standard")


def date_wrong(texts: Texts) -> Iterator[Edit]:
    """A day that is not in the calendar."""
    for path in texts.procedures:
        for number, line in enumerate(texts.files[path]):
            if line.startswith("  revision"):
                new = re.sub(r"-(\d\d)-\d\d", r"-02-30", line)
                yield _line(path, number, new, "bad-date")


def revision_dropped(texts: Texts) -> Iterator[Edit]:
    """A procedure without a revision."""
    for path in texts.procedures:
        for number, line in enumerate(texts.files[path]):
            if line.startswith("  revision"):
                at = frozenset(
                    (path, i)
                    for i, ln in enumerate(texts.files[path])
                    if ln.startswith("procedure")
                )
                yield Edit({(path, number): ()}, frozenset({"missing-revision"}), frozenset(), at)


def machine_wrong(texts: Texts) -> Iterator[Edit]:
    """A procedure names a machine that no file describes."""
    for path in texts.procedures:
        for number, line in enumerate(texts.files[path]):
            if line.startswith("  machine "):
                yield _line(path, number, line[:-1], "missing-machine")


def picture_wrong(texts: Texts) -> Iterator[Edit]:
    """The file name of a picture is mistyped."""
    for path, number, line in _all_lines(texts):
        if line.strip().startswith("picture "):
            new = line.replace(".svg", "s.svg", 1)
            yield _line(path, number, new, "picture-missing")


def duplicate_name(texts: Texts) -> Iterator[Edit]:
    """A thing is given the name of the one above it."""
    for block in ("parts", "fasteners", "energy"):
        last = None
        for one in texts.of_block(block):
            if last is not None and last.path == one.path:
                line = re.sub(r"[\w-]+", last.name, texts.files[one.path][one.line], count=1)
                yield _line(one.path, one.line, line, "duplicate-name", names=(last.name, one.name))
            last = one


def circular_follow(texts: Texts) -> Iterator[Edit]:
    """A procedure that is followed follows the one that follows it."""
    for step in texts.steps:
        if step.verb != "follow" or step.path not in texts.procedures:
            continue
        callee = step.rest.split(" ")[0]
        for path in texts.procedures:
            head = next(i for i, ln in enumerate(texts.files[path]) if ln.startswith("procedure"))
            if texts.files[path][head].split()[1] == callee and path != step.path:
                own = texts.files[step.path]
                name = next(ln for ln in own if ln.startswith("procedure")).split()[1]
                first = _first_step(texts, path)
                lines = (f"  follow {name}", texts.files[path][first])
                yield Edit(
                    {(path, first): lines},
                    frozenset({"circular-follow"}),
                    frozenset({name, callee}),
                )


def _first_step(texts: Texts, path: str) -> int:
    words = ("remove", "isolate", "follow", "bring", "check", "section")
    return next(s.line for s in texts.steps_of(path) if s.verb in words and s.indent == 2)


def tool_gone(texts: Texts) -> Iterator[Edit]:
    """A tool that a step names is taken out of the crib."""
    used = {w for s in texts.steps for w in re.findall(r"[\w-]+", re.sub(r'"[^"]*"', "", s.rest))}
    for one in texts.of_block("tools"):
        if one.name in used:
            rules = frozenset({"unknown-name", "tool-not-in-shop"})
            yield Edit(texts.drop(one.path, one.line), rules, frozenset({one.name}))


def tools_of_kind_gone(texts: Texts) -> Iterator[Edit]:
    """All torque wrenches are taken out of the crib, named by no step."""
    gone: dict[tuple[str, int], tuple[str, ...]] = {}
    names: set[str] = set()
    used = {w for s in texts.steps for w in re.findall(r"[\w-]+", s.rest)}
    for one in texts.of_block("tools"):
        if "torque-wrench" in one.text and one.name not in used:
            gone[one.path, one.line] = ()
            names.add(one.name)
    torqued = {f.name for f in texts.of_block("fasteners") if f.has("torque")}
    if gone and torqued:
        held = {p for n in torqued for p in texts.declared[n].after("holds")}
        refits = frozenset((s.path, s.line) for s in texts.steps if s.verb in ("refit", "follow"))
        yield Edit(gone, frozenset({"tool-not-in-shop"}), frozenset({*torqued, *held}), refits)


def quote_open(texts: Texts) -> Iterator[Edit]:
    """The closing quote of a text is missing."""
    for path in texts.procedures:
        for number, line in enumerate(texts.files[path]):
            if line.strip().startswith(("note", "check", "confirm")) and line.endswith('"'):
                yield _line(path, number, line[:-1], "unclosed-quote")


def indent_wrong(texts: Texts) -> Iterator[Edit]:
    """A step stands one column further out than its neighbours."""
    for step in texts.steps:
        if step.verb not in ("remove", "tighten") or step.path not in texts.procedures:
            continue
        above = texts.parent(step.path, step.line)
        if step.indent < 4 or above is None:
            continue
        if texts.children(step.path, above)[0] == step.line:
            texts.skip("indentation: the first step under a line may stand at any column")
            continue
        line = texts.files[step.path][step.line]
        yield _line(step.path, step.line, line[1:], "indentation")


def declared_not_used(texts: Texts) -> Iterator[Edit]:
    """Something is declared that no step ever uses."""
    for path in texts.files:
        for number, line in enumerate(texts.files[path]):
            if line == "  fasteners":
                new = ("  fasteners", "    forgotten-screw  2 × M6×16 ISO 4762 8.8  torque 9 N·m")
                edit = Edit({(path, number): new}, frozenset({"unused-name"}), frozenset())
                yield edit


def section_mistyped(texts: Texts) -> Iterator[Edit]:
    """A refit names a section that is not there."""
    for step in texts.steps:
        if step.verb == "refit" and step.rest.split(" ")[0] != "everything":
            name = step.rest.split(" ")[0]
            line = texts.files[step.path][step.line].replace(f"refit {name}", f"refit {name}s", 1)
            yield _line(step.path, step.line, line, "unknown-name")


def state_mistyped(texts: Texts) -> Iterator[Edit]:
    """A condition is brought to a state that it does not have."""
    for step in texts.steps:
        if step.verb == "bring":
            line = re.sub(r" to (\w+)", r" to \1x", texts.files[step.path][step.line], count=1)
            yield _line(step.path, step.line, line, "unknown-name", "wrong-kind", "not-understood")


def refit_too_early(texts: Texts) -> Iterator[Edit]:
    """A way back is called for before anything was taken off."""
    for path in texts.procedures:
        for step in texts.steps_of(path):
            if step.verb == "section" and re.match(r"[a-z]", step.rest):
                name = step.rest.split(" ")[0]
                refits = [
                    s
                    for s in texts.steps_of(path)
                    if s.verb == "refit" and s.rest.split(" ")[0] == name
                ]
                if refits and step.indent == refits[0].indent:
                    changes = texts.drop(path, refits[0].line)
                    changes[path, step.line] = (
                        f"{' ' * step.indent}refit {name}",
                        texts.files[path][step.line],
                    )
                    rules = frozenset(
                        {"cannot-refit", "left-off", "live-with-guard-off", "not-understood"}
                    )
                    names = frozenset({name})
                    yield Edit(changes, rules, names)
