"""What the browser tests share: a site on the disk, and a page whose faults are recorded."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from playwright.sync_api import Browser, Page, Request

from compiler.emit.job import OutputJob

TABLET = 820
WIDTHS = (360, TABLET, 1280)
"""A small phone, a tablet upright and a desk screen, in CSS pixels."""


TOO_WIDE = """() => {
  const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  const past = Array.from(document.querySelectorAll("body *")).filter((one) => {
    const box = one.getBoundingClientRect();
    const past = box.width > 0 && box.right > window.innerWidth + 1;
    return past && !one.closest(".scroll, .grid, svg");
  });
  const names = past.slice(0, 3).map((one) => one.outerHTML.slice(0, 90));
  return wide > 0 || past.length ? [wide, names] : null;
}"""

SURVEY = (Path(__file__).parent / "survey.js").read_text(encoding="utf-8")

Facts = dict[str, Any]
"""What `survey.js` finds on one page; `wide` is what does not fit, by width."""


@dataclass(frozen=True, slots=True)
class Site:
    """A site on the disk; `out` is the output folder that holds `site`."""

    out: Path

    @property
    def folder(self) -> Path:
        """Return the folder of the pages."""
        return self.out / "site"

    def pages(self) -> list[str]:
        """Return the paths of all pages, relative to the site."""
        return sorted(p.relative_to(self.folder).as_posix() for p in self.folder.rglob("*.html"))

    def address(self, page: str) -> str:
        """Return the address under which a page opens from the disk."""
        return (self.folder / page).as_uri()


@dataclass
class Watched:
    """A page and what went wrong on it so far, in words."""

    page: Page
    site: Site
    faults: list[str] = field(default_factory=list)

    def open(self, page: str) -> Page:
        """Open a page of the site and return it, once what was done earlier is on it."""
        self.page.goto(self.site.address(page))
        self.page.wait_for_selector("body:not([data-about]), body[data-ready]")
        return self.page

    def record(self, request: Request) -> None:
        """Note a request that leaves the folder of the site."""
        parts = urlsplit(request.url)
        path = Path(unquote(parts.path))
        if parts.scheme != "file" or not path.is_relative_to(self.site.folder):
            self.faults.append(f"{self.page.url} asks for {request.url}")

    def record_failure(self, request: Request) -> None:
        """Note a file that was refused; one that the next page came before is no fault."""
        if "ERR_ABORTED" not in (request.failure or ""):
            self.faults.append(f"{self.page.url}: {request.url}: {request.failure}")


def write_site(jobs: Iterable[OutputJob], out: Path) -> Site:
    """Write the files of a site below `out`."""
    for job in jobs:
        target = out / job.path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(job.make())
    return Site(out)


@contextmanager
def watched(browser: Browser, site: Site, **options: Any) -> Iterator[Watched]:
    """Give a page with a memory of its own; at the end it must have had no fault."""
    # Smooth scrolling would only make each click wait.
    context = browser.new_context(reduced_motion="reduce", **options)
    page = context.new_page()
    page.set_default_timeout(30_000)
    it = Watched(page, site)
    page.on("request", it.record)
    page.on("pageerror", lambda error: it.faults.append(f"{page.url}: {error}"))
    page.on(
        "console",
        lambda said: (
            it.faults.append(f"{page.url}: {said.type}: {said.text}")
            if said.type in ("error", "warning")
            else None
        ),
    )
    page.on("requestfailed", it.record_failure)
    try:
        yield it
    finally:
        context.close()
    if it.faults:
        raise AssertionError("\n".join(it.faults[:10]))


def survey(browser: Browser, site: Site) -> dict[str, Facts]:
    """Open every page at every width, and look it over at that of a tablet."""
    found: dict[str, Facts] = {}
    widths = list(WIDTHS)
    with watched(browser, site, viewport={"width": widths[0], "height": 1180}) as it:
        for name in site.pages():
            page, facts, wide = it.open(name), {}, {}
            for width in widths:
                if page.viewport_size != {"width": width, "height": 1180}:
                    page.set_viewport_size({"width": width, "height": 1180})
                if problem := page.evaluate(TOO_WIDE):
                    wide[width] = problem
                if width == TABLET:
                    facts = page.evaluate(SURVEY)
            found[name] = {**facts, "wide": wide}
            # The next page begins as wide as this one ends, since changing the width takes long.
            widths.reverse()
    return found
