"""A procedure in the browser: ticks, readings, answers, models, units, the clock, the memory."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Dialog, Locator, Page, expect

from browser.support import Site, Watched, watched, write_site
from browser.worlds import world
from compiler.emit.html import page_jobs

pytestmark = pytest.mark.browser


def step(page: Page, text: str) -> Locator:
    return page.locator(".step").filter(has_text=text)


def box(page: Page, text: str) -> Locator:
    return step(page, text).locator("input[data-step]")


def reading(page: Page, label: str) -> Locator:
    return page.get_by_label(label, exact=True)


def verdict(page: Page, field_of: str) -> Locator:
    return page.locator(".field").filter(has_text=field_of).locator(".verdict")


def test_a_tick_counts_and_stays(bench: Page) -> None:
    count = bench.locator("#count")
    before = count.inner_text()
    assert before.startswith("0 of ")
    # The box is under its number, as a thumb finds it.
    step(bench, "Remove the guard").locator("label.box").click()
    expect(box(bench, "Remove the guard")).to_be_checked()
    expect(count).to_have_text(before.replace("0 of", "1 of"))
    bench.reload()
    expect(box(bench, "Remove the guard")).to_be_checked()
    expect(step(bench, "Remove the guard")).to_have_class("step do is-done")
    expect(count).to_have_text(before.replace("0 of", "1 of"))
    step(bench, "Remove the guard").locator("label.box").click()
    expect(count).to_have_text(before)


def test_the_bar_fills(bench: Page) -> None:
    for one in bench.locator("[data-step]").all():
        if one.is_visible():
            one.check()
    total = bench.locator("#count").inner_text().split()
    assert total[0] == total[2]
    widths = bench.evaluate(
        "() => ['.fill', '.track'].map((one) => document.querySelector(one).clientWidth)"
    )
    assert widths[0] == widths[1] > 0


def test_next_open_step(bench: Page) -> None:
    bench.locator("#next").click()
    first = bench.locator("[data-step]").first
    expect(first).to_be_focused()
    first.check()
    bench.locator("#next").click()
    expect(bench.locator("[data-step]").nth(1)).to_be_focused()
    expect(bench.locator(".step").nth(1)).to_be_in_viewport()


def test_begin_again_asks_first(bench: Page) -> None:
    box(bench, "Remove the guard").check()
    reading(bench, "Shaft runout").fill("0.04")
    asked: list[str] = []

    def answer(yes: bool) -> None:
        def hear(dialog: Dialog) -> None:
            asked.append(dialog.message)
            if yes:
                dialog.accept()
            else:
                dialog.dismiss()

        bench.once("dialog", hear)
        bench.locator("#again").click()

    answer(False)
    expect(box(bench, "Remove the guard")).to_be_checked()
    answer(True)
    expect(box(bench, "Remove the guard")).not_to_be_checked()
    expect(reading(bench, "Shaft runout")).to_have_value("")
    bench.reload()
    expect(box(bench, "Remove the guard")).not_to_be_checked()
    assert len(asked) == 2


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("0.05", "within limits"),
        ("0,05", "within limits"),
        (" 0.01 ", "within limits"),
        ("-0.02", "within limits"),
        ("0.0501", "above the limit"),
        ("0,06", "above the limit"),
        ("about 1", "This is no number."),
        ("1.2.3", "This is no number."),
        ("1e-3", "This is no number."),
        ("", ""),
    ],
)
def test_a_reading_is_judged(bench: Page, typed: str, says: str) -> None:
    reading(bench, "Shaft runout").fill(typed)
    expect(verdict(bench, "Shaft runout")).to_have_text(says)


def test_a_limit_that_is_out_itself(bench: Page) -> None:
    for typed, says in (("2", "below the limit"), ("2.01", "within limits"), ("0", "below the")):
        reading(bench, "Head").fill(typed)
        expect(verdict(bench, "Head")).to_contain_text(says)


def test_several_readings_are_judged_one_by_one_and_together(bench: Page) -> None:
    first, second = reading(bench, "End play, 1"), reading(bench, "End play, 2")
    first.fill("0,2")
    expect(verdict(bench, "End play")).to_have_text("within limits")
    second.fill("0.3")
    expect(verdict(bench, "End play")).to_have_text("within limits")
    second.fill("0.31")
    expect(verdict(bench, "End play")).to_have_text("above the limit")
    second.fill("0.05")
    expect(verdict(bench, "End play")).to_have_text("below the limit")
    expect(second).to_have_class("out")
    expect(first).to_have_class("in")


def test_a_reading_opens_one_way_and_shuts_the_other(bench: Page) -> None:
    turn, leave = step(bench, "Turn the shaft"), step(bench, "Leave the shaft")
    for typed, turned, left in (
        ("", True, True),
        ("0.06", True, False),
        ("0,05", False, True),
        ("?", True, True),
        ("0.06", True, False),
        ("", True, True),
    ):
        reading(bench, "Shaft runout").fill(typed)
        assert (turn.is_visible(), leave.is_visible()) == (turned, left), typed
    reading(bench, "Shaft runout").fill("0.01")
    bench.reload()
    expect(turn).to_be_hidden()
    assert (turn.is_visible(), leave.is_visible()) == (False, True)


def test_half_the_readings_do_not_choose_a_way(demo: Watched) -> None:
    """The way that is for good readings opens alone only when all of them are there."""
    page = demo.open("procedures/coupling-check.html")
    arm = page.locator('.arm[data-answers*="out"], .arm[data-answers*="in"]').first
    field = page.locator(f".field[data-field='{arm.get_attribute('data-when')}']")
    inputs = field.locator("input").all()
    assert len(inputs) > 1
    for one in inputs[:-1]:
        one.fill("0")
        expect(field.locator(".verdict")).to_have_text("within limits")
        assert page.locator(".arm.closed").count() == 0
    inputs[-1].fill("0")
    assert page.locator(".arm.closed").count() > 0


def test_an_answer_opens_its_way(bench: Page) -> None:
    ways = [step(bench, text) for text in ("Note it", "Find the leak", "Change the oil")]
    assert all(way.is_visible() for way in ways)
    for number, answer in enumerate(("clear", "milky", "black")):
        bench.get_by_label(answer, exact=True).check()
        assert [way.is_visible() for way in ways] == [number == n for n in range(3)], answer


def test_steps_that_fall_away_are_not_counted(bench: Page) -> None:
    before = int(bench.locator("#count").inner_text().split()[2])
    reading(bench, "Shaft runout").fill("0.01")
    expect(bench.locator("#count")).to_have_text(f"0 of {before - 1} done")


def test_a_model_hides_what_is_for_others(bench: Page) -> None:
    cover, flange = step(bench, "Remove the cover"), step(bench, "the flange")
    assert cover.is_visible()
    assert flange.is_visible()
    bench.get_by_label("P-60", exact=True).check()
    assert not cover.is_visible()
    assert flange.is_visible()
    bench.reload()
    expect(bench.get_by_label("P-60")).to_be_checked()
    assert not cover.is_visible()
    bench.get_by_label("P-40", exact=True).check()
    assert cover.is_visible()
    assert not flange.is_visible()
    bench.locator(".models label").last.click()
    assert cover.is_visible()
    assert flange.is_visible()


def test_a_model_hides_tools_and_parts_of_others(demo: Watched) -> None:
    """On the demo's seal change each model has a seal of its own."""
    page = demo.open("procedures/seal-change.html")
    page.get_by_label("TP-40", exact=True).check()
    shown = [one for one in page.locator(".only").all() if one.is_visible()]
    assert len(shown) > 5
    assert {one.inner_text() for one in shown} == {"Only TP-40"}


