"""The parse table against lark itself, its words, and the folder it is kept in."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from lark import Lark, Token, Tree
from parse_support import all_texts, found, read

from compiler.parse import examples, words
from compiler.parse import table as table_module
from compiler.parse.clauses import CLAUSES
from compiler.parse.lexer import Lexer
from compiler.parse.machine import Machine
from compiler.parse.table import GRAMMAR, STARTS, key_words, load_table, reserved_words
from compiler.paths import grammar_dir


@lru_cache(maxsize=1)
def lark() -> Lark:
    grammar = (grammar_dir() / GRAMMAR).read_text(encoding="utf-8")
    return Lark(
        grammar, start=list(STARTS), parser="lalr", keep_all_tokens=True, maybe_placeholders=False
    )


_TO_PLAIN = table_module._to_plain


@lru_cache(maxsize=1)
def made_once() -> dict[str, Any]:
    return _TO_PLAIN((grammar_dir() / GRAMMAR).read_text(encoding="utf-8"))


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Let lark make the table once only, and forget what the test has read."""
    monkeypatch.setattr(table_module, "_to_plain", lambda grammar: made_once())
    load_table.cache_clear()
    yield
    load_table.cache_clear()


def plain(tree: Any) -> Any:
    if isinstance(tree, Tree):
        return (str(tree.data), [plain(child) for child in tree.children])
    return str(tree)


