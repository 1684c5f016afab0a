"""Orders of tightening and where the fasteners of a group sit.

Bolts are numbered clockwise from 12 o'clock, from 1.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Literal

Layout = Literal["circle", "rectangle", "given"]
Places = tuple[tuple[float, float], ...]
"""Where bolts sit: shares of the width (from the left) and of the height (from the top)."""

_FOURS: Mapping[int, tuple[int, ...]] = {
    4: (1,),
    8: (1, 2),
    12: (1, 2, 3),
    16: (1, 3, 2, 4),
    20: (1, 3, 5, 2, 4),
    24: (1, 4, 2, 5, 3, 6),
}
"""The bolt each group of four starts with, ASME PCC-1, legacy cross pattern (8, 12, 16 and 24 read
second-hand; 4 and 20 from memory)."""


def star_order(count: int) -> tuple[int, ...]:
    """Return the crosswise order of `count` bolts; () for less than one.

    4, 8, 12 … 24 bolts: ASME PCC-1, legacy cross pattern. 5 bolts: 1 3 5 2 4, general workshop
    advice. All other counts follow our own rule: an odd count goes almost half around each time;
    an even one takes a bolt and the one straight opposite, then the pair about a quarter on.
    """
    if count < 3:
        return circular_order(count)
    if count % 4 == 0:
        return _fours(count)
    if count % 2 == 0:
        return _pairs(count)
    return tuple(1 + k * (count // 2) % count for k in range(count))


def circular_order(count: int) -> tuple[int, ...]:
    """Return 1, 2, 3 … once around; () for less than one."""
    return tuple(range(1, count + 1))


def middle_order(places: Places) -> tuple[int, ...]:
    """Return the order from the middle outwards, crosswise: a bolt, then the one opposite.

    The nearest to the middle come first; of two as near, the one that is met first going clockwise
    from the top. For long covers and heads (common practice, no source). Places are in one scale
    for both directions.
    """
    left = {
        n: (round(x, 6), round(y, 6)) for n, (x, y) in enumerate(_about_middle(places), start=1)
    }
    order: list[int] = []
    while left:
        first = min(left, key=lambda n: (_far(left[n]), _clock(left[n]), n))
        x, y = left.pop(first)
        order.append(first)
        opposite = min(
            (n for n, place in left.items() if _far(place) == _far((x, y))),
            key=lambda n: (_apart(left[n], (-x, -y)), n),
            default=None,
        )
        if opposite is not None:
            order.append(opposite)
            del left[opposite]
    return tuple(order)


def crosswise_order(places: Places) -> tuple[int, ...]:
    """Return the star order of bolts that sit anywhere, as if they were on a circle.

    They are counted clockwise around their middle, from the first one on.
    """
    angles = [_clock(place) for place in _about_middle(places)]
    from_first = [(angle - angles[0]) % 1 for angle in angles]
    around = sorted(range(len(places)), key=lambda n: (round(from_first[n], 6), n))
    return tuple(around[n - 1] + 1 for n in star_order(len(places)))


def grid_places(rows: int, columns: int) -> Places:
    """Return the places of a rectangle in its own proportions, the pitch being one."""
    return tuple((float(x), float(y)) for x, y in _rings(0, 0, columns - 1, rows - 1))


def _about_middle(places: Places) -> list[tuple[float, float]]:
    """Return places as seen from the middle of the space they take."""
    if not places:
        return []
    xs, ys = [x for x, _ in places], [y for _, y in places]
    middle = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    return [(x - middle[0], y - middle[1]) for x, y in places]


def _far(place: tuple[float, float]) -> float:
    return round(math.hypot(*place), 6)


def _apart(one: tuple[float, float], other: tuple[float, float]) -> float:
    return round(math.hypot(one[0] - other[0], one[1] - other[1]), 6)


def _clock(place: tuple[float, float]) -> float:
    """Return the direction of a place as a share of a turn, clockwise from the top."""
    x, y = place
    return round(math.atan2(x, -y) / (2 * math.pi) % 1, 6) % 1


def positions(
    layout: Layout, count: int, rows: int = 0, columns: int = 0
) -> tuple[tuple[float, float], ...]:
    """Return the place of each bolt as shares of width (from the left) and height (from the top).

    A circle is numbered clockwise from 12 o'clock. A rectangle has `rows` × `columns` places: its
    outline is numbered clockwise from the top left, then each outline inside it likewise. Without
    rows and columns, or with too few, `count` bolts are spread along the outline by our own rule.
    """
    if count < 1:
        return ()
    if layout == "circle":
        return tuple(_on_circle(k / count) for k in range(count))
    if rows >= 1 and columns >= 1 and rows * columns >= count:
        places = _rings(0, 0, columns - 1, rows - 1)[:count]
        return tuple((_share(x, columns), _share(y, rows)) for x, y in places)
    return tuple(_on_square(k / count) for k in range(count))


def _fours(count: int) -> tuple[int, ...]:
    """Order groups of four: a bolt, the opposite one, the one a quarter on, the one opposite it."""
    quarter = count // 4
    # Beyond the published tables: every other group first, so that neighbours come late.
    own = (*range(1, quarter + 1, 2), *range(2, quarter + 1, 2))
    offsets = (0, 2 * quarter, quarter, 3 * quarter)
    return tuple(start + turn for start in _FOURS.get(count, own) for turn in offsets)


def _pairs(count: int) -> tuple[int, ...]:
    half = count // 2
    # `half` is odd here, so a step of just under half of it meets every pair once.
    starts = (1 + k * (half // 2) % half for k in range(half))
    return tuple(bolt for start in starts for bolt in (start, start + half))


def _on_circle(turn: float) -> tuple[float, float]:
    angle = 2 * math.pi * turn
    # Rounded, so that the pages are the same bytes on every machine.
    return round(0.5 + 0.5 * math.sin(angle), 6), round(0.5 - 0.5 * math.cos(angle), 6)


def _on_square(turn: float) -> tuple[float, float]:
    side, along = divmod(4 * turn, 1)
    along = round(along, 6)
    rest = round(1 - along, 6)
    return ((along, 0.0), (1.0, along), (rest, 1.0), (0.0, rest))[int(side) % 4]


def _rings(left: int, top: int, right: int, bottom: int) -> list[tuple[int, int]]:
    """Number the places of a grid by outlines, from the outside in, each clockwise."""
    places: list[tuple[int, int]] = []
    while left <= right and top <= bottom:
        places += [(x, top) for x in range(left, right + 1)]
        places += [(right, y) for y in range(top + 1, bottom + 1)]
        if bottom > top:
            places += [(x, bottom) for x in range(right - 1, left - 1, -1)]
        if right > left:
            places += [(left, y) for y in range(bottom - 1, top, -1)]
        left, top, right, bottom = left + 1, top + 1, right - 1, bottom - 1
    return places


def _share(place: int, of: int) -> float:
    return round(place / (of - 1), 6) if of > 1 else 0.5
