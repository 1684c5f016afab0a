"""Tightening orders against ASME PCC-1, and what every such order must be."""

from __future__ import annotations

import itertools
import math
import random
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.trade.patterns import (
    circular_order,
    crosswise_order,
    grid_places,
    middle_order,
    positions,
    star_order,
)

PCC_1 = {
    4: "1 3 2 4",
    8: "1 5 3 7 2 6 4 8",
    12: "1 7 4 10 2 8 5 11 3 9 6 12",
    16: "1 9 5 13 3 11 7 15 2 10 6 14 4 12 8 16",
    20: "1 11 6 16 3 13 8 18 5 15 10 20 2 12 7 17 4 14 9 19",
    24: "1 13 7 19 4 16 10 22 2 14 8 20 5 17 11 23 3 15 9 21 6 18 12 24",
}


@pytest.mark.parametrize("count", sorted(PCC_1))
def test_legacy_cross_pattern(count: int) -> None:
    """ASME PCC-1, legacy cross pattern: 8, 12, 16, 24 bolts R2; 4 and 20 M."""
    assert star_order(count) == tuple(int(bolt) for bolt in PCC_1[count].split())


def test_five_bolts() -> None:
    """General workshop advice (R2); odd counts are outside PCC-1."""
    assert star_order(5) == (1, 3, 5, 2, 4)


def test_few_bolts() -> None:
    """There is no choice with up to three."""
    assert [star_order(n) for n in (0, 1, 2, 3)] == [(), (1,), (1, 2), (1, 2, 3)]


@given(st.integers(1, 200))
def test_every_bolt_has_its_turn_once(count: int) -> None:
    """What every order is, whatever its source: a permutation."""
    assert sorted(star_order(count)) == list(range(1, count + 1))
    assert sorted(circular_order(count)) == list(range(1, count + 1))


@given(st.integers(6, 200))
def test_the_next_bolt_is_never_the_neighbour(count: int) -> None:
    """What makes a cross pattern one (ASME PCC-1, R2), also for counts that it does not list."""
    order = star_order(count)
    for one, other in itertools.pairwise(order):
        assert (one - other) % count not in (1, count - 1)


@given(st.integers(4, 200).filter(lambda count: count % 2 == 0))
def test_even_counts_go_to_the_opposite_bolt(count: int) -> None:
    """What the published rows have in common, kept in our own."""
    order = star_order(count)
    for one, other in zip(order[::2], order[1::2], strict=True):
        assert other - one == count // 2


@given(st.integers(1, 50).map(lambda quarter: 4 * quarter))
def test_the_first_four_surround_the_middle(count: int) -> None:
    """A seat that is pulled down on one side only tips: no gap of half a turn after four bolts."""
    first = sorted(star_order(count)[:4])
    gaps = {(b - a) % count for a, b in zip(first, [*first[1:], first[0]], strict=True)}
    assert gaps == {count // 4}


def test_a_circle_is_numbered_clockwise_from_the_top() -> None:
    """ASME PCC-1 (R2): clockwise from 12 o'clock."""
    assert positions("circle", 4) == ((0.5, 0.0), (1.0, 0.5), (0.5, 1.0), (0.0, 0.5))
    for x, y in positions("circle", 7):
        assert math.hypot(x - 0.5, y - 0.5) == pytest.approx(0.5, abs=1e-5)


def test_a_rectangle_is_numbered_clockwise_from_the_top_left() -> None:
    """Our own rule: the outline first, then what is inside."""
    assert positions("rectangle", 4, 2, 2) == ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    nine = positions("rectangle", 9, 3, 3)
    assert nine[:3] == ((0.0, 0.0), (0.5, 0.0), (1.0, 0.0))
    assert nine[-1] == (0.5, 0.5)
    assert positions("rectangle", 8, 3, 3) == nine[:8]


@given(
    st.sampled_from(("circle", "rectangle")),
    st.integers(0, 64),
    st.integers(0, 9),
    st.integers(0, 9),
)
def test_every_bolt_has_a_place_of_its_own(
    layout: Literal["circle", "rectangle"], count: int, rows: int, columns: int
) -> None:
    """Nothing outside: two bolts drawn on one spot could not be told apart."""
    places = positions(layout, count, rows, columns)
    assert len(places) == len(set(places)) == count
    assert all(0 <= x <= 1 and 0 <= y <= 1 for x, y in places)


@given(st.integers(3, 99).filter(lambda count: count % 2 == 1))
def test_odd_counts_go_almost_half_round_each_time(count: int) -> None:
    """General workshop advice for 5 (R2): every step is the same, as far off as one can go."""
    order = star_order(count)
    steps = {(other - one) % count for one, other in itertools.pairwise(order)}
    assert steps == {(count - 1) // 2}


@given(st.integers(6, 32))
def test_the_next_bolt_is_far_from_the_last(count: int) -> None:
    """Within a crosswise four, or a pair, each step is a quarter turn or more."""
    order = star_order(count)
    whole = 4 if count % 4 == 0 else 2 if count % 2 == 0 else count
    for at, (one, other) in enumerate(itertools.pairwise(order), 1):
        apart = min((one - other) % count, (other - one) % count)
        if at % whole:
            assert apart >= count // 4
        else:
            assert apart >= 2


GRIDS = st.tuples(st.integers(1, 8), st.integers(1, 8)).filter(lambda grid: grid[0] * grid[1] > 2)


@given(GRIDS)
def test_from_the_middle_outwards(grid: tuple[int, int]) -> None:
    """Covers and heads (common practice, no source): never a bolt nearer than those before it."""
    places = grid_places(*grid)
    order = middle_order(places)
    assert sorted(order) == list(range(1, len(places) + 1))
    middle = ((grid[1] - 1) / 2, (grid[0] - 1) / 2)
    far = [round(math.dist(places[bolt - 1], middle), 6) for bolt in order]
    assert far == sorted(far)


@given(GRIDS)
def test_from_the_middle_each_bolt_is_followed_by_the_opposite_one(grid: tuple[int, int]) -> None:
    places = grid_places(*grid)
    order = list(middle_order(places))
    if len(order) % 2:
        order.pop(0)  # the one in the middle has none
    for one, other in zip(order[::2], order[1::2], strict=True):
        (x1, y1), (x2, y2) = places[one - 1], places[other - 1]
        assert (x1 + x2, y1 + y2) == (grid[1] - 1, grid[0] - 1)


def test_a_long_cover_begins_in_the_middle() -> None:
    """Ten bolts of a head in two rows (common practice, no source): the middle pair first."""
    assert middle_order(grid_places(2, 5))[:2] == (3, 8)
    assert set(middle_order(grid_places(2, 5))[-4:]) == {1, 5, 6, 10}


def test_a_four_corner_cover_from_the_middle_is_a_star() -> None:
    assert middle_order(grid_places(2, 2)) == (2, 4, 3, 1)


@given(st.integers(3, 32), st.randoms(use_true_random=False))
def test_given_places_on_a_circle_make_the_star_of_the_circle(
    count: int, chance: random.Random
) -> None:
    """However an author numbers them, the hand goes the same way round the joint."""
    places = positions("circle", count)
    at = list(range(count))
    chance.shuffle(at)
    order = crosswise_order(tuple(places[n] for n in at))
    turned = [(at[bolt - 1] - at[0]) % count + 1 for bolt in order]
    assert tuple(turned) == star_order(count)


def test_no_places_have_no_order() -> None:
    assert (middle_order(()), crosswise_order(())) == ((), ())
