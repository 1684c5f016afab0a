"""What a page says to whoever comes from the code on a sheet."""

from __future__ import annotations

from urllib.parse import quote

import pytest
from playwright.sync_api import Page, expect

from browser.support import Watched
from compiler.document.model import Document, Library
from compiler.document.numbers import steps_of
from compiler.emit.qr import page_address

pytestmark = pytest.mark.browser

NAME = "seal-change"


@pytest.fixture
def doc(demo_library: Library) -> Document:
    return next(one for one in demo_library.documents if one.id == NAME)


def opened(demo: Watched, mark: str) -> Page:
    """Open the page of the procedure as a print with this mark asks for it."""
    demo.open(f"procedures/{NAME}.html")
    address = demo.site.address(f"procedures/{NAME}.html") + mark
    demo.page.goto("about:blank")
    demo.page.goto(address)
    demo.page.wait_for_selector("body[data-ready]")
    return demo.page


def mark_of(revision: str, content: str) -> str:
    """Return what a sheet's code has behind the address."""
    return "#" + page_address("http://pages.example", "x", revision, content).partition("#")[2]


def test_the_newest_print(demo: Watched, doc: Document) -> None:
    assert doc.revision is not None
    told = opened(demo, mark_of(doc.revision.name, doc.digest)).locator("#printed")
    expect(told).to_contain_text("Your print is the newest.")
    expect(told).to_contain_text(f"revision {doc.revision.name}, content {doc.digest[:12]}")
    expect(told).not_to_contain_text("old")
    expect(told).to_have_attribute("role", "status")


def test_a_print_of_another_revision(demo: Watched, doc: Document) -> None:
    """It is told which the page is, of what day, and what was changed; the new sheet is there."""
    assert doc.revision is not None
    assert doc.revision.change
    page = opened(demo, mark_of("Z 9", "0123456789abcdef"))
    told = page.locator("#printed")
    for words in (
        "Your print is old. Do not work from it.",
        "Your print is revision Z 9, content 0123456789ab.",
        f"revision {doc.revision.name}, content {doc.digest[:12]}, {doc.revision.day}",
        f"Changed in revision {doc.revision.name}: {doc.revision.change}",
        "ask whether these pages are behind",
    ):
        expect(told).to_contain_text(words)
    link = told.get_by_role("link", name="Open the new sheet")
    assert (link.get_attribute("href") or "").endswith(f"/sheets/{NAME}.pdf")
    box = told.bounding_box()
    assert box is not None
    assert box["y"] < 200


def test_a_print_of_two_revisions_ago_is_told_both_changes(demo: Watched, doc: Document) -> None:
    """By its content mark, and by its revision when that content was never issued."""
    first, *later = doc.issues
    assert len(later) == 2
    for content in (first.mark, "0123456789ab"):
        told = opened(demo, mark_of(first.revision, content)).locator("#printed")
        said = told.inner_text()
        changes = [f"Changed in revision {i.revision}, {i.day}: {i.change}" for i in later]
        assert all(change in said for change in changes)
        assert said.index(changes[0]) < said.index(changes[1])
        assert first.change not in said
    between = opened(demo, mark_of(later[0].revision, later[0].mark)).locator("#printed")
    expect(between).not_to_contain_text(later[0].change)
    expect(between).to_contain_text(later[1].change)


def test_the_page_has_the_revisions_and_marks_what_changed(demo: Watched, doc: Document) -> None:
    page = demo.open(f"procedures/{NAME}.html")
    fold = page.locator("details", has_text="Revisions").first
    fold.locator("summary").first.click()
    rows = fold.locator("tbody tr").all_inner_texts()
    assert [row.split()[0] for row in rows] == [one.revision for one in reversed(doc.issues)]
    assert all(one.change in " ".join(rows) and one.mark in " ".join(rows) for one in doc.issues)
    assert doc.since is not None
    expect(page.locator(".since")).to_have_text(doc.since.text)
    bars = page.locator("li.step.altered")
    steps = [one for one in steps_of(doc.body) if one.altered]
    assert bars.count() == len(steps)
    expect(bars.first).to_contain_text(f"Changed since revision {doc.since.revision}")
    expect(page.locator(".taken-out")).to_contain_text("Taken out here: step")


def test_the_same_revision_with_other_content(demo: Watched, doc: Document) -> None:
    assert doc.revision is not None
    told = opened(demo, mark_of(doc.revision.name, "0123456789abcdef")).locator("#printed")
    expect(told).to_contain_text("The content was changed since.")
    expect(told).not_to_contain_text("Changed in revision")


@pytest.mark.parametrize(
    "mark",
    [
        "",
        "B",
        "B,",
        "B,0123",
        "B,0123456789abc",
        "%E0%A4%A,0123456789ab",
        "B,0123456789ab,more",
        quote("<img src=x onerror=document.title='hit'>"),
        "<b>B</b>,0123456789ab<script>1</script>",
        "x" * 5000,
    ],
)
def test_what_is_no_mark_stays_text(demo: Watched, mark: str) -> None:
    page = opened(demo, "#printed=" + mark)
    told = page.locator("#printed")
    expect(told).to_contain_text("Which print you have cannot be told.")
    assert told.locator("b, img, script").count() == 0
    assert "hit" not in page.title()
    assert len(told.inner_text()) < 250


def test_markup_in_the_revision_stays_text(demo: Watched) -> None:
    mark = mark_of("<img src=x onerror=alert(1)>", "0123456789ab")
    told = opened(demo, mark).locator("#printed")
    expect(told).to_contain_text("revision <img src=x onerror=alert(1)>")
    assert told.locator("img").count() == 0


def test_without_a_print_nothing_is_said(demo: Watched) -> None:
    page = demo.open(f"procedures/{NAME}.html")
    assert page.locator("#printed").count() == 0
    page.goto(page.url + "#work")
    assert page.locator("#printed").count() == 0


def test_a_second_print_is_read_on_the_open_page(demo: Watched, doc: Document) -> None:
    assert doc.revision is not None
    page = opened(demo, mark_of("old", "0123456789ab"))
    page.evaluate("mark => location.hash = mark", mark_of(doc.revision.name, doc.digest))
    expect(page.locator("#printed")).to_contain_text("Your print is the newest.")
    assert page.locator("#printed").count() == 1


def test_a_visit_answers_too(demo: Watched, demo_library: Library) -> None:
    visit = demo_library.visits[0]
    path = f"visits/{visit.id}.html"
    address = demo.site.address(path)
    demo.page.goto(address + mark_of("", visit.digest))
    expect(demo.page.locator("#printed")).to_contain_text("Your print is the newest.")
    demo.page.goto("about:blank")
    demo.page.goto(address + mark_of("", "0123456789ab"))
    expect(demo.page.locator("#printed")).to_contain_text("Your print is old.")