def test_units_change_places(bench: Page) -> None:
    tighten = step(bench, "9 N·m").first
    expect(tighten).to_contain_text("9 N·m (6.6 lbf·ft)")
    bench.locator("#units").click()
    expect(bench.locator("#units")).to_have_attribute("aria-pressed", "true")
    again = step(bench, "6.6 lbf·ft (9 N·m)").first
    expect(again).to_be_visible()
    bench.reload()
    expect(again).to_be_visible()
    bench.locator("#units").click()
    expect(tighten).to_contain_text("9 N·m (6.6 lbf·ft)")


def test_the_clock_runs_to_its_end(bench: Page) -> None:
    said = bench.locator(".timer output")
    bench.clock.install()
    bench.clock.pause_at(bench.evaluate("Date.now()") + 60_000)
    bench.locator(".timer button").click()
    expect(said).to_have_text("0:03")
    bench.clock.run_for(1_100)
    expect(said).to_have_text("0:02")
    bench.clock.run_for(1_800)
    expect(said).to_have_text("0:01")
    bench.clock.run_for(300)
    expect(said).to_have_text("The time is up.")


def test_text_and_signature_are_kept(bench: Page) -> None:
    bench.get_by_label("Number on the plate").fill("<b>A & 'B'</b>")
    bench.get_by_label("Name").first.fill("R. Ash")
    bench.get_by_label("Initials").first.fill("RA")
    bench.reload()
    expect(bench.get_by_label("Number on the plate")).to_have_value("<b>A & 'B'</b>")
    expect(bench.get_by_label("Name").first).to_have_value("R. Ash")


