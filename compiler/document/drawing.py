"""The geometry of a drawn bolt pattern: how big, where each bolt stands, the arrows between them.

Lengths are those of the drawing; about one of them is one pixel on a phone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, pairwise

from compiler.document.model import Bolt, Stroke
from compiler.model import Sequence as Order
from compiler.trade.patterns import Places, grid_places, positions

_SMALL, _LARGE = 200.0, 290.0
_MANY = 12
"""Up to so many bolts the drawing is small."""
_BIGGEST, _LEGIBLE = 15.0, 10.5
_OF_GAP, _AT_MOST_OF_GAP = 0.34, 0.43
"""How much of the gap between the nearest two the radius takes up: arrows need room between them,
but small numbers need it more."""
_EDGE = 4.0
_LEAST_WIDTH = 0.8
_LONGEST_ARROWS = 3
_HEAD = 5.0
_SHORTEST_ARROW = 7.0


def plan(sequence: Order, count: int) -> tuple[Places, float, float, float]:
    """Return the places in the drawing, its width and height, and the radius of a bolt."""
    raw = _raw(sequence, count)
    left, top = min(x for x, _ in raw), min(y for _, y in raw)
    wide, high = max(x for x, _ in raw) - left, max(y for _, y in raw) - top
    side = _SMALL if count <= _MANY and max(wide, high) < 3 * max(min(wide, high), 1e-9) else _LARGE
    margin = _BIGGEST + _EDGE
    scale = (side - 2 * margin) / (max(wide, high) or 1.0)
    gap = min((math.dist(a, b) for a, b in combinations(raw, 2)), default=1.0) * scale
    radius = round(min(_BIGGEST, max(gap * _OF_GAP, min(gap * _AT_MOST_OF_GAP, _LEGIBLE))), 1)
    width, height = wide * scale + 2 * margin, high * scale + 2 * margin
    # A page gives every drawing its whole width, so a tall one leaves some free on both sides.
    aside = max(0.0, (height * _LEAST_WIDTH - width) / 2)
    found = tuple(
        (round(aside + margin + (x - left) * scale, 1), round(margin + (y - top) * scale, 1))
        for x, y in raw
    )
    return found, round(width + 2 * aside, 1), round(height, 1), radius


def _raw(sequence: Order, count: int) -> Places:
    """Return the places in one scale for both directions."""
    if sequence.layout == "given" and len(sequence.places) == count:
        return sequence.places
    if sequence.layout == "rectangle" and sequence.rows * sequence.columns == count:
        return grid_places(sequence.rows, sequence.columns)
    layout = "circle" if sequence.layout == "given" else sequence.layout
    return positions(layout, count, sequence.rows, sequence.columns)


def strokes(bolts: Sequence[Bolt], order: Sequence[int], radius: float) -> tuple[Stroke, ...]:
    """Return arrows along the beginning of an order, from rim to rim."""
    at = {bolt.number: (bolt.x, bolt.y) for bolt in bolts}
    first = order[: _LONGEST_ARROWS + 1]
    return tuple(_arrow(at[one], at[other], radius) for one, other in pairwise(first))


def ring(bolts: Sequence[Bolt], radius: float) -> tuple[Stroke, ...]:
    """Return arrows once round, from each bolt to the next and back to the first."""
    spots = [(bolt.x, bolt.y) for bolt in bolts]
    shortest = min(math.dist(a, b) for a, b in pairwise((*spots, spots[0])))
    if shortest - 2 * radius < _SHORTEST_ARROW:
        spots, radius = _inside(spots, radius), 0.0
    return tuple(_arrow(a, b, radius) for a, b in pairwise((*spots, spots[0])))


def _inside(spots: Sequence[tuple[float, float]], radius: float) -> list[tuple[float, float]]:
    """Return some places inside a ring of bolts, where arrows from bolt to bolt would be hidden."""
    middle = [(min(one) + max(one)) / 2 for one in zip(*spots, strict=True)]
    far = max(math.dist(spot, middle) for spot in spots)
    share = max(0.3, 1 - 2.2 * radius / far)
    every = max(1, len(spots) // _MANY)
    return [
        (middle[0] + (x - middle[0]) * share, middle[1] + (y - middle[1]) * share)
        for x, y in spots[::every]
    ]


def _arrow(start: tuple[float, float], end: tuple[float, float], radius: float) -> Stroke:
    far = math.dist(start, end) or 1.0
    x, y = (end[0] - start[0]) / far, (end[1] - start[1]) / far
    near = min(radius + 1, far / 2)
    tip = (end[0] - x * near, end[1] - y * near)
    back = min(_HEAD, max(0.0, far - 2 * near))
    foot = (tip[0] - x * back, tip[1] - y * back)
    half = back * 0.45
    head = (
        tip,
        (foot[0] - y * half, foot[1] + x * half),
        (foot[0] + y * half, foot[1] - x * half),
    )
    return Stroke(
        round(start[0] + x * near, 1),
        round(start[1] + y * near, 1),
        round(foot[0], 1),
        round(foot[1], 1),
        " ".join(f"{round(px, 1):g},{round(py, 1):g}" for px, py in head),
    )
