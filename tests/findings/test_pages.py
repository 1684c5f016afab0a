"""Every rule has its page, and the examples of a page show that rule and nothing else."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest
from case_support import ON_DISK, check_texts, parts, rules_of

from compiler.findings.pages import explain
from compiler.findings.registry import RULES, Severity

_FENCE = re.compile(r"^```(\S*) ?(\S*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)

WITHOUT_EXAMPLE = ON_DISK | {"file-too-large"}
"""Rules that a few lines of text cannot show: files on the disk, and one that fills the page."""


def examples(kind: str) -> list[tuple[str, str]]:
    """Return rule and text of each example of a kind, `fails` or `passes`."""
    found = [(rule, *fence) for rule in RULES for fence in _FENCE.findall(explain(rule) or "")]
    assert {(language, said) for _, language, said, _ in found} == {
        ("proc", "fails"),
        ("proc", "passes"),
    }
    return [(rule, text) for rule, _, said, text in found if said == kind]


@pytest.mark.parametrize("rule", RULES)
def test_each_rule_has_a_page_that_fits_a_screen(rule: str) -> None:
    page = explain(rule)
    assert page is not None
    lines = page.splitlines()
    assert lines[0] == f"# {rule}"
    assert 15 <= len(lines) <= 46
    assert max(map(len, lines)) <= 100
    weighs = "An error: " if RULES[rule].severity is Severity.ERROR else "A warning: "
    assert sum(line.startswith(weighs) for line in lines[:6]) == 1
    for part in ("Why it matters:", "Silent on purpose:", "What to do:"):
        assert sum(line.startswith(part) for line in lines) == 1


def test_no_page_without_a_rule() -> None:
    pages = {page.name for page in files("compiler.findings").joinpath("pages").iterdir()}
    assert pages == {f"{rule}.md" for rule in RULES}


def test_each_page_has_an_example_of_both_kinds_where_text_can_show_it() -> None:
    for kind in ("fails", "passes"):
        assert {rule for rule, _ in examples(kind)} == set(RULES) - WITHOUT_EXAMPLE
    for rule in WITHOUT_EXAMPLE:
        assert "No example here:" in (explain(rule) or "")


@pytest.mark.parametrize(("rule", "text"), examples("fails"))
def test_what_is_said_to_fail_fails_by_this_rule_alone(rule: str, text: str) -> None:
    found = rules_of(check_texts(parts(text, "example.proc")).findings)
    assert set(found) == {rule}


@pytest.mark.parametrize(("rule", "text"), examples("passes"))
def test_what_is_said_to_pass_passes(rule: str, text: str) -> None:
    checked = check_texts(parts(text, "example.proc"))
    assert checked.rendered() == "", rule


def test_a_name_that_is_no_rule_has_no_page() -> None:
    assert explain("no-such-rule") is None
    assert explain("../registry") is None
