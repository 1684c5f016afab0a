"""The verbs of the step-language: a closed set with an effect on the model, and a wide neutral set.

Sources: the words are common workshop practice (no published source). What each effect does to the
state of the machine is defined in `walk/`; how each becomes a sentence, in `wording/`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Effect(Enum):
    """What an action does to the model."""

    REMOVE = "remove"
    FIT = "fit"
    SLACKEN = "slacken"
    TIGHTEN = "tighten"
    REPLACE = "replace"
    TRANSFER = "transfer"
    MOVE = "move"
    SUPPORT = "support"
    RELEASE = "release"
    OPEN = "open"
    CLOSE = "close"
    DRAIN = "drain"
    FILL = "fill"
    BLEED = "bleed"
    LEAK_TEST = "leak-test"
    ISOLATE = "isolate"
    VERIFY = "verify"
    RESTORE = "restore"
    CONNECT = "connect"
    DISCONNECT = "disconnect"
    LOCK = "lock"
    UNLOCK = "unlock"
    BRING = "bring"
    REACH = "reach"
    NEUTRAL = "neutral"


@dataclass(frozen=True, slots=True)
class Verb:
    """A verb as the author wrote it.

    `word` is what the file says (`take-off`), `effect` what it does to the model, `past` the
    participle for a sentence about a deed ("was taken off").
    """

    word: str
    effect: Effect
    past: str


_EFFECTS: dict[Effect, tuple[str, ...]] = {
    Effect.REMOVE: (
        "remove",
        "take-off",
        "take-out",
        "withdraw",
        "unbolt",
        "unscrew",
        "detach",
        "extract",
    ),
    Effect.FIT: (
        "fit",
        "install",
        "mount",
        "refit",
        "put-in",
        "put-on",
        "put-back",
        "insert",
        "place",
        "attach",
        "screw-in",
    ),
    Effect.SLACKEN: ("slacken", "loosen", "back-off"),
    Effect.TIGHTEN: ("tighten", "torque"),
    Effect.REPLACE: ("replace", "renew", "exchange"),
    Effect.TRANSFER: ("transfer",),
    Effect.MOVE: ("move", "relocate", "swing"),
    Effect.SUPPORT: ("support", "sling"),
    Effect.RELEASE: ("release", "unsling"),
    Effect.OPEN: ("open",),
    Effect.CLOSE: ("close", "shut"),
    Effect.DRAIN: ("drain",),
    Effect.FILL: ("fill", "top-up", "refill"),
    Effect.BLEED: ("bleed", "vent"),
    Effect.LEAK_TEST: ("leak-test", "pressure-test"),
    Effect.ISOLATE: ("isolate",),
    Effect.VERIFY: ("verify", "prove"),
    Effect.RESTORE: ("restore",),
    Effect.CONNECT: ("connect", "reconnect"),
    Effect.DISCONNECT: ("disconnect", "unplug"),
    Effect.LOCK: ("lock", "secure"),
    Effect.UNLOCK: ("unlock", "unsecure"),
    Effect.BRING: ("bring",),
    Effect.REACH: ("reach",),
}

_NEUTRAL_WORDS = """
    adjust align apply assemble balance bend blow brush carry catch center centre check chock
    clamp clean coil collect compare compress cool count cover crimp cut deburr degrease dip
    dress drill drive dry ease engage disengage examine feel feed file find flip flush free
    grease grip ground guide hang heat hoist hold inspect jack jog join keep label lay lean
    level lever lift line-up listen look loop lower lubricate mark match mix note oil pack
    paint park part peel pinch plug point position pour press press-in press-out prop protect
    pry pull pump punch push raise read ream rest rinse rock roll rotate route rub run scrape
    screw seal seat select separate set shake shim slide slip smooth soak spin spray spread
    squeeze stand start steady stop-machine store straighten stretch strike strip swap sweep
    switch-off switch-on tap tape tension test thread tie tilt touch trace trim try tuck turn
    turn-off turn-on twist unfold unhook hook unwind wait warm warn wash watch wedge weigh
    wind wipe work wrap zero
"""
_NEUTRAL: tuple[str, ...] = tuple(_NEUTRAL_WORDS.split())

_IRREGULAR_PAST: dict[str, str] = {
    "take-off": "taken off", "take-out": "taken out", "withdraw": "withdrawn",
    "unscrew": "unscrewed", "fit": "fitted", "refit": "refitted", "put-in": "put in",
    "put-on": "put on", "put-back": "put back", "screw-in": "screwed in",
    "back-off": "backed off", "swing": "swung", "shut": "shut", "top-up": "topped up",
    "sling": "slung", "unplug": "unplugged", "bring": "brought", "bend": "bent",
    "blow": "blown", "catch": "caught", "cut": "cut", "drive": "driven", "feel": "felt",
    "feed": "fed", "find": "found", "flip": "flipped", "grip": "gripped", "hang": "hung",
    "hold": "held", "jog": "jogged", "keep": "kept", "lay": "laid", "line-up": "lined up",
    "plug": "plugged", "press-in": "pressed in", "press-out": "pressed out", "prop": "propped",
    "read": "read", "rub": "rubbed", "run": "run", "set": "set", "shake": "shaken",
    "shim": "shimmed", "slide": "slid", "slip": "slipped", "spin": "spun", "spread": "spread",
    "stand": "stood", "stop-machine": "stopped", "strike": "struck", "strip": "stripped",
    "swap": "swapped", "sweep": "swept", "switch-off": "switched off",
    "switch-on": "switched on", "tap": "tapped", "tie": "tied", "trim": "trimmed",
    "turn-off": "turned off", "turn-on": "turned on", "unwind": "unwound", "wind": "wound",
    "wrap": "wrapped", "dry": "dried", "pry": "pried", "try": "tried", "carry": "carried",
    "apply": "applied", "dip": "dipped", "transfer": "transferred", "press": "pressed",
    "drain": "drained", "level": "levelled", "label": "labelled", "stop": "stopped",
    "vent": "vented", "part": "parted", "leak-test": "leak-tested",
    "pressure-test": "pressure-tested",
}  # fmt: skip


def _past(word: str) -> str:
    """Return the participle: regular English unless the table says otherwise."""
    if word in _IRREGULAR_PAST:
        return _IRREGULAR_PAST[word]
    return word + ("d" if word.endswith("e") else "ed")


def _table() -> dict[str, Verb]:
    verbs = {
        word: Verb(word, effect, _past(word))
        for effect, words in _EFFECTS.items()
        for word in words
    }
    verbs.update((word, Verb(word, Effect.NEUTRAL, _past(word))) for word in _NEUTRAL)
    return verbs


VERBS: dict[str, Verb] = _table()
"""Every verb of the language by the word the author writes."""


def house_verb(word: str, like: Verb) -> Verb:
    """Return the verb that a shop file adds: its own word with the effect of a known verb."""
    return Verb(word, like.effect, _past(word))


def synonyms() -> dict[Effect, tuple[str, ...]]:
    """Return the words of each effect, the first being the plain one."""
    return {**_EFFECTS, Effect.NEUTRAL: _NEUTRAL}
