"""What the tests of the demo share: the compiled folder, and a walk over all that is in it."""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from types import ModuleType, UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from compiler import model as m
from compiler import syntax as s
from compiler.load import Folder, load_folder
from compiler.parse import parse_text
from compiler.pipeline import Compiled, compile_sources
from compiler.source import Span

DEMO = Path(__file__).resolve().parents[2] / "procedures"

T = TypeVar("T")


@lru_cache(maxsize=1)
def folder() -> Folder:
    """Return the demo as it was read from the disk."""
    return load_folder(DEMO)


@lru_cache(maxsize=1)
def compiled() -> Compiled:
    """Return the demo, compiled."""
    read = folder()
    return compile_sources(read.sources, read.probe)


@lru_cache(maxsize=1)
def files() -> tuple[s.File, ...]:
    """Return the syntax of every file of the demo."""
    found = (parse_text(source.text, source.path)[0] for source in folder().sources)
    return tuple(file for file in found if file is not None)


@lru_cache(maxsize=1)
def syntax_nodes() -> tuple[Any, ...]:
    """Return every node of the syntax of every file."""
    return tuple(node for file in files() for node in inside(file))


@lru_cache(maxsize=1)
def model_objects() -> tuple[Any, ...]:
    """Return every object of the resolved model."""
    return tuple(inside(compiled().world))


def syntax_of(kind: type[T]) -> list[T]:
    """Return the syntax nodes of one class."""
    return [node for node in syntax_nodes() if isinstance(node, kind)]


def models_of(kind: type[T]) -> list[T]:
    """Return the objects of the model of one class."""
    return [thing for thing in model_objects() if isinstance(thing, kind)]


def inside(thing: Any) -> Iterator[Any]:
    """Yield an object and all that it is made of, without places in the text."""
    if isinstance(thing, Span):
        return
    if dataclasses.is_dataclass(thing):
        yield thing
        for field in dataclasses.fields(thing):
            yield from inside(getattr(thing, field.name))
    elif isinstance(thing, (tuple, list)):
        for item in thing:
            yield from inside(item)
    elif hasattr(thing, "values") and hasattr(thing, "keys"):
        for item in thing.values():
            yield from inside(item)


def classes_of(module: ModuleType) -> list[type]:
    """Return the dataclasses that a module defines itself."""
    return [
        thing
        for thing in vars(module).values()
        if isinstance(thing, type)
        and dataclasses.is_dataclass(thing)
        and thing.__module__ == module.__name__
    ]


def literal_words(annotation: Any) -> tuple[str, ...]:
    """Return the words that a field may hold, when it may hold only certain words."""
    if get_origin(annotation) is Literal:
        return get_args(annotation)
    if get_origin(annotation) in (Union, UnionType):
        return tuple(word for part in get_args(annotation) for word in literal_words(part))
    return ()


def unused(module: ModuleType, objects: tuple[Any, ...]) -> set[str]:
    """Return what a module offers and none of the objects uses.

    `Class` is a class without an object, `Class.field` a field that never differs from its default,
    `Class.field=word` a word of a field of words that never occurs.
    """
    seen: dict[type, list[Any]] = defaultdict(list)
    for thing in objects:
        seen[type(thing)].append(thing)
    missing = set()
    for kind in classes_of(module):
        of_kind = [
            thing for cls, things in seen.items() if issubclass(cls, kind) for thing in things
        ]
        if not of_kind:
            missing.add(kind.__name__)
            continue
        missing |= _unused_fields(kind, of_kind)
    return missing


def _unused_fields(kind: type, objects: list[Any]) -> set[str]:
    """What a class shares with others (its base) is looked at once, in the base."""
    missing = set()
    hints = get_type_hints(kind)
    assert dataclasses.is_dataclass(kind)
    for field in dataclasses.fields(kind):
        if field.name not in kind.__annotations__:
            continue
        values = [getattr(thing, field.name) for thing in objects]
        words = literal_words(hints[field.name])
        missing |= {f"{kind.__name__}.{field.name}={w}" for w in words if w not in values}
        has_default = field.default is not dataclasses.MISSING and not words
        if has_default and all(value == field.default for value in values):
            missing.add(f"{kind.__name__}.{field.name}")
    return missing


def things(kind: type[T]) -> dict[str, T]:
    """Return the declared things of one kind by key, on the first model that has each."""
    found: dict[str, T] = {}
    for variant in models_of(m.Variant):
        for key, thing in variant.things.items():
            if isinstance(thing, kind):
                found.setdefault(key, thing)
    return found
