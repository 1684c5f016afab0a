"""Compares what stands in plain lists: lines of text, safety messages, pictures, equipment."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from difflib import SequenceMatcher
from typing import TypeVar

from compiler.changes.model import Change, Subject
from compiler.changes.pairs import Pair, alike, paired
from compiler.document.model import ClipView, Line, PictureView, SafetyPanel
from compiler.wording.changing import from_to, quoted
from compiler.wording.phrases import LABELS
from compiler.wording.text import words_only

_T = TypeVar("_T")
_SENTENCE_END = re.compile(r"(?<=[.?!:]) ")
_ALIKE = 0.5
"""From this likeness on, two texts are one that was reworded."""


def line_texts(lines: Sequence[Line]) -> list[str]:
    """Return the words of lines, without second units."""
    return [words_only(line) for line in lines]


def text_changes(
    subject: Subject,
    where: str,
    label: str,
    old: Sequence[str],
    new: Sequence[str],
    step: str = "",
) -> Iterator[Change]:
    """Yield what is new, gone or reworded in a list of texts; their order does not count."""
    for before, after in _by_likeness(paired(old, new, str)):
        if before is None and after is not None:
            yield Change(subject, "new", where, f"new {label}: {quoted(after)}", "", after, step)
        elif after is None and before is not None:
            yield Change(
                subject, "gone", where, f"{label} gone: {quoted(before)}", before, "", step
            )
        elif before is not None and after is not None and before != after:
            text = f"{label} {reworded(before, after)}"
            yield Change(subject, "changed", where, text, before, after, step)


def _by_likeness(
    pairs: Sequence[Pair[_T]], text: Callable[[_T], str] = str
) -> Iterator[tuple[_T | None, _T | None]]:
    """Yield the pairs; something new and something gone are one pair when they read alike."""
    gone = [before for before, after in pairs if after is None and before is not None]
    for before, after in pairs:
        if after is None:
            continue
        if before is None and gone:
            likeness = [alike(text(one), text(after)) for one in gone]
            nearest = likeness.index(max(likeness))
            if likeness[nearest] >= _ALIKE:
                before = gone.pop(nearest)
        yield before, after
    for one in gone:
        yield one, None


def reworded(before: str, after: str) -> str:
    """Return how one text became the other, by the sentences in which they differ."""
    old, new = _SENTENCE_END.split(before), _SENTENCE_END.split(after)
    was: list[str] = []
    now: list[str] = []
    for tag, low, high, start, end in SequenceMatcher(None, old, new, False).get_opcodes():
        if tag != "equal":
            was += old[low:high]
            now += new[start:end]
    if not was:
        return f"now says also: {quoted(' '.join(now))}"
    if not now:
        return f"no longer says: {quoted(' '.join(was))}"
    return f"{quoted(' '.join(was))} → {quoted(' '.join(now))}"


def word_change(
    subject: Subject, where: str, label: str, before: str, after: str, step: str = ""
) -> Iterator[Change]:
    """Yield the change of one text, if it is one."""
    if before != after:
        deed = "changed" if before and after else "new" if after else "gone"
        yield Change(
            subject,
            "changed" if deed == "changed" else "new" if deed == "new" else "gone",
            where,
            from_to(label, before, after),
            before,
            after,
            step,
        )


def safety_changes(
    where: str, old: Sequence[SafetyPanel], new: Sequence[SafetyPanel], step: str = ""
) -> Iterator[Change]:
    """Yield new, gone and changed safety messages, each by its signal word."""
    pairs = paired(old, new, lambda p: p)
    for before, after in _by_likeness(pairs, panel_text):
        if before == after:
            continue
        was, now = (panel_text(one) if one is not None else "" for one in (before, after))
        if before is None and after is not None:
            yield Change("safety", "new", where, f"new {panel_line(after)}", "", now, step)
        elif after is None and before is not None:
            yield Change("safety", "gone", where, f"gone: {panel_line(before)}", was, "", step)
        elif before is not None and after is not None:
            text = _panel_change(before, after)
            yield Change("safety", "changed", where, text, was, now, step)


def _panel_change(before: SafetyPanel, after: SafetyPanel) -> str:
    if panel_text(before) != panel_text(after):
        return f"{panel_line(before)} → {panel_line(after)}"
    signs = f"{signal_word(before)} → {signal_word(after)}"
    return f"{signs}: {quoted(panel_text(after))}"


def signal_word(panel: SafetyPanel) -> str:
    """Return the signal word as it is printed, in small letters."""
    return LABELS.signal[panel.signal].lower()


def panel_line(panel: SafetyPanel) -> str:
    """Return `caution: “…”`."""
    return f"{signal_word(panel)}: {quoted(panel_text(panel))}"


def panel_text(panel: SafetyPanel) -> str:
    """Return all that a safety message says, without its signal word."""
    said = " ".join(filter(None, line_texts((panel.text, panel.consequence, panel.avoid))))
    return f"{panel.hazard}: {said}" if panel.hazard else said


def picture_changes(
    where: str, old: Sequence[PictureView], new: Sequence[PictureView], step: str = ""
) -> Iterator[Change]:
    """Yield new, gone and changed pictures, by what is said under them."""
    for before, after in paired(old, new, lambda p: p, lambda p: p.path, lambda p: p.caption):
        yield from _shown("picture", where, before, after, step)


def clip_changes(
    where: str, old: Sequence[ClipView], new: Sequence[ClipView], step: str = ""
) -> Iterator[Change]:
    """Yield new, gone and changed pieces of recordings."""
    for before, after in paired(old, new, lambda c: c, lambda c: c.path):
        yield from _shown("recording", where, before, after, step)


def _shown(
    label: str,
    where: str,
    before: PictureView | ClipView | None,
    after: PictureView | ClipView | None,
    step: str,
) -> Iterator[Change]:
    was, now = _caption(before), _caption(after)
    if before is None:
        yield Change("picture", "new", where, f"new {label}: {quoted(now)}", "", now, step)
    elif after is None:
        yield Change("picture", "gone", where, f"{label} gone: {quoted(was)}", was, "", step)
    elif before != after:
        text = (
            from_to(label, quoted(was), quoted(now))
            if was != now
            else f"{label} changed: {quoted(now)}"
        )
        yield Change("picture", "changed", where, text, was, now, step)


def _caption(view: PictureView | ClipView | None) -> str:
    return (words_only(view.caption) or view.path) if view is not None else ""
