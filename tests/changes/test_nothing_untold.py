"""Properties: the same says nothing, anything else says something, and hostile text stays text."""

from __future__ import annotations

import dataclasses
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from html.parser import HTMLParser
from importlib.resources import files
from itertools import permutations
from typing import Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from changes.changes_support import FOLDER, library
from changes.seeds import SEEDS
from compiler.changes import Changes, compare_documents, compare_libraries
from compiler.changes.pairs import explained, moved, paired
from compiler.changes.telling import as_text
from compiler.document.digest import content_digest
from compiler.document.model import Document, Library
from compiler.emit.changes import changes_json, changes_page, changes_schema

NOT_CONTENT = frozenset(
    {"digest", "source", "source_file", "followed_by", "issues", "since", "altered", "taken_out"}
)


def sealed(document: Document) -> Document:
    return replace(document, digest=content_digest(document))


def leaves(value: object, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield the way to each text and number in a document that is content."""
    if isinstance(value, tuple):
        for at, item in enumerate(value):
            yield from leaves(item, (*path, at))
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            if field.name not in NOT_CONTENT:
                yield from leaves(getattr(value, field.name), (*path, field.name))
    elif isinstance(value, str | int | float) and not isinstance(value, bool):
        yield path


def with_leaf(value: Any, path: tuple[Any, ...], change: Any) -> Any:
    """Return the same with one text or number in it changed."""
    if not path:
        return change(value)
    first, rest = path[0], path[1:]
    if isinstance(value, tuple):
        return (*value[:first], with_leaf(value[first], rest, change), *value[first + 1 :])
    return replace(value, **{first: with_leaf(getattr(value, first), rest, change)})


def other(value: Any) -> Any:
    if value in ("danger", "warning", "caution", "notice"):
        return "danger" if value != "danger" else "notice"
    return f"{value}x" if isinstance(value, str) else value + 1


def test_the_demo_against_itself_says_nothing(demo_library: Library) -> None:
    changes = compare_libraries(demo_library, demo_library)
    assert changes.procedures == ()
    assert changes.same == len(demo_library.documents)
    assert as_text(changes, 80).startswith("Nothing changed.")


def test_the_way_a_file_is_laid_out_says_nothing() -> None:
    other_way = FOLDER.replace("  revision C", "\n  # Who wrote this?\n  revision   C")
    other_way = other_way.replace("    remove guard\n", "    remove   guard   # both hands\n\n")
    assert other_way != FOLDER
    assert compare_libraries(library(FOLDER), library(other_way)).procedures == ()


@pytest.mark.parametrize("name", ["filter-change", "season-check"])
def test_whatever_is_changed_is_told(name: str) -> None:
    (document,) = [one for one in library(FOLDER).documents if one.id == name]
    for path in leaves(document):
        changed = sealed(with_leaf(document, path, other))
        assert compare_documents(document, changed), path
        assert compare_documents(changed, document), path


@given(data=st.data())
def test_whatever_is_changed_in_the_demo_is_told(
    demo_library: Library, data: st.DataObject
) -> None:
    document = data.draw(st.sampled_from(demo_library.documents))
    path = data.draw(st.sampled_from(list(leaves(document))))
    assert compare_documents(document, sealed(with_leaf(document, path, other))), path


@given(data=st.data())
def test_nothing_of_the_demo_is_told_of_two_unlike_documents_twice(
    demo_library: Library, data: st.DataObject
) -> None:
    one, two = (data.draw(st.sampled_from(demo_library.documents)) for _ in range(2))
    changes = compare_documents(one, replace(two, id=one.id))
    assert bool(changes) == (one.id != two.id)
    assert len(set(changes)) == len(changes)


# --- Pairs ---------------------------------------------------------------------------------------


def test_as_few_as_can_be_are_moved() -> None:
    """Held against trying all subsets."""

    def rises(places: list[int]) -> bool:
        return places == sorted(places)

    for places in permutations(range(6)):
        found = moved(places)
        assert rises([place for at, place in enumerate(places) if at not in found])
        fewest = min(
            out.bit_count()
            for out in range(64)
            if rises([place for at, place in enumerate(places) if not out >> at & 1])
        )
        assert len(found) == fewest


@given(st.lists(st.integers(0, 5)), st.lists(st.integers(0, 5)))
def test_pairs_lose_nothing(old: list[int], new: list[int]) -> None:
    pairs = paired(old, new, lambda one: one)
    assert [after for _, after in pairs if after is not None] == new
    assert sorted(before for before, _ in pairs if before is not None) == sorted(old)
    assert all(before == after for before, after in pairs if None not in (before, after))


def test_explained_by_what_is_told_and_by_nothing_else() -> None:
    gap = "\N{NO-BREAK SPACE}"
    told = [(f"8{gap}N·m", f"9{gap}N·m")]
    assert explained(f"Tighten it to 8{gap}N·m.", f"Tighten it to 9{gap}N·m.", told)
    assert not explained(f"Wait 8{gap}min.", f"Wait 9{gap}min.", told)
    assert not explained(f"Slacken it to 8{gap}N·m.", f"Tighten it to 9{gap}N·m.", told)


# --- How it is written ---------------------------------------------------------------------------


HOSTILE = "</title><script>alert(1)</script>\" onload='x' {{ 7*7 }} &amp; \x1b[31m \u202egnihton"


def hostile_changes() -> Changes:
    """Return changes in which every text is one that would like to be more than that."""
    old = library(FOLDER)
    documents = []
    for document in old.documents:
        changed = document
        for path in leaves(document):
            if path[-1] not in ("id", "kind", "signal", "number", "anchor", "go_to"):
                changed = with_leaf(
                    changed, path, lambda v: f"{v}{HOSTILE}" if isinstance(v, str) else v
                )
        documents.append(sealed(changed))
    return compare_libraries(old, replace(old, documents=tuple(documents)), (HOSTILE, HOSTILE))


class Tags(HTMLParser):
    """Collects the names of tags and attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen |= {tag, *(name for name, _ in attrs)}


def test_hostile_text_stays_text() -> None:
    changes = hostile_changes()
    assert len(changes.procedures) == 2
    page = changes_page(changes)
    tags = Tags()
    tags.feed(page)
    assert not tags.seen & {"script", "onload"}
    assert "49" not in page
    text = as_text(changes, 80)
    assert "\x1b" not in text
    assert "\u202e" not in text
    told = changes_json(changes)
    assert told.isascii()
    assert json.loads(told)["old"] == HOSTILE


def test_json_keeps_to_its_schema() -> None:
    schema = json.loads(changes_schema())
    jsonschema.Draft202012Validator.check_schema(schema)
    for text in (FOLDER, FOLDER.replace(SEEDS[2].old, SEEDS[2].new)):
        changes = compare_libraries(library(FOLDER), library(text), ("a", "b"))
        jsonschema.Draft202012Validator(schema).validate(json.loads(changes_json(changes)))
    jsonschema.Draft202012Validator(schema).validate(json.loads(changes_json(hostile_changes())))


def test_the_published_schema_is_the_one_that_is_kept() -> None:
    kept = files("compiler.changes").joinpath("changes.schema.json").read_text(encoding="utf-8")
    assert kept == changes_schema()


def test_the_page_stands_alone() -> None:
    text = FOLDER.replace(SEEDS[2].old, SEEDS[2].new)
    page = changes_page(compare_libraries(library(FOLDER), library(text), ("a", "b")))
    assert not re.search(r"(?:src|href)=|@import|url\(", page)
    assert "default-src &#39;none&#39;" in page or "default-src 'none'" in page
    assert "guard screw: 9" in page
    assert "raise it before" in page
    assert page == changes_page(compare_libraries(library(FOLDER), library(text), ("a", "b")))


@pytest.mark.parametrize("width", [20, 60, 100])
def test_lines_fit_the_terminal(width: int) -> None:
    changes = compare_libraries(
        library(FOLDER), library(FOLDER.replace("F-10", "F-11")), ("a", "b")
    )
    lines = as_text(changes, width).splitlines()
    assert all(len(line) <= max(width, 40) for line in lines if line.startswith(" "))
