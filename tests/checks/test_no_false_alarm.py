"""Procedures that are unusual and right: none of them leaves anything over.

Each is common practice in some workshop, no source; the machine is made up.
"""

from __future__ import annotations

import pytest
from replay_support import cases, left_over

RIGHT = cases("right.txt")


@pytest.mark.parametrize("name", RIGHT)
def test_nothing_is_left_over(name: str) -> None:
    assert left_over(RIGHT[name])[0] == []


HOUSE = """\
procedure guard-on "Put the guard on"
  revision A 2026-11-02
  parts
    guard "guard"
  fasteners
    screw 4 × M6×16 ISO 4762 8.8  holds guard
  remove guard
  fit guard
  tighten screw
## file: shop.proc
shop packhouse "Workshop"
  torques
    M6 8.8   9 N·m
"""


def test_a_torque_of_the_house_is_enough() -> None:
    assert left_over(HOUSE)[0] == []


def test_a_block_need_not_come_to_an_end() -> None:
    press = (
        'machine press "Press"\n  parts\n    lid "lid"\n  block open-up "Open"\n    remove lid\n'
    )
    use = (
        'procedure look "Look"\n  machine press\n  revision A 2026-11-02\n'
        "  follow open-up\n  fit lid\n"
    )
    assert left_over(f"{use}## file: press.proc\n{press}")[0] == []
