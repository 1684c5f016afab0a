"""The derived lists: tools, supplies, torques, times and people, each line with its reasons."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from compiler.derive.lists import Derived, VisitLists

if TYPE_CHECKING:
    from compiler.model import Procedure, Visit, World
    from compiler.walk.nodes import Walk

__all__ = ["derive", "derive_visit"]


def derive(world: World, procedure: Procedure, walk: Walk) -> Derived:
    """Return what is worked out for one walk of `procedure`, on the walk's model.

    Pure: the same walk gives the same lists. Needs that nothing in the crib serves stay as lines in
    words, with the key ''.
    """
    from compiler.derive.whole import derive_walk

    return derive_walk(world, procedure, walk)


def derive_visit(
    world: World,
    visit: Visit,
    walks: Mapping[tuple[str, str], Walk],
    derived: Mapping[tuple[str, str], Derived],
) -> VisitLists:
    """Return what is taken along to a visit; `walks` and `derived` by procedure key and model."""
    from compiler.derive.visit import visit_lists

    return visit_lists(world, visit, walks, derived)
