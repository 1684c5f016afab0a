"""The torque wrench of a joint: range, accuracy, square, and the passes below its range."""

from __future__ import annotations

from fractions import Fraction

import pytest
from derive_support import PUMP, lists, tools, torque

from compiler.derive.accuracy import accuracy_of, room_of
from compiler.derive.lists import Derived
from compiler.model import Amount, Tolerance, Tool
from compiler.source import Span
from compiler.trade.units import Quantity

AT = Span("", 0, 0)
CRIB = """\
    rough     torque-wrench 5..25 N·m   drive 3/8 in  accuracy 6 %
    exact     torque-wrench 8..40 N·m   drive 3/8 in  accuracy 2 %
    tiny      torque-wrench 1..6 N·m    drive 1/4 in  accuracy 6 %
    bits      hex-bits 4, 5, 6 mm   drive 3/8 in
    small-bit hex-bits 5 mm         drive 1/4 in
"""


def tightened(torque_text: str, *, crib: str = CRIB, sequence: str = "") -> Derived:
    shop = f'## file: shop.proc\nshop house "House"\n  tools\n    keys hex-keys 5 mm\n{crib}'
    shop += '  consumables\n    locker "thread locker"\n    cloth "cloth"\n'
    machine = PUMP.replace("torque 9 N·m ±10 %", f"torque {torque_text}{sequence}", 1)
    return lists("slacken screw\ntighten screw", more=shop, machine=machine)


def missing(found: Derived) -> list[str]:
    return [t.need.replace("\N{NO-BREAK SPACE}", " ") for t in found.tools if not t.key]


@pytest.mark.parametrize(
    ("asked", "wrench"),
    [
        ("9 N·m", "rough"),
        ("9 N·m ±10 %", "rough"),
        ("9 N·m ±6 %", "rough"),
        ("9 N·m ±5 %", "exact"),
        ("9 N·m ±0.5 N·m", "exact"),
        ("9..10 N·m", "exact"),
        ("8..10 N·m", "rough"),
    ],
)
def test_the_wrench_is_as_exact_as_the_joint_asks(asked: str, wrench: str) -> None:
    assert torque(tightened(asked)).wrench == f"house/{wrench}"


def test_what_would_do_is_said_in_plain_words() -> None:
    found = missing(tightened("9 N·m ±1 %"))
    assert found == ["torque wrench that sets 9 N·m, square 3/8 in or 1/4 in, ±1 % or better"]
    found = missing(tightened("80 N·m"))
    assert found == ["torque wrench that sets 80 N·m, square 3/8 in or 1/4 in"]


def test_a_range_counts_from_its_lowest_value() -> None:
    """ISO 6789-1:2017 sets no floor at 20 % of the maximum: 5 N·m is in 5 to 25 N·m."""
    assert torque(tightened("5 N·m")).wrench == "house/rough"
    assert torque(tightened("25 N·m")).wrench == "house/rough"


def wrench(high: int, accuracy: Quantity | None = None) -> Tool:
    low, most = Quantity(Fraction(1), "N·m"), Quantity(Fraction(high), "N·m")
    return Tool(
        key="w", name="w", label="w", span=AT, owner="", kind="torque-wrench",
        range=Amount(AT, low, most), accuracy=accuracy,
    )  # fmt: skip


def test_where_nothing_is_said_the_standard_counts() -> None:
    """ISO 6789-1:2017, 5.1.5 (from memory): 6 % up to a maximum of 10 N·m, 4 % above."""
    assert accuracy_of(wrench(10)) == Fraction(6, 100)
    assert accuracy_of(wrench(11)) == Fraction(4, 100)
    assert accuracy_of(wrench(100)) == Fraction(4, 100)
    assert accuracy_of(wrench(100, Quantity(Fraction(3), "%"))) == Fraction(3, 100)


def test_how_far_off_a_torque_may_be() -> None:
    def nm(value: int) -> Quantity:
        return Quantity(Fraction(value), "N·m")

    assert room_of(Amount(AT, nm(60))) is None
    assert room_of(Amount(AT, nm(20), nm(24))) == Fraction(2, 22)
    assert room_of(Amount(AT, nm(60), tolerance=Tolerance(nm(6), nm(3)))) == Fraction(3, 60)
    one_sided = Amount(AT, nm(60), tolerance=Tolerance(nm(6), nm(0)))
    assert room_of(one_sided) == Fraction(3, 63), "set to the middle of 60 to 66 N·m"


PASSES = "  star in 30 %, 100 %"


def test_a_pass_below_the_range_takes_a_second_wrench() -> None:
    found = tightened("20 N·m", sequence=PASSES)
    line = torque(found)
    assert line.wrench == "house/rough"
    assert [(float(t.value), key) for t, key in line.apart] == []
    found = tightened("15 N·m", sequence=PASSES)
    assert [(float(t.value), key) for t, key in torque(found).apart] == [(4.5, "house/tiny")]
    assert {"rough", "tiny", "bits", "small-bit"} <= set(tools(found))
    said = [
        reason.text.replace("\N{NO-BREAK SPACE}", " ") for reason in tools(found)["tiny"].reasons
    ]
    assert said == ["tightens screw, pass to 4.5 N·m"]


def test_without_a_second_wrench_the_pass_is_left_to_the_hand() -> None:
    crib = "".join(line + "\n" for line in CRIB.splitlines() if "tiny" not in line)
    found = tightened("15 N·m", crib=crib, sequence=PASSES)
    assert [(float(t.value), key) for t, key in torque(found).apart] == [(4.5, "")]
    assert missing(found) == []


def test_one_wrench_that_reaches_down_is_enough() -> None:
    """Of two that show the torque the one that shows the pass as well spares a second wrench."""
    crib = CRIB.replace("5..25 N·m ", "12..25 N·m").replace("8..40", "3..40")
    found = tightened("15 N·m", crib=crib, sequence=PASSES)
    assert torque(found).wrench == "house/exact"
    assert torque(found).apart == ()
    assert not {"rough", "tiny"} & set(tools(found))


def test_of_what_is_laid_out_the_one_that_does_all_passes_is_used() -> None:
    """The nut needs the large wrench, and a pass the small one, which then does the whole screw."""
    large = (
        "    large torque-wrench 10..100 N·m drive 1/2 in\n    socks sockets 18 mm drive 1/2 in\n"
    )
    bits = "    half-bits hex-bits 5 mm drive 1/2 in\n"
    crib = large + bits + CRIB.replace("5..25 N·m ", "3..25 N·m ").replace("1..6", "1..2")
    shop = f'## file: shop.proc\nshop house "House"\n  tools\n    s spanners 18 mm\n{crib}'
    shop += '  consumables\n    locker "thread locker"\n    cloth "cloth"\n'
    machine = PUMP.replace("torque 9 N·m ±10 %", f"torque 15 N·m{PASSES}", 1)
    body = "slacken screw with rough\nslacken nut with s\ntighten screw\ntighten nut"
    found = lists(body.replace(" with rough", ' with "a key"'), more=shop, machine=machine)
    (screw, nut) = found.torques
    assert (screw.wrench, nut.wrench) == ("house/rough", "house/large")
    assert screw.apart == ()
    large_for = {reason.step_id for reason in tools(found)["large"].reasons}
    assert large_for == {"tighten-nut"}
