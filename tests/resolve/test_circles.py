"""Circles among names."""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter

from hypothesis import given
from hypothesis import strategies as st

from compiler.resolve.circles import circles

GRAPHS = st.dictionaries(
    st.sampled_from("abcdef"), st.lists(st.sampled_from("abcdef"), max_size=4), max_size=6
)


@given(GRAPHS)
def test_circles_are_found_exactly_where_there_are_some(arrows: dict[str, list[str]]) -> None:
    """The standard library's sorter is the yardstick."""
    try:
        TopologicalSorter(arrows).prepare()
        expected = False
    except CycleError:
        expected = True
    assert bool(circles(arrows)) is expected


@given(GRAPHS)
def test_each_circle_is_one(arrows: dict[str, list[str]]) -> None:
    for circle in circles(arrows):
        for name, following in zip(circle, (*circle[1:], circle[0]), strict=True):
            assert following in arrows[name]


def test_a_circle_starts_with_its_first_name() -> None:
    assert circles({"c": ["a"], "a": ["b"], "b": ["c"]}) == [("a", "b", "c")]
    assert circles({"a": ["a"]}) == [("a",)]


def test_a_long_chain_is_no_fault() -> None:
    chain = {str(n): [str(n + 1)] for n in range(20_000)}
    assert circles(chain) == []
