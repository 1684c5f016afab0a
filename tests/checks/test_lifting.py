"""Heavy parts: what nothing carries is found, what is carried is not."""

from __future__ import annotations

import pytest
from order_support import check_job

WRONG = {
    "alone": "remove head    # error: unsupported\nsupport head with hoist\nfit head\n"
    "tighten head-nut\nrelease head",
    "support a line too late": "remove motor-nut    # error: unsupported\n"
    "support motor with hoist\nremove motor\nfit motor\ntighten motor-nut\nrelease motor",
    "let go too early": "support motor with hoist\nremove motor-nut\n"
    "release motor    # error: unsupported\nfit motor-nut\ntighten motor-nut",
    "over 35 kg for one": "support motor with hoist\nremove motor\nrelease motor\n"
    "fit motor    # error: unsupported\ntighten motor-nut",
    "two people only on one line": "remove motor people 2\n"
    "fit motor    # error: unsupported\ntighten motor-nut",
    "dowels out as well": "remove head-nut\nremove dowel    # error: unsupported\n"
    "support head with hoist\nfit dowel\nfit head-nut\ntighten head-nut\nrelease head",
}

RIGHT = {
    "dowels carry it": "remove head-nut\nsupport head with hoist\nremove head\nfit head\n"
    "tighten head-nut\nrelease head",
    "slid onto a table": "support motor with table\nremove motor-nut\nslide motor onto table\n"
    "remove motor\nfit motor\ntighten motor-nut\nrelease motor",
    "stands by itself": 'support motor with "its own feet"\nremove motor-nut\n'
    'slide motor along "the slots"\nfit motor-nut\ntighten motor-nut\nrelease motor',
    "two people, a quarter more": "remove motor people 2\nfit motor people 2\ntighten motor-nut",
    "two people throughout": "people 2\nremove motor\nfit motor\ntighten motor-nut",
    "about 24 kg": "remove fan\nfit fan\nfit fan-nut\ntighten fan-nut",
    "under 25 kg": "remove tray\nfit tray",
    "one nut of two": "remove head-nut[1]\nfit head-nut[1]\ntighten head-nut[1]",
    "slackened only": "slacken motor-nut\ntighten motor-nut",
    "down and away": "leaves motor off\nsupport motor with hoist\nremove motor\n"
    'lower motor onto "a pallet"\nrelease motor',
    "worked out": 'section off "Off"\n  support motor with hoist\n  remove motor\n'
    "check bed\nrefit off",
}


@pytest.mark.parametrize("name", WRONG)
def test_what_nothing_carries_is_found(name: str) -> None:
    check_job(WRONG[name])


@pytest.mark.parametrize("name", RIGHT)
def test_what_is_carried_is_left_in_peace(name: str) -> None:
    check_job(RIGHT[name])
