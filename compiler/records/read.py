"""Reads the bytes of a record: any bytes give a record or a fault that says what is wrong."""

from __future__ import annotations

import hashlib
import json
import re
import types
import typing
from dataclasses import fields, is_dataclass

from compiler.records.limits import MEASURED, decimal, number, reading
from compiler.records.model import FIRST_VERSION, FORMAT, VERSION, Fault, FaultKind, Read, Record

MOST_BYTES = 60_000_000
"""A hundred thousand taps fill half of it; a larger file is not a record."""

_LONE = re.compile("[\ud800-\udfff]")

_AGAIN = "Ask for the file again, as the page saved it."


class _Odd(Exception):
    """A value that is not what belongs there; `where` is the way to it."""

    def __init__(self, where: str, wanted: str) -> None:
        super().__init__(where)
        self.where = where
        self.wanted = wanted


def read_record(file: str, data: bytes) -> Read:
    """Return the record in `data`; `file` is its name for messages."""

    def refused(kind: FaultKind, message: str, line: int = 1, column: int = 1) -> Read:
        return Read(file, None, (Fault(kind, file, message, _AGAIN, True, line, column),))

    if len(data) > MOST_BYTES:
        return refused("not-a-record", "The file is far larger than any record.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line, column = _place(data[: error.start].decode("utf-8", "replace"))
        return refused("not-a-record", "The file is no UTF-8 text.", line, column)
    try:
        value = json.loads(text, object_pairs_hook=_each_once, parse_constant=_no_number)
    except json.JSONDecodeError as error:
        if error.pos >= len(text.rstrip()) or "Unterminated" in error.msg:
            return refused("cut-off", "The record ends in the middle.", error.lineno, error.colno)
        return refused("not-a-record", "The file is no JSON.", error.lineno, error.colno)
    except (ValueError, RecursionError):
        return refused("not-a-record", "The file is JSON that no page writes.")
    if not isinstance(value, dict) or value.get("record") != FORMAT:
        return refused("not-a-record", "The file is JSON, but no record of a job.")
    if value.get("version") not in (FIRST_VERSION, VERSION):
        return refused("not-a-record", "The record is of a version that this program cannot read.")
    try:
        record = typing.cast("Record", _of(Record, _as_of_today(value), "record"))
        _hold_limits(record)
    except _Odd as odd:
        return refused("changed", f"In the record, {odd.where} is not {odd.wanted}.")
    if record.seal != _seal(value):
        message = "The record was changed after the page saved it: its seal does not fit."
        return Read(file, record, (Fault("changed", file, message, _AGAIN),))
    return Read(file, record, ())


def _as_of_today(value: dict[str, object]) -> dict[str, object]:
    """Return a record of the first version with what came later: values, and no rounds."""
    entries = value.get("entries")
    if value["version"] != FIRST_VERSION or not isinstance(entries, list):
        return value
    return {"rounds": [], **value, "entries": [_with_value(entry) for entry in entries]}


def _with_value(entry: object) -> object:
    if not isinstance(entry, dict):
        return entry
    typed, kind, unit = entry.get("entered"), entry.get("kind"), entry.get("unit")
    if not (isinstance(typed, str) and isinstance(kind, str) and isinstance(unit, str)):
        return entry
    return {"value": decimal(reading(typed, unit, "")) if kind in MEASURED else "", **entry}


def _seal(value: dict[str, object]) -> str:
    bare = {name: part for name, part in value.items() if name != "seal"}
    text = json.dumps(bare, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _hold_limits(record: Record) -> None:
    for entry in record.entries:
        for limit in (entry.low, entry.high):
            if limit and (number(limit) is None or "," in limit):
                raise _Odd(f"a limit of {entry.label!r}", "a number")


def _place(before: str) -> tuple[int, int]:
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def _each_once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("a name stands there twice")
    return found


def _no_number(name: str) -> object:
    raise ValueError(f"{name} is no number of JSON")


def _of(hint: object, value: object, where: str) -> object:
    """Return `value` as the type `hint`, or raise `_Odd`."""
    origin, args = typing.get_origin(hint), typing.get_args(hint)
    if isinstance(hint, type) and is_dataclass(hint):
        return _object(hint, value, where)
    if origin is tuple:
        return _row(args, value, where)
    if origin in (typing.Union, types.UnionType):
        if type(value) in args:
            return _of(type(value), value, where)
        raise _Odd(where, "text or a yes or no")
    if type(value) is not hint:
        raise _Odd(where, {str: "text", bool: "true or false", int: "a whole number"}[hint])  # type: ignore[index]
    if isinstance(value, str) and _LONE.search(value):
        raise _Odd(where, "text that can be written")
    return value


def _object(cls: type, value: object, where: str) -> object:
    if not isinstance(value, dict):
        raise _Odd(where, "a group of values")
    hints = typing.get_type_hints(cls)
    names = [field.name for field in fields(cls)]
    for name in value:
        if name not in names:
            raise _Odd(f"{where}.{str(name)[:40]}", "a name that belongs there")
    made = {}
    for name in names:
        if name not in value:
            raise _Odd(f"{where}.{name}", "there")
        made[name] = _of(hints[name], value[name], f"{where}.{name}")
    return cls(**made)


def _row(args: tuple[object, ...], value: object, where: str) -> tuple[object, ...]:
    if not isinstance(value, list):
        raise _Odd(where, "a list")
    if len(args) == 2 and args[1] is Ellipsis:
        return tuple(_of(args[0], item, f"{where}[{n}]") for n, item in enumerate(value, 1))
    if len(value) != len(args):
        raise _Odd(where, f"a row of {len(args)}")
    return tuple(
        _of(arg, item, f"{where}[{n}]")
        for n, (arg, item) in enumerate(zip(args, value, strict=True), 1)
    )
