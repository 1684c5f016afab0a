"""English by rule: articles, plurals, lists, numbers, names inside a sentence.

The rules of a and an, and of plurals, are those of any school grammar (common knowledge).
"""

from __future__ import annotations

import pytest

from compiler.wording import english


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("spanner", "a spanner"),
        ("old seal", "an old seal"),
        ("8 mm socket", "an 8 mm socket"),
        ("11 mm spanner", "an 11 mm spanner"),
        ("18 mm crowfoot", "an 18 mm crowfoot"),
        ("80 mm plate", "an 80 mm plate"),
        ("1 mm shim", "a 1 mm shim"),
        ("10 mm socket", "a 10 mm socket"),
        ("13 mm spanner", "a 13 mm spanner"),
        ("hour", "an hour"),
        ("honest answer", "an honest answer"),
        ("hose", "a hose"),
        ("union nut", "a union nut"),
        ("used part", "a used part"),
        ("one-way valve", "a one-way valve"),
        ("umbrella", "an umbrella"),
        ("O-ring", "an O-ring"),
        ("M6 screw", "an M6 screw"),
        ("T-bar", "a T-bar"),
        ("V-belt", "a V-belt"),
        ("external ring", "an external ring"),
    ],
)
def test_a_and_an_go_by_sound(words: str, said: str) -> None:
    assert english.a_or_an(words) == said


@pytest.mark.parametrize(
    ("one", "many"),
    [
        ("screw", "screws"),
        ("levelling foot", "levelling feet"),
        ("torch", "torches"),
        ("brush", "brushes"),
        ("bush", "bushes"),
        ("box", "boxes"),
        ("assembly", "assemblies"),
        ("key", "keys"),
        ("knife", "knives"),
        ("pliers", "pliers"),
        ("gas", "gases"),
        ("sling, 1 m", "slings, 1 m"),
        ("bag of screws", "bags of screws"),
        ("calliper with dial", "callipers with dial"),
        ("jacking screw (M10)", "jacking screws (M10)"),
        ("O-ring", "O-rings"),
    ],
)
def test_plurals(one: str, many: str) -> None:
    assert english.plural(one) == many


@pytest.mark.parametrize(
    ("words", "said"),
    [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")],
)
def test_lists(words: list[str], said: str) -> None:
    assert english.listed(words) == said
    assert english.listed(words, "or") == said.replace(" and ", " or ")


def test_numbers_are_words_up_to_twelve() -> None:
    assert [english.number(n) for n in (1, 2, 12, 13, 24)] == ["one", "two", "twelve", "13", "24"]
    assert [english.times(n) for n in (1, 2, 3, 20)] == ["once", "twice", "three times", "20 times"]


@pytest.mark.parametrize(
    ("title", "inside"),
    [
        ("Shaft runout", "shaft runout"),
        ("PI-7 reads zero", "PI-7 reads zero"),
        ("V11 reading", "V11 reading"),
        ("I see it", "I see it"),
        ("A gap", "a gap"),
    ],
)
def test_a_title_inside_a_sentence(title: str, inside: str) -> None:
    assert english.lower_first(title) == inside


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        ("pliers", True),
        ("round slings", True),
        ("brass", False),
        ("radius", False),
        ("lens", False),
    ],
)
def test_plural_labels_are_known(words: str, answer: bool) -> None:
    assert english.is_plural(words) is answer


def test_names_take_no_article() -> None:
    assert english.with_the("coupling spacer") == "the coupling spacer"
    assert english.with_the("tank T2") == "tank T2"
    assert english.with_the("station 3") == "station 3"


def test_what_stands_behind_a_noun() -> None:
    assert english.split_at_noun("jacking screw (M10)") == ("jacking screw", " (M10)")
    assert english.split_at_noun("sling, 1 m") == ("sling", ", 1 m")
    assert english.in_brackets("jacking screw, M10") == "jacking screw (M10)"
    assert english.short("calliper with dial, 0.1 mm") == "calliper"
