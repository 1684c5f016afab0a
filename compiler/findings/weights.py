"""Why a rule weighs what it weighs, in a sentence that stands on its page."""

from __future__ import annotations

from collections.abc import Mapping

from compiler.findings.registry import Severity, rule_of

_HURTS = "someone could be hurt by it"
_STOPS = "someone could stand at the machine and not be able to go on"
_MISLEADS = "someone could be misled by what would be printed"
_LEFT = "the machine would be handed back in another state than everyone believes"
_UNREAD = "what was meant cannot be known, so nothing sure can be printed"
_SUSPECT = "it may be right, but is more often a slip"
_READS_BADLY = "it is right, but hard to follow"

_GROUPS: Mapping[str, tuple[str, ...]] = {
    _HURTS: (
        "opened-live",
        "live-with-guard-off",
        "isolation-order",
        "isolation-not-said",
        "lifts-too-little",
        "unsupported",
        "used-again",
        "missing-torque",
        "torque-too-high",
        "adapter-setting",
        "left-loose",
        "left-in",
        "runs-out-again",
        "cannot-reach",
        "out-of-calibration",
    ),
    _STOPS: (
        "in-the-way",
        "not-in-yet",
        "tool-not-in-shop",
        "too-few-people",
        "circular-follow",
        "too-many-steps",
        "cannot-refit",
        "picture-missing",
    ),
    _MISLEADS: (
        "already-so",
        "printed-pair",
        "missing-revision",
        "revision-not-raised",
        "bad-date",
        "bad-address",
        "unknown-model",
        "missing-machine",
        "never-reached",
        "not-left-so",
        "picture-not-usable",
        "duplicate-name",
    ),
    _LEFT: (
        "left-off",
        "left-isolated",
        "left-supported",
        "left-open",
        "left-disconnected",
        "left-drained",
        "left-moved",
        "left-changed",
    ),
    _READS_BADLY: ("long-sentence", "vague-words", "not-printed"),
}
_FAMILIES: Mapping[str, str] = {"reading": _UNREAD, "names": _UNREAD, "values": _MISLEADS}
_BECAUSE: Mapping[str, str] = {name: why for why, names in _GROUPS.items() for name in names}

_OWN: Mapping[str, str] = {
    "no-avoidance": "the danger is told all the same, and the site's own rules still hold",
    "not-shut-again": "it is read from the words alone, and the words may be meant otherwise",
    "not-renewed": "what is pressed in may well stay, and the author knows",
    "worded-otherwise": "the work is the one that was issued, and the page tells old prints",
    "nothing-to-do": "nobody can do anything wrong by an empty sheet",
    "tool-not-used": "a tool too many is carried, none too few",
}


def because(name: str) -> str:
    """Return why a rule is an error or a warning: `An error: someone could be hurt by it.`"""
    rule = rule_of(name)
    is_error = rule.severity is Severity.ERROR
    usual = _FAMILIES.get(rule.family, _MISLEADS) if is_error else _SUSPECT
    why = _OWN.get(rule.name) or _BECAUSE.get(rule.name) or usual
    return f"{'An error' if is_error else 'A warning'}: {why}."
