"""The order of locking out and of release, 29 CFR 1910.147 (d) and (e), as data.

It says in which order a procedure has to name the deeds, nothing about how they are done safely:
that is for the local rules and for those trained and authorized under them.
"""

from __future__ import annotations

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

ORDER: tuple[tuple[str, str], ...] = (*LOCKING_OUT, *RELEASE)
"""The whole order from the shut-down to switching on again."""
