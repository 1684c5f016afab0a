"""The fields that every thing of the model has."""

from __future__ import annotations

from typing import TypedDict

from compiler import model
from compiler.source import Span


class Common(TypedDict):
    """The fields of `model.Thing`."""

    key: str
    name: str
    label: str
    span: Span
    owner: str
    members: tuple[str, ...]
    count: int
    number: str
    formerly: tuple[str, ...]
    renew: bool
    extras: model.Extras


def group_size(common: Common) -> int:
    """Return how many are tightened together.

    `bolt[left, right] 4 ×` is two groups of four, `bolt[1..4]` one group of four.
    """
    return common["count"] if common["count"] > 1 else max(1, len(common["members"]))
