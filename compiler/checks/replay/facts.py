"""What is known of measurements, answers and judgements on one way through the work."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field

from compiler.model import Judged, Prose, Selection, StateIs, StillSo, WasDone, When

_YES_NO = frozenset({"yes", "no"})
_READINGS = frozenset({"in", "above", "below"})
_JUDGED = "“"
_OTHER = ""
"""Any answer that is not known by its word."""


@dataclass(frozen=True, slots=True)
class Facts:
    """What each subject can still be: `runout` above or below, when it is known to be out.

    `answers` are those that a question allows, of each question that was asked on some way. Each
    procedure has records of its own: `where` is the prefix of the one that speaks.
    """

    open: Mapping[str, frozenset[str]] = field(default_factory=dict)
    answers: Mapping[str, frozenset[str]] = field(default_factory=dict)

    def told(self, when: When, taken: bool, where: str = "") -> Facts:
        """Return what is known after a decision."""
        subject, _ = _meaning(when, where)
        meant, possible = self._values(when, where)
        values = possible & meant if taken else possible - meant
        return Facts({**self.open, subject: values}, self.answers)

    def says(self, when: When, where: str = "") -> bool | None:
        """Return whether a condition holds; None when nobody can know yet."""
        meant, possible = self._values(when, where)
        if possible <= meant:
            return True
        return None if possible & meant else False

    def without(self, subject: str, answers: Iterable[str] = ()) -> Facts:
        """Return what is known when something is measured or asked once more.

        `answers` are those the question allows.
        """
        rest = {known: values for known, values in self.open.items() if known != subject}
        allowed = frozenset(answers)
        return Facts(rest, {**self.answers, subject: allowed} if allowed else self.answers)

    def but_judged(self, known: Collection[str]) -> Facts:
        """Return what is known when work is done again: only what was judged before it stays."""
        rest = {s: v for s, v in self.open.items() if not s.startswith(_JUDGED) or s in known}
        return Facts(rest, self.answers)

    def shared(self, other: Facts) -> Facts:
        """Return what is known on both of two ways: what it is on either can be."""
        both = self.open.keys() & other.open.keys()
        return Facts(
            {s: self.open[s] | other.open[s] for s in self.open if s in both},
            {**other.answers, **self.answers},
        )

    def _values(self, when: When, where: str) -> tuple[frozenset[str], frozenset[str]]:
        """Return what a condition means, and what its subject can be as far as is known."""
        subject, word = _meaning(when, where)
        known = self.open.get(subject, self.answers.get(subject))
        if known is not None and word in known:
            return frozenset({word}), known
        if word in _READINGS or word == "out":
            meant = _READINGS - {"in"} if word == "out" else frozenset({word})
            return meant, _READINGS if known is None else known
        if known is None:
            known = _YES_NO if word in _YES_NO else frozenset({_OTHER})
        return frozenset({word}), known | {word} if _OTHER in known else known


def _meaning(when: When, where: str) -> tuple[str, str]:
    """Return the subject of a condition and the word it must be."""
    match when:
        case StateIs():
            return f"{where}{when.subject}", when.state
        case Judged():
            return f"{_JUDGED}{_text(when.text)}”", "yes"
        case WasDone():
            return f"{_selected(when.subject)} was {when.deed}", "yes"
        case StillSo():
            return f"{_selected(when.subject)} is still {when.state}", "yes"


def _text(prose: Prose) -> str:
    """Return a text that is the same wherever the same words stand."""
    return "|".join(part if isinstance(part, str) else repr(_bare(part)) for part in prose.parts)


def _bare(part: object) -> object:
    key = getattr(part, "key", None)
    return (key, getattr(part, "members", ())) if key is not None else str(part)


def _selected(selection: Selection) -> str:
    return f"{selection.key}[{','.join(map(str, selection.members))}]"
