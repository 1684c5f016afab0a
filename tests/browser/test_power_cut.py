"""The battery dies in the middle of a job: nothing that showed as kept is missing."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from browser.power_cut import kill_often

pytestmark = pytest.mark.browser


def test_at_most_the_tap_on_its_way_is_missing(browser: Browser, chromium_path: str) -> None:
    losses = kill_often(browser.browser_type, chromium_path, 3, seed=20261126)
    assert losses.kills == 3
    assert losses.kept_but_missing == 0
    assert losses.most_missing_at_once <= 1
    assert losses.notes == []