def test_procedures_do_not_share_their_ticks(demo: Watched) -> None:
    page = demo.open("procedures/seal-change.html")
    page.locator("[data-step]").first.check()
    page = demo.open("procedures/open-pump.html")
    expect(page.locator("[data-step]").first).not_to_be_checked()


@pytest.mark.parametrize(
    "trouble",
    [
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('denied'); } });",
        "Storage.prototype.setItem = () => { throw new DOMException('full'); };",
        'Storage.prototype.getItem = () => \'{"ticks": 3, "values": "x", "model": 7}\';',
        "Storage.prototype.getItem = () => 'null';",
        "Storage.prototype.getItem = () => '[[[';",
    ],
    ids=["denied", "full", "odd", "null", "broken"],
)
def test_a_memory_that_fails_breaks_nothing(
    browser: Browser, bench_site: Site, trouble: str
) -> None:
    with watched(browser, bench_site) as it:
        it.page.add_init_script(trouble)
        page = it.open("procedures/reseal.html")
        box(page, "Remove the guard").check()
        reading(page, "Shaft runout").fill("0.06")
        expect(verdict(page, "Shaft runout")).to_have_text("above the limit")
        expect(page.locator("#count")).to_contain_text("1 of")
        page.get_by_label("P-60", exact=True).check()
        assert not step(page, "Remove the cover").is_visible()


def test_any_round_that_asks_for_an_arm_opens_it(browser: Browser, tmp_path: Path) -> None:
    """A plate that is bad in round three stops the work, whatever the others are."""
    text = """\
## file: job.proc
procedure plates "Look at the plates"
  revision A 2026-11-02
  parts
    plate[1..4] "plate"
  repeat for each p in plate  shown once
    clean plate[p]
    ask plate-ok "Is it whole?"
    if plate-ok is no
      stop "Tell the shift lead."
  "Close the frame."
"""
    site = write_site(page_jobs(*world(text, tmp_path)), tmp_path / "out")
    with watched(browser, site) as watching:
        page = watching.open("procedures/plates.html")
        stop = step(page, "Stop the work here")
        later = step(page, "Close the frame")
        answers = page.locator("fieldset.choices")
        for number in range(4):
            answers.nth(number).get_by_label("Yes").check()
        expect(stop).to_be_hidden()
        expect(later).not_to_have_class(re.compile("beyond"))
        answers.nth(2).get_by_label("No").check()
        expect(stop).to_be_visible()
        expect(page.locator(".which")).to_have_text(["plate 3"])
        expect(later).to_have_class(re.compile("beyond"))
        expect(page.locator("#count")).to_contain_text("The work ends at step")
        expect(page.locator(".verdict").first).to_have_text("")


def test_lines_of_a_long_step_are_ticked_one_by_one(demo: Watched) -> None:
    """A lock hung and a proof made are ticked each; the number stands for all of them."""
    page = demo.open("procedures/pump-isolation.html")
    long = page.locator(".step").filter(has=page.locator(".lines.ticked")).first
    lines, own = long.locator(".lines input"), long.locator("input[data-step]")
    for number in range(lines.count()):
        expect(own).not_to_be_checked()
        lines.nth(number).check()
    expect(own).to_be_checked()
    lines.first.uncheck()
    expect(own).not_to_be_checked()
    long.locator("label.box").click()
    expect(lines.first).to_be_checked()
    page.reload()
    expect(lines.first).to_be_checked()
    expect(own).to_be_checked()


def test_a_picture_is_seen_larger(demo: Watched) -> None:
    """With its marks; it is moved about inside, and the keyboard gets out again."""
    page = demo.open("procedures/seal-change.html")
    figure = page.locator("figure.picture").first
    frame = figure.locator(".frame").bounding_box()
    assert frame is not None
    figure.get_by_role("button", name="Larger").click()
    dialog = page.get_by_role("dialog")
    large = dialog.locator(".frame").bounding_box()
    assert large is not None
    assert large["width"] > 1.5 * frame["width"]
    assert dialog.locator(".marks circle").count() == figure.locator(".marks circle").count()
    dialog.get_by_role("button", name="200 %").click()
    larger = dialog.locator(".frame").bounding_box()
    assert larger is not None
    assert larger["width"] > 1.5 * large["width"]
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)
    expect(figure.get_by_role("button", name="Larger")).to_be_focused()
