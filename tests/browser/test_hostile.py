"""Text that would be markup elsewhere is shown as text, in every field that an author fills."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from browser.support import TOO_WIDE, WIDTHS, Site, watched, write_site
from browser.worlds import NASTY, hostile, world
from compiler.emit.html import page_jobs

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def hostile_site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    library, pictures = world(hostile(), tmp_path_factory.mktemp("hostile"))
    return write_site(page_jobs(library, pictures), tmp_path_factory.mktemp("hostile-site"))


def as_read(text: str) -> str:
    """Return a text of the source as a reader should see it."""
    return text.replace(r"\"", '"').replace(r"\{", "{").replace(r"\}", "}")


def test_hostile_text_stays_text(browser: Browser, hostile_site: Site) -> None:
    bad = []
    with watched(browser, hostile_site) as it:
        for name in hostile_site.pages():
            page = it.open(name)
            if page.evaluate("() => 'harm' in window"):
                bad.append((name, "a script of the author ran"))
            made = page.evaluate(
                "() => Array.from(document.querySelectorAll("
                "'main img[src=x], main b b, svg[onload], main script'), (one) => one.outerHTML)"
            )
            bad += [(name, one) for one in made]
            if not page.evaluate("() => Array.from(document.images, i => i.naturalWidth)"):
                bad.append((name, "no picture"))
    assert bad == []


@pytest.mark.parametrize("number", range(len(NASTY)))
def test_hostile_text_is_all_there(browser: Browser, hostile_site: Site, number: int) -> None:
    """Twenty fields and more of a procedure each show the text to the letter."""
    with watched(browser, hostile_site) as it:
        page = it.open(f"procedures/job-{number}.html")
        wanted = as_read(NASTY[number])
        assert wanted in page.title()
        assert page.locator("h1").inner_text().strip() == wanted
        assert (page.locator("main").text_content() or "").count(wanted) >= 20
        page.locator("[data-step]").first.check()
        assert page.locator("#count").inner_text().startswith("1 of")
        shown = page.evaluate("() => Array.from(document.images, (one) => one.naturalWidth > 0)")
        assert len(shown) == 2
        assert all(shown)


def test_hostile_text_fits(browser: Browser, hostile_site: Site) -> None:
    """A word of three hundred letters is broken, not let out of the page."""
    names = [n for n in hostile_site.pages() if n.endswith(("-6.html", "index.html", "round.html"))]
    bad = []
    with watched(browser, hostile_site) as it:
        for name in names:
            page = it.open(name)
            for width in WIDTHS:
                page.set_viewport_size({"width": width, "height": 900})
                if found := page.evaluate(TOO_WIDE):
                    bad.append((name, width, *found))
    assert bad == []
    assert len(names) >= 4
