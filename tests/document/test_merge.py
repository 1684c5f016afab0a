"""One body for all models: read for one of them, it is that model's own, in its own order."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from document_support import compiled, steps
from hypothesis import given
from hypothesis import strategies as st

from compiler.document import build_library
from compiler.document.merge import merge
from compiler.document.model import NodeView, SectionView, StepView
from compiler.document.numbers import numbered, steps_of
from compiler.wording.text import line

MODELS = ("A", "B", "C")


def step(name: str) -> StepView:
    return StepView(id=name, number="", lines=(line(f"{name}."),))


def read_for(body: Sequence[NodeView], model: str) -> list[str]:
    """Return the ids of the steps that a reader of one model sees, in order."""
    seen: list[str] = []
    for node in body:
        if node.models and model not in node.models:
            continue
        if isinstance(node, StepView):
            seen.append(node.id)
        elif isinstance(node, SectionView):
            seen += read_for(node.nodes, model)
    return seen


orders = st.lists(st.sampled_from("abcdef"), unique=True, max_size=6)


@given(st.tuples(orders, orders, orders))
def test_read_for_one_model_it_is_that_model_s_own(given_orders: tuple[list[str], ...]) -> None:
    bodies = {m: [step(n) for n in order] for m, order in zip(MODELS, given_orders, strict=True)}
    merged = merge(bodies)
    for model, order in zip(MODELS, given_orders, strict=True):
        assert read_for(merged, model) == order


@given(st.tuples(orders, orders))
def test_numbers_go_on_and_alternatives_share_one(given_orders: tuple[list[str], ...]) -> None:
    bodies = {m: [step(n) for n in order] for m, order in zip("AB", given_orders, strict=True)}
    numbers = [int(one.number) for one in steps_of(numbered(merge(bodies), {"A": {}, "B": {}}))]
    assert numbers == sorted(numbers)
    assert sorted(set(numbers)) == list(range(1, len(set(numbers)) + 1))


CROSSED = """\
## file: press.proc
machine press "Press"
  models A, B
  parts
    left  "left cover"  behind right
      for B  behind top
    right "right cover" behind top
      for B  behind left
    top   "top cover"
    core  "core"  behind left, right
  fasteners
    left-knob  2 × screw  holds left  hand-tight
    right-knob 2 × screw  holds right  hand-tight
    top-knob   2 × screw  holds top  hand-tight

## file: look.proc
procedure look "Look at the core"
  machine press
  revision A 2026-10-05
  section open "Open it"
    reach core
  check core
  refit open
"""


@pytest.mark.parametrize("model", ["A", "B"])
def test_covers_that_come_off_in_another_order_on_another_model(model: str) -> None:
    found = compiled(CROSSED)
    assert found.findings == ()
    (document,) = found.library().documents
    key = ("look", model)
    alone = build_library(
        found.world,
        {key: found.walks[key]},
        {key: found.derived[key]},
        found.sources,
    ).documents[0]
    assert read_for(document.body, model) == [one.id for one in steps(alone.body)]


@given(st.tuples(orders, orders), st.permutations("abcdef"))
def test_what_only_some_models_have_stands_as_it_was_written(
    given_orders: tuple[list[str], list[str]], author: list[str]
) -> None:
    """Each model keeps its own order, and where none of them minds, that of the author counts."""
    written = {name: at for at, name in enumerate(author)}
    bodies = {m: [step(n) for n in order] for m, order in zip("AB", given_orders, strict=True)}
    merged = merge(bodies, written)
    for model, order in zip("AB", given_orders, strict=True):
        assert read_for(merged, model) == order
    as_written = {
        m: [step(name) for name in author if name in order]
        for m, order in zip("AB", given_orders, strict=True)
    }
    assert [node.id for node in merge(as_written, written)] == [
        name for name in author if any(name in order for order in given_orders)
    ]


APART = """\
## file: press.proc
machine press "Press"
  models A, B
  parts
    lid  "lid"
    pad  "pad"

## file: look.proc
procedure look "Look at the pad"
  machine press
  revision A 2026-10-05
  section open "Open it"
    only for B
      "Set the lever of B."
      remove pad
    only for A
      "Set the lever of A."
    remove lid
    only for A
      remove pad
  refit open
"""


def test_blocks_for_one_model_keep_their_order() -> None:
    (document,) = compiled(APART).library().documents
    models = [node.models for node in steps(document.body)]
    assert models[:4] == [("B",), ("B",), ("A",), ()]


def test_a_number_is_that_of_the_reader_s_own_model() -> None:
    """Both take the pad off, A last and B first: each way back names its own step."""
    (document,) = compiled(APART).library().documents
    number = {(one.id, one.models): one.number for one in steps(document.body)}
    off = {models: n for (id, models), n in number.items() if "remove-pad" in id and "/" not in id}
    back = [one for one in steps(document.body) if "pad" in one.id and one.from_text]
    assert back
    for one in back:
        (model,) = one.models
        assert off[(model,)] in one.from_text
