"""The browser and the sites that the tests of the pages share."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from browser.support import Facts, Site, Watched, survey, watched, write_site
from browser.worlds import BENCH, world
from compiler.document.model import Library
from compiler.emit.html import page_jobs


@pytest.fixture(scope="package")
def browser(chromium_path: str) -> Iterator[Browser]:
    """Start the installed browser once."""
    # What is waited for comes at once or never; a slow machine is no fault of the page.
    expect.set_options(timeout=30_000)
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(
            executable_path=chromium_path, args=["--no-sandbox", "--disable-gpu"]
        )
        yield started
        started.close()


@pytest.fixture(scope="package")
def site(
    demo_library: Library,
    demo_pictures: Mapping[str, bytes],
    tmp_path_factory: pytest.TempPathFactory,
) -> Site:
    """Return the site of the demo, in a folder whose name has to be written in percent signs."""
    out = tmp_path_factory.mktemp("demo") / "a folder, with ä #1"
    return write_site(page_jobs(demo_library, demo_pictures), out)


@pytest.fixture(scope="package")
def surveys(browser: Browser, site: Site) -> dict[str, Facts]:
    """Return what every page of the demo looks like; each is opened once for all tests."""
    return survey(browser, site)


@pytest.fixture(scope="package")
def bench_site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """Return the site of a small folder with everything that a reader can do."""
    library, pictures = world(BENCH, tmp_path_factory.mktemp("bench"))
    return write_site(page_jobs(library, pictures), tmp_path_factory.mktemp("bench-site"))


@pytest.fixture
def demo(browser: Browser, site: Site) -> Iterator[Watched]:
    """Give a fresh page on the demo at the size of a tablet."""
    with watched(browser, site, viewport={"width": 820, "height": 1180}) as it:
        yield it


@pytest.fixture
def bench(browser: Browser, bench_site: Site) -> Iterator[Page]:
    """Give the procedure of the small folder, opened for the first time."""
    with watched(browser, bench_site, viewport={"width": 820, "height": 1180}) as it:
        yield it.open("procedures/reseal.html")
