"""The demo uses all of the language: a construct that stands nowhere in it makes a test fail.

What there is to use is read from the code and the grammar, so that a new construct must be shown in
the demo, or be named here with the reason why it is not.
"""

from __future__ import annotations

import re

import demo_support as demo
import pytest

from compiler import model as m
from compiler import syntax as s
from compiler.parse.clauses import CLAUSES, STACK_CLAUSES
from compiler.paths import grammar_dir
from compiler.trade import safety
from compiler.trade.kinds import KINDS as FASTENER_KINDS
from compiler.trade.verbs import Effect
from compiler.walk.nodes import Act, Deed

NOT_IN_SYNTAX = {
    "File.lost_words": "only a file with a line that cannot be read has any",
}

NOT_IN_MODEL: dict[str, str] = {
    "StillSo": "only the way back of a branch asks it, which the walk works out",
    "Shop": "there is one shop, and it can leave its threads dry or oiled, not both",
}

NO_SUCH_CLAUSE = {
    ("condition", "only-for"): "the grammar lets nothing stand after the title of a condition",
}

NOT_ON_A_STACK = {
    "only-for": "an item of a stack is the same on every model",
}

NO_PHRASE: dict[str, str] = {}


def grammar_words(*rules: str) -> set[str]:
    """Return the key words that stand in some rules of the grammar."""
    text = (grammar_dir() / "step_language.lark").read_text(encoding="utf-8")
    words: set[str] = set()
    for rule in rules:
        body = re.search(rf"^\??{rule}: (.*?)(?=^\S|\Z)", text, re.MULTILINE | re.DOTALL)
        assert body is not None, rule
        words |= set(re.findall(r'"([^"]+)"', body[1]))
    assert words
    return words


def test_every_node_field_and_word_of_the_syntax_is_used() -> None:
    assert demo.unused(s, demo.syntax_nodes()) == set(NOT_IN_SYNTAX)


def test_every_class_field_and_word_of_the_model_is_used() -> None:
    unused = {name.partition(".")[0] for name in demo.unused(m, demo.model_objects())}
    assert unused == set(NOT_IN_MODEL)


def test_every_clause_is_said_of_every_kind_of_thing_that_may_have_it() -> None:
    said = {
        (thing.kind, clause.key)
        for thing in demo.syntax_of(s.Thing)
        for clauses in (thing.clauses, *(override.clauses for override in thing.overrides))
        for clause in clauses
    }
    allowed = {(kind, key) for key, rule in CLAUSES.items() for kind in rule.things}
    assert allowed - said == set(NO_SUCH_CLAUSE)


def test_every_clause_of_a_stack_is_used() -> None:
    said = {clause.key for item in demo.syntax_of(s.StackItem) for clause in item.clauses}
    assert STACK_CLAUSES - said == set(NOT_ON_A_STACK)


def test_every_phrase_is_used() -> None:
    words = grammar_words("strict_word", "loose_word", "adverb") | {"at", "by", "for", ""}
    used = {phrase.word for phrase in demo.syntax_of(s.Phrase)}
    assert words - used == set(NO_PHRASE)


def test_every_line_of_a_head_is_used() -> None:
    keys = {line.key.replace("-", " ") for line in demo.syntax_of(s.HeadLine)}
    assert grammar_words("head_key") | {"units", "second units"} <= keys


@pytest.mark.parametrize("kind", ["machine", "procedure", "shop", "visit"])
def test_every_kind_of_file_is_there(kind: str) -> None:
    assert any(file.kind == kind for file in demo.files())


def test_every_block_of_things_is_used() -> None:
    kinds = {thing.kind for thing in demo.syntax_of(s.Thing)}
    assert kinds == {
        "energy", "condition", "place", "part", "fastener", "fluid", "connection", "tool",
        "consumable", "aid", "role",
    }  # fmt: skip


def test_things_are_declared_in_machines_procedures_and_the_shop() -> None:
    owners = {file.kind for file in demo.files() if file.things}
    assert owners == {"machine", "procedure", "shop"}


def test_blocks_are_shared_in_a_machine_and_in_the_shop() -> None:
    assert {file.kind for file in demo.files() if file.blocks} == {"machine", "shop"}


