"""One step at a time on a small phone: the step is on the screen, and what is not is told."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from browser.support import TOO_WIDE, Site, watched
from browser.test_jobs import again, begin

pytestmark = pytest.mark.browser

PHONE = {"width": 360, "height": 740}

UNSEEN = """() => {
  const step = document.querySelector(".step.current .do, .step.current .lines li");
  const bar = document.querySelector(".progress").getBoundingClientRect().top;
  const words = step.getBoundingClientRect(), told = document.body.classList.contains("goes-on");
  const whole = document.querySelector(".step.current").getBoundingClientRect().bottom <= bar + 4;
  return [words.top < bar - 40, whole || told];
}"""
"""Is the beginning of the step above the bar, and if not all of it is: is that told?"""


@pytest.fixture
def phone(browser: Browser, site: Site) -> Iterator[Page]:
    with watched(browser, site, viewport=PHONE) as it:
        yield it.open("procedures/belt-change.html")


def test_every_step_begins_on_the_first_screen(phone: Page) -> None:
    """Behind a caution and a picture of its section, five steps in a row looked the same."""
    phone.get_by_role("button", name="One step at a time").click()
    bad, steps = [], phone.locator(".step").count()
    for _ in range(steps):
        if not phone.locator(".step.current").count():
            break
        begins, told = phone.evaluate(UNSEEN)
        if not (begins and told):
            bad.append(phone.locator("#which-step").inner_text())
        phone.locator("#on").click()
    assert bad == []
    expect(phone.locator("#which-step")).to_have_text("Close the job")
    expect(phone.locator("#on")).to_be_disabled()


def test_what_is_below_is_told_until_it_was_seen(phone: Page) -> None:
    phone.get_by_role("button", name="One step at a time").click()
    phone.locator("#on").click()
    expect(phone.locator(".step.current .lines.ticked")).to_be_visible()
    expect(phone.locator(".more-below")).to_be_visible()
    phone.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    expect(phone.locator(".more-below")).to_be_hidden()


def test_who_comes_back_sees_the_next_step_as_before(phone: Page) -> None:
    begin(phone, "A. Smith", "117")
    phone.get_by_role("button", name="One step at a time").click()
    phone.locator("#done").click()
    expect(phone.locator("#which-step")).to_contain_text(", 2 of ")
    expect(phone.locator("#kept")).to_have_text("kept")
    again(phone)
    expect(phone.locator("#which-step")).to_contain_text(", 2 of ")
    expect(phone.locator(".step.current")).to_have_count(1)
    phone.get_by_role("button", name="All steps").click()
    again(phone)
    expect(phone.locator(".step").nth(4)).to_be_visible()


def test_a_print_has_all_steps(phone: Page) -> None:
    """Whichever way the page was looked at: on paper nobody can go on to the next step."""
    phone.get_by_role("button", name="One step at a time").click()
    phone.emulate_media(media="print")
    steps = phone.locator(".step")
    assert all(step.is_visible() for step in steps.all()[:6])
    expect(steps.last).to_be_visible()
    expect(phone.locator(".before")).to_be_visible()
    # What is folded away on the screen is unfolded.
    torques = phone.locator(".fold .torques tbody tr").first.bounding_box()
    assert torques is not None
    assert torques["height"] > 0


def test_letters_twice_as_large_leave_room_for_the_step(
    browser: Browser, site: Site, chromium_path: str
) -> None:
    """WCAG 2.2, 1.4.4: the letters of the browser at 200 %; the page follows, and works."""
    large = browser.browser_type.launch(
        executable_path=chromium_path, args=["--no-sandbox", "--blink-settings=defaultFontSize=32"]
    )
    with watched(large, site, viewport=PHONE) as it:
        page = it.open("procedures/coupling-check.html")
        assert page.evaluate(TOO_WIDE) is None
        assert page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)") >= 30
        page.locator("#single").click()
        bar = page.locator(".progress").bounding_box()
        assert bar is not None
        assert bar["height"] < 240
        for name in ("#back", "#done", "#on"):
            key = page.locator(name).bounding_box()
            assert key is not None
            assert min(key["width"], key["height"]) >= 44
            assert key["x"] + key["width"] <= PHONE["width"]
        page.locator("#done").click()
        expect(page.locator("#which-step")).to_contain_text(", 2 of ")
    large.close()
