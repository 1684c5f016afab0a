"""Records are read: any bytes give a record or a clear fault, and a changed one shows."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from compiler.document.model import Document
from compiler.emit.data import record_schema
from compiler.emit.records import records_csv, records_json, records_page
from compiler.records import judge_record, read_record, summarize
from compiler.records.read import MOST_BYTES
from compiler.records.telling import as_text
from records.records_support import document_in, record_of, sealed


@pytest.fixture(scope="module")
def document(tmp_path_factory: pytest.TempPathFactory) -> Document:
    return document_in(tmp_path_factory.mktemp("reseal"))


def kinds(data: bytes) -> list[str]:
    return [fault.kind for fault in read_record("a.json", data).faults]


def test_a_record_is_read_whole(document: Document) -> None:
    made = record_of(document)
    read = read_record("a.json", sealed(made))
    assert read.faults == ()
    assert read.record is not None
    assert read.record.serial == "117"
    assert read.record.journal[0][4] is True


def test_a_record_keeps_to_the_published_schema(document: Document) -> None:
    """JSON Schema 2020-12, by the reference library."""
    schema = record_schema()
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    whole = json.loads(sealed(record_of(document)))
    validator.validate(whole)
    assert list(validator.iter_errors({**whole, "begun": 7}))
    assert list(validator.iter_errors({**whole, "more": ""}))


def test_one_that_was_cut_off_is_told_as_such(document: Document) -> None:
    data = sealed(record_of(document))
    for length in range(0, len(data) - 2, 97):
        read = read_record("a.json", data[:length])
        assert read.record is None
        (fault,) = read.faults
        assert fault.kind in ("cut-off", "not-a-record"), data[:length][-40:]
    (fault,) = read_record("a.json", data[: len(data) // 2]).faults
    assert fault.kind == "cut-off"
    assert fault.line > 10


@settings(max_examples=150, deadline=None)
@given(place=st.floats(0, 1, exclude_max=True), byte=st.integers(32, 126))
def test_a_changed_letter_shows(document: Document, place: float, byte: int) -> None:
    """Whatever printable letter is changed, unless only the blanks between values are."""
    data = sealed(record_of(document))
    at = int(place * len(data))
    changed = data[:at] + bytes([byte]) + data[at + 1 :]
    try:
        is_same = json.loads(changed) == json.loads(data)
    except ValueError:
        is_same = False
    assert bool(kinds(changed)) is not is_same


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes(data: bytes) -> None:
    assert read_record("a.json", data).record is None
    assert len(kinds(data)) == 1


@settings(max_examples=200, deadline=None)
@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=8),
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner),
        max_leaves=20,
    ),
    st.sampled_from(["steps", "entries", "people", "journal", "begun", "version", "new"]),
)
def test_any_value_in_any_place(document: Document, value: object, name: str) -> None:
    data = sealed(record_of(document) | {name: value})
    read = read_record("a.json", data)
    assert (read.record is None) == bool(read.faults)


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"", "cut-off"),
        (b"[]", "not-a-record"),
        (b"{}", "not-a-record"),
        (b'{"record": "other"}', "not-a-record"),
        (b'{"record": "witnessmark-record", "version": 3}', "not-a-record"),
        (b'{"record": "witnessmark-record", "version": 1, "begun": NaN}', "not-a-record"),
        (b"[" * 100_000, "not-a-record"),
        (b"9" * 10_000, "not-a-record"),
        (b"\xff\xfe{", "not-a-record"),
        (b'{"a": 1, "a": 2}', "not-a-record"),
    ],
)
def test_what_is_no_record(data: bytes, kind: str) -> None:
    assert kinds(data) == [kind]


def test_a_record_of_the_first_version(document: Document) -> None:
    """It has neither values nor rounds; its seal is over what it has."""
    old = record_of(document, version=1)
    del old["rounds"]
    for one in old["entries"]:
        del one["value"]
    read = read_record("a.json", sealed(old))
    assert read.faults == ()
    assert read.record is not None
    assert [one.value for one in read.record.entries][:1] == ["0.04"]
    assert read.record.rounds == ()


def test_where_a_file_is_no_text() -> None:
    (fault,) = read_record("a.json", b'{\n "a": "\xff"}').faults
    assert (fault.line, fault.column) == (2, 8)


def test_a_huge_file_is_refused(tmp_path: Path) -> None:
    assert kinds(b" " * (MOST_BYTES + 1)) == ["not-a-record"]


HOSTILE = [
    "abc", "nan", "inf", "1e999", "9" * 400, "-" + "9" * 400, "1_000", "0x10", "\u0661", "\ud800",
    "\x1b[2J", "\u202egnp", "2026-02-30T00:00:00+00:00", "0001-01-01T00:00:00+14:00",
    "9999-12-31T23:59:59-14:00", "2026-11-26T08:01:00", "", "</script><b>", "1" * 5000,
]  # fmt: skip


def places(value: Any, way: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Yield the way to every text of a record; of each list, that in its first row."""
    if isinstance(value, dict):
        for name, part in value.items():
            yield from places(part, (*way, name))
    elif isinstance(value, list):
        for number, part in enumerate(value[:1]):
            yield from places(part, (*way, number))
    elif isinstance(value, str):
        yield way


def with_text(record: dict[str, Any], way: tuple[str | int, ...], text: str) -> bytes:
    """Return a record with another text in one place, and a seal that fits."""
    changed = json.loads(json.dumps(record))
    inner = changed
    for name in way[:-1]:
        inner = inner[name]
    inner[way[-1]] = text
    whole = json.dumps(changed, ensure_ascii=False, separators=(",", ":"))
    seal = hashlib.sha256(whole.encode("utf-8", "surrogatepass")).hexdigest()
    return json.dumps({**changed, "seal": seal}).encode()


@pytest.mark.parametrize("content", ["here", "other"])
def test_whatever_stands_in_a_record_it_is_told_and_nothing_breaks(
    document: Document, content: str
) -> None:
    """Whoever writes a record by hand can seal it too: each text in turn is a hostile one."""
    record = record_of(document)
    if content == "other":
        record["content"] = "0" * 64
    for way in places(record):
        for text in HOSTILE:
            read = read_record("a.json", with_text(record, way, text))
            faults = list(read.faults)
            known = [read.record] if read.record is not None else []
            for one in known:
                same = document if one.procedure == document.id else None
                faults += judge_record("a.json", one, same, {})
            summary = summarize(known * 2)
            said = as_text([read], faults, summary)
            assert not set(said) & set("\x1b\u202e"), (way, text)
            page = records_page([read], faults, summary)
            assert "</script>" not in page
            json.loads(records_json([read], faults, summary))
            for made in (said, page, records_csv([read])):
                made.encode()
