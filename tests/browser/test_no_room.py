"""A device that is truly full: the quota of the browser for the site, set by its own protocol."""

from __future__ import annotations

import functools
import http.server
import threading
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from browser.support import Site

pytestmark = pytest.mark.browser


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@pytest.fixture
def origin(bench_site: Site) -> Iterator[str]:
    """Serve the site: a quota is that of a server, and files of a disk have none."""
    handler = functools.partial(_Quiet, directory=str(bench_site.folder))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_address[1]}"
        server.shutdown()


def opened(page: Page) -> Page:
    page.wait_for_selector("body[data-ready]")
    return page


def test_a_full_device_is_told_and_nothing_is_lost(browser: Browser, origin: str) -> None:
    """What it refuses shows as done and as not kept, also when the page comes again; with room it
    is kept."""
    context = browser.new_context()
    page = context.new_page()
    protocol = context.new_cdp_session(page)
    protocol.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 1000})
    page.goto(f"{origin}/procedures/reseal.html")
    boxes, kept = opened(page).locator("[data-step]"), page.locator("#kept")
    boxes.nth(0).check()
    expect(kept).to_contain_text("Not kept")
    expect(page.locator(".step").first).to_have_class("step do")
    page.get_by_label("Shaft runout", exact=True).fill("0.04")
    for _ in range(2):
        page.reload()
        expect(opened(page).locator("#kept")).to_contain_text("Not kept")
        expect(boxes.nth(0)).to_be_checked()
        expect(page.get_by_label("Shaft runout", exact=True)).to_have_value("0.04")
    protocol.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    page.reload()
    opened(page)
    boxes.nth(1).check()
    expect(kept).to_have_text("kept")
    late = "Object.keys(localStorage).filter((key) => key.includes('late'))"
    assert page.evaluate(late) == []
    page.reload()
    opened(page)
    for number in range(2):
        expect(boxes.nth(number)).to_be_checked()
    context.close()