def test_every_effect_of_a_verb_is_used() -> None:
    assert {step.verb.effect for step in demo.models_of(m.ActionStep)} == set(Effect)


def test_every_elementary_deed_is_done() -> None:
    walks = demo.compiled().walks.values()
    deeds = {act.deed for walk in walks for act in demo.inside(walk) if isinstance(act, Act)}
    assert deeds == set(Deed)


def test_house_verbs_are_used_and_not_only_declared() -> None:
    declared = {verb.word.text for verb in demo.syntax_of(s.HouseVerb)}
    used = {action.verb.text for action in demo.syntax_of(s.Action)}
    assert declared
    assert declared <= used


def test_every_hazard_is_warned_of() -> None:
    assert {message.hazard for message in demo.models_of(m.Safety)} >= set(safety.HAZARDS)


def test_every_kind_of_energy_is_there() -> None:
    assert {energy.kind for energy in demo.things(m.Energy).values()} == set(safety.ENERGIES)


def test_most_protective_equipment_is_worn_somewhere() -> None:
    worn = {item.text for line in demo.syntax_of(s.WearLine) for item in line.items}
    assert len(worn & set(safety.PROTECTION)) >= 12


def test_other_things_that_hold_than_screws_are_there() -> None:
    first = {f.designation.text.split(" ")[0] for f in demo.things(m.Fastener).values()}
    assert first & set(FASTENER_KINDS) >= {
        "screw", "set-screw", "plug", "cotter-pin", "spring-pin", "dowel-pin", "pin",
        "retaining-ring", "key", "clip", "tab-washer", "hose-clamp", "wedge",
    }  # fmt: skip


def test_repeats_run_over_all_that_they_can() -> None:
    sources = {type(item) for r in demo.syntax_of(s.RepeatEach) for item in r.source}
    assert sources >= {s.Ref, s.IndexRange}
    repeats = demo.models_of(m.RepeatBlock)
    assert any(r.bindings and isinstance(r.bindings[0], tuple) for r in repeats), "rows of a table"
    assert any(r.until is not None and r.most for r in repeats), "until, at most"


def test_branches_ask_all_that_they_can() -> None:
    states = demo.models_of(m.StateIs)
    assert {c.state for c in states} >= {"in", "out", "above", "below", "yes", "no"}
    answers = {a.text for q in demo.syntax_of(s.Question) for a in q.answers}
    assert {c.state for c in states} & answers, "an answer by its word"
    assert any(c.kind == "condition" for c in states), "a condition by its state"
    assert demo.models_of(m.Judged), "the reader judges"
    branches = demo.syntax_of(s.Branch)
    assert any(b.arms[-1].condition is None for b in branches), "otherwise"
    assert any(len(b.arms) > 2 for b in branches), "otherwise if"


@pytest.mark.parametrize("kind", ["needs", "starts", "leaves"])
def test_what_holds_at_the_start_and_at_the_end_is_said(kind: str) -> None:
    states = {end.state for end in demo.models_of(m.EndState) if end.kind == kind}
    wanted = {
        "needs": {"emptied"},
        "starts": {"off", "isolated", "slackened", "drained", "disconnected"},
        "leaves": {"off", "isolated", "drained", "disconnected", "at"},
    }
    assert states >= wanted[kind]


def test_values_are_written_in_every_way() -> None:
    amounts = demo.models_of(m.Amount)
    assert any(a.twin is not None for a in amounts), "a printed pair"
    assert any(a.twin is not None and a.high is not None for a in amounts), "a pair of ranges"
    assert any(a.tolerance and a.tolerance.plus != a.tolerance.minus for a in amounts)
    texts = {number.text for number in demo.syntax_of(s.NumberLit)}
    assert any("/" in text for text in texts), "a fraction"
    assert any("." in text for text in texts), "a decimal"


def test_text_links_to_things_and_to_quantities() -> None:
    parts = [part for prose in demo.models_of(m.Prose) for part in prose.parts]
    assert any(isinstance(part, m.Selection) for part in parts)
    assert any(isinstance(part, m.Amount) for part in parts)
