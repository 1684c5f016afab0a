"""The first page: typing and choosing leave the procedures that fit."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from browser.support import Watched, watched, write_site
from compiler.document.model import Library
from compiler.emit.html import page_jobs

pytestmark = pytest.mark.browser


@pytest.fixture
def index(demo: Watched) -> Page:
    return demo.open("index.html")


def shown(page: Page) -> list[str]:
    cards = page.locator("#all .card, #results .card").all()
    return [card.locator("b").inner_text() for card in cards if card.is_visible()]


def test_every_procedure_is_there_and_opens(index: Page, demo_library: Library) -> None:
    assert sorted(shown(index)) == sorted(row.title for row in demo_library.rows)
    index.locator("#all .card a").first.click()
    expect(index).to_have_url(re.compile("/procedures/"))
    expect(index.locator("h1")).to_be_visible()


@pytest.mark.parametrize(
    "typed", ["mechanical seal", "MECHANICAL SEAL", "  seal   mechanical ", "méchanical seal"]
)
def test_a_part_is_found_however_it_is_typed(index: Page, typed: str) -> None:
    index.locator("#search").fill(typed)
    assert "Change the mechanical seal" in shown(index)
    assert len(shown(index)) < 10


def test_a_tool_is_found_by_name_and_tag(index: Page, demo_library: Library) -> None:
    seal = next(document for document in demo_library.documents if document.id == "seal-change")
    tool = next(tool for tool in seal.tools if tool.tag)
    for typed in (tool.tag, tool.tag.lower(), tool.text.split(",")[0]):
        index.locator("#search").fill(typed)
        assert seal.title in shown(index), typed


def test_what_does_not_fit_is_hidden(index: Page) -> None:
    index.locator("#search").fill("belt")
    assert shown(index)
    assert not index.locator("#all").is_visible()
    index.locator("#search").fill("")
    assert index.locator("#all").is_visible()


def test_nothing_found_is_said(index: Page, demo_library: Library) -> None:
    index.locator("#search").fill("zeppelin")
    assert shown(index) == []
    expect(index.locator("#found")).to_have_text(f"0 of {len(demo_library.rows)} found")
    index.locator("#search").fill("")
    expect(index.locator("#found")).to_have_text("")
    assert len(shown(index)) == len(demo_library.rows)


def test_a_machine_is_chosen(index: Page, demo_library: Library) -> None:
    index.locator("#narrow summary").click()
    for machine in demo_library.machines:
        index.locator("#machine").select_option(machine.id)
        wanted = sorted(row.title for row in demo_library.rows if row.machine_id == machine.id)
        assert sorted(shown(index)) == wanted
    index.locator("#machine").select_option("")
    assert sorted(shown(index)) == sorted(
        row.title for row in demo_library.rows if not row.machine_id
    )


def test_machine_and_words_together(index: Page) -> None:
    index.locator("#narrow summary").click()
    index.locator("#machine").select_option("compressor")
    index.locator("#search").fill("mechanical seal")
    assert shown(index) == []
    index.locator("#machine").select_option("transfer-pump")
    assert "Change the mechanical seal" in shown(index)


def test_where_is_this_wrench_needed(index: Page, demo_library: Library) -> None:
    index.locator("#narrow summary").click()
    for number, tool in enumerate(demo_library.tools[:12]):
        index.locator("#tool").select_option(str(number))
        wanted = sorted(row.title for row in demo_library.rows if tool.id in row.tools)
        assert sorted(shown(index)) == wanted, tool.id


def test_a_model_and_a_day_narrow_it(index: Page, demo_library: Library) -> None:
    index.locator("#narrow summary").click()
    model = next(model for row in demo_library.rows for model in row.models)
    index.locator("#model").select_option(model)
    assert sorted(shown(index)) == sorted(r.title for r in demo_library.rows if model in r.models)
    index.locator("#model").select_option("")
    days = sorted(row.day for row in demo_library.rows)
    index.locator("#since").fill(days[-3])
    assert sorted(shown(index)) == sorted(r.title for r in demo_library.rows if r.day >= days[-3])


def test_ten_thousand_procedures(browser: Browser, demo_library: Library, tmp_path: Path) -> None:
    """The page stays small, every procedure is found, and typing is answered in the same moment."""
    many = tuple(
        dataclasses.replace(
            row, id=f"{row.id}-{n}", title=f"{row.title} {n}", words=f"{row.words} no-{n}"
        )
        for n in range(10_000 // len(demo_library.rows) + 1)
        for row in demo_library.rows
    )[:10_000]
    jobs = page_jobs(dataclasses.replace(demo_library, rows=many, documents=()), {})
    wanted = ("site/index.html", "site/finder.js", "site/assets/")
    site = write_site((job for job in jobs if job.path.startswith(wanted)), tmp_path)
    own = [site.folder / "index.html", *(site.folder / "assets").glob("*.css")]
    assert sum(file.stat().st_size for file in [*own, site.folder / "assets/index.js"]) < 150_000
    with watched(browser, site, viewport={"width": 360, "height": 740}) as it:
        page = it.open("index.html")
        expect(page.locator("#all")).to_contain_text("10000 procedures")
        page.locator("#search").fill("mechanical seal no-17")
        expect(page.locator("#results b").first).to_have_text("Change the mechanical seal 17")
        page.locator("#search").fill("seal")
        assert page.locator("#results .card").count() == 60
        page.locator("#more").click()
        assert page.locator("#results .card").count() == 300
