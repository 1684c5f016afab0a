"""A slip costs its own line and block: the rest is read, and each slip is told once."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from parse_support import demo_files, found, language_examples, line

from compiler import syntax as s
from compiler.parse import parse_text

GARBLED = [
    "remove cap cap cap",
    ")",
    "remove [",
    "if",
    "repeat for each",
    "measure 3",
    "section 3",
    'warning "a" "b"',
    "revision",
    "remove cap §",
    "follow",
    "fit cap takes",
]


@pytest.mark.parametrize("bad", GARBLED)
def test_a_line_that_cannot_be_read_is_told_once(bad: str) -> None:
    below = "    remove below\n      remove deeper\n"
    text = f'procedure a "A"\n  remove one\n  {bad}\n{below}  remove two\n'
    findings = found(text)
    assert [place for place, _, _ in findings] == [3], findings
    file, _ = parse_text(text, "a.proc")
    assert file is not None
    verbs = [x.targets[0].name.text for x in file.body if isinstance(x, s.Action)]  # type: ignore[union-attr]
    assert verbs == ["one", "two"]


@given(st.lists(st.sampled_from([*GARBLED, "remove cap", "fit cap", 'note "Well."']), max_size=40))
def test_as_many_findings_as_slips_each_on_its_line(lines: list[str]) -> None:
    text = "\n".join(['procedure a "A"', *(f"  {text}" for text in lines)]) + "\n"
    expected = [number for number, text in enumerate(lines, 2) if text in GARBLED]
    assert [place for place, _, _ in found(text)] == expected


def test_slips_in_all_kinds_of_blocks() -> None:
    text = """machine a "A"
  energy
    supply electrical electrical "b"
    steam steam 2 bar
      isolate the valve
      verify "gauge reads zero"
  conditions
    cock "cock"
      shut by
      open by "turn it"
  parts
    cap "cap" 1 kg behind
    lid "lid" behind cap
      renew renew
  fasteners
    screw 4 × M6 holds cap torque
    nut M6 holds lid
      stack
        washer 2 mm )
        shim "shim" 0..4 ×
  block b "B"
    remove cap cap
    remove lid
"""
    assert [place for place, _, _ in found(text)] == [3, 5, 9, 12, 14, 16, 19, 22]


def test_the_words_of_lost_lines_are_kept() -> None:
    text = 'procedure a "A"\n  parts\n    spacer "s" 3 ? 4\n      note "x"\n  remove spacer\n'
    file, findings = parse_text(text, "a.proc")
    assert file is not None
    assert len(findings) == 1
    assert "spacer" in file.lost_words
    assert file.things == ()


def test_what_hangs_on_a_lost_if_is_not_told_again() -> None:
    text = (
        'procedure a "A"\n  if gap gap\n    remove one\n  otherwise if x y\n    remove two\n'
        "  otherwise\n    remove three\n  remove four\n"
    )
    assert [place for place, _, _ in found(text)] == [2]


def test_an_orphaned_otherwise_is_told() -> None:
    assert [p for p, _, _ in found('procedure a "A"\n  otherwise\n    remove cap\n')] == [2]


def test_a_misspelt_block_is_told_at_its_own_line_once() -> None:
    text = 'procedure a "A"\n  fastners\n    screw 4 × M6\n    nut M6\n  remove cap\n'
    ((place, _, message),) = found(text)
    assert place == 2
    assert "fastners" in message


def test_nothing_can_stand_below_some_lines() -> None:
    text = (
        'procedure a "A"\n  revision A 2026-01-02\n    remove cap\n    remove lid\n  remove seat\n'
    )
    ((place, _, message),) = found(text)
    assert place == 3
    assert "revision A 2026-01-02" in message


def test_what_is_missing_is_not_told_where_lines_were_lost() -> None:
    text = 'machine a "A"\n  conditions\n    cock "cock"\n      shut by\n      open\n'
    assert [place for place, _, _ in found(text)] == [4]


def test_the_first_line() -> None:
    for first in ("", "cap", "Procedure a", '"text"', "procedure", "procedure 3", "§§§", "-"):
        text = f"{first}\n  remove cap cap\n  remove lid\n"
        findings = found(text)
        if first:
            assert [place for place, _, _ in findings] == [1, 2], (first, findings)
        else:
            # Then the next line is the first, and it is indented.
            assert findings[0][0] == 2
    _, findings_of_nothing = parse_text("", "a.proc")
    (finding,) = findings_of_nothing
    assert "procedure vent-cap" in finding.hint


def test_a_file_whose_first_line_is_half_read_keeps_its_name() -> None:
    file, _ = parse_text("machine pump Transfer pump\n  wear gloves\n", "a.proc")
    assert file is not None
    assert (file.kind, file.name.text, len(file.attachments)) == ("machine", "pump", 1)


def test_a_slip_on_each_line_of_a_real_file() -> None:
    """Break each line of each example in turn: never more than two findings come of one slip."""
    for path, text in language_examples().items():
        lines = text.split("\n")
        for number, old in enumerate(lines):
            if number == 0 or not old.strip() or old.lstrip().startswith("#"):
                continue
            broken = [*lines]
            broken[number] = f"{old.split('#')[0].rstrip()} ) )"
            places = [place for place, _, _ in found("\n".join(broken))]
            assert places == [number + 1], (path, broken[number])


def test_many_slips_end_with_a_word_about_the_rest() -> None:
    text = 'procedure a "A"\n' + "  remove cap cap\n" * 400
    findings = found(text)
    assert len(findings) == 51
    assert "rest" in findings[-1][2]


def test_findings_are_in_the_order_of_the_file() -> None:
    for text in demo_files().values():
        broken = text.replace("remove", "remove ) ").replace('"', "", 3)
        _, findings = parse_text(broken, "a.proc")
        starts = [finding.span.start for finding in findings]
        assert starts == sorted(starts)
        assert line(broken, findings[-1].span) >= 1 if findings else True
