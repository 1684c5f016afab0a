"""Realistic mistakes, seeded one at a time into correct procedures, are found, named and placed."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from case_support import check_texts, rules_of
from seed_machines import make
from seed_report import GAPS
from seed_run import KINDS, Result, Seeds, find, generated, run_folder, title_of, together

HERE = Path(__file__).resolve().parent
SAMPLE = (1, 2, 3, 26)
"""Four machines of the first thirty that between them have the most that can go wrong."""


@cache
def _sample() -> Result:
    return together(run_folder(texts, 1) for texts in generated(SAMPLE))


@pytest.mark.parametrize("number", range(100, 112))
def test_nothing_is_found_in_a_correct_original(number: int) -> None:
    made = make(number)
    assert find(made.texts, made.pictures) == []


def test_nothing_is_found_in_the_originals_of_the_sample() -> None:
    assert _sample().clean == []


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_each_seeded_defect_is_found_with_its_rule_at_its_place(kind: Seeds) -> None:
    tally = _sample().tallies[title_of(kind)]
    if kind.__name__ not in GAPS:
        assert tally.missed == []
        assert tally.right_place == tally.seeded


def test_the_sample_has_nearly_all_kinds() -> None:
    seeded = [title for title, tally in _sample().tallies.items() if tally.seeded]
    assert len(seeded) >= len(KINDS) - 5


def test_the_same_number_gives_the_same_machine_and_others_differ() -> None:
    assert make(7) == make(7)
    assert len({tuple(make(number).texts.items()) for number in range(60)}) == 60


def test_the_report_has_the_kinds_of_today_and_clean_originals() -> None:
    text = (HERE / "REPORT.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([^|*]+?) \| (\d+) \| (\d+) \| (\d+) \| (\d+) \|$", text, re.MULTILINE)
    assert [row[0] for row in rows] == [title_of(kind) for kind in KINDS]
    assert "Findings in them: 0." in text
    short = {row[0] for row in rows if row[1] != row[3]}
    assert short <= {title_of(kind) for kind in KINDS if kind.__name__ in GAPS}


def test_on_the_bench_too_the_seat_lies_behind_the_seal() -> None:
    text = (
        'procedure p "P"\n  revision A 2026-10-05\n  parts\n    unit "unit"\n'
        '    seal "seal"  on unit\n    seat "seat"  on unit  behind seal\n'
        "  remove unit\n  {}\n  {}\n  refit everything\n"
    )
    wrong = check_texts({"p.proc": text.format("remove seat", "remove seal")})
    assert set(rules_of(wrong.findings)) == {"in-the-way"}
    assert check_texts({"p.proc": text.format("remove seal", "remove seat")}).findings == ()


def test_a_single_use_part_called_old_is_found_though_it_was_off_at_the_start() -> None:
    text = (
        'procedure p "P"\n  revision A 2026-10-05\n  starts with ring off\n  parts\n'
        '    ring "ring"  renew\n  fit {} ring\n'
    )
    assert rules_of(check_texts({"p.proc": text.format("old")}).findings) == ["used-again"]
    assert check_texts({"p.proc": text.format("new")}).findings == ()
