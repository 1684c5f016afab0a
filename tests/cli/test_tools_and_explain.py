"""`tools` and `explain`: answers, and what is said when there is none."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cli.cli_support import Run, broken, clean, put
from compiler.findings.registry import RULES

MODELS = """\
machine press "Press"
  models P-1, P-2
  parts
    lid "lid" 2 kg
    seal[1..2] "lid seal" behind lid renew
  fasteners
    lid-screw 4 × M6×16 ISO 4762 8.8 holds lid torque 9 N·m
      for P-2 torque 10 N·m
"""
LID = """\
procedure lid-seals "Change the lid seals"
  machine press
  revision A 2026-11-02
  section open "Open"
    remove lid
  replace seal
  refit open
  only for P-2
    clean "the second rim" with cloth
  consumables
    cloth "lint-free cloth"
"""


def test_what_a_procedure_needs_and_why(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", clean())
    ran = run("tools", "vent-cap")
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[:3] == ["Refit the vent cap  (vent-cap)", "", "Tools"]
    key = next(n for n, line in enumerate(lines) if "3 mm hex" in line)
    assert "tightens screw to 4 N·m (step 3)" in lines[key + 1]
    assert run("tools", "vent-cap.proc").out == ran.out
    assert run("tools", tmp_path / "vent-cap.proc").out == ran.out
    assert run("tools", "vent-cap", "--folder", tmp_path).out == ran.out


def test_for_one_model(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "press.proc", MODELS)
    put(tmp_path, "lid-seals.proc", LID)
    assert run("check").code == 0
    assert "lint-free cloth: as needed  (only P-2)" in run("tools", "lid-seals").out
    first = run("tools", "lid-seals", "--model", "P-1").out
    assert "9 N·m" in first
    assert "cloth" not in first
    second = run("tools", "lid-seals", "--model", "P-2").out
    assert "10 N·m" in second
    assert "cloth" in second
    assert "lid seal: 2" in second
    ran = run("tools", "lid-seals", "--model", "P-3")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "lid-seals knows no model 'P-3'; it has P-1, P-2.\n"


def test_what_only_some_ways_need_says_so_once(run: Run, tmp_path: Path) -> None:
    put(
        tmp_path,
        "lid-look.proc",
        """\
procedure lid-look "Look at the lid"
  revision A 2026-11-02
  consumables
    cloth "lint-free cloth"
  ask worn "Is the lid worn?"
  if worn is yes
    clean "the rim" with cloth
""",
    )
    (line,) = [x for x in run("tools", "lid-look").out.splitlines() if "cloth" in x and ":" in x]
    assert line.startswith("  lint-free cloth: as needed  only if ")
    assert line.count("only if") == 1


def test_json_of_tools(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", clean())
    ran = run("tools", "vent-cap", "--format", "json")
    found = json.loads(ran.out)
    assert found["procedure"] == "vent-cap"
    assert [t["text"] for t in found["tools"] if "hex" in t["text"]]
    assert all(tool["whys"] for tool in found["tools"])
    assert found["supplies"] == []


def test_a_visit(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", clean())
    put(tmp_path, "spring.proc", 'visit spring "Spring"\n  do vent-cap\n')
    ran = run("tools", "spring")
    assert ran.code == 0
    assert "tightens screw to 4 N·m (step 1: 3)" in ran.out
    assert json.loads(run("tools", "spring", "--format", "json").out)["visit"] == "spring"
    assert run("tools", "spring", "--model", "P-1").code == 2


def test_what_there_is_no_answer_to(run: Run, tmp_path: Path) -> None:
    ran = run("tools", "vent-cap")
    assert (ran.code, ran.out) == (2, "")
    put(tmp_path, "vent-cap.proc", clean())
    ran = run("tools", "ventcap")
    assert (ran.code, ran.out) == (2, "")
    assert "Did you mean vent-cap?" in ran.err
    assert "There are: vent-cap." in run("tools", "something-else").err
    assert run("tools", "vent-cap", "--folder", "nowhere").code == 2
    put(tmp_path, "vent-cap.proc", broken())
    ran = run("tools", "vent-cap")
    assert ran.code == 1
    assert "[unknown-name]" in ran.out


@pytest.mark.parametrize("name", sorted(RULES))
def test_every_rule_is_explained(run: Run, name: str) -> None:
    ran = run("explain", name)
    assert (ran.code, ran.err) == (0, "")
    assert len(ran.out.splitlines()) > 5


def test_the_list_of_all_rules(run: Run) -> None:
    ran = run("explain")
    assert ran.code == 0
    assert [line.split()[0] for line in ran.out.splitlines()] == list(RULES)


def test_an_unknown_rule(run: Run) -> None:
    ran = run("explain", "unknwon-name")
    assert (ran.code, ran.out) == (2, "")
    assert "Did you mean unknown-name?" in ran.err
    assert "lists them all" in run("explain", "zzz").err
    for odd in ("../model", "a\0b", "", "x" * 9000):
        assert run("explain", "--", odd).code in (0, 2)
