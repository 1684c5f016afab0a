"""Finds all texts or messages that hang on a value of the model, wherever they do.

What a field may hold is known from its type, so most of a model (places, values, fasteners in
steps) is never looked at: this is the hot path of two checks.
"""

from __future__ import annotations

import typing
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any, TypeVar

_Aim = TypeVar("_Aim")


def found(value: object, aim: type[_Aim], done: set[int]) -> list[tuple[object, str, _Aim]]:
    """Return every `aim` in a value, in the order it is written, with its holder and the field.

    `done` are the records looked at already, by identity: the things of a machine hang on each of
    its procedures and models, and are met many times.
    """
    into: list[tuple[object, str, _Aim]] = []
    _record(value, aim, done, into)
    return into


def _record(
    value: object, aim: type[_Aim], done: set[int], into: list[tuple[object, str, _Aim]]
) -> None:
    if id(value) in done:
        return
    done.add(id(value))
    kind: Any = type(value)
    wanted: Any = aim
    for name in _leading(kind, wanted):
        held = getattr(value, name)
        if held:
            _look(held, value, name, aim, done, into)


def _look(
    held: object,
    holder: object,
    name: str,
    aim: type[_Aim],
    done: set[int],
    into: list[tuple[object, str, _Aim]],
) -> None:
    if isinstance(held, aim):
        into.append((holder, name, held))
    elif isinstance(held, tuple | list):
        for one in held:
            _look(one, holder, name, aim, done, into)
    elif hasattr(held, "__dataclass_fields__"):
        _record(held, aim, done, into)
    elif isinstance(held, Mapping):
        for one in held.values():
            _look(one, holder, name, aim, done, into)


@cache
def _leading(kind: type, aim: type) -> tuple[str, ...]:
    """Return the fields of a kind of record that may hold an aim, or something that holds one."""
    if not is_dataclass(kind):
        return ()
    hints = _hints(kind)
    return tuple(
        field.name
        for field in fields(kind)
        if any(aim in _reached(one) for one in _records_in(hints[field.name]))
    )


@cache
def _reached(kind: type) -> frozenset[type]:
    """Return a kind of record and all kinds that can hang on it, however far down."""
    seen: set[type] = set()
    waiting = [kind]
    while waiting:
        one = waiting.pop()
        if one in seen:
            continue
        seen.add(one)
        for hint in _hints(one).values():
            waiting += _records_in(hint)
    return frozenset(seen)


@cache
def _hints(kind: type) -> Mapping[str, object]:
    return typing.get_type_hints(kind)


def _records_in(hint: object) -> list[type]:
    """Return the kinds of records that a type speaks of, with those that are made from them."""
    if isinstance(hint, type) and is_dataclass(hint):
        return [hint, *(below for one in hint.__subclasses__() for below in _records_in(one))]
    return [kind for part in typing.get_args(hint) for kind in _records_in(part)]
