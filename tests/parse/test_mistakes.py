"""Each known slip is recognised by its example, and what is proposed mends it."""

from __future__ import annotations

import pytest
from parse_support import found, language_examples

from compiler.parse import parse_text
from compiler.parse.examples import BLOCK_WORDS
from compiler.parse.mistakes import MISTAKES, NUMBER_WORDS, Mistake

TEXTS = language_examples()

FRAMES = {
    "step": 'procedure a "A"\n  parts\n    cap "cap"\n  {}\n',
    "under": 'procedure a "A"\n  remove cap\n    {}\n',
    "fastener": 'procedure a "A"\n  fasteners\n    {}\n',
    "part": 'procedure a "A"\n  parts\n    {}\n',
    "head": 'procedure a "A"\n  {}\n',
    "first": "{}\n  revision A 2026-11-20\n",
    "measure": 'procedure a "A"\n  {}\n',
    "table": 'procedure a "A"\n  table b\n    size | gap\n    {}\n    small | 1 mm\n',
}


def mend(text: str, message: str) -> str | None:
    """Return the text with the proposal of the one finding in it, which must have this message."""
    _, findings = parse_text(text, "a.proc")
    assert [finding.message for finding in findings] == [message]
    fix = findings[0].fix
    if fix is None:
        return None
    return f"{text[: fix.span.start]}{fix.text}{text[fix.span.end :]}"


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda mistake: mistake.name)
def test_slips_are_recognised_and_mended(mistake: Mistake) -> None:
    text = FRAMES[mistake.place].replace("{}", mistake.example)
    mended = mend(text, mistake.message)
    if mistake.replacement is None:
        assert mended is None
        assert mistake.hint
    else:
        assert mended is not None
        assert found(mended) == []


def test_each_slip_has_a_name_of_its_own() -> None:
    names = [mistake.name for mistake in MISTAKES]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("word", BLOCK_WORDS)
def test_other_words_for_blocks(word: str) -> None:
    text = f'procedure a "A"\n  {word}\n    thing "thing"\n  remove cap\n'
    mended = mend(text, f"No block is called `{word}`.")
    assert mended is not None
    assert f"\n  {BLOCK_WORDS[word]}\n" in mended


@pytest.mark.parametrize("number", NUMBER_WORDS)
def test_numbers_in_words(number: str) -> None:
    text = f'procedure a "A"\n  people {number}\n'
    mended = mend(text, "A number is written in figures.")
    assert mended is not None
    assert found(mended) == []


@pytest.mark.parametrize(
    ("line", "mended"),
    [
        ("revison C 2026-11-20", "revision C 2026-11-20"),
        ('sectoin "Open"\n    remove cap', 'section "Open"\n    remove cap'),
        ("tighten nut takse 5 min", "tighten nut takes 5 min"),
        ('warnung cut "Sharp."', 'warning cut "Sharp."'),
        ("Section\n    remove cap", None),
    ],
)
def test_words_that_are_nearly_right(line: str, mended: str | None) -> None:
    text = f'procedure a "A"\n  {line}\n'
    _, (finding,) = parse_text(text, "a.proc")
    assert finding.fix is not None
    fixed = text[: finding.fix.span.start] + finding.fix.text + text[finding.fix.span.end :]
    if mended is not None:
        assert fixed == f'procedure a "A"\n  {mended}\n'
        assert found(fixed) == []


@pytest.mark.parametrize(
    ("line", "rule", "piece"),
    [
        ('note "Arrow up.', "unclosed-quote", "closing quote"),
        ('remove "the cap', "unclosed-quote", "closing quote"),
        ('set dial to 3/8"', "unclosed-quote", "inches"),
        ("remove cap and clean seat", "not-understood", "one action"),
        ("set dial to 9 ±1 N·m", "not-understood", "unit is missing after `9`"),
        ("set dial to 9 N·m ±1", "not-understood", "unit of the tolerance"),
        ("turn dial 2", "not-understood", "not clear what `2` means"),
        ("set dial to 9,5 mm", "not-understood", "decimal is written with a point"),
        ("takes 5", "not-understood", "unit is missing"),
        ("people 1.5", "not-understood", "not a whole number"),
        ("revision A 2026-02-30", "bad-date", "no day 2026-02-30"),
        ('warning "Sharp."', "not-understood", "what the hazard is"),
        ("note", "not-understood", "says nothing"),
        ("section x", "not-understood", "Nothing is indented below"),
        ("parts", "not-understood", "Nothing is indented below"),
        ("remove cap as a as b", "not-understood", "stands twice"),
        ('clip "a.mp4" from 2:00 to 1:00', "not-understood", "ends before it begins"),
        ("author Jo", "not-understood", "After `author` one writes"),
        ("machine", "not-understood", "After `machine` one writes"),
        ("lift limit 25 kg", "not-understood", "`lift limit` cannot stand here"),
        ("model TP-60", "not-understood", "job of a visit"),
        ("do seal-change", "not-understood", "belongs in a visit file"),
        ("remove cap\n  machine a, b", "not-understood", "After `machine` one writes"),
    ],
)
def test_what_is_said_of_other_slips(line: str, rule: str, piece: str) -> None:
    (finding,) = found(f'procedure a "A"\n  {line}\n')
    assert finding[1] == rule
    assert piece in finding[2]


