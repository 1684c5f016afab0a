"""The parse table: made by lark from the grammar, kept in the user's cache folder, read back fast.

lark's own cache is a pickle of 1.6 MB, which takes 250 ms to read for a grammar of this size. The
same table as JSON takes 15 ms, is harmless if tampered with, and spares the import of lark.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from compiler.paths import grammar_dir
from compiler.replacing import replace_file

GRAMMAR = "step_language.lark"
STARTS = ("file", "fragment")
_FORMAT = "4"


@dataclass(frozen=True, slots=True)
class Rule:
    """One line of the grammar as the parser uses it.

    `build` names the function that makes a node of the `size` children; `stands_for_itself` tells
    that an only child needs none. `spread` are the children that are lists to be poured in;
    `gathers` tells that the rule makes such a list.
    """

    origin: str
    size: int
    build: str
    spread: tuple[int, ...]
    gathers: bool
    stands_for_itself: bool


@dataclass(frozen=True, slots=True)
class Table:
    """What to do in each state: `actions[state][terminal]` is a state to go to, or `~rule`.

    In a state with a `defaults` entry the rule is applied whatever comes next. `terminals` maps a
    terminal to (is it a fixed text, the text or the pattern).
    """

    actions: tuple[Mapping[str, int], ...]
    defaults: tuple[int | None, ...]
    gotos: tuple[Mapping[str, int], ...]
    rules: tuple[Rule, ...]
    starts: Mapping[str, tuple[int, int]]
    terminals: Mapping[str, tuple[bool, str]]


@lru_cache(maxsize=1)
def load_table() -> Table:
    """Return the table of the shipped grammar, from the cache when it is there and sound."""
    grammar = (grammar_dir() / GRAMMAR).read_text(encoding="utf-8")
    parts = (_FORMAT, _lark_release(), str(sys.version_info[:2]), grammar)
    key = hashlib.sha256("\0".join(parts).encode()).hexdigest()
    # One file, written anew when the grammar changes, so that old ones do not pile up.
    path = _cache_dir() / "grammar.json"
    return _read(path, key) or _make(grammar, path, key)


@lru_cache(maxsize=1)
def reserved_words() -> tuple[str, ...]:
    """Return the words that cannot be names: where a name is used they would be read as themselves.

    Every other word of the language may also be a name.
    """
    table = load_table()
    words: set[str] = set()
    for actions, gotos in zip(table.actions, table.gotos, strict=True):
        move = actions.get("NAME", 0)
        # A name may begin here, or after the comma that `and` and `or` could still follow.
        if "ref" in gotos or (move < 0 and table.rules[~move].origin == "joiner"):
            for terminal in actions:
                fixed, text = table.terminals.get(terminal, (False, ""))
                if fixed and text.replace("-", "").isalpha():
                    words.add(text)
    return tuple(sorted(words))


@lru_cache(maxsize=1)
def key_words() -> tuple[str, ...]:
    """Return every word of the language, those of several words with single blanks."""
    fixed = (text for is_text, text in load_table().terminals.values() if is_text)
    return tuple(sorted(text for text in fixed if text[0].isalpha()))


def _lark_release() -> str:
    """Return what changes with each release of lark; looked up, as importing it takes long."""
    spec = find_spec("lark")
    return Path(spec.origin).read_text(encoding="utf-8") if spec and spec.origin else ""


def _cache_dir() -> Path:
    base = os.environ.get("XDG_CACHE_HOME") or ""
    # The standard says to ignore a path that is not absolute.
    if not os.path.isabs(base):
        try:
            base = str(Path.home() / ".cache")
        except RuntimeError:
            # No home: nothing is kept, which only costs time.
            base = os.devnull
    return Path(base) / "witnessmark"


def _read(path: Path, key: str) -> Table | None:
    """Return the kept table, or None when there is none or it is not whole."""
    try:
        head, _, body = path.read_bytes().partition(b"\n")
        if head.decode() != f"{key} {hashlib.sha256(body).hexdigest()}":
            return None
        return _from_plain(json.loads(body))
    except (OSError, ValueError, LookupError, TypeError):
        return None


def _make(grammar: str, path: Path, key: str) -> Table:
    plain = _to_plain(grammar)
    body = json.dumps(plain, separators=(",", ":")).encode()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        replace_file(path, f"{key} {hashlib.sha256(body).hexdigest()}\n".encode() + body)
    except OSError:
        pass  # A cache that cannot be written costs time, nothing else.
    return _from_plain(plain)


def _from_plain(plain: Any) -> Table:
    return Table(
        actions=tuple(plain["actions"]),
        defaults=tuple(plain["defaults"]),
        gotos=tuple(plain["gotos"]),
        rules=tuple(Rule(o, n, b, tuple(s), g, i) for o, n, b, s, g, i in plain["rules"]),
        starts={name: (first, last) for name, (first, last) in plain["starts"].items()},
        terminals={name: (fixed, text) for name, (fixed, text) in plain["terminals"].items()},
    )


def _to_plain(grammar: str) -> dict[str, Any]:
    """Let lark read the grammar, and take its table apart into lists and dicts of plain values."""
    from lark import Lark
    from lark.lexer import PatternStr
    from lark.parsers.lalr_analysis import Shift

    lark = Lark(
        grammar,
        parser="lalr",
        lexer="basic",  # never used, and the quickest to make
        start=list(STARTS),
        keep_all_tokens=True,
        maybe_placeholders=False,
    )
    confs = {s: lark.parse_interactive("", start=s).parser_state.parse_conf for s in STARTS}
    states = confs[STARTS[0]].states
    # lark numbers rules and states in the order of sets, which differs from run to run.
    rules = sorted(lark.rules, key=lambda rule: (rule.origin.name, rule.order, str(rule.expansion)))
    rule_number = {rule: number for number, rule in enumerate(rules)}
    order = _order(states, [confs[start].start_state for start in STARTS], Shift)
    number_of = {state: number for number, state in enumerate(order)}
    actions: list[dict[str, int]] = []
    defaults: list[int | None] = []
    gotos: list[dict[str, int]] = []
    for state in order:
        moves: dict[str, int] = {}
        goto: dict[str, int] = {}
        for symbol, (action, target) in sorted(states[state].items()):
            if not (symbol.isupper() or symbol.startswith("$")):
                goto[symbol] = number_of[target]
            else:
                moves[symbol] = number_of[target] if action is Shift else ~rule_number[target]
        only = set(moves.values())
        default = only.pop() if len(only) == 1 and max(moves.values()) < 0 else None
        actions.append({} if default is not None else moves)
        defaults.append(None if default is None else ~default)
        gotos.append(goto)
    return {
        "actions": actions,
        "defaults": defaults,
        "gotos": gotos,
        "rules": [_plain_rule(rule) for rule in rules],
        "starts": {
            name: [number_of[conf.start_state], number_of[conf.end_state]]
            for name, conf in confs.items()
        },
        "terminals": {
            t.name: [isinstance(t.pattern, PatternStr), t.pattern.value]
            for t in sorted(lark.terminals, key=lambda t: t.name)
        },
    }


def _order(states: Any, starts: list[Any], shift: Any) -> list[Any]:
    """Return the states in the order in which they are reached by the sorted symbols."""
    order = list(starts)
    seen = set(order)
    for state in order:
        for _, (action, target) in sorted(states[state].items()):
            if action is shift and target not in seen:
                seen.add(target)
                order.append(target)
    return order


def _plain_rule(rule: Any) -> list[Any]:
    name = rule.alias or rule.options.template_source or rule.origin.name
    only_child = bool(rule.options.expand1 and len(rule.expansion) == 1 and not rule.alias)
    gathers = rule.origin.name.startswith("__")
    spread = [n for n, symbol in enumerate(rule.expansion) if symbol.name.startswith("__")]
    spread = [n for n in spread if not rule.expansion[n].is_term]
    return [rule.origin.name, len(rule.expansion), name, spread, gathers, only_child]
