"""What is entered: in either unit, for the model at hand, and by the rounds of a repeat.

The factors are those of NIST SP 811, Appendix B.8: 1 in = 25.4 mm, and t/°C = (t/°F − 32) / 1.8.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from browser.support import Site, watched, write_site
from browser.test_jobs import again, begin, saved
from browser.worlds import READINGS, world
from compiler.document.model import Document
from compiler.emit.html import page_jobs
from compiler.records import judge_record, read_record

pytestmark = pytest.mark.browser

Made = tuple[Site, Document]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    library, pictures = world(READINGS, tmp_path_factory.mktemp("readings"))
    site = write_site(page_jobs(library, pictures), tmp_path_factory.mktemp("readings-site"))
    return site, library.documents[0]


@pytest.fixture
def page(browser: Browser, made: Made) -> Iterator[Page]:
    with watched(browser, made[0], viewport={"width": 360, "height": 740}) as it:
        yield it.open("procedures/gaps.html")


def field(page: Page, label: str) -> Locator:
    return page.locator(f'.field[data-label="{label}"]:visible')


def typed(page: Page, label: str, text: str) -> None:
    field(page, label).locator("input").first.fill(text)


def says(page: Page, label: str) -> Locator:
    return field(page, label).locator(".verdict")


def units(page: Page, label: str) -> list[str]:
    return field(page, label).locator(".unit").all_inner_texts()


def test_an_entry_takes_the_unit_that_the_page_shows(page: Page) -> None:
    assert units(page, "Rim") == ["mm"]
    page.locator("#units").click()
    assert units(page, "Rim") == ["in"]
    expect(field(page, "Rim").locator(".label")).to_have_text(
        "Rim at most 0.0019 in (at most 0.05 mm)"
    )
    named = field(page, "Rim").locator("input").get_attribute("aria-describedby")
    assert page.locator(f"#{named}").inner_text() == "in"
    # 0.0019 in = 0.04826 mm, 0.002 in = 0.0508 mm.
    typed(page, "Rim", "0,0019")
    expect(says(page, "Rim")).to_have_text("= 0.04826 mm: within limits")
    typed(page, "Rim", "0.002")
    expect(says(page, "Rim")).to_have_text("= 0.0508 mm: above the limit")
    typed(page, "Oil", "140")
    expect(says(page, "Oil")).to_have_text("= 60 °C: within limits")
    typed(page, "Oil", "140.001")
    expect(says(page, "Oil")).to_contain_text("above the limit")
    expect(page.locator("#kept")).to_have_text("kept")
    again(page)
    assert units(page, "Oil") == ["°F"]
    expect(says(page, "Oil")).to_contain_text("above the limit")


def test_a_reading_without_a_second_unit_is_kept_as_typed(page: Page) -> None:
    begin(page, "R. Pear", "P-1")
    typed(page, "Pull", "185")
    expect(says(page, "Pull")).to_have_text("above the limit")
    expect(page.locator("#kept")).to_have_text("kept")
    (entry,) = [e for e in saved(page)["entries"] if e["label"] == "Pull"]
    assert (entry["entered"], entry["value"], entry["unit"]) == ("185", "185", "N")


def test_what_was_typed_never_changes_its_unit(page: Page) -> None:
    """Its number stays, its unit stays, and both stand side by side."""
    typed(page, "Rim", "0.04")
    page.locator("#units").click()
    rim = field(page, "Rim").locator("input")
    expect(rim).to_have_value("0.04")
    assert units(page, "Rim") == ["mm"]
    expect(says(page, "Rim")).to_have_text("within limits")
    expect(field(page, "Rim").locator(".stays")).to_contain_text("Begun in mm")
    # Emptied to correct it: the unit does not turn under the thumb, only when it is left empty.
    rim.fill("")
    assert units(page, "Rim") == ["mm"]
    rim.press_sequentially("0.06")
    rim.blur()
    assert units(page, "Rim") == ["mm"]
    expect(says(page, "Rim")).to_have_text("above the limit")
    rim.fill("")
    rim.blur()
    expect(field(page, "Rim").locator(".unit")).to_have_text("in")
    rim.fill("0.001")
    rim.blur()
    page.locator("#units").click()
    again(page)
    expect(rim).to_have_value("0.001")
    assert units(page, "Rim") == ["in"]
    expect(says(page, "Rim")).to_have_text("= 0.0254 mm: within limits")


def test_readings_that_belong_together_go_on_in_one_unit(page: Page) -> None:
    first, second = field(page, "End play").locator("input").all()
    first.fill("0.2")
    page.locator("#units").click()
    assert units(page, "End play") == ["mm", "mm"]
    second.fill("0.35")
    expect(says(page, "End play")).to_have_text("above the limit")
    second.fill("0.01 in")
    second.blur()
    assert units(page, "End play") == ["mm", "in"]
    expect(second).to_have_value("0.01")
    # 0.254 mm less 0.2 mm is well within 0.1 mm.
    expect(says(page, "End play")).to_have_text("= 0.254 mm: within limits")
    assert all(one.is_visible() for one in field(page, "End play").locator(".unit").all())


@pytest.mark.parametrize("text", ["min", "about 2", "0.05 cm", "1e-3", "."])
def test_what_is_no_number_is_none_in_either_unit(page: Page, text: str) -> None:
    for _ in range(2):
        typed(page, "Rim", text)
        expect(says(page, "Rim")).to_have_text("This is no number.")
        field(page, "Rim").locator("input").blur()
        expect(field(page, "Rim").locator("input")).to_have_value(text)
        typed(page, "Rim", "5 in in")
        field(page, "Rim").locator("input").blur()
        expect(says(page, "Rim")).to_have_text("This is no number.")
        typed(page, "Rim", "")
        field(page, "Rim").locator("input").blur()
        page.locator("#units").click()


def test_a_limit_of_each_model_asks_for_the_model_first(page: Page) -> None:
    first = page.locator("#model-first")
    gaps = page.locator('.field[data-label="Gap"] input')
    expect(gaps).to_have_count(2)
    gaps.first.fill("0.3")
    expect(first).to_be_visible()
    expect(first).to_be_in_viewport()
    expect(gaps.first).to_have_value("")
    box = page.locator('[data-step="measure-gap"]').first
    box.click(force=True)
    expect(box).not_to_be_checked()
    page.get_by_label("P-60", exact=True).check(force=True)
    expect(first).to_be_hidden()
    typed(page, "Gap", "0.3")
    expect(says(page, "Gap")).to_have_text("above the limit")
    # On the other model the same reading is good, and it is held against that limit at once.
    page.get_by_label("P-40", exact=True).check(force=True)
    expect(field(page, "Gap").locator("input")).to_have_value("0.3")
    expect(says(page, "Gap")).to_have_text("within limits")


def test_the_record_carries_what_was_typed_and_what_it_is(page: Page, made: Made) -> None:
    """And whoever holds it against the procedure comes to the same."""
    begin(page, "A. Smith", "117")
    page.get_by_label("P-60", exact=True).check(force=True)
    typed(page, "Gap", "0.15")
    page.locator("#units").click()
    typed(page, "Rim", "0.0019")
    typed(page, "Oil", "141")
    first, second = field(page, "End play").locator("input").all()
    first.fill("0.1 mm")
    second.fill("0.3 mm")
    expect(page.locator("#rest")).to_contain_text("3 rounds")
    rounds = page.locator(".rounds input")
    for number in (0, 2):
        rounds.nth(number).check()
    page.get_by_role("button", name="Finish the job").click()
    expect(page.locator("#finish")).to_have_text("Open the job again")
    record = saved(page)
    entries = {e["label"]: (e["entered"], e["value"], e["unit"]) for e in record["entries"]}
    assert entries == {
        "Gap": ("0.15", "0.15", "mm"),
        "Rim": ("0.0019 in", "0.04826", "mm"),
        "Oil": ("141 °F", "60.555555556", "°C"),
        "End play": ("0.3 mm", "0.3", "mm"),
    }
    assert [one["done"] for one in record["rounds"]] == [True, False, True]
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the record").last.click()
    read = read_record("a.json", download.value.path().read_bytes())
    assert read.record is not None
    found = {(f.kind, f.message) for f in judge_record("a.json", read.record, made[1], {})}
    kinds = {kind for kind, _ in found}
    assert kinds == {"out-of-limits", "not-ticked", "not-signed", "not-entered"}
    assert any("End play: largest less smallest is 0.2 mm, above the limit" in t for _, t in found)
    assert any("141 °F (60.555555556 °C) is above the limit" in text for _, text in found)
    assert any("1 of 3 rounds are not ticked: nozzle 2" in text for _, text in found)
    page.evaluate("window.print = () => {}")
    page.get_by_role("button", name="Print the record").click()
    expect(page.locator("#printout")).to_contain_text("0.0019 in (0.04826 mm)")
    expect(page.locator("#printout")).to_contain_text("nozzle 2–")
