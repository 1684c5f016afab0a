"""What makes pages fit for all who read them: names, headings, contrast, targets, keys, paper.

Contrast and targets after the W3C Recommendation "Web Content Accessibility Guidelines (WCAG) 2.2":
success criteria 1.4.3 (text 4.5 : 1), 2.5.5 (targets 44 by 44 CSS pixels) and 2.5.8 (24 by 24),
with the terms "relative luminance" and "contrast ratio" of its glossary.
"""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from playwright.sync_api import Browser, Page, expect

from browser.support import SURVEY, Facts, Site, watched

pytestmark = pytest.mark.browser

ONE_OF_EACH = (
    "index.html",
    "procedures/bearing-change.html",
    "procedures/walk-round.html",
    "procedures/belt-change.html",
    "machines/transfer-pump.html",
    "visits/autumn-service.html",
)


def luminance(red: float, green: float, blue: float) -> float:
    """Return the relative luminance of sRGB channels of 0 to 255 (WCAG 2.2, glossary)."""
    linear = [
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
        for share in (red / 255, green / 255, blue / 255)
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(pair: str) -> float:
    """Return the contrast ratio of `rgb(…) on rgb(…)` (WCAG 2.2, glossary)."""
    sides = [
        luminance(*(float(n) for n in re.findall(r"[\d.]+", side)[:3]))
        for side in pair.split(" on ")
    ]
    return (max(sides) + 0.05) / (min(sides) + 0.05)


def faint(facts: Facts) -> list[tuple[float, str, str]]:
    return [
        (round(contrast(pair), 2), pair, where)
        for pair, where in facts["colours"]
        if contrast(pair) < 4.5
    ]


def test_the_formula() -> None:
    """Black on white is 21 : 1 by the definition; #767676 is the known grey that just passes."""
    assert contrast("rgb(0, 0, 0) on rgb(255, 255, 255)") == pytest.approx(21)
    assert contrast("rgb(118, 118, 118) on rgb(255, 255, 255)") == pytest.approx(4.54, abs=0.005)
    assert contrast("rgb(119, 119, 119) on rgb(255, 255, 255)") < 4.5


def test_opens_without_fault_and_fits(surveys: dict[str, Facts]) -> None:
    """No script error, no refused file, nothing asked for outside the folder, nothing too wide."""
    assert {name: facts["wide"] for name, facts in surveys.items() if facts["wide"]} == {}
    assert len(surveys) > 50


def test_titles_language_and_landmarks(surveys: dict[str, Facts]) -> None:
    assert {facts["lang"] for facts in surveys.values()} == {"en"}
    assert [name for name, facts in surveys.items() if not facts["title"].strip()] == []
    assert [n for n, facts in surveys.items() if facts["landmarks"] != [1, 1, 1]] == []


def test_headings_go_down_one_at_a_time(surveys: dict[str, Facts]) -> None:
    bad = []
    for name, facts in surveys.items():
        levels = facts["headings"]
        gaps = [(a, b) for a, b in pairwise(levels) if b > a + 1]
        if levels.count(1) != 1 or levels[0] != 1 or gaps:
            bad.append((name, levels))
    assert bad == []


@pytest.mark.parametrize("what", ["unnamed", "silent", "unshown", "loose"])
def test_everything_has_a_name(surveys: dict[str, Facts], what: str) -> None:
    """Controls have names, pictures a text instead, heads of tables a direction."""
    assert {name: facts[what] for name, facts in surveys.items() if facts[what]} == {}


def test_contrast_by_day(surveys: dict[str, Facts]) -> None:
    assert {name: faint(facts) for name, facts in surveys.items() if faint(facts)} == {}
    assert sum(len(facts["colours"]) for facts in surveys.values()) > 400


def test_contrast_by_night_and_with_entries(browser: Browser, site: Site) -> None:
    """The same on a dark screen, and for steps that are done and readings that are out."""
    bad = {}
    for scheme in ("light", "dark"):
        options = {"viewport": {"width": 820, "height": 1180}, "color_scheme": scheme}
        with watched(browser, site, **options) as it:
            for name in ONE_OF_EACH:
                page = it.open(name)
                for box in page.locator("[data-step]").all()[:3]:
                    box.check()
                for entry in page.locator(".reading input").all()[:6]:
                    entry.fill("99999")
                for summary in page.locator("summary").all()[:2]:
                    summary.click()
                if page.locator("#units").count():
                    page.locator("#units").click()
                bad[scheme, name] = faint(page.evaluate(SURVEY))
    assert {key: found for key, found in bad.items() if found} == {}


def test_controls_fit_a_gloved_hand(surveys: dict[str, Facts]) -> None:
    """WCAG 2.2, 2.5.5: what is used at the machine is at least 44 by 44 CSS pixels."""
    small = {
        name: [one for one in facts["targets"] if one[0] < 44 or one[1] < 44]
        for name, facts in surveys.items()
    }
    assert {name: found[:5] for name, found in small.items() if found} == {}


def test_other_targets_can_be_hit(surveys: dict[str, Facts]) -> None:
    """WCAG 2.2, 2.5.8: links that do not stand in a sentence are at least 24 by 24 CSS pixels."""
    small = {
        name: [one for one in facts["small"] if one[0] < 24 or one[1] < 24]
        for name, facts in surveys.items()
    }
    assert {name: found[:5] for name, found in small.items() if found} == {}


def outlined(page: Page) -> bool:
    """Return whether what has the focus can be told, on itself or on the box beside it."""
    return bool(
        page.evaluate(
            """() => [document.activeElement, document.activeElement.nextElementSibling].some(
              (one) => one && getComputedStyle(one).outlineStyle === "solid"
                && parseFloat(getComputedStyle(one).outlineWidth) >= 2)"""
        )
    )


def test_keys_alone_reach_everything(bench: Page) -> None:
    """Every control but the twins of a group of radio buttons, each with an outline to see."""
    bench.evaluate("() => document.querySelectorAll('details').forEach((one) => one.open = true)")
    wanted = bench.evaluate(
        """() => { const names = new Set();
          const all = document.querySelectorAll("a[href], button, input, textarea, summary");
          all.forEach((one, n) => {
            one.dataset.nth = n;
            if (one.getClientRects().length && !one.disabled) names.add(one.name || String(n)); });
          return Array.from(names); }"""
    )
    reached: set[str] = set()
    dull: list[str] = []
    for _ in range(400):
        bench.keyboard.press("Tab")
        here = bench.evaluate(
            "() => document.activeElement.name || document.activeElement.dataset.nth || ''"
        )
        if not here or (here == "0" and reached):
            break
        reached.add(here)
        if not outlined(bench):
            dull.append(bench.evaluate("() => document.activeElement.outerHTML"))
    missed = [
        bench.locator(f"[data-nth='{one}']").evaluate("(one) => one.outerHTML")
        for one in wanted
        if one not in reached
    ]
    assert missed == []
    assert dull == []


def test_keys_alone_do_the_work(bench: Page) -> None:
    bench.keyboard.press("Tab")
    expect(bench.locator(".skip")).to_be_focused()
    assert bench.locator(".skip").bounding_box()["x"] >= 0  # type: ignore[index]
    bench.keyboard.press("Enter")
    assert bench.url.endswith("#main")
    first = bench.locator("[data-step]").first
    first.focus()
    bench.keyboard.press("Space")
    expect(first).to_be_checked()
    bench.get_by_label("P-40", exact=True).focus()
    bench.keyboard.press("ArrowRight")
    expect(bench.get_by_label("P-60", exact=True)).to_be_checked()
    bench.locator("#units").focus()
    bench.keyboard.press("Enter")
    expect(bench.locator("#units")).to_have_attribute("aria-pressed", "true")


def test_a_step_is_not_hidden_below_the_bar(bench: Page) -> None:
    """WCAG 2.2, 2.4.11: what has the focus is not covered by the bar at the foot."""
    for one in bench.locator("[data-step], .field input").all():
        if one.is_visible():
            one.focus()
            box, bar = one.bounding_box(), bench.locator(".progress").bounding_box()
            assert box is not None
            assert bar is not None
            assert box["y"] < bar["y"], one.evaluate("(one) => one.outerHTML")


def test_on_paper_only_the_work(bench: Page) -> None:
    for selector in (".bar", ".progress", ".timer button"):
        assert bench.locator(selector).first.is_visible(), selector
    bench.emulate_media(media="print")
    for selector in (".bar", ".progress", ".timer button"):
        assert not bench.locator(selector).first.is_visible(), selector
    for one in bench.locator(".do").all():
        assert one.is_visible()
    assert faint(bench.evaluate(SURVEY)) == []


def test_on_paper_from_a_dark_screen(browser: Browser, bench_site: Site) -> None:
    """Paper is white whatever the screen was."""
    with watched(browser, bench_site, color_scheme="dark") as it:
        page = it.open("procedures/reseal.html")
        page.locator("[data-step]").first.check()
        page.emulate_media(media="print")
        assert faint(page.evaluate(SURVEY)) == []


@pytest.mark.parametrize("name", ["procedures/reseal.html", "index.html"])
def test_without_a_script_everything_is_there(
    browser: Browser, bench_site: Site, name: str
) -> None:
    with watched(browser, bench_site, java_script_enabled=False) as it:
        page = it.page
        page.goto(bench_site.address(name))
        for one in page.locator(".step, .do, .lines li, .arm, .card, .field").all():
            assert one.is_visible()
        assert page.locator(".step, .card").count() > 0
        # What cannot be kept without a script is not offered.
        assert not any(one.is_visible() for one in page.locator(".job, .closing, .progress").all())
