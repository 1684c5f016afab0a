"""Ids of steps: they stay when others are inserted, and are never given twice."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from compiler.resolve.ids import Ids, join, slug

BASES = st.lists(st.sampled_from(["a", "a-2", "b", "a-2-2", ""]), max_size=12)


@given(BASES, st.sets(st.sampled_from(["a", "b-2", "c"])))
def test_no_id_is_given_twice(bases: list[str], names: set[str]) -> None:
    ids = Ids(names)
    made = [ids.made(base) for base in bases]
    assert len({*made, *names}) == len(made) + len(names)


@given(BASES, BASES, st.integers(0, 12))
def test_other_steps_do_not_change_an_id(bases: list[str], more: list[str], at: int) -> None:
    """What is inserted before has other names, so what was there keeps its id."""
    others = [f"x-{base}" for base in more]
    ids, with_others = Ids(), Ids()
    before = [ids.made(base) for base in bases]
    after = [with_others.made(base) for base in (*bases[:at], *others, *bases[at:])]
    assert [i for i in after if not i.startswith("x-")] == before


def test_a_name_is_kept_for_the_step_that_has_it() -> None:
    ids = Ids(["open"])
    assert ids.made("open") == "open-2"
    assert ids.given("open") == "open"


def test_words_become_a_slug() -> None:
    assert slug("Walk once round the press, then stop.") == "walk-once-round-the-press"
    assert slug("Größe prüfen!") == "grösse-prüfen"
    assert slug("…") == ""
    assert join("remove", "", "spacer") == "remove-spacer"


@given(st.text())
def test_a_slug_is_one_word(text: str) -> None:
    assert not set(slug(text)) & set(' \t\n"<>&/')
