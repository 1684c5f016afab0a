"""Common slips, each known by an example, with what to say and how to mend it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

Place: TypeAlias = Literal["step", "under", "fastener", "part", "head", "first", "measure", "table"]
"""Where the example of a slip stands; the tests put it into a whole file."""

_NAME = r"[^\W\d_](?:[^\W_]|-(?=[^\W_]))*"


@dataclass(frozen=True, slots=True)
class Mistake:
    """One slip.

    `pattern` is sought in the line, whose texts in quotes have been blanked; what it calls `at`, or
    all it matches, is marked and replaced. `anywhere` is for those that need not touch the word
    where reading stopped, `names` for those that need two names there, `could` names what might
    have stood there instead. In `hint` and `replacement` `{1}` stands for a group, in `hint`
    `{new}` for the replacement; `replacement` is None when only the author knows what is meant.
    """

    name: str
    place: Place
    example: str
    pattern: re.Pattern[str]
    message: str
    hint: str
    replacement: str | Callable[[Sequence[str]], str] | None = None
    anywhere: bool = False
    names: bool = False
    could: str = ""


def _m(
    name: str,
    place: Place,
    example: str,
    pattern: str,
    message: str,
    hint: str,
    replacement: str | Callable[[Sequence[str]], str] | None = None,
    anywhere: bool = False,
    names: bool = False,
    could: str = "",
) -> Mistake:
    pattern = pattern.replace("NAME", _NAME)
    compiled = re.compile(pattern)
    return Mistake(
        name, place, example, compiled, message, hint, replacement, anywhere, names, could
    )


NUMBER_WORDS = (
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
)  # fmt: skip


def _iso(groups: Sequence[str]) -> str:
    day, month, year = groups[1:4]
    return f"{year}-{int(month):02}-{int(day):02}"


def _iso_from_year(groups: Sequence[str]) -> str:
    year, month, day = groups[1:4]
    return f"{year}-{int(month):02}-{int(day):02}"


def _foot_pounds(groups: Sequence[str]) -> str:
    return "in-lb" if groups[1].startswith("in") else "ft-lb"


def _slug(groups: Sequence[str]) -> str:
    words = re.findall(r"[^\W_]+", groups[1].lower())
    name = "-".join(words[:4]) or "job"
    return f"{name if name[0].isalpha() else 'job-' + name} {groups[0].strip()}"


MISTAKES: tuple[Mistake, ...] = (
    # --- The first line ---------------------------------------------------------------------------
    _m(
        "title-without-quotes",
        "first",
        "procedure vent-cap Refit the vent cap",
        r'^(?:machine|procedure|shop|visit) +NAME +(?P<at>[^"#]*[^"#\s])',
        "The title stands in double quotes.",
        'Write: "{1}"',
        '"{1}"',
        anywhere=True,
    ),
    _m(
        "name-of-file-missing",
        "first",
        'procedure "Refit the vent cap"',
        r'^(?:machine|procedure|shop|visit) +(?P<at>(?P<one>"[^"]*"))',
        "The short name before the title is missing.",
        "Give it one, a single word by which other files speak of it.",
        _slug,
        anywhere=True,
    ),
    _m(
        "kind-with-capital",
        "first",
        'Procedure vent-cap "Refit the vent cap"',
        r"^(?P<at>Machine|Procedure|Shop|Visit|MACHINE|PROCEDURE|SHOP|VISIT)(?!\w)",
        "The words of the language are written in small letters.",
        "Write: {1}",
        lambda groups: groups[1].lower(),
        anywhere=True,
    ),
    _m(
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
    _m(
        "step-number",
        "step",
        "1. remove cap",
        r"^(?:[Ss]tep *)?\(?(?:[0-9]+|[a-z])[.):]+ *",
        "Steps are not numbered here.",
        "Leave the number out; it is worked out, and stays right when steps are put in between.",
        "",
        anywhere=True,
    ),
    _m(
        "step-number-in-words",
        "step",
        "step 1 remove cap",
        r"^[Ss]tep +[0-9]+[.):]* +",
        "Steps are not numbered here.",
        "Leave the number out; it is worked out.",
        "",
        anywhere=True,
    ),
    _m(
        "bullet",
        "step",
        "- remove cap",
        r"^[-–—•*] *",
        "No sign is needed before a line: a line is a step.",
        "Leave it out.",
        "",
        anywhere=True,
    ),
    _m(
        "cell-of-words",
        "table",
        "large bottle | 0.8 mm",
        r"(?:^|\|)\s*(?P<at>NAME(?: +NAME)+)\s*(?=\||$)",
        "A cell of several words stands in quotes.",
        'Write: "{1}"',
        '"{1}"',
    ),
    # --- Signs ------------------------------------------------------------------------------------
    _m(
        "other-comment-sign",
        "step",
        "remove cap // arrow up",
        r"(?://|;;|--|%%) *(?=\S)",
        "A comment begins with `#`.",
        "Write: # …",
        "# ",
        anywhere=True,
    ),
    _m(
        "comment-before-digit",
        "step",
        "remove cap #2 of them",
        r"#(?=[0-9])",
        "`#` before a digit is a thread size, no comment.",
        "Put a blank after it: # 2",
        "# ",
    ),
    _m(
        "single-quotes",
        "under",
        "note 'Arrow up.'",
        r"['‘’`´](?P<one>[^'‘’`´\"]*)['‘’`´]",
        "Text stands in double quotes.",
        'Write: "{1}"',
        '"{1}"',
        anywhere=True,
    ),
    _m(
        "colon-at-end",
        "step",
        'section "Open the pump":\n    remove cap',
        r" *: *$",
        "No colon is needed: what is indented below a line belongs to it.",
        "Leave it out.",
        "",
    ),
    _m(
        "colon-after-word",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque: 9 N·m",
        r"(?<=[\w-]) *:(?= )",
        "No colon stands between a word and what it says.",
        "Leave it out.",
        "",
    ),
    _m(
        "equals-in-condition",
        "step",
        'ask leak "Does it drip?"\n  if leak = yes\n    remove cap',
        r"^(?:otherwise )?if .*?(?P<at> *={1,3} *)",
        "A condition says `is`.",
        "Write: is",
        " is ",
        anywhere=True,
    ),
    _m(
        "equals",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque = 9 N·m",
        r" *= *",
        "No sign stands between a word and what it says.",
        "Leave out `=`.",
        " ",
    ),
    _m(
        "semicolon",
        "step",
        "remove cap; remove seat",
        r";",
        "One line says one thing.",
        "Put what follows on a line of its own.",
    ),
    _m(
        "underscore",
        "step",
        "remove vent_cap",
        r"[^\W_]+(?:_[^\W_]+)+",
        "A name has letters, digits and hyphens, no underscores.",
        "Write it with hyphens.",
        lambda groups: groups[0].replace("_", "-"),
    ),
    _m(
        "round-brackets",
        "step",
        "remove foot(2)",
        r"(?<=[\w-])\((?P<one>[\w-]+(?: *(?:,|\.\.) *[\w-]+)*)\)",
        "One of a set stands in square brackets.",
        "Write: [{1}]",
        "[{1}]",
    ),
    _m(
        "comparing",
        "step",
        'measure gap "Gap" at most 1 mm\n  if gap > 1 mm\n    remove cap',
        r"^(?:otherwise )?if .*?(?P<at>[<>≤≥]=?)",
        "Values are not compared in a condition.",
        "Give the measurement its limits and ask: if gap is out, if gap is above, if gap is below",
        anywhere=True,
    ),
    # --- Values -----------------------------------------------------------------------------------
    _m(
        "decimal-comma",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 9,5 N·m",
        r"(?<![\d.])(?P<one>[0-9]+),(?P<two>[0-9]+)",
        "A decimal is written with a point.",
        "Write: {1}.{2}",
        "{1}.{2}",
    ),
    _m(
        "gap-in-number",
        "head",
        "every 2 000 h",
        r"(?<!\d)(?P<one>[0-9]{1,3})[ '](?P<two>[0-9]{3})(?!\d)",
        "A number is written without gaps.",
        "Write: {1}{2}",
        "{1}{2}",
    ),
    _m(
        "number-without-zero",
        "measure",
        'measure gap "Gap" at most .05 mm',
        r"(?<![\d.])\.(?P<one>[0-9]+)",
        "A decimal has a digit before its point.",
        "Write: 0.{1}",
        "0.{1}",
    ),
    _m(
        "range-with-hyphen",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 8-10 N·m",
        r"(?<![\w.-])(?P<one>[0-9][0-9.]*) *- *(?P<two>[0-9][0-9.]*)(?![\w/-])",
        "A range is written with two points.",
        "Write: {1}..{2}",
        "{1}..{2}",
    ),
    _m(
        "range-with-to",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 8 to 10 N·m",
        r"(?P<one>[0-9][0-9.]*)(?: *[^\W\d_][\w·]*)? +to +(?P<two>[0-9][0-9.]*)",
        "A range is written with two points.",
        "Write: {1}..{2}",
        "{1}..{2}",
    ),
    _m(
        "unit-missing-before-passes",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 110 in 50 %, 100 %",
        r"(?<=torque )(?P<one>[0-9][0-9.]*)(?= +in +[0-9.]+ *%)",
        "Of what? The unit is missing behind the torque.",
        "Write: {1} N·m",
        "{1} N·m",
        anywhere=True,
    ),
    _m(
        "pounds-and-feet-in-two-words",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 80 ft lbs",
        r"(?<=[0-9] )(?P<one>ft|feet|foot|in|inch)\.?(?: +|[-·*])(?P<two>lbs|lb|lbf|pounds?)\.?"
        r"(?![\w·])",
        "A unit is one word.",
        "Write: {new}",
        _foot_pounds,
    ),
    _m(
        "pounds-first-in-two-words",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 80 lbs ft",
        r"(?<=[0-9] )(?P<two>lbs|lb|lbf|pounds?)\.? +(?P<one>ft|feet|foot|in|inch)\.?(?![\w·])",
        "A unit is one word.",
        "Write: {new}",
        _foot_pounds,
    ),
    _m(
        "unit-in-two-words",
        "fastener",
        "screw 3 × M5 ISO 4762 8.8 holds cap torque 9 N m",
        r"(?<![\w·])(?P<one>N|kN|lbf?|kgf?|ft|in) +(?P<two>c?m|ft|in|lbf?)(?![\w·])",
        "A unit is one word.",
        "Write: {1}·{2}",
        "{1}·{2}",
    ),
    _m(
        "day-with-points",
        "head",
        "revision C 20.11.2026",
        r"(?P<one>[0-9]{1,2})\.(?P<two>[0-9]{1,2})\.(?P<three>[0-9]{4})",
        "Days are written year-month-day.",
        "As in: 2026-11-20",
        _iso,
        anywhere=True,
    ),
    _m(
        "day-from-year",
        "head",
        "revision C 2026/11/20",
        r"(?P<one>[0-9]{4})[/.](?P<two>[0-9]{1,2})[/.](?P<three>[0-9]{1,2})",
        "Days are written year-month-day.",
        "As in: 2026-11-20",
        _iso_from_year,
        anywhere=True,
    ),
    _m(
        "day-with-slashes",
        "head",
        "revision C 11/12/2026",
        r"[0-9]{1,2}/[0-9]{1,2}/[0-9]{2,4}",
        "Days are written year-month-day, so that nobody takes the month for the day.",
        "As in: 2026-11-20",
        anywhere=True,
    ),
    _m(
        "number-in-words",
        "head",
        "people two",
        rf"(?<![\w-])(?P<one>{'|'.join(NUMBER_WORDS)})(?![\w-])",
        "A number is written in figures.",
        "Write it in figures.",
        lambda groups: str(NUMBER_WORDS.index(groups[1]) + 1),
    ),
    _m(
        "at-most-in-other-words",
        "measure",
        'measure gap "Gap" max. 0.05 mm',
        r"(?:(?<![\w-])(?:max\.?|maximum|up to|no more than|not more than)|<=|≤|<) *(?=[0-9])",
        "A limit upwards is written `at most`.",
        "Write: at most …",
        "at most ",
        anywhere=True,
    ),
    _m(
        "at-least-in-other-words",
        "measure",
        'measure level "Level" min 20 mm',
        r"(?:(?<![\w-])(?:min\.?|minimum|no less than|not less than|not under)|>=|≥) *(?=[0-9])",
        "A limit downwards is written `at least`.",
        "Write: at least …",
        "at least ",
        anywhere=True,
    ),
    _m(
        "about-in-other-words",
        "part",
        'cap "vent cap" ca. 2 kg',
        r"(?:(?<![\w-])(?:ca\.?|approx\.?|circa|approximately|around|roughly)|~|≈) *(?=[0-9])",
        "What is not exact is written `about`.",
        "Write: about …",
        "about ",
        anywhere=True,
    ),
    _m(
        "over-as-sign",
        "part",
        'cap "vent cap" > 45 kg',
        r"> *(?=[0-9])",
        "More than a value is written `over`.",
        "Write: over …",
        "over ",
    ),
    # --- Repeats and branches ---------------------------------------------------------------------
    _m(
        "repeat-without-in",
        "step",
        "repeat for each foot\n    check foot",
        r"^repeat for (?:each|every) (?P<at>(?P<one>NAME)) *$",
        "It is not said what one of them is called in the steps below.",
        "Give it a name: repeat for each f in {1}",
        lambda groups: f"{groups[1][0]} in {groups[1]}",
    ),
    _m(
        "repeat-from-to",
        "step",
        "repeat for each n from 1 to 4\n    check foot[n]",
        r"^repeat for each NAME (?P<at>from (?P<one>\w+) to (?P<two>\w+))",
        "The numbers of a repeat are written as a range.",
        "Write: in {1}..{2}",
        "in {1}..{2}",
        anywhere=True,
    ),
    _m(
        "for-each-alone",
        "step",
        "for each f in foot\n    check f",
        r"^(?P<at>for (?:each|every|all)) ",
        "Such a line begins with `repeat`.",
        "Write: repeat for each …",
        "repeat for each",
        anywhere=True,
    ),
    _m(
        "repeat-without-times",
        "step",
        "repeat 4\n    check cap",
        r"^repeat (?P<at>(?P<one>[0-9]+)(?: *[x×])?) *$",
        "After the number stands `times`.",
        "Write: repeat {1} times",
        "{1} times",
        anywhere=True,
    ),
    _m(
        "condition-with-not",
        "step",
        'ask leak "Does it drip?"\n  if leak is not yes\n    remove cap',
        r"(?<![\w-])(?:is|was) not(?![\w-])",
        "A condition says what is, not what is not.",
        "Name the other state, or put the steps under `otherwise`.",
    ),
    _m(
        "two-conditions",
        "step",
        'ask leak "Does it drip?"\n  if leak is yes and leak is no\n    remove cap',
        r"^(?:otherwise )?if .*?(?P<at>(?<![\w-])(?:and|or)(?![\w-]))",
        "One line asks one thing.",
        "Put a second `if` under the first, or let the reader judge in quotes.",
        anywhere=True,
    ),
    _m(
        "then",
        "step",
        'ask leak "Does it drip?"\n  if leak is yes then\n    remove cap',
        r"^(?:otherwise )?if .*?(?P<at> +then) *$",
        "No `then` is needed.",
        "Leave it out.",
        "",
    ),
    _m(
        "condition-without-quotes",
        "step",
        "if bush worn\n    remove cap",
        r'^(?:otherwise )?if (?P<at>(?P<one>(?!.* (?:is|was)(?: |$))[^"#]*[^"#\s]))',
        "A condition that the reader judges stands in quotes.",
        'Write: if "{1}"',
        '"{1}"',
        anywhere=True,
    ),
    _m(
        "otherwise-in-other-words",
        "step",
        'if "it drips"\n    remove cap\n  else\n    check cap',
        r"^(?P<at>else|elsif|elif|if not)(?: *if)?(?![\w-])",
        "The other case is called `otherwise`.",
        "Write: otherwise, or: otherwise if …",
        "otherwise",
        anywhere=True,
    ),
    _m(
        "only-if-as-block",
        "step",
        'only if "it drips"\n    remove cap',
        r"^(?P<at>only +if)(?= )",
        "`only if` ends the line of a step; a block begins with `if`.",
        "Write: if …",
        "if",
        anywhere=True,
    ),
    _m(
        "models-with-for",
        "step",
        "for TP-60\n    remove cap",
        r"^(?P<at>for)(?= +[^\W\d_])",
        "Steps for one model stand under `only for`.",
        "Write: only for …",
        "only for",
        anywhere=True,
    ),
    _m(
        "step-for-model",
        "step",
        "tighten cap for TP-60",
        r"^(?!repeat |for ).*?(?P<at>(?<![\w-])for)(?= +[^\W\d_])",
        "A step for one model ends in `only for`.",
        "Write: only for …",
        "only for",
        anywhere=True,
    ),
    _m(
        "hyphen-missing",
        "step",
        "tighten nut hand tight",
        r"(?<![\w-])(?P<one>hand|left|counter) +(?P<two>tight|hand|clockwise|hold)(?![\w-])",
        "This word of the language has a hyphen.",
        "Write: {1}-{2}",
        "{1}-{2}",
        anywhere=True,
    ),
    _m(
        "other-word-for-turning",
        "step",
        "turn nut anticlockwise",
        r"(?<![\w-])(?:anti-?clockwise|counterclockwise|ccw)(?![\w-])",
        "The other way round is called `counter-clockwise`.",
        "Write: counter-clockwise",
        "counter-clockwise",
        anywhere=True,
    ),
    # --- Words without quotes, sentences ----------------------------------------------------------
    _m(
        "stop-a-thing",
        "step",
        "stop pump",
        r"^(?P<at>stop)(?= +[^\W\d_])",
        "`stop` ends the work here and says why in quotes.",
        'To switch a machine off, write: stop-machine …; to end the work: stop "…"',
        "stop-machine",
        anywhere=True,
    ),
    _m(
        "text-without-quotes",
        "under",
        "note Arrow up.",
        r"^(?:note|why|location|author|approved|purpose|site|confirm|notice|hand over to NAME|"
        r"hold for NAME|sign NAME|(?:ask|record|measure) NAME|(?:danger|warning|caution) NAME) +"
        r'(?P<at>(?P<one>[^"#]*[^"#\s]))$',
        "Text stands in double quotes.",
        'Write: "{1}"',
        '"{1}"',
        anywhere=True,
    ),
    _m(
        "title-of-section",
        "step",
        "section access Open the pump\n    remove cap",
        r'^section(?: +[^\W\d_A-Z][\w-]*(?= +[A-Z]))? +(?P<at>(?P<one>[^"#]*[^"#\s]))$',
        "The title of a section stands in double quotes.",
        'Write: "{1}"',
        '"{1}"',
        anywhere=True,
    ),
    _m(
        "sentence",
        "step",
        "Wipe both seats until they are dry.",
        r'^(?P<one>[A-Z][^"]*\.)$',
        "A step that is a sentence of its own stands in quotes.",
        'Write: "{1}"',
        '"{1}"',
        anywhere=True,
    ),
    _m(
        "several-things-by-sign",
        "step",
        "remove cap / lid",
        r"(?<=[\w\]]) *(?:/|&|\+) *(?=[^\W\d_])",
        "Several things are parted by commas.",
        "Write a comma, or `or` between tools of which one will do.",
        ", ",
    ),
    _m(
        "remark-in-brackets",
        "step",
        "remove cap (mind the edge)",
        r" *\([^)]*\)?",
        "A remark in brackets is not read.",
        'Put it on a line below the step: note "…"',
    ),
    _m(
        "tool-by-its-size",
        "step",
        "tighten cap with 36 mm spanner",
        r"(?P<at> +with +(?:an? +)?[0-9][0-9./]*(?: *[^\W\d_]+)? +(?:ring |hex |allen |nut )?"
        r"(?:spanner|wrench|socket|key|bit|screwdriver|driver))(?![\w-])",
        "The tool that fits a fastener is worked out from its designation.",
        "Leave it out. To ask for a certain one, name a tool of the shop file.",
        "",
        anywhere=True,
    ),
    _m(
        "size-before-its-word",
        "fastener",
        "cap-bolt 4 × M8×20 8.8 13 mm across flats holds cap",
        r"(?<![\w./×])(?P<one>[0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?) *(?P<two>mm|in) +"
        r"(?P<three>across flats|hex key)(?![\w-])",
        "The size stands behind the words that say what is measured.",
        "Write: {new}",
        "{3} {1} {2}",
        anywhere=True,
    ),
    _m(
        "full-stop",
        "step",
        "remove cap.",
        r" *[.!?]+ *$",
        "No full stop stands at the end of a line.",
        "Leave it out.",
        "",
    ),
    _m(
        "article",
        "step",
        "remove the cap",
        r"(?<![\w-])(?:the|a|an|all|both|its|their|this|these) +(?=[^\W\d_])",
        "Things are called by their names alone.",
        "Leave the word out; it is put in again when read.",
        "",
    ),
    _m(
        "name-begins-with-digit",
        "part",
        '2nd-cap "second cap"',
        r"(?<![\w-])[0-9]+-?[^\W\d_][\w-]*",
        "A name begins with a letter.",
        "Put the number behind, as in cap-2; what only has a number stands in quotes.",
        could="NAME",
    ),
    _m(
        "verb-around-its-thing",
        "step",
        "put cap back",
        r"(?P<one>put) +(?P<two>NAME) +(?P<three>back)(?![\w-])",
        "A verb of two words is joined with a hyphen and stands before its thing.",
        "Write: {1}-{3} {2}",
    ),
    _m(
        "sequence-in-a-step",
        "step",
        "tighten screw crosswise",
        r"(?<![\w-])(?:crosswise|crossways|diagonally|in star pattern)(?![\w-])",
        "The order of a group is said where its fasteners are declared, and holds for every step.",
        "Take it out here; crosswise is `star`, on the line of the fastener.",
        "",
    ),
    _m(
        "name-in-two-words",
        "step",
        "remove vent cap",
        r"(?P<one>NAME) +(?P<two>NAME)",
        "Two names stand side by side.",
        "Join a name with hyphens, {1}-{2}; part several things by commas.",
        "{1}-{2}",
        names=True,
    ),
)
"""Looked through in this order; the first that fits speaks."""
