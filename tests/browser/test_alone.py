"""Pages elsewhere than on a disk beside their files: alone on a stick, and over plain http."""

from __future__ import annotations

import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserType, Page, expect

from browser.support import Site
from compiler.document.model import Library
from compiler.emit.alone import alone_jobs
from compiler.emit.html import page_jobs

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def stick(
    demo_library: Library, demo_pictures: dict[str, bytes], tmp_path_factory: pytest.TempPathFactory
) -> Path:
    """Return a folder with the pages alone, and nothing else."""
    folder = tmp_path_factory.mktemp("stick")
    for job in alone_jobs(page_jobs(demo_library, demo_pictures)):
        (folder / job.path.removeprefix("alone/")).write_bytes(job.make())
    return folder


def test_every_page_stands_alone(browser: Browser, stick: Path, demo_library: Library) -> None:
    """Nothing is asked for or refused, every picture shows, every link leads somewhere."""
    assert len(list(stick.iterdir())) == len(demo_library.documents)
    page = browser.new_page()
    faults: list[str] = []
    page.on("request", lambda r: faults.append(r.url) if not r.url.startswith("data:") else None)
    page.on("console", lambda said: faults.append(said.text))
    page.on("pageerror", lambda error: faults.append(str(error)))
    for file in sorted(stick.iterdir()):
        page.goto(file.as_uri())
        page.wait_for_selector("body[data-ready]")
        assert faults.pop(0) == file.as_uri()
        assert faults == []
        assert page.evaluate("document.fonts.check('16px \"Atkinson Hyperlegible\"')")
        blank = "Array.from(document.images).filter((one) => !one.naturalWidth).length"
        assert page.evaluate(blank) == 0
        dead = "Array.from(document.querySelectorAll('a[href]'), (a) => a.getAttribute('href'))"
        assert all(href.startswith("#") for href in page.evaluate(dead))
    page.close()


def test_alone_it_remembers(browser: Browser, stick: Path) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto((stick / "seal-change.html").as_uri())
    page.locator("[data-step]").first.check()
    expect(page.locator("#kept")).to_have_text("kept")
    page.reload()
    expect(page.locator("[data-step]").first).to_be_checked()
    context.close()


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@pytest.fixture
def intranet(site: Site) -> Iterator[int]:
    """Serve the site over plain http and return the port."""
    handler = functools.partial(_Quiet, directory=str(site.folder))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server.server_address[1]
        server.shutdown()


@pytest.fixture
def plain(browser: Browser, chromium_path: str, intranet: int) -> Iterator[Page]:
    """Give a page under a name of the house: not this machine, so no secure context."""
    kind: BrowserType = browser.browser_type
    rule = "--host-resolver-rules=MAP packhouse.test 127.0.0.1"
    other = kind.launch(executable_path=chromium_path, args=["--no-sandbox", rule])
    page = other.new_page()
    page.goto(f"http://packhouse.test:{intranet}/procedures/seal-change.html")
    yield page
    other.close()


def test_over_plain_http(plain: Page) -> None:
    """No part of the page needs what browsers keep for secure contexts."""
    assert plain.evaluate("isSecureContext") is False
    plain.locator("[data-step]").first.check()
    expect(plain.locator("#kept")).to_have_text("kept")
    with plain.expect_download() as download:
        plain.get_by_role("button", name="Save the record").click()
    assert '"seal": "' in download.value.path().read_text(encoding="utf-8")
    plain.reload()
    expect(plain.locator("[data-step]").first).to_be_checked()
