"""Readings that are good one by one, and out of limits as a whole."""

from __future__ import annotations

from fractions import Fraction

import pytest

from compiler.document.model import Bounds, Field
from compiler.records.model import Entry
from compiler.records.together import out_together

FIELD = Field(
    id="measure-gap-2",
    kind="number",
    label="Gap",
    unit="mm",
    second_unit="in",
    high="1",
    sums=Bounds(high="1.5"),
    spreads=Bounds(high="0.3", high_open=True),
    count=3,
    items=("hub 1", "hub 2"),
)


def entries(*typed: str, round: int = 1) -> list[Entry]:
    return [
        Entry("", FIELD.id, f"{FIELD.id}-{round}-{n}", "Gap", "number", "", text, "", "mm", "", "1",
              False, False, "", "in", "", "")
        for n, text in enumerate(typed, 1)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        (("0.5", "0.5", "0.5"), []),
        (("0.5", "0.5", "0.51"), [("sum", "1.51", "above")]),
        # By the definition of the inch, 0.02 in = 0.508 mm.
        (("0.5", "0.5", "0.02 in"), [("sum", "1.508", "above")]),
        (("0.1", "0.2", "0.39"), []),
        # A limit that itself is out: `below 0.3 mm`.
        (("0.1", "0.2", "0.4"), [("largest less smallest", "0.3", "above")]),
        (("0.1", "0.9"), []),
        (("0.1", "0.9", "?"), []),
    ],
)
def test_what_readings_come_to(typed: tuple[str, ...], found: list[tuple[str, str, str]]) -> None:
    wholes = out_together(FIELD, entries(*typed))
    assert [(one.what, one.value, one.verdict) for one in wholes] == [
        (what, Fraction(value), said) for what, value, said in found
    ]


def test_each_round_is_a_whole_of_its_own() -> None:
    both = [*entries("0.1", "0.1", "0.1"), *entries("0.1", "0.1", "0.9", round=2)]
    assert [(one.round, one.what) for one in out_together(FIELD, both)] == [
        ("hub 2", "largest less smallest")
    ]


def test_an_entry_of_another_field_is_none_of_it() -> None:
    """One id may begin with another one."""
    strange = [
        Entry("", "x", f"{FIELD.id}-9-1-{n}", "", "number", "", "9", "", "mm", "", "",
              False, False, "", "", "", "")
        for n in range(3)
    ]  # fmt: skip
    assert list(out_together(FIELD, strange)) == []
