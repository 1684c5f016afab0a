"""What is never used twice: found when it goes in again, not when it never was out."""

from __future__ import annotations

import pytest
from order_support import check_job

WRONG = {
    "old filter back": "open door\nremove filter\nfit filter    # error: used-again\nclose door",
    "old nut back": "remove fan-nut\nfit old fan-nut    # error: used-again\ntighten fan-nut",
    "new one, out and in again": "open door\nreplace filter\nremove filter\n"
    "fit filter    # error: used-again\nclose door",
    "seal out of the unit": "starts with unit off\nleaves unit off\nremove seal\nclean unit\n"
    "fit seal    # error: used-again",
    "seal moved over": "starts with unit off\nleaves unit off\n"
    "transfer seal to new unit    # error: used-again",
}

RIGHT = {
    "off at the start": "starts with filter off\nopen door\nfit filter\nclose door",
    "new": "open door\nremove filter\nfit new filter\nclose door",
    "replaced": "open door\nreplace filter\nclose door",
    "nut that is named": "remove fan-nut\nfit fan-nut\ntighten fan-nut",
    "nut that goes in with its part": "remove fan\nfit fan\ntighten fan-nut",
    "comes along with its carrier": "isolate drive\nremove unit\ncheck seal\nfit unit\n"
    "restore drive",
    "slackened only": "slacken fan-nut\ntighten fan-nut",
    "worked out": "section off\n  open door\n  remove filter\nrefit off",
}


@pytest.mark.parametrize("name", WRONG)
def test_used_twice_is_found(name: str) -> None:
    check_job(WRONG[name])


@pytest.mark.parametrize("name", RIGHT)
def test_used_once_is_left_in_peace(name: str) -> None:
    check_job(RIGHT[name])
