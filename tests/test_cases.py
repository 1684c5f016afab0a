"""Each case is found exactly where its lines are marked, and reads as it was read and agreed.

`tests/cases/RULE/` holds the cases of a rule: `fails-*` must be found, `ok-*` must be silent. A
case is a file (several files in one text with `## file: NAME` lines) or, where bytes or pictures
are needed, a folder. The line a finding must start in ends with `# error: RULE`; for files that
cannot hold a comment, `marks.txt` in the folder says `PATH:LINE error: RULE`.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from case_support import Checked, Place, check_folder, check_texts, marks, mended, parts

from compiler.findings.registry import RULES

CASES = Path(__file__).resolve().parent / "cases"
_PLACE = re.compile(r"(.+):(\d+) ((?:error|warning): [a-z-]+)")


def _cases(kind: str) -> list[Path]:
    """Return the cases whose name begins with `kind`."""
    return sorted(
        path
        for folder in CASES.iterdir()
        for path in folder.iterdir()
        if path.name.startswith(kind) and (path.is_dir() or path.suffix == ".proc")
    )


def _name(case: Path) -> str:
    return f"{case.parent.name}/{case.stem}"


def _check(case: Path) -> tuple[Checked, list[Place]]:
    """Compile a case; return what was found and what its marks say."""
    if case.is_dir():
        checked = check_folder(case)
        listed = case / "marks.txt"
        lines = listed.read_text(encoding="utf-8").splitlines() if listed.exists() else []
        said = [(m[1], int(m[2]), m[3]) for line in lines if (m := _PLACE.fullmatch(line))]
        assert len(said) == len(lines), f"{listed} has a line that is no mark"
        return checked, sorted((*marks(checked.texts), *said))
    text = case.read_bytes().decode("utf-8")
    texts = parts(text, case.name)
    return check_texts(texts), marks(texts)


FAILING, SILENT = _cases("fails-"), _cases("ok-")


@pytest.mark.parametrize("case", FAILING, ids=_name)
def test_found_where_the_lines_are_marked(case: Path) -> None:
    checked, expected = _check(case)
    assert checked.found() == expected
    assert any(rule.endswith(f": {case.parent.name}") for _, _, rule in expected)


@pytest.mark.parametrize("case", FAILING, ids=_name)
def test_reads_as_agreed(case: Path, accept: bool) -> None:
    stored = case.with_suffix(".out")
    rendered = _check(case)[0].rendered()
    if accept:
        stored.write_text(rendered, encoding="utf-8", newline="")
    assert stored.exists(), "read what it says, then store it: pytest tests/test_cases.py --accept"
    assert rendered == stored.read_bytes().decode("utf-8")


@pytest.mark.parametrize("case", FAILING, ids=_name)
def test_each_finding_says_what_to_do(case: Path) -> None:
    for finding in _check(case)[0].findings:
        assert finding.hint, finding.message
        assert finding.message.endswith((".", "?")), finding.message


@pytest.mark.parametrize("case", FAILING, ids=_name)
def test_an_offered_change_mends_what_was_found(case: Path) -> None:
    checked, _ = _check(case)
    for finding in checked.findings:
        if finding.fix is not None and not case.is_dir():
            after = mended(checked, finding)
            same = [f for f in after.findings if f.message == finding.message]
            before = [f for f in checked.findings if f.message == finding.message]
            assert len(same) < len(before), finding.message


@pytest.mark.parametrize("case", SILENT, ids=_name)
def test_silent(case: Path) -> None:
    checked, expected = _check(case)
    assert expected == []
    assert checked.rendered() == ""


@pytest.mark.parametrize("rule", RULES)
def test_each_rule_has_cases_of_both_kinds(rule: str) -> None:
    for cases in (FAILING, SILENT):
        assert sum(case.parent.name == rule for case in cases) >= 2


def test_no_case_without_a_rule_and_no_stored_text_without_a_case() -> None:
    assert {folder.name for folder in CASES.iterdir()} <= set(RULES)
    stored = {path.with_suffix("") for path in CASES.glob("*/*.out")}
    assert stored == {case.with_suffix("") for case in FAILING}
