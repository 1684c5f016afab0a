"""A visit on the page: its ticks, how they are begun anew, and its plan on a phone."""

from __future__ import annotations

import pytest
from playwright.sync_api import Dialog, Page, expect

from browser.support import Watched
from browser.test_jobs import again

pytestmark = pytest.mark.browser

VISIT = "visits/autumn-service.html"


def test_the_ticks_of_a_visit_can_be_started_over(demo: Watched) -> None:
    """It asks first."""
    page = demo.open(VISIT)
    box, key = page.locator("[data-tick]").first, page.locator("#again")
    expect(key).to_be_hidden()
    box.check()
    expect(page.locator("#kept")).to_have_text("kept")
    again(page)
    expect(box).to_be_checked()
    page.once("dialog", lambda dialog: dialog.dismiss())
    key.click()
    expect(box).to_be_checked()
    said: list[str] = []

    def accept(dialog: Dialog) -> None:
        said.append(dialog.message)
        dialog.accept()

    page.once("dialog", accept)
    with page.expect_navigation():
        key.click()
    page.wait_for_selector("body[data-ready]")
    expect(box).not_to_be_checked()
    expect(key).to_be_hidden()
    assert "Take all ticks" in said[0]


def row_heights(page: Page) -> list[float]:
    rows = page.locator("table.short tbody tr").all()
    return [box["height"] for row in rows if (box := row.bounding_box()) is not None]


def test_the_plan_of_a_visit_is_short_on_a_phone(demo: Watched) -> None:
    """What a job is called and when it starts fit in a few lines, not in a card of four."""
    demo.page.set_viewport_size({"width": 360, "height": 740})
    heights = row_heights(demo.open(VISIT))
    assert len(heights) > 3
    assert max(heights) < 120
