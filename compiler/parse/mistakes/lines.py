"""Slips of the first line, of lists as people write them elsewhere, and of signs."""

from __future__ import annotations

import re
from collections.abc import Sequence

from compiler.parse.mistakes.form import Mistake, slip


def _slug(groups: Sequence[str]) -> str:
    words = re.findall(r"[^\W_]+", groups[1].lower())
    name = "-".join(words[:4]) or "job"
    return f"{name if name[0].isalpha() else 'job-' + name} {groups[0].strip()}"


LINES: tuple[Mistake, ...] = (
    # --- The first line ---------------------------------------------------------------------------
    slip(
        "title-without-quotes",
        "first",
        "procedure vent-cap Refit the vent cap",
        r'^(?:machine|procedure|shop|visit) +NAME +(?P<at>[^"#]*[^"#\s])',
        "The title stands in double quotes.",
        'Write: "{1}"',
        '"{1}"',
        anywhere=True,
    ),
    slip(
        "name-of-file-missing",
        "first",
        'procedure "Refit the vent cap"',
        r'^(?:machine|procedure|shop|visit) +(?P<at>(?P<one>"[^"]*"))',
        "The short name before the title is missing.",
        "Give it one, a single word by which other files speak of it.",
        _slug,
        anywhere=True,
    ),
    slip(
        "kind-with-capital",
        "first",
        'Procedure vent-cap "Refit the vent cap"',
        r"^(?P<at>Machine|Procedure|Shop|Visit|MACHINE|PROCEDURE|SHOP|VISIT)(?!\w)",
        "The words of the language are written in small letters.",
        "Write: {1}",
        lambda groups: groups[1].lower(),
        anywhere=True,
    ),
    slip(
        "table-dashes",
        "table",
        "--- | ---",
        r"^[|\s:-]*--[|\s:-]*$",
        "A table has no line of dashes.",
        "Leave the line out.",
        "",
        anywhere=True,
    ),
    # --- Lists as people write them elsewhere -----------------------------------------------------
    slip(
        "step-number",
        "step",
        "1. remove cap",
        r"^(?:[Ss]tep *)?\(?(?:[0-9]+|[a-z])[.):]+ *",
        "Steps are not numbered here.",
        "Leave the number out; it is worked out, and stays right when steps are put in between.",
        "",
        anywhere=True,
    ),
    slip(
        "step-number-in-words",
        "step",
        "step 1 remove cap",
        r"^[Ss]tep +[0-9]+[.):]* +",
        "Steps are not numbered here.",
        "Leave the number out; it is worked out.",
        "",
        anywhere=True,
    ),
    slip(
        "bullet",
        "step",
        "- remove cap",
        r"^[-–—•*] *",
        "No sign is needed before a line: a line is a step.",
        "Leave it out.",
        "",
        anywhere=True,
    ),
    slip(
        "cell-of-words",
        "table",
        "large bottle | 0.8 mm",
        r"(?:^|\|)\s*(?P<at>NAME(?: +NAME)+)\s*(?=\||$)",
        "A cell of several words stands in quotes.",
        'Write: "{1}"',
        '"{1}"',
    ),
    # --- Signs ------------------------------------------------------------------------------------
    slip(
        "other-comment-sign",
        "step",
        "remove cap // arrow up",
        r"(?://|;;|--|%%) *(?=\S)",
        "A comment begins with `#`.",
        "Write: # …",
        "# ",
        anywhere=True,
    ),
    slip(
        "comment-before-digit",
        "step",
        "remove cap #2 of them",
        r"#(?=[0-9])",
        "`#` before a digit is a thread size, no comment.",
        "Put a blank after it: # 2",
        "# ",
    ),
    slip(
        "single-quotes",
        "under",
        "note 'Arrow up.'",
        r"['‘’`´](?P<one>[^'‘’`´\"]*)['‘’`´]",
        "Text stands in double quotes.",
        'Write: "{1}"',
        '"{1}"',
        anywhere=True,
    ),
    slip(
        "colon-at-end",
        "step",
        'section "Open the pump":\n    remove cap',
        r" *: *$",
        "No colon is needed: what is indented below a line belongs to it.",
        "Leave it out.",
        "",
    ),
    slip(
        "colon-after-word",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque: 9 N·m",
        r"(?<=[\w-]) *:(?= )",
        "No colon stands between a word and what it says.",
        "Leave it out.",
        "",
    ),
    slip(
        "equals-in-condition",
        "step",
        'ask leak "Does it drip?"\n  if leak = yes\n    remove cap',
        r"^(?:otherwise )?if .*?(?P<at> *={1,3} *)",
        "A condition says `is`.",
        "Write: is",
        " is ",
        anywhere=True,
    ),
    slip(
        "equals",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque = 9 N·m",
        r" *= *",
        "No sign stands between a word and what it says.",
        "Leave out `=`.",
        " ",
    ),
    slip(
        "semicolon",
        "step",
        "remove cap; remove seat",
        r";",
        "One line says one thing.",
        "Put what follows on a line of its own.",
    ),
    slip(
        "underscore",
        "step",
        "remove vent_cap",
        r"[^\W_]+(?:_[^\W_]+)+",
        "A name has letters, digits and hyphens, no underscores.",
        "Write it with hyphens.",
        lambda groups: groups[0].replace("_", "-"),
    ),
    slip(
        "round-brackets",
        "step",
        "remove foot(2)",
        r"(?<=[\w-])\((?P<one>[\w-]+(?: *(?:,|\.\.) *[\w-]+)*)\)",
        "One of a set stands in square brackets.",
        "Write: [{1}]",
        "[{1}]",
    ),
    slip(
        "comparing",
        "step",
        'measure gap "Gap" at most 1 mm\n  if gap > 1 mm\n    remove cap',
        r"^(?:otherwise )?if .*?(?P<at>[<>≤≥]=?)",
        "Values are not compared in a condition.",
        "Give the measurement its limits and ask: if gap is out, if gap is above, if gap is below",
        anywhere=True,
    ),
)
