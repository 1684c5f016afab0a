"""The fewest tools, against trying out every set of tools."""

from __future__ import annotations

import time
from itertools import chain, combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.derive.cover import Options, fewest_tools

TOOLS = tuple("abcdefgh")

options = st.lists(
    st.frozensets(st.sampled_from(TOOLS), min_size=1, max_size=3), min_size=1, max_size=4
).map(tuple)


def serves(tools: frozenset[str], needs: list[Options]) -> bool:
    return all(any(option <= tools for option in need) for need in needs)


def smallest(needs: list[Options], fixed: frozenset[str]) -> int:
    """Return the size of the smallest set by trying out all 256."""
    every = chain.from_iterable(combinations(TOOLS, n) for n in range(len(TOOLS) + 1))
    return min(len(s) for t in every if fixed <= (s := frozenset(t)) and serves(s, needs))


@settings(max_examples=400)
@given(st.lists(options, max_size=7), st.frozensets(st.sampled_from(TOOLS), max_size=2))
def test_no_set_of_tools_is_smaller(needs: list[Options], fixed: frozenset[str]) -> None:
    found = fewest_tools(needs, TOOLS, fixed)
    assert serves(found, needs)
    assert fixed <= found
    assert len(found) == smallest(needs, fixed)


@given(st.lists(options, max_size=6))
def test_the_order_of_needs_does_not_matter(needs: list[Options]) -> None:
    turned = list(reversed(needs))
    assert fewest_tools(needs, TOOLS) == fewest_tools(turned, TOOLS)


def test_of_two_equal_choices_the_tool_listed_first_is_taken() -> None:
    needs: list[Options] = [(frozenset("b"), frozenset("a"))]
    assert fewest_tools(needs, ("a", "b")) == {"a"}
    assert fewest_tools(needs, ("b", "a")) == {"b"}


def test_a_large_crib_is_quick() -> None:
    """Sixty needs, each served by any of five out of two hundred tools."""
    tools = [f"t{n:03d}" for n in range(200)]
    needs: list[Options] = [
        tuple(frozenset((tools[(n * 7 + k * 31) % 200], tools[(n + k) % 9])) for k in range(5))
        for n in range(60)
    ]
    start = time.perf_counter()
    found = fewest_tools(needs, tools)
    assert time.perf_counter() - start < 10
    assert serves(found, needs)


def test_a_need_that_nothing_serves_is_passed_over() -> None:
    assert fewest_tools([(), (frozenset("a"),)], TOOLS) == {"a"}
