"""Compiles each changed text and judges what is found: the right rule, at the right place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeAlias

import seed_further as further
import seed_left as left
import seed_order as order
import seed_words as words
from seed_machines import make
from seed_text import Edit, Texts, texts_of

from compiler.findings.model import Finding
from compiler.load import PictureInfo, load_folder
from compiler.parse import parse_text
from compiler.pipeline import compile_sources
from compiler.source import SourceFile, Span
from compiler.syntax import File

Seeds: TypeAlias = Callable[[Texts], Iterator[Edit]]

KINDS: tuple[Seeds, ...] = (
    left.refit_dropped,
    left.one_refit_dropped,
    left.fit_dropped,
    left.tighten_dropped,
    left.lock_dropped,
    left.tightened_too_low,
    left.wrong_fastener_tightened,
    left.restore_dropped,
    left.one_restore_dropped,
    left.support_left,
    left.aid_left_in,
    left.aid_never_in,
    left.arm_not_closed,
    left.callee_leaves_off,
    left.promise_broken,
    left.moved_to_wrong_place,
    left.condition_not_back,
    left.not_reconnected,
    left.not_filled,
    left.repeat_too_short,
    order.tighten_before_fit,
    order.out_in_wrong_order,
    order.in_in_wrong_order,
    order.guard_on_after_restore,
    order.isolation_dropped,
    order.one_isolation_dropped,
    order.one_isolation_dropped_unopened,
    order.isolated_too_late,
    order.proof_not_given,
    order.proof_dropped,
    order.released_not_proved,
    further.guard_not_done_up,
    order.support_dropped,
    order.released_too_early,
    order.old_one_used,
    order.done_twice,
    order.after_the_end,
    words.torque_dropped,
    words.unit_slipped,
    further.torque_in_pound_inches,
    further.torque_decimal_slipped,
    words.pair_disagrees,
    words.pair_digits_swapped,
    words.unit_unknown,
    words.limits_wrong_way,
    words.name_mistyped,
    words.name_mistyped_in_declaration,
    words.verb_mistyped,
    words.section_mistyped,
    words.state_mistyped,
    words.model_wrong,
    words.model_lacks_part,
    further.wrong_variant,
    words.count_wrong,
    words.count_of_none,
    words.wrong_kind,
    words.designation_wrong,
    words.standard_wrong,
    words.date_wrong,
    words.revision_dropped,
    words.machine_wrong,
    words.picture_wrong,
    words.duplicate_name,
    words.circular_follow,
    words.tool_gone,
    words.tools_of_kind_gone,
    words.quote_open,
    words.indent_wrong,
    words.declared_not_used,
    words.refit_too_early,
    further.message_behind_its_steps,
    further.holds_dropped,
    further.tested_too_early,
    further.torque_in_pound_feet,
    further.thread_state_wrong,
    further.released_before_tight,
    further.message_one_step_late,
)

UNTOLD = frozenset(
    kind.__name__
    for kind in (
        further.torque_in_pound_feet,
        further.thread_state_wrong,
        further.released_before_tight,
        further.message_one_step_late,
    )
)
"""Mistakes after which the text still hangs together: only somebody who knows the machine sees
them. They stand in a table of their own, so that nobody takes silence for a proof."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What became of one defect. `found` are the findings as `RULE path:line`."""

    kind: str
    title: str
    edit: Edit
    found: tuple[str, ...]
    right_rule: bool
    right_place: bool


@dataclass(slots=True)
class Tally:
    """Counts of one kind of defect, by the name of the function that seeds it."""

    kind: str = ""
    seeded: int = 0
    found: int = 0
    right_rule: int = 0
    right_place: int = 0
    missed: list[Verdict] = field(default_factory=list)

    def add(self, verdict: Verdict) -> None:
        """Count one verdict."""
        self.seeded += 1
        self.found += bool(verdict.found)
        self.right_rule += verdict.right_rule
        self.right_place += verdict.right_rule and verdict.right_place
        if not (verdict.right_rule and verdict.right_place):
            self.missed.append(verdict)


@dataclass(slots=True)
class Result:
    """All verdicts by kind, what was found in the clean originals, and what was not seeded."""

    tallies: dict[str, Tally]
    originals: int = 0
    clean: list[str] = field(default_factory=list)
    skipped: Counter[str] = field(default_factory=Counter)


_parsed: dict[tuple[str, str], tuple[File | None, tuple[Finding, ...]]] = {}


