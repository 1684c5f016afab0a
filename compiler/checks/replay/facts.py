"""What is known of measurements, answers and judgements on one way through the work."""

from __future__ import annotations

from dataclasses import dataclass

from compiler.model import Judged, Prose, StateIs, WasDone, When

_NOT_WITH = {
    "in": frozenset({"out", "above", "below"}),
    "out": frozenset({"in"}),
    "above": frozenset({"in", "below"}),
    "below": frozenset({"in", "above"}),
    "yes": frozenset({"no"}),
    "no": frozenset({"yes"}),
}
"""Which verdict rules which out; answers in words of the author's own rule each other out."""

_IMPLIES = {"above": "out", "below": "out"}
_OPPOSITE = {"in": "out", "out": "in", "yes": "no", "no": "yes"}


@dataclass(frozen=True, slots=True)
class Facts:
    """Pairs of a subject and a verdict: those that hold, and those that do not."""

    held: frozenset[tuple[str, str]] = frozenset()
    denied: frozenset[tuple[str, str]] = frozenset()

    def told(self, when: When, taken: bool) -> Facts:
        """Return what is known after a decision."""
        fact = _fact(when)
        if fact is None:
            return self
        if taken:
            return Facts(self.held | {fact}, self.denied)
        opposite = _OPPOSITE.get(fact[1])
        held = self.held | {(fact[0], opposite)} if opposite else self.held
        return Facts(held, self.denied | {fact})

    def says(self, when: When) -> bool | None:
        """Return whether a condition holds; None when nobody can know yet."""
        fact = _fact(when)
        if fact is None:
            return None
        subject, verdict = fact
        for known_subject, known in self.held:
            if known_subject != subject:
                continue
            if known == verdict or _IMPLIES.get(known) == verdict:
                return True
            if verdict in _NOT_WITH.get(known, ()) or _both_own_words(known, verdict):
                return False
        return False if fact in self.denied else None

    def without(self, subject: str) -> Facts:
        """Return what is known when something is measured or asked once more."""
        return Facts(
            frozenset(f for f in self.held if f[0] != subject),
            frozenset(f for f in self.denied if f[0] != subject),
        )

    def shared(self, other: Facts) -> Facts:
        """Return what is known on both of two ways."""
        return Facts(self.held & other.held, self.denied & other.denied)


def _both_own_words(known: str, verdict: str) -> bool:
    return known not in _NOT_WITH and verdict not in _NOT_WITH


def _fact(when: When) -> tuple[str, str] | None:
    """Return subject and verdict of what only the reader can tell; None for what the state says."""
    match when:
        case StateIs(kind="record"):
            return when.subject, when.state
        case Judged():
            return f"“{_text(when.text)}”", "yes"
        case StateIs() | WasDone():
            return None


def _text(prose: Prose) -> str:
    """Return a text that is the same wherever the same words stand."""
    return "|".join(part if isinstance(part, str) else repr(_bare(part)) for part in prose.parts)


def _bare(part: object) -> object:
    key = getattr(part, "key", None)
    return (key, getattr(part, "members", ())) if key is not None else str(part)
