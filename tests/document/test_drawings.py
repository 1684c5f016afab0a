"""Drawings of bolt patterns: nothing overlaps, nothing stands outside, the arrows go the order."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from document_support import compiled, steps
from hypothesis import given
from hypothesis import strategies as st

from compiler.document.drawing import plan, ring, strokes
from compiler.document.model import Bolt
from compiler.model import Sequence
from compiler.trade.patterns import star_order

SHAPES = st.one_of(
    st.integers(3, 32).map(lambda n: (Sequence("star"), n)),
    st.tuples(st.integers(1, 8), st.integers(2, 8)).map(
        lambda grid: (
            Sequence("star", layout="rectangle", rows=grid[0], columns=grid[1]),
            grid[0] * grid[1],
        )
    ),
    st.lists(
        st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=3, max_size=12, unique=True
    ).map(lambda at: (Sequence("star", layout="given", places=tuple(at)), len(at))),
)


@given(SHAPES)
def test_bolts_neither_touch_nor_leave_the_drawing(shape: tuple[Sequence, int]) -> None:
    """Two that overlap cannot be told apart in print."""
    places, width, height, radius = plan(*shape)
    assert len(places) == shape[1]
    assert all(radius <= x <= width - radius and radius <= y <= height - radius for x, y in places)
    assert all(math.dist(a, b) > 2 * radius for a, b in combinations(places, 2))


@given(SHAPES)
def test_a_drawing_fits_a_phone(shape: tuple[Sequence, int]) -> None:
    _, width, height, _ = plan(*shape)
    assert max(width, height) <= 290
    assert width >= 0.79 * height


@pytest.mark.parametrize("count", [3, 8, 12, 17, 24, 32])
def test_numbers_are_legible(count: int) -> None:
    """Ten pixels and more on a phone; two digits stay within the circle."""
    assert plan(Sequence("star"), count)[3] >= 10


def test_given_places_keep_their_shape() -> None:
    """The drawing has one scale for both directions, whatever the unit."""
    at = ((0.0, 0.0), (0.06, 0.0), (0.06, 0.02))
    (a, b, c), *_ = plan(Sequence("star", layout="given", places=at), 3)
    assert math.dist(a, b) == pytest.approx(3 * math.dist(b, c), rel=0.01)


@pytest.mark.parametrize("count", [4, 12, 32])
def test_arrows_go_from_rim_to_rim(count: int) -> None:
    places, _, _, radius = plan(Sequence("star"), count)
    bolts = [Bolt(n, x, y) for n, (x, y) in enumerate(places, 1)]
    order = star_order(count)
    arrows = strokes(bolts, order, radius)
    assert len(arrows) == 3
    for arrow, one, other in zip(arrows, order, order[1:], strict=False):
        tip = tuple(float(v) for v in arrow.head.split()[0].split(","))
        assert math.dist((arrow.x1, arrow.y1), places[one - 1]) == pytest.approx(
            radius + 1, abs=0.2
        )
        assert math.dist(tip, places[other - 1]) == pytest.approx(radius + 1, abs=0.2)


@pytest.mark.parametrize("count", [4, 12, 32])
def test_the_last_round_goes_clockwise_and_is_seen(count: int) -> None:
    """Arrows that would be hidden between close bolts go round inside them."""
    places, width, height, radius = plan(Sequence("star"), count)
    arrows = ring([Bolt(n, x, y) for n, (x, y) in enumerate(places, 1)], radius)
    for arrow in arrows:
        assert math.hypot(arrow.x2 - arrow.x1, arrow.y2 - arrow.y1) > 1
        x, y = arrow.x1 - width / 2, arrow.y1 - height / 2
        turned = x * (arrow.y2 - arrow.y1) - y * (arrow.x2 - arrow.x1)
        assert turned > 0  # clockwise on a page, where y goes down


def test_every_round_is_listed_also_the_only_crosswise_one() -> None:
    """Whoever goes through them one by one must not begin with the last round."""
    text = """\
procedure a "A"
  revision A 2026-01-01
  parts
    cover "cover"
  fasteners
    nut 4 × M10 ISO 4032 8  holds cover  torque 20 N·m ±10 %  then circular
  starts with nut slackened
  tighten nut
## file: shop.proc
shop s "S"
  units N·m
  second units lbf·ft
  tools
    wrench torque-wrench "torque wrench" 5..25 N·m
    big-ones sockets 10, 13, 16, 18 mm
"""
    (found,) = compiled(text).library().documents
    (diagram,) = [view for step in steps(found.body) for view in step.diagrams]
    assert [one.replace("\N{NO-BREAK SPACE}", " ") for one in diagram.passes] == [
        "Pass 1, 100 %: 20 N·m (14.8 lbf·ft)",
        "Then once round at 20 N·m (14.8 lbf·ft)",
    ]
    assert diagram.title == "M10 hexagon nuts, nut (4)"
