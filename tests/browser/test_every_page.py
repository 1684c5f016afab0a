"""Every page of the demo leads somewhere, and asks for nothing from elsewhere."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import PurePosixPath
from posixpath import normpath
from urllib.parse import unquote, urlsplit

import pytest

from browser.support import Site
from compiler.document.model import Library
from compiler.emit.pdf import sheet_jobs

pytestmark = pytest.mark.browser


class Links(HTMLParser):
    """Collects the ids of a page and what it points to."""

    def __init__(self, text: str) -> None:
        """Read a page."""
        super().__init__()
        self.ids: list[str] = []
        self.targets: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take the addresses and the id of a tag."""
        for name, value in attrs:
            if name == "id" and value:
                self.ids.append(value)
            elif name in ("href", "src", "poster") and value is not None:
                self.targets.append(value)


def read_all(site: Site) -> dict[str, Links]:
    return {p: Links((site.folder / p).read_text(encoding="utf-8")) for p in site.pages()}


def test_every_link_leads_somewhere(site: Site, demo_library: Library) -> None:
    pages = read_all(site)
    sheets = {job.path for job in sheet_jobs(demo_library, {}, "a4")}
    dead = []
    for name, links in pages.items():
        for target in links.targets:
            parts = urlsplit(target)
            if parts.scheme or parts.netloc:
                dead.append((name, target, "leaves the site"))
                continue
            folder = PurePosixPath("site", name).parent
            path = normpath(str(folder / unquote(parts.path))) if parts.path else f"site/{name}"
            if path not in sheets and not (site.out / path).is_file():
                dead.append((name, target, "no such file"))
            wanted = unquote(parts.fragment)
            seen = pages.get(path.removeprefix("site/"))
            if wanted and not wanted.startswith("t=") and seen and wanted not in seen.ids:
                dead.append((name, target, "no such place"))
    assert dead == []
    assert sum(len(links.targets) for links in pages.values()) > 1000


def test_ids_are_unique(site: Site) -> None:
    twice = {
        name: sorted({one for one in links.ids if links.ids.count(one) > 1})
        for name, links in read_all(site).items()
    }
    assert {name: ids for name, ids in twice.items() if ids} == {}


def test_every_page_can_be_reached_from_the_first(site: Site) -> None:
    pages = read_all(site)
    seen, todo = set(), ["index.html"]
    while todo:
        name = todo.pop()
        if name in seen:
            continue
        seen.add(name)
        for target in pages[name].targets:
            path = normpath(str(PurePosixPath(name).parent / unquote(urlsplit(target).path)))
            if path in pages:
                todo.append(path)
    assert sorted(pages.keys() - seen) == []
