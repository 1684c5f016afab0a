"""Goes along what hangs on a value of the model: fields, lists and tables.

On its own because it is the hot path of two checks: a model has many more plain values (places,
words, numbers) than things that can hold something, and those are passed over here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from compiler.source import Span

_PLAIN = frozenset((str, int, bool, Fraction, Span, type(None)))


def members(value: object) -> list[tuple[str, object]]:
    """Return what hangs directly on a value, with the names of fields ('' in lists and tables)."""
    names = field_names(value)
    if names:
        held = [(name, getattr(value, name)) for name in names]
    elif isinstance(value, tuple | list):
        held = [("", one) for one in value]
    elif isinstance(value, Mapping):
        held = [("", one) for one in value.values()]
    else:
        return []
    return [(name, one) for name, one in held if type(one) not in _PLAIN]


def field_names(value: object) -> tuple[str, ...]:
    """Return the names of the fields of a value that is a record; empty for any other."""
    kind: Any = type(value)
    return _names(kind)


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind)) if is_dataclass(kind) else ()
