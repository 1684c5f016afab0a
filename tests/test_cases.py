"""Each case is found exactly where its lines are marked, and reads as it was read and agreed.

`tests/cases/RULE/` holds the cases of a rule: `fails-*` must be found, `ok-*` must be silent. A
case is a file (several files in one text with `## file: NAME` lines) or, where bytes or pictures
are needed, a folder; `made_cases.py` makes what no checkout can hold. The line a finding must start
in ends with `# error: RULE`; for files that cannot hold a comment, `marks.txt` in the folder says
`PATH:LINE error: RULE`. `pytest tests/test_cases.py --accept` stores what is rendered.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from case_support import Checked, Place, check_folder, check_texts, marks, mended, parts
from made_cases import MADE, MADE_MARKS

from compiler.findings.registry import RULES

CASES = Path(__file__).resolve().parent / "cases"
_PLACE = re.compile(r"(.+):(\d+) ((?:error|warning): [a-z-]+)")


def _cases(kind: str) -> list[str]:
    """Return rule and name of the cases whose name begins with `kind`."""
    kept = {
        f"{path.parent.name}/{path.stem}"
        for path in CASES.glob(f"*/{kind}*")
        if path.is_dir() or path.suffix == ".proc"
    }
    return sorted(kept | {name for name in MADE if name.partition("/")[2].startswith(kind)})


def _check(name: str, made: Path) -> tuple[Checked, list[Place]]:
    """Compile a case; return what was found and what its marks say."""
    if name in MADE:
        MADE[name](made)
        return check_folder(made), list(MADE_MARKS.get(name, ()))
    case = CASES / name
    if case.is_dir():
        checked = check_folder(case)
        listed = case / "marks.txt"
        lines = listed.read_text(encoding="utf-8").splitlines() if listed.exists() else []
        said = [(m[1], int(m[2]), m[3]) for line in lines if (m := _PLACE.fullmatch(line))]
        assert len(said) == len(lines), f"{listed} has a line that is no mark"
        return checked, sorted((*marks(checked.texts), *said))
    file = case.with_name(f"{case.name}.proc")
    texts = parts(file.read_bytes().decode("utf-8"), file.name)
    return check_texts(texts), marks(texts)


FAILING, SILENT = _cases("fails-"), _cases("ok-")


@pytest.mark.parametrize("case", FAILING)
def test_found_where_the_lines_are_marked(case: str, tmp_path: Path) -> None:
    checked, expected = _check(case, tmp_path)
    assert checked.found() == expected
    assert any(weight.endswith(f": {case.partition('/')[0]}") for _, _, weight in expected)


@pytest.mark.parametrize("case", FAILING)
def test_reads_as_agreed(case: str, accept: bool, tmp_path: Path) -> None:
    stored = CASES / f"{case}.out"
    rendered = _check(case, tmp_path)[0].rendered()
    if accept:
        stored.parent.mkdir(exist_ok=True)
        stored.write_text(rendered, encoding="utf-8", newline="")
    assert stored.exists(), "read what it says, then store it: pytest tests/test_cases.py --accept"
    assert rendered == stored.read_bytes().decode("utf-8")


@pytest.mark.parametrize("case", FAILING)
def test_each_finding_says_what_to_do(case: str, tmp_path: Path) -> None:
    for finding in _check(case, tmp_path)[0].findings:
        assert finding.hint, finding.message
        assert finding.message.endswith((".", "?")), finding.message


@pytest.mark.parametrize("case", FAILING)
def test_an_offered_change_mends_what_was_found(case: str, tmp_path: Path) -> None:
    checked, _ = _check(case, tmp_path)
    before = [finding.message for finding in checked.findings]
    for finding in checked.findings:
        if finding.fix is not None and not (CASES / case).is_dir():
            after = [f.message for f in mended(checked, finding).findings]
            assert after.count(finding.message) < before.count(finding.message)


@pytest.mark.parametrize("case", SILENT)
def test_silent(case: str, tmp_path: Path) -> None:
    checked, expected = _check(case, tmp_path)
    assert expected == []
    assert checked.rendered() == ""


@pytest.mark.parametrize("rule", RULES)
def test_each_rule_has_cases_of_both_kinds(rule: str) -> None:
    for cases in (FAILING, SILENT):
        assert sum(case.startswith(f"{rule}/") for case in cases) >= 2


def test_no_case_without_a_rule_and_no_stored_text_without_a_case() -> None:
    assert {folder.name for folder in CASES.iterdir()} <= set(RULES)
    stored = {f"{path.parent.name}/{path.stem}" for path in CASES.glob("*/*.out")}
    assert stored == set(FAILING)
