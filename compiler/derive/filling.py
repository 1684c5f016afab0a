"""How much is filled in, where a step says so itself."""

from __future__ import annotations

from compiler.model import Amount
from compiler.walk.nodes import Act, WalkPhrase

_SAYS_HOW_MUCH = frozenset({"", "with", "to"})
_HOW_MUCH = frozenset({"volume", "mass"})


def own_amount(act: Act) -> tuple[Amount | None, tuple[WalkPhrase, ...]]:
    """Return the volume or mass that a filling step gives, None for none; and its other phrases."""
    for at, phrase in enumerate(act.phrases):
        if phrase.word in _SAYS_HOW_MUCH and len(phrase.operands) == 1:
            said = phrase.operands[0]
            if isinstance(said, Amount) and said.low.dimension in _HOW_MUCH:
                return said, (*act.phrases[:at], *act.phrases[at + 1 :])
    return None, act.phrases
