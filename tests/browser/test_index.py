"""The first page: typing and choosing leave the procedures that fit."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from browser.support import Watched
from compiler.document.model import Library

pytestmark = pytest.mark.browser


@pytest.fixture
def index(demo: Watched) -> Page:
    return demo.open("index.html")


def shown(page: Page) -> list[str]:
    cards = page.locator("[data-search]").all()
    return [card.locator("b").inner_text() for card in cards if card.is_visible()]


def test_every_procedure_is_there_and_opens(index: Page, demo_library: Library) -> None:
    assert sorted(shown(index)) == sorted(row.title for row in demo_library.rows)
    index.locator("[data-search] a").first.click()
    expect(index.locator("h1")).to_be_visible()
    assert "/procedures/" in index.url


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


def test_what_does_not_fit_is_hidden_with_its_group(index: Page) -> None:
    index.locator("#search").fill("belt")
    assert shown(index)
    for group in index.locator(".group").all():
        cards = [card for card in group.locator("[data-search]").all() if card.is_visible()]
        assert group.is_visible() == bool(cards)
    assert any(not group.is_visible() for group in index.locator(".group").all())


def test_nothing_found_is_said(index: Page, demo_library: Library) -> None:
    index.locator("#search").fill("zeppelin")
    assert shown(index) == []
    expect(index.locator("#found")).to_have_text(f"0 of {len(demo_library.rows)} found")
    index.locator("#search").fill("")
    expect(index.locator("#found")).to_have_text("")
    assert len(shown(index)) == len(demo_library.rows)


def test_a_machine_is_chosen(index: Page, demo_library: Library) -> None:
    for machine in demo_library.machines:
        index.locator("#machine").select_option(machine.id)
        wanted = sorted(row.title for row in demo_library.rows if row.machine_id == machine.id)
        assert sorted(shown(index)) == wanted
    index.locator("#machine").select_option("")
    assert sorted(shown(index)) == sorted(
        row.title for row in demo_library.rows if not row.machine_id
    )


def test_machine_and_words_together(index: Page) -> None:
    index.locator("#machine").select_option("compressor")
    index.locator("#search").fill("mechanical seal")
    assert shown(index) == []
    index.locator("#machine").select_option("transfer-pump")
    assert "Change the mechanical seal" in shown(index)
