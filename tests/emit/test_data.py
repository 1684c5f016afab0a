"""The compiled documents as JSON: each keeps to the published schema, and the schema is one."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from compiler.document.model import Document, Library
from compiler.emit.data import (
    RECORD_SCHEMA_PATH,
    SCHEMA_PATH,
    data_jobs,
    dump,
    record_schema,
    schema,
    to_json,
)


def made(library: Library) -> dict[str, bytes]:
    """Return the files under `data/` by path."""
    return {job.path: job.make() for job in data_jobs(library)}


def objects(value: Any) -> Iterator[dict[str, Any]]:
    """Yield every object inside a JSON value."""
    if isinstance(value, dict):
        yield value
        value = list(value.values())
    if isinstance(value, list):
        for item in value:
            yield from objects(item)


def test_the_schema_is_one() -> None:
    """Held against the meta-schema of JSON Schema 2020-12, as the reference library carries it."""
    Draft202012Validator.check_schema(schema())


def test_the_published_schema_is_the_schema(demo_library: Library) -> None:
    assert json.loads(made(demo_library)[SCHEMA_PATH]) == schema()


def test_every_procedure_keeps_to_the_schema(demo_library: Library) -> None:
    files = made(demo_library)
    validator = Draft202012Validator(json.loads(files.pop(SCHEMA_PATH)))
    assert json.loads(files.pop(RECORD_SCHEMA_PATH)) == record_schema()
    assert sorted(files) == sorted(f"data/{doc.id}.json" for doc in demo_library.documents)
    for path, data in files.items():
        errors = [
            f"{path}: {e.json_path}: {e.message}" for e in validator.iter_errors(json.loads(data))
        ]
        assert not errors, "\n".join(errors[:5])


def test_the_demo_uses_most_of_the_schema(demo_library: Library) -> None:
    """Or the test above would say little: every kind of object is in some file of the demo."""
    files = made(demo_library)
    del files[SCHEMA_PATH], files[RECORD_SCHEMA_PATH]
    used = {o["type"] for data in files.values() for o in objects(json.loads(data)) if "type" in o}
    definitions = schema()["$defs"]
    assert isinstance(definitions, dict)
    assert used == {"document", *definitions}


@pytest.mark.parametrize(
    ("change", "place"),
    [
        ({"people": "two"}, "$.people"), ({"extra": 1}, "$"), ({"type": "machine"}, "$.type"),
        ({"models": ["TP-40", 7]}, "$.models[1]"), ({"body": [{"type": "step"}]}, "$.body[0]"),
        ({"follows": [["one"]]}, "$.follows[0]"),
    ],
)  # fmt: skip
def test_the_schema_refuses_what_is_wrong(
    demo_library: Library, change: dict[str, object], place: str
) -> None:
    body = json.loads(dump(demo_library.documents[0]))
    validator = Draft202012Validator(schema())
    assert validator.is_valid(body)
    assert place in {error.json_path for error in validator.iter_errors({**body, **change})}


def test_text_keeps_its_characters(demo_library: Library) -> None:
    data = b"".join(made(demo_library).values())
    assert "N·m".encode() in data
    assert b"\\u" not in data
    assert data.decode("utf-8").endswith("}\n")


def test_a_new_key_whenever_the_bytes_are_new(demo_library: Library) -> None:
    """A key that stays while the bytes change would leave an old file lying in the output."""
    import dataclasses

    document = demo_library.documents[0]
    other = dataclasses.replace(document, title=document.title + "!")
    changed = dataclasses.replace(demo_library, documents=(other, *demo_library.documents[1:]))
    before = {job.path: job.key for job in data_jobs(demo_library)}
    after = {job.path: job.key for job in data_jobs(changed)}
    assert [path for path in before if before[path] != after[path]] == [f"data/{document.id}.json"]


def test_what_is_no_document_is_refused() -> None:
    with pytest.raises(TypeError, match="no JSON for object"):
        to_json((object(),))
    with pytest.raises(TypeError, match="no JSON for type"):
        to_json(Document)
