"""The order of locking out and of release, 29 CFR 1910.147 (d) and (e), as data.

It says in which order a procedure has to name the deeds, nothing about how they are done safely:
that is for the local rules and for those trained and authorized under them.
"""

from __future__ import annotations

from collections.abc import Mapping

SOURCE = "29 CFR 1910.147"

LOCKING_OUT: tuple[tuple[str, str], ...] = (
    ("(d)(2)", "shut-down"),
    ("(d)(3)", "isolate"),
    ("(d)(4)", "lock-out"),
    ("(d)(5)", "discharge"),
    ("(d)(6)", "verify"),
)
"""(clause, deed) before the work, read in the text of the rule. (d)(1), to prepare, is no deed of
its own here: preparing stands before the first step."""

RELEASE: tuple[tuple[str, str], ...] = (
    ("(e)(1)-(e)(2)(i)", "clear"),
    ("(e)(3)", "unlock-out"),
    ("(e)(2)(ii)", "tell"),
    ("(e)", "energize"),
)
"""(clause, deed) after the work, read in the text of the rule. (e)(2)(ii) has the lower number, but
it says itself that it comes after the locks are off and before the machine is started."""

PROOF: Mapping[str, str] = {
    "electrical": "all phases dead, with a proven tester",
    "stored-charge": "below 50 V at the terminals, with a proven tester",
    "pressure": "gauge PI-7 reads zero",
    "hydraulic": "gauge PI-7 reads zero",
    "pneumatic": "gauge PI-7 reads zero",
    "steam": "gauge PI-7 reads zero and the pipe is below 45 °C",
    "spring": "the spring hangs slack",
    "gravity": "the props carry: none can be shaken",
    "heat": "the thermometer reads below 45 °C",
    "chemical": "an indicator strip at the lowest point stays neutral",
    "motion": "the shaft stands still",
    "external-supply": "all phases dead, with a proven tester",
}
"""An example of how each kind of energy is proved dead: common practice, no source."""

DEVICE: Mapping[str, str] = {
    "electrical": "switch Q3 on panel P2",
    "external-supply": "socket X4, lead pulled and cap locked",
}
"""An example of an isolating device, by kind: common practice, no source."""

OTHER_DEVICE = "valve V11, locked shut"
"""The example for what flows."""
