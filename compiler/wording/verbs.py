"""How a verb is spoken: the author's word where it says more, the plain one where it does not."""

from __future__ import annotations

from compiler.trade.verbs import Effect, Verb
from compiler.walk.nodes import Deed
from compiler.wording.english import spoken

_PLAIN: dict[Deed, str] = {
    Deed.UNLOCK: "undo",
    Deed.SLACKEN: "slacken",
    Deed.UNDO: "remove",
    Deed.REMOVE: "remove",
    Deed.FIT: "fit",
    Deed.START: "put",
    Deed.TIGHTEN: "tighten",
    Deed.LOCK: "secure",
    Deed.PUT_AID: "fit",
    Deed.TAKE_AID: "remove",
    Deed.OPEN: "open",
    Deed.CLOSE: "close",
    Deed.DRAIN: "drain",
    Deed.FILL: "fill",
    Deed.BLEED: "bleed",
    Deed.LEAK_TEST: "leak-test",
    Deed.CONNECT: "connect",
    Deed.DISCONNECT: "disconnect",
    Deed.SUPPORT: "support",
    Deed.LET_GO: "release",
    Deed.MOVE: "move",
    Deed.ASIDE: "move",
    Deed.RENEW: "take",
    Deed.TRANSFER: "transfer",
    Deed.BRING: "bring",
}

_SAME_AS_PLAIN = frozenset(
    {
        "unbolt", "unscrew", "detach", "loosen", "torque", "replace", "renew", "exchange", "reach",
        "refit", "restore", "isolate", "verify", "prove", "lock", "unlock", "unsecure",
    }
)  # fmt: skip
"""Words that would say more or less than is done in the one sentence they would stand in."""

_EFFECT_OF: dict[Deed, Effect] = {
    Deed.SLACKEN: Effect.SLACKEN,
    Deed.REMOVE: Effect.REMOVE,
    Deed.UNDO: Effect.REMOVE,
    Deed.FIT: Effect.FIT,
    Deed.PUT_AID: Effect.FIT,
    Deed.TAKE_AID: Effect.REMOVE,
    Deed.OPEN: Effect.OPEN,
    Deed.CLOSE: Effect.CLOSE,
    Deed.DRAIN: Effect.DRAIN,
    Deed.FILL: Effect.FILL,
    Deed.BLEED: Effect.BLEED,
    Deed.LEAK_TEST: Effect.LEAK_TEST,
    Deed.CONNECT: Effect.CONNECT,
    Deed.DISCONNECT: Effect.DISCONNECT,
    Deed.SUPPORT: Effect.SUPPORT,
    Deed.MOVE: Effect.MOVE,
    Deed.ASIDE: Effect.MOVE,
    Deed.TRANSFER: Effect.TRANSFER,
}

_SPOKEN = {"stop-machine": "stop the machine"}


def verb_word(deed: Deed, verb: Verb | None, implied: bool) -> str:
    """Return the verb of a sentence, without its capital: `take off`, `slacken`.

    The author's word stands when it fits the deed and says how (`withdraw`, `insert`, a house
    verb); a synonym that says no more gives way to the plain word, so that one deed has one word.
    """
    plain = _PLAIN.get(deed, "")
    if verb is None:
        return plain or "do"
    if deed is Deed.NEUTRAL:
        return _SPOKEN.get(verb.word, spoken(verb.word))
    if implied or verb.word in _SAME_AS_PLAIN or _EFFECT_OF.get(deed) is not verb.effect:
        return plain
    return verb.word if deed is Deed.LEAK_TEST else spoken(verb.word)
