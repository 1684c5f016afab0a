"""The report in Markdown: a table of the kinds, what is missed and why, what was not seeded."""

from __future__ import annotations

from collections.abc import Iterator

from seed_run import Result, Tally, Verdict

GAPS = {
    "one_isolation_dropped_unopened": "`restore` leaves out what was not isolated without a word. "
    "Nobody is put at risk by what is opened, but two lines of one text disagree.",
    "standard_wrong": "A standard that the tables do not have is let through, as they do not have "
    "all; the head, and with it the tool, is then not known.",
    "limits_wrong_way": "The range of a hose clamp may stand the wrong way round.",
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
    yield "| defect | seeded | found | rule | place |"
    yield "|---|---:|---:|---:|---:|"
    whole = Tally()
    for title, tally in result.tallies.items():
        yield _row(title, tally)
        whole.seeded += tally.seeded
        whole.found += tally.found
        whole.right_rule += tally.right_rule
        whole.right_place += tally.right_place
    yield _row("**all**", whole)
    yield ""
    yield (
        f"Found with the right rule: {_share(whole.right_rule, whole.seeded)}; "
        f"at the right place too: {_share(whole.right_place, whole.seeded)}."
    )
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
