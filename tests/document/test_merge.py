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
    numbers = [int(one.number) for one in steps_of(numbered(merge(bodies)))]
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