def kinds_of(text: str, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return the terminals that the reader fed the parser with."""
    kinds: list[str] = []
    take = Machine.take

    def noted(self: Machine, terminal: str, value: object) -> bool:
        kinds.append(terminal)
        return take(self, terminal, value)

    with monkeypatch.context() as patch:
        patch.setattr(Machine, "take", noted)
        read(text)
    return kinds


def test_our_automaton_does_what_larks_own_does(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same words through lark's parser (an independent run of the same grammar) and ours."""
    reference = lark()
    for text in all_texts().values():
        kinds = kinds_of(text, monkeypatch)
        theirs = reference.parse_interactive("", start="file")
        for kind in kinds:
            theirs.feed_token(Token(kind, kind))
        tree = theirs.feed_token(Token("$END", ""))

        class Builds(defaultdict[str, Any]):
            def __missing__(self, name: str) -> Any:
                return lambda children: (name, children)

        ours = Machine(load_table(), "file", Builds())
        for kind in kinds:
            assert ours.take(kind, kind)
        assert _same(ours.finish(), plain(tree))


def _same(ours: Any, theirs: Any) -> bool:
    if isinstance(ours, tuple) and isinstance(theirs, tuple):
        return (
            ours[0] == theirs[0]
            and len(ours[1]) == len(theirs[1])
            and all(map(_same, ours[1], theirs[1]))
        )
    return bool(ours == theirs)


def test_what_could_follow_is_what_lark_accepts() -> None:
    reference = lark()
    line = [
        "PROCEDURE",
        "NAME",
        "TEXT",
        "LINE_END",
        "DEEPER",
        "VERB",
        "NAME",
        "WITH",
        "NAME",
        "TAKES",
        "NUMBER",
        "UNIT",
    ]
    for length in range(len(line)):
        theirs = reference.parse_interactive("", start="file")
        ours = Machine(load_table(), "file", defaultdict(lambda: lambda children: children))
        for kind in line[:length]:
            theirs.feed_token(Token(kind, kind))
            assert ours.take(kind, kind)
        assert ours.could_follow() == set(theirs.accepts()) - {"$END"}  # type: ignore[no-untyped-call]


def test_every_rule_has_a_builder() -> None:
    from compiler.parse.build import Builder

    for rule in load_table().rules:
        if not rule.gathers and not rule.stands_for_itself:
            assert callable(getattr(Builder, rule.build, None)), rule.build


def test_lists_that_grow_in_place_live_within_a_line() -> None:
    """Stepping back to the start of a line relies on it (see machine.py)."""
    ending = {rule.origin for rule in lark().rules for s in rule.expansion if s.name == "LINE_END"}
    grew = True
    while grew:
        more = {r.origin for r in lark().rules if any(s in ending for s in r.expansion)} - ending
        grew = bool(more)
        ending |= more
    names = {origin.name for origin in ending}
    assert not [name for name in names if name.startswith("__")]


def test_every_word_has_a_phrase() -> None:
    table = load_table()
    terminals = set(table.terminals).union(*table.actions)
    for terminal in terminals:
        said = words.phrase(terminal)
        assert said or terminal in words.STRUCTURE
        assert not any(
            char.isupper() for char in said.replace("M6×16 ISO 4762", "").replace("M6", "")
        )
    unused = set(words.PHRASES) - terminals
    assert not unused


def test_groups_know_only_words_of_the_language() -> None:
    for group in words.GROUPS:
        assert group.words <= set(key_words())
        assert len(group.words) >= group.least


def test_no_message_names_a_terminal_of_the_grammar() -> None:
    """Whatever could stand in a place is said without the grammar's own names."""
    table = load_table()
    for actions in table.actions:
        said = words.what_could_stand(frozenset(actions))
        assert "_" not in said
        assert said or not set(actions) - words.STRUCTURE


def test_examples_in_messages_are_words_of_the_language() -> None:
    for table in (examples.LINES, examples.CLAUSES, examples.UNDER):
        assert set(table) <= set(key_words())
    for key, example in examples.LINES.items():
        assert example.startswith(key) or key == "repeat"
    assert read(examples.FIRST_LINE + "\n").kind == "procedure"


@pytest.mark.parametrize("key", CLAUSES)
def test_every_clause_has_an_example_that_is_read(key: str) -> None:
    rule = CLAUSES[key]
    if key == "by":
        return
    if key == "facing":
        read(
            f'machine a "A"\n  fasteners\n    nut M6\n      stack\n        washer {rule.example}\n'
        )
        return
    blocks = {"energy": "energy", "role": "roles", "fluid": "fluids", "place": "places"}
    names = {"energy": "x steam", "connection": "x hose", "tool": "x hoist", "fastener": "x M6"}
    for kind in rule.things:
        if kind == "condition":
            continue
        name = "x" if (kind, key) == ("fastener", "count") else names.get(kind, "x")
        example = "4 × M6" if (kind, key) == ("fastener", "count") else rule.example
        frame = "shop" if kind == "role" else "procedure"
        file = read(f'{frame} a "A"\n  {blocks.get(kind, f"{kind}s")}\n    {name} {example}\n')
        assert [clause.key for clause in file.things[0].clauses] == [key]


def test_reserved_words_are_those_that_cannot_be_used_as_names() -> None:
    reserved = reserved_words()
    assert {"with", "to", "off", "new"} <= set(reserved)
    for word in key_words():
        if " " in word:
            continue
        steps = f"  fit {word}\n  lift {word} off {word} with {word}, {word}\n"
        text = f'procedure a "A"\n  parts\n    {word} "x"\n{steps}'
        clean = found(text) == []
        assert clean == (word not in reserved), word


@pytest.mark.usefixtures("quick")
def test_the_table_is_kept_and_read_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    fresh = load_table()
    (kept,) = (tmp_path / "witnessmark").iterdir()
    written = kept.read_bytes()
    load_table.cache_clear()
    monkeypatch.setattr("compiler.parse.table._to_plain", None)  # what is kept must do
    assert load_table() == fresh
    assert kept.read_bytes() == written


@pytest.mark.usefixtures("quick")
@pytest.mark.parametrize("damage", ["cut", "flip", "empty", "folder", "other", "old"])
def test_a_damaged_table_is_made_anew(
    damage: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    good = load_table()
    (kept,) = (tmp_path / "witnessmark").iterdir()
    data = kept.read_bytes()
    if damage == "folder":
        kept.unlink()
        kept.mkdir()
    else:
        head, _, body = data.partition(b"\n")
        kept.write_bytes(
            {
                "cut": data[:5000],
                "flip": data[:9000] + b"7" + data[9001:],
                "empty": b"",
                "other": head + b"\n" + json.dumps([1, 2]).encode(),
                "old": b"0" * 64 + head[64:] + b"\n" + body,
            }[damage]
        )
    load_table.cache_clear()
    assert load_table() == good


@pytest.mark.usefixtures("quick")
def test_a_cache_that_cannot_be_written_does_not_matter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    for place in (str(blocked), "relative/path", os.devnull):
        monkeypatch.setenv("XDG_CACHE_HOME", place)
        monkeypatch.setenv("HOME", str(blocked))
        load_table.cache_clear()
        assert load_table().rules
    assert not Path("relative").exists()


def test_the_table_is_the_same_in_every_run() -> None:
    """lark gathers rules in sets; what is kept must not depend on their order."""
    code = (
        "import hashlib, json; from compiler.parse import table as t;"
        "g = (t.grammar_dir() / t.GRAMMAR).read_text(encoding='utf-8');"
        "print(hashlib.sha256(json.dumps(t._to_plain(g)).encode()).hexdigest())"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1


def test_a_lexer_can_be_made_of_the_table() -> None:
    assert Lexer(load_table())
