"""The compiled documents as JSON, and the JSON Schema that describes them.

The schema is made from the same dataclasses as the data, so the two cannot part; the docstrings are
its descriptions. A member of a union carries its kind in the property `type`.
"""

from __future__ import annotations

import dataclasses
import json
import types
import typing
from functools import cache, partial
from typing import TypeAlias

from compiler.document.model import Document, Library
from compiler.emit.job import OutputJob, digest, ready
from compiler.records.model import Record

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"

SCHEMA_PATH = "data/procedure.schema.json"
RECORD_SCHEMA_PATH = "data/record.schema.json"
_SCALARS: dict[object, str] = {
    str: "string",
    int: "integer",
    float: "number",
    bool: "boolean",
}


def data_jobs(library: Library) -> list[OutputJob]:
    """Return one JSON file a procedure, the schema they keep to, and that of records."""
    jobs = [
        OutputJob(f"data/{doc.id}.json", digest("data-1", repr(doc)), partial(dump, doc))
        for doc in library.documents
    ]
    return [*jobs, *_schemas()]


@cache
def _schemas() -> tuple[OutputJob, OutputJob]:
    """Return the schemas, the same for every build of a run."""
    return (
        ready(SCHEMA_PATH, _text(schema())),
        ready(RECORD_SCHEMA_PATH, _text(record_schema())),
    )


def dump(document: Document) -> bytes:
    """Return a document as JSON text, UTF-8, keys in the order of the schema."""
    body = to_json(document)
    assert isinstance(body, dict)
    return _text({"$schema": "procedure.schema.json", **body})


def _text(value: Json) -> bytes:
    return (json.dumps(value, ensure_ascii=False, indent=1) + "\n").encode()


def to_json(value: object) -> Json:
    """Return plain JSON of document dataclasses; tuples become lists."""
    if value is None or isinstance(value, bool | int | float | str):
        return value
    if isinstance(value, tuple | list):
        return [to_json(item) for item in value]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = {f.name: to_json(getattr(value, f.name)) for f in dataclasses.fields(value)}
        return {"type": _kind(type(value)), **fields}
    raise TypeError(f"no JSON for {type(value).__name__}")


def _kind(cls: type) -> str:
    """Return the value of `type`: the class name in lower case without its View ending."""
    return cls.__name__.removesuffix("View").lower()


def schema() -> dict[str, Json]:
    """Return the JSON Schema (draft 2020-12) of a compiled procedure."""
    definitions: dict[str, Json] = {}
    _define(Document, definitions)
    root = dict(typing.cast("dict[str, Json]", definitions.pop(_kind(Document))))
    properties = typing.cast("dict[str, Json]", root["properties"])
    root["properties"] = {"$schema": {"type": "string"}, **properties}
    return _whole("Compiled procedure", root, definitions)


def record_schema() -> dict[str, Json]:
    """Return the JSON Schema (draft 2020-12) of the record that a page saves."""
    definitions: dict[str, Json] = {}
    _define(Record, definitions, tagged=False)
    root = dict(typing.cast("dict[str, Json]", definitions.pop(_kind(Record))))
    return _whole("Record of a job", root, definitions)


def schema_of(title: str, cls: type) -> dict[str, Json]:
    """Return the JSON Schema (draft 2020-12) of what `to_json` makes of a dataclass."""
    definitions: dict[str, Json] = {}
    _define(cls, definitions)
    root = dict(typing.cast("dict[str, Json]", definitions.pop(_kind(cls))))
    return _whole(title, root, definitions)


def _whole(title: str, root: dict[str, Json], definitions: dict[str, Json]) -> dict[str, Json]:
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        **root,
        "$defs": dict(sorted(definitions.items())),
    }


def _define(cls: type, definitions: dict[str, Json], *, tagged: bool = True) -> Json:
    """Put the definition of a dataclass into `definitions` and return a reference to it.

    With `tagged` the property `type` tells the kind.
    """
    name = _kind(cls)
    reference: dict[str, Json] = {"$ref": f"#/$defs/{name}"}
    if name in definitions:
        return reference
    definitions[name] = {}
    hints = typing.get_type_hints(cls)
    properties: dict[str, Json] = {"type": {"const": name}} if tagged else {}
    for field in dataclasses.fields(cls):
        properties[field.name] = _of(hints[field.name], definitions, tagged)
    definitions[name] = {
        "description": " ".join((cls.__doc__ or "").split()),
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }
    return reference


def _of(hint: object, definitions: dict[str, Json], tagged: bool) -> Json:
    """Return the schema of one type hint."""
    if hint is type(None):
        return {"type": "null"}
    if hint in _SCALARS:
        return {"type": _SCALARS[hint]}
    origin, args = typing.get_origin(hint), typing.get_args(hint)
    if origin is typing.Literal:
        return {"enum": list(args)}
    if origin is tuple:
        return _tuple(args, definitions, tagged)
    if origin in (typing.Union, types.UnionType):
        return {"anyOf": [_of(arg, definitions, tagged) for arg in args]}
    if isinstance(hint, type) and dataclasses.is_dataclass(hint):
        return _define(hint, definitions, tagged=tagged)
    raise TypeError(f"no schema for {hint!r}")


def _tuple(args: tuple[object, ...], definitions: dict[str, Json], tagged: bool) -> Json:
    if len(args) == 2 and args[1] is Ellipsis:
        return {"type": "array", "items": _of(args[0], definitions, tagged)}
    return {
        "type": "array",
        "prefixItems": [_of(arg, definitions, tagged) for arg in args],
        "items": False,
        "minItems": len(args),
        "maxItems": len(args),
    }
