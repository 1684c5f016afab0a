"""The report in Markdown: a table of the kinds, what is missed and why, what was not seeded."""

from __future__ import annotations

from collections.abc import Generator, Iterator

from seed_run import UNTOLD, Result, Tally, Verdict

_AT_START = (
    "Found, but at the head of the procedure: it was off, slack or isolated when the work began, "
    "and no step of this text made it so."
)
_NO_LIMIT = (
    "For a thin nut, a plug, a set screw, and a thread whose class is not said, no limit is known; "
    "a torque beyond all wrenches of the shop is told as that."
)
GAPS = {
    "one_isolation_dropped_unopened": "`restore` leaves out what was not isolated without a word. "
    "Nobody is put at risk by what is opened, but two lines of one text disagree.",
    "fit_dropped": _AT_START,
    "restore_dropped": _AT_START,
    "one_restore_dropped": _AT_START,
    "not_reconnected": _AT_START,
    "not_filled": _AT_START,
    "repeat_too_short": _AT_START,
    "holds_dropped": "Found where no step turns it, and where it is called after what it holds; "
    "screws that adjust or lock hold nothing that comes off.",
    "tested_too_early": "Found where all that could run or leak is isolated; what still has "
    "pressure, or was filled in, may be looked at.",
    "torque_in_pound_inches": _NO_LIMIT,
    "torque_decimal_slipped": _NO_LIMIT,
    "torque_in_pound_feet": "A third more lies within what friction does to a joint: the torque "
    "factors of handbooks span more than a factor of two. What is too much even so is found.",
    "thread_state_wrong": "Most torques can be right for either state; what is beyond both is "
    "found whatever the state.",
    "released_before_tight": "The fasteners are in, by hand, and carry the part: work is done so.",
    "message_one_step_late": "Which step a message is about is known to its writer alone.",
}
"""Why kinds are missed, in whole or in part, by the name of the function that seeds them."""

_INTRO = """\
# Seeded defects

Into correct procedures (invented machines and the demo) one realistic mistake at a time is written,
and the folder is compiled. This table says what was found. `python -m tests.seeding` writes it
anew; what the kinds are and which changes leave the work correct stands in the modules beside it.

- **found**: there is some finding
- **rule**: one of the rules that name this fault
- **place**: that finding, or one of its labels, stands on the line that was changed, on a line that
  speaks of the thing concerned, or on its declaration
"""


def report(result: Result) -> str:
    """Return the report of a run."""
    return "\n".join(_lines(result)) + "\n"


def _lines(result: Result) -> Iterator[str]:
    yield _INTRO
    yield f"Correct originals: {result.originals} folders. Findings in them: {len(result.clean)}."
    yield from (f"- {line}" for line in result.clean)
    yield ""
    told = [(t, tally) for t, tally in result.tallies.items() if tally.kind not in UNTOLD]
    rest = [(t, tally) for t, tally in result.tallies.items() if tally.kind in UNTOLD]
    whole = yield from _table(told)
    yield ""
    yield (
        f"Found with the right rule: {_share(whole.right_rule, whole.seeded)}; "
        f"at the right place too: {_share(whole.right_place, whole.seeded)}."
    )
    yield ""
    yield "## What the text alone cannot tell"
    yield ""
    yield "After these mistakes the text still hangs together; who knows the machine sees them."
    yield ""
    yield from _table(rest)
    yield ""
    yield "## What is missed"
    yield ""
    missed = [(t, tally.missed) for t, tally in result.tallies.items() if tally.missed]
    for title, verdicts in missed:
        yield f"- **{title}** ({len(verdicts)}). {GAPS.get(verdicts[0].kind, '')}".rstrip()
        yield from (f"  - {_one(verdict)}" for verdict in verdicts[:4])
    if not missed:
        yield "Nothing."
    yield ""
    yield "## What was not seeded, because the work stays correct"
    yield ""
    yield from (f"- {reason} ({count})" for reason, count in sorted(result.skipped.items()))


def _table(rows: list[tuple[str, Tally]]) -> Generator[str, None, Tally]:
    """Yield a table of kinds with its sum, and return the sum."""
    yield "| defect | seeded | found | rule | place |"
    yield "|---|---:|---:|---:|---:|"
    whole = Tally()
    for title, tally in rows:
        yield _row(title, tally)
        whole.seeded += tally.seeded
        whole.found += tally.found
        whole.right_rule += tally.right_rule
        whole.right_place += tally.right_place
    yield _row("**all**", whole)
    return whole


def _row(title: str, tally: Tally) -> str:
    counts = (tally.seeded, tally.found, tally.right_rule, tally.right_place)
    return f"| {title} | {' | '.join(map(str, counts))} |"


def _share(part: int, whole: int) -> str:
    return f"{100 * part / whole:.1f} %" if whole else "nothing seeded"


def _one(verdict: Verdict) -> str:
    """Return where a defect was seeded, what the line then was, and what was found."""
    path, number = min(verdict.edit.changes)
    lines = " / ".join(ln.strip() for new in verdict.edit.changes.values() for ln in new)
    found = ", ".join(verdict.found[:3]) or "nothing"
    lines = lines if len(lines) < 120 else f"{lines[:117]}…"
    text = f": `{lines}`" if lines else " taken out"
    return f"{verdict.title}, {path}:{number + 1}{text}. Found: {found}"
