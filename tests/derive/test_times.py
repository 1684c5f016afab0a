"""Times through repeats, branches and lanes; people, roles, energies."""

from __future__ import annotations

import pytest
from derive_support import lists

from compiler.derive.lists import TimeTotal
from compiler.derive.times import expected
from compiler.wording.times import total_note, total_text


def time(body: str, head: str = "") -> TimeTotal:
    found = lists(body, head).time
    assert found is not None
    return found


def three(body: str, head: str = "") -> tuple[float, float, float]:
    found = time(body, head)
    return found.low, found.likely, found.high


def test_the_pert_expectation() -> None:
    """3, 10 and 20 give 10.5 (PERT: (O + 4M + P)/6; published example, second-hand)."""
    assert expected(3, 10, 20) == 10.5
    found = time("wipe guard  takes 3..20 min likely 10 min")
    assert found.expected == 10.5
    assert found.spread == pytest.approx(2.83, abs=0.005)  # (P - O)/6, the same example


def test_in_a_chain_the_squares_of_the_spreads_add_up() -> None:
    """PERT: means and variances of a chain add up."""
    step = "wipe guard  takes 3..20 min likely 10 min\n"
    assert time(step * 4).expected == 42
    assert time(step * 4).spread == pytest.approx(2 * 17 / 6)
    assert time("wipe guard  takes 5 min").spread == 0


def test_steps_add_up() -> None:
    body = "wipe guard  takes 5 min\nwipe cover  takes 3..20 min likely 10 min\nwipe frame"
    assert three(body) == (8, 15, 25)
    assert time(body).untimed_steps == 1


def test_rounds_add_up() -> None:
    body = "repeat for each n in 1..6  shown once\n  wipe guard  takes 2 min\n  wipe cover"
    assert three(body) == (12, 12, 12)
    assert (time(body).timed_steps, time(body).untimed_steps) == (6, 6)


def test_until_takes_one_round_or_up_to_its_most() -> None:
    body = (
        "repeat until gap is in  at most 5 times\n  turn frame  takes 2 min\n"
        '  measure gap "Gap"  at most 1 mm'
    )
    assert three(body) == (2, 2, 10)


def test_branches_give_the_least_and_the_most() -> None:
    ask = 'ask worn "Is it worn?"\nwipe guard  takes 1 min\n'
    assert three(ask + "if worn is yes\n  wipe cover  takes 10 min") == (1, 1, 11)
    body = ask + "if worn is yes\n  wipe cover  takes 10 min\notherwise\n  wipe frame  takes 4 min"
    assert three(body) == (5, 8, 11)
    assert three('wipe guard  takes 6 min  only if "it is dirty"') == (0, 0, 6)


def test_the_slowest_lane_counts() -> None:
    body = (
        'side by side\n  lane "One"\n    wipe guard  takes 15 min\n'
        '  lane "Two"\n    wipe cover  takes 20 min'
    )
    assert three(body) == (20, 20, 20)
    assert lists(body).people == 2


def test_clocks_and_waits_are_times_too() -> None:
    assert three('confirm "It is dry."  timer 5 min\nrinse cover for 90 s') == (6.5, 6.5, 6.5)


def test_a_section_s_time_stands_for_its_steps() -> None:
    body = 'section "A"\n  takes 30 min\n  wipe guard  takes 5 min\n  wipe cover\n  wipe frame'
    assert three(body) == (30, 30, 30)
    assert (time(body).timed_steps, time(body).untimed_steps) == (3, 0)
    assert total_text(time(f"{body}\nwipe guard\nwipe cover")) == "about 30 min"


def test_a_total_of_few_steps_is_no_total() -> None:
    few = time("wipe guard  takes 5..10 min\nwipe cover\nwipe frame")
    assert total_text(few) == "at least 5 min"
    assert total_note(few) == "2 steps give no time"
    most = time("wipe guard  takes 5..17 min likely 11 min\nwipe cover")
    assert total_text(most) == "about 11 min (5 min to 17 min)"
    assert total_note(most) == "give or take 2 min; 1 step gives no time"


def test_the_head_goes_before_the_sum() -> None:
    body = "wipe guard  takes 5 min\nwipe cover"
    found = time(body, "takes 3..6 h likely 4 h")
    assert (found.low, found.likely, found.high, found.untimed_steps) == (180, 240, 360, 0)


def test_no_time_anywhere_is_no_time() -> None:
    assert lists("wipe guard").time is None


@pytest.mark.parametrize(
    ("body", "head", "people"),
    [
        ("wipe guard", "", 1),
        ("wipe guard", "people 2", 2),
        ("wipe guard  people 3", "people 2", 3),
        ("repeat 2 times\n  wipe guard  people 2", "", 2),
        ('ask a "A?"\nif a is yes\n  wipe guard  people 2', "", 2),
    ],
)
def test_people(body: str, head: str, people: int) -> None:
    assert lists(body, head).people == people


def test_roles_and_energies_in_the_order_of_the_work() -> None:
    found = lists(
        'isolate supply\nwipe guard  by fitter\nsign lead "Done"\nrestore supply',
        'roles\n  fitter "fitter"',
    )
    assert found.energies == ("pump/supply",)
    assert found.roles == ("job/fitter", "house/lead")
