"""The walk-through: repeats, calls, ways in and ways back written out into elementary acts."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from compiler.walk.nodes import Walk

if TYPE_CHECKING:
    from compiler.findings.model import Finding
    from compiler.model import Procedure, World

__all__ = ["walk_all", "walk_procedure"]


def walk_procedure(
    world: World, procedure: Procedure, model: str
) -> tuple[Walk, tuple[Finding, ...]]:
    """Return the walk-through of a procedure on one model, and what cannot be written out.

    Pure: the same world gives the same walk. `model` '' stands for a machine without models.
    """
    from compiler.walk.whole import walk

    return walk(world, procedure, model)


def walk_all(world: World) -> tuple[Mapping[tuple[str, str], Walk], tuple[Finding, ...]]:
    """Return the walks of all procedures and blocks by (key, model), in the order of their keys."""
    walks: dict[tuple[str, str], Walk] = {}
    findings: dict[Finding, None] = {}
    for procedure in world.procedures.values():
        for variant in procedure.variants:
            made, found = walk_procedure(world, procedure, variant.model)
            walks[procedure.key, variant.model] = made
            findings.update(dict.fromkeys(found))
    return MappingProxyType(walks), tuple(findings)