@pytest.mark.parametrize(
    ("block", "line", "piece"),
    [
        ("parts", 'cap "cap" torque 9 N·m', "`torque` says nothing about a part"),
        ("conditions", 'a "A" renew\n      on\n      off', "nothing about a condition"),
        ("parts", 'cap "cap" number 114', "text in quotes"),
        ("parts", 'cap "cap" on a, b', "and no more"),
        ("parts", 'cap "cap" renew renew', "stands twice"),
        ("parts", 'cap "cap" "lid"', "has a text already"),
        ("parts", "vent cap 2 kg", "another word"),
        ("parts", 'with "with"', "cannot be a name"),
        ("parts", 'cap "cap" 2,5 kg', "decimal"),
        ("fasteners", "screw 4 pcs M6×16", "`×`"),
        ("fasteners", "screw 4 M6×16", "`×`"),
        ("fasteners", "screw M6 torque 9", "unit is missing"),
        ("fasteners", "screw M6 holds 9 mm", "names of things"),
        ("energy", 'steam 2 bar "steam"', "kind of energy"),
        ("connections", 'hose "hose"', "kind of connection"),
        ("conditions", 'cock "cock"', "at least two states"),
        ("tools", "keys hex-keys 2,5 mm", "decimal"),
    ],
)
def test_what_is_said_of_things(block: str, line: str, piece: str) -> None:
    (finding,) = found(f'procedure a "A"\n  {block}\n    {line}\n')
    assert piece in finding[2]


@pytest.mark.parametrize(
    "text",
    [
        'procedure a "A"\n  revision A 2026-01-02\n  revision B 2026-01-03\n',
        'procedure a "A"\n  machine b\n  machine c\n',
        'procedure a "A"\n  parts\n    cap "cap" 2 kg\n      3 kg\n',
    ],
)
def test_what_is_said_twice_shows_both_places(text: str) -> None:
    _, (finding,) = parse_text(text, "a.proc")
    (label,) = finding.labels
    assert label.span.end < finding.span.start


@pytest.mark.parametrize("path", TEXTS)
def test_every_finding_says_what_to_try(path: str) -> None:
    """Each line of each file is broken in four ways; nobody is left without advice."""
    lines = TEXTS[path].split("\n")
    for number, line in enumerate(lines):
        words = line.split()
        for broken in (words[1:], words[:-1], [*words, "§"], [*words[:1], ")", *words[1:]]):
            margin = line[: len(line) - len(line.lstrip())]
            text = "\n".join([*lines[:number], margin + " ".join(broken), *lines[number + 1 :]])
            for finding in parse_text(text, "a.proc")[1]:
                assert finding.hint, finding.message
                assert finding.message.endswith(".")


def test_indentation() -> None:
    for text, rule, place in (
        ('  procedure a "A"\n    remove cap\n', "indentation", 1),
        ('procedure a "A"\nremove cap\nremove lid\n', "indentation", 2),
        ('procedure a "A"\n  remove cap\nremove lid\n  remove seat\n', "indentation", 3),
        ('procedure a "A"\n\tremove cap\n\tremove lid\n', "tab-in-indent", 2),
        ('procedure a "A"\n\u00a0\u00a0remove cap\n', "indentation", 2),
        ('procedure a "A"\n  if "x"\n      remove cap\n    remove lid\n', "indentation", 4),
        ('procedure a "A"\n  remove cap\nmachine b "B"\n  wear gloves\n', "not-understood", 3),
    ):
        ((line, got, _),) = found(text)
        assert (line, got) == (place, rule)


COOLER = (
    'procedure a "A"\n  parts\n    elbow "outlet elbow"\n  fasteners\n'
    "    bolt {} holds elbow torque {}\n  {}\n"
)


def told(count: str = "8 × M24×700", torque: str = "80 N·m", step: str = "remove elbow") -> str:
    """Return the one hint about a file with a count, a torque and a step."""
    (finding,) = parse_text(COOLER.format(count, torque, step), "a.proc")[1]
    return finding.hint


def test_a_torque_without_a_unit_before_passes() -> None:
    assert told(torque="110  in 50 %, 100 %") == "Write: 110 N·m"


@pytest.mark.parametrize(
    ("written", "meant"),
    [("ft lbs", "ft-lb"), ("lbs ft", "ft-lb"), ("in lbs", "in-lb"), ("foot pounds", "ft-lb")],
)
def test_pounds_and_feet(written: str, meant: str) -> None:
    assert told(torque=f"80 {written}") == f"Write: {meant}"


def test_a_thing_called_by_its_label() -> None:
    hint = "Did you mean elbow? Names are one word, joined with hyphens: outlet-elbow."
    assert told(step="remove outlet elbow") == hint
    assert "Join a name with hyphens, inlet-elbow" in told(step="remove inlet elbow")


@pytest.mark.parametrize(
    "tool", ["a 36 mm spanner", "36 mm socket", "5 mm hex key", "36 mm ring spanner"]
)
def test_a_tool_named_by_its_size(tool: str) -> None:
    assert told(step=f"slacken bolt with {tool}").startswith("Leave it out.")


@pytest.mark.parametrize("word", ["of", "pcs", "off"])
def test_a_count_in_words(word: str) -> None:
    assert told(count=f"8 {word} M24×700").startswith("Write: 8 × M24×700")


@pytest.mark.parametrize("margin", ["", " ", "   ", "  \u00a0", "    "])
def test_one_message_for_a_line_that_is_indented_oddly(margin: str) -> None:
    text = (
        f'procedure a "A"\n  machine pump\n{margin}revision A 2026-11-02\n'
        '  parts\n    shim "shim"\n  remove shim\n  fit shim\n'
    )
    assert len(found(text)) == 1
