"""Findings are told in the order of their places and once; a slip gets the name that was meant."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.findings.model import Finding, Label, is_error, sort_and_dedupe
from compiler.findings.near import suggest
from compiler.findings.registry import RENAMED, RULES, Severity, nearest_rule, rule_of
from compiler.source import Span


def finding(file: str = "a.proc", start: int = 0, rule: str = "unknown-name") -> Finding:
    return Finding(rule, Span(file, start, start + 3), "Nothing is called lod here.")


def test_findings_come_by_file_and_place() -> None:
    mixed = [finding("b.proc", 2), finding("a.proc", 9), finding("a.proc", 1)]
    places = [(f.span.file, f.span.start) for f in sort_and_dedupe(mixed)]
    assert places == [("a.proc", 1), ("a.proc", 9), ("b.proc", 2)]


def test_the_same_finding_is_told_once_and_a_different_one_at_its_place_too() -> None:
    found = sort_and_dedupe([finding(), finding(rule="bad-date"), finding()])
    assert [f.rule for f in found] == ["bad-date", "unknown-name"]


@given(
    st.lists(
        st.builds(
            finding,
            st.sampled_from(["a.proc", "b/c.proc"]),
            st.integers(0, 5),
            st.sampled_from(list(RULES)),
        )
    )
)
def test_the_order_they_were_found_in_does_not_matter(found: list[Finding]) -> None:
    assert sort_and_dedupe(found[::-1]) == sort_and_dedupe(found)
    assert set(sort_and_dedupe(found)) == set(found)


def test_the_weight_stands_with_the_rule() -> None:
    assert is_error(finding())
    assert not is_error(finding(rule="vague-words"))
    assert {rule.severity for rule in RULES.values()} == {Severity.ERROR, Severity.WARNING}


def test_old_names_of_rules_lead_to_new_ones() -> None:
    assert set(RENAMED.values()) <= set(RULES)
    assert not set(RENAMED) & set(RULES)
    assert rule_of("bad-date") is RULES["bad-date"]
    with pytest.raises(KeyError):
        rule_of("no-such-rule")


@pytest.mark.parametrize("name", RULES)
def test_each_rule_says_in_a_line_what_it_means(name: str) -> None:
    rule = RULES[name]
    assert rule.name == name
    assert rule.meaning[0].islower()
    assert not rule.meaning.endswith(".")
    assert len(rule.meaning) < 80


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("gaurd", "guard"),
        ("coupling_guard", "coupling-guard"),
        ("Guard", "guard"),
        ("couplingguard", "coupling-guard"),
        ("xyz", None),
        ("guard", None),
        ("", None),
    ],
)
def test_the_nearest_name_is_offered_or_none(word: str, meant: str | None) -> None:
    assert suggest(word, ["guard", "coupling-guard", "seal"]) == meant


@given(st.text(max_size=12), st.sets(st.text(max_size=12), max_size=6))
def test_what_is_offered_is_there_and_is_not_the_word_itself(word: str, known: set[str]) -> None:
    offered = suggest(word, known)
    assert offered is None or (offered in known and offered != word)


def test_a_misspelt_rule_is_found() -> None:
    assert nearest_rule("missing_torque") == "missing-torque"
    assert nearest_rule("unused-names") == "unused-name"


def test_a_label_is_a_place_with_words() -> None:
    place = Span("a.proc", 0, 3)
    labelled = Finding("bad-date", place, "No day.", (Label(place, "here"),))
    assert labelled.labels[0].span == place