def _parse(source: SourceFile) -> tuple[File | None, tuple[Finding, ...]]:
    """Parse a text; the same text is parsed once only (most files of a folder stay as they are)."""
    key = (source.path, source.text)
    if key not in _parsed:
        if len(_parsed) > 400:
            _parsed.clear()
        _parsed[key] = parse_text(source.text, source.path)
    return _parsed[key]


Place: TypeAlias = tuple[str, int]
"""A path and a line, from 1."""

_CLIPS = (".mp4", ".webm")


def find(texts: Mapping[str, str], pictures: frozenset[str]) -> list[tuple[str, set[Place]]]:
    """Return each finding as `RULE path:line`, with the lines where it and its labels start."""
    sources = {path: SourceFile(path, texts[path]) for path in sorted(texts)}

    def probe(path: str) -> PictureInfo:
        if path.endswith(_CLIPS):
            return PictureInfo("clip", 100)
        return PictureInfo("svg" if path in pictures else "missing", 100)

    def place(span: Span) -> Place:
        return span.file, sources[span.file].position(span.start).line

    compiled = compile_sources(list(sources.values()), probe, _parse)
    found: list[tuple[str, set[Place]]] = []
    for finding in compiled.findings:
        path, line = place(finding.span)
        labels = {place(label.span) for label in finding.labels}
        found.append((f"{finding.rule} {path}:{line}", {(path, line), *labels}))
    return found


def judge(kind: str, texts: Texts, edit: Edit) -> Verdict:
    """Compile one defect and say whether it was found."""
    changed, places = texts.apply(edit)
    found = find(changed, texts.pictures)
    right = [at for said, at in found if said.split(" ")[0] in edit.rules]
    return Verdict(
        kind,
        texts.title,
        edit,
        tuple(said for said, _ in found),
        bool(right),
        any(at & places for at in right),
    )


def title_of(kind: Seeds) -> str:
    """Return what a kind of defect is, in words: the docstring of its function."""
    return (kind.__doc__ or "").strip().rstrip(".")


def demo(root: Path) -> list[Texts]:
    """Return the demo as one folder of texts for each machine, and one for each lone procedure."""
    folder = load_folder(root)
    shared = {s.path: s.text for s in folder.sources if s.path == "shop.proc"}
    groups: dict[str, dict[str, str]] = {}
    for source in folder.sources:
        top = source.path.partition("/")[0]
        if source.path not in shared and top != "visits":
            groups.setdefault(top, {})[source.path] = source.text
    clips = folder.pictures
    return [
        texts_of(f"demo: {top.removesuffix('.proc')}", shared | texts, frozenset(clips))
        for top, texts in sorted(groups.items())
    ]


def generated(numbers: Iterable[int]) -> list[Texts]:
    """Return invented machines as texts."""
    return [
        texts_of(f"machine {number}", made.texts, made.pictures)
        for number in numbers
        for made in (make(number),)
    ]


def run_folder(texts: Texts, sites: int) -> Result:
    """Seed each kind of defect into one folder, at `sites` places spread over all its places."""
    result = Result({title_of(kind): Tally(kind.__name__) for kind in KINDS}, originals=1)
    unchanged, _ = texts.apply(Edit({}, frozenset(), frozenset()))
    result.clean += [f"{texts.title}: {said}" for said, _ in find(unchanged, texts.pictures)]
    for kind in KINDS:
        for edit in spread(list(kind(texts)), sites):
            result.tallies[title_of(kind)].add(judge(kind.__name__, texts, edit))
    result.skipped.update(texts.skipped)
    return result


def together(results: Iterable[Result]) -> Result:
    """Return the counts of several folders as one."""
    whole = Result({title_of(kind): Tally(kind.__name__) for kind in KINDS})
    for one in results:
        whole.originals += one.originals
        whole.clean += one.clean
        whole.skipped.update(one.skipped)
        for title, tally in one.tallies.items():
            mine = whole.tallies[title]
            mine.seeded += tally.seeded
            mine.found += tally.found
            mine.right_rule += tally.right_rule
            mine.right_place += tally.right_place
            mine.missed += tally.missed
    return whole


def spread(edits: list[Edit], most: int) -> list[Edit]:
    """Return at most so many edits, from the first to the last at even steps."""
    if len(edits) <= most:
        return edits
    return [edits[i * (len(edits) - 1) // max(1, most - 1)] for i in range(most)]
