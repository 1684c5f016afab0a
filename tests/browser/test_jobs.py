"""Jobs in the browser: begun, interrupted, side by side, on an older issue, finished, saved."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Dialog, Page, expect

from browser.support import Site, Watched, write_site
from browser.worlds import BENCH, world
from compiler.emit.html import page_jobs

pytestmark = pytest.mark.browser

RESEAL = "procedures/reseal.html"


def ready(page: Page) -> Page:
    page.wait_for_selector("body[data-ready]")
    return page


def again(page: Page) -> Page:
    page.reload()
    return ready(page)


def begin(page: Page, who: str, serial: str) -> None:
    page.get_by_label("Your name").fill(who)
    page.get_by_label("Machine number").fill(serial)
    page.get_by_role("button", name="Begin this job").click()
    expect(page.locator("#kept")).to_have_text("kept")


def tick(page: Page, number: int) -> None:
    page.locator("[data-step]").nth(number).check()
    expect(page.locator(".step").nth(number)).to_have_class("step do is-done")


def saved(page: Page) -> dict[str, Any]:
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the record").last.click()
    record: dict[str, Any] = json.loads(download.value.path().read_text(encoding="utf-8"))
    return record


def seal_of(record: dict[str, Any]) -> str:
    """Return the SHA-256 (FIPS 180-4, by the standard library) of a record without its seal."""
    bare = {name: value for name, value in record.items() if name != "seal"}
    text = json.dumps(bare, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def test_a_job_is_resumed_where_it_was_left(bench: Page) -> None:
    begin(bench, "A. Smith", "117")
    tick(bench, 0)
    again(bench)
    expect(bench.locator("#job-name")).to_contain_text("Machine 117, A. Smith, begun 20")
    expect(bench.locator("[data-step]").first).to_be_checked()
    expect(bench.locator("#begin")).to_be_hidden()


def test_the_first_tap_begins_a_job(bench: Page) -> None:
    """Start is offered, not enforced."""
    tick(bench, 0)
    expect(bench.locator("#job-name")).to_contain_text("no name, no machine number")


def test_what_is_still_open_is_told_before_the_start(bench: Page) -> None:
    told = bench.locator("#still-open")
    expect(told).to_contain_text("the model is not picked")
    expect(told).to_contain_text("no name, no machine number")
    expect(told).to_contain_text("things to lay out are not ticked")
    for box in bench.locator(".before [data-tick]").all():
        box.check()
    bench.get_by_label("P-40", exact=True).check()
    bench.get_by_label("Your name").fill("A. Smith")
    bench.get_by_label("Machine number").fill("117")
    expect(told).to_have_text("All is laid out.")


def test_jobs_of_several_machines_stand_side_by_side(bench: Page) -> None:
    begin(bench, "A. Smith", "117")
    tick(bench, 0)
    bench.get_by_role("button", name="Begin another job").click()
    ready(bench)
    expect(bench.locator("[data-step]").first).not_to_be_checked()
    begin(bench, "B. Jones", "118")
    tick(bench, 1)
    other = bench.locator("#others li")
    expect(other).to_have_count(1)
    expect(other).to_contain_text("Machine 117, A. Smith")
    other.get_by_role("button", name="Go on").click()
    ready(bench)
    expect(bench.locator("#job-name")).to_contain_text("Machine 117")
    expect(bench.locator("[data-step]").first).to_be_checked()
    expect(bench.locator("[data-step]").nth(1)).not_to_be_checked()


def test_with_several_open_a_tap_asks_which(bench: Page) -> None:
    """A window that was not in any of the jobs must not guess whose tick it is."""
    begin(bench, "A. Smith", "117")
    bench.get_by_role("button", name="Begin another job").click()
    ready(bench)
    begin(bench, "B. Jones", "118")
    fresh = bench.context.new_page()
    fresh.goto(bench.url)
    ready(fresh)
    fresh.locator("[data-step]").first.click(force=True)
    expect(fresh.locator("[data-step]").first).not_to_be_checked()
    expect(fresh.locator("#undecided")).to_be_visible()
    fresh.locator("[data-value]").first.fill("0.04")
    expect(fresh.locator("[data-value]").first).to_have_value("")
    assert fresh.evaluate("() => document.querySelector('#job-name').textContent") == ""
    # One that is begun now is a third one.
    fresh.get_by_role("button", name="Begin this job").click()
    expect(fresh.locator("#others li")).to_have_count(2)


def test_two_windows_of_one_job_do_not_part(bench: Page) -> None:
    begin(bench, "A. Smith", "117")
    twin = bench.context.new_page()
    twin.goto(bench.url)
    ready(twin)
    tick(twin, 0)
    bench.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(bench.locator("[data-step]").first).to_be_checked()


def test_a_job_does_not_go_on_on_a_newer_revision(
    browser: Browser, bench_site: Site, tmp_path: Path
) -> None:
    """The steps may differ: what was ticked on the old page is not taken over, and not lost."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(bench_site.address(RESEAL))
    begin(ready(page), "A. Smith", "117")
    tick(page, 0)
    (tmp_path / "world").mkdir()
    newer = BENCH.replace("revision B 2026-11-02", "revision C 2026-11-20").replace(
        '"Find the leak."', '"Find the leak and mend it."'
    )
    site = write_site(page_jobs(*world(newer, tmp_path / "world")), tmp_path / "site")
    page.goto(site.address(RESEAL))
    ready(page)
    expect(page.locator("[data-step]").first).not_to_be_checked()
    older = page.locator("#older li")
    expect(older).to_contain_text("Machine 117, A. Smith")
    with page.expect_download() as download:
        older.get_by_role("button", name="Save the record").click()
    record = json.loads(download.value.path().read_text(encoding="utf-8"))
    assert record["revision"] == "B"
    assert record["seal"] == seal_of(record)
    assert [row[2:5] for row in record["journal"]] == [["tick", "step:remove-guard", True]]
    assert "Remove the guard" in record["journal"][0][5]
    context.close()


def test_the_record_says_who_what_when(bench: Page) -> None:
    bench.get_by_label("P-40", exact=True).check()
    bench.get_by_label("Your name").fill('Ä. "O’Neil" \N{PILE OF POO} <b>')
    tick(bench, 0)
    bench.get_by_label("Shaft runout", exact=True).fill("0,04")
    bench.get_by_label("Head", exact=True).fill("1")
    first = bench.locator(".step").first
    first.locator("summary", has_text="Remark").click()
    first.locator("textarea").fill("The guard sticks.\nTwo hands.")
    first.get_by_label("This step is unclear").check()
    expect(bench.locator("#kept")).to_have_text("kept")
    record = saved(bench)
    assert record["seal"] == seal_of(record)
    assert (record["procedure"], record["revision"], record["model"]) == ("reseal", "B", "P-40")
    assert not record["complete"]
    done = [step["step"] for step in record["steps"] if step["done"]]
    assert done == ["remove-guard"]
    entered = {e["label"]: (e["entered"], e["unit"], e["verdict"]) for e in record["entries"]}
    assert entered == {"Shaft runout": ("0,04", "mm", "in"), "Head": ("1", "bar", "below")}
    (remark,) = record["remarks"]
    assert remark["text"] == "The guard sticks.\nTwo hands."
    assert remark["unclear"]
    # A step for the other model is no part of this job.
    assert not any("flange" in step["text"] for step in record["steps"])


def test_a_corrected_entry_leaves_both_in_the_journal(bench: Page) -> None:
    bench.get_by_label("Shaft runout", exact=True).fill("0.09")
    tick(bench, 0)
    bench.get_by_label("Shaft runout", exact=True).fill("0.04")
    expect(bench.locator("#kept")).to_have_text("kept")
    record = saved(bench)
    readings = [row[4] for row in record["journal"] if row[2] == "entry"]
    assert readings == ["0.09", "0.04"]


def test_a_finished_job_is_closed(bench: Page) -> None:
    begin(bench, "A. Smith", "117")
    for box in bench.locator("[data-step]").all():
        if box.is_visible():
            box.check()
    expect(bench.locator("#rest")).to_contain_text("Still open:")
    bench.get_by_role("button", name="Finish the job").click()
    expect(bench.locator("#finish")).to_have_text("Open the job again")
    assert bench.locator(".work").evaluate("(one) => one.inert")
    record = saved(bench)
    assert record["ended"] > record["begun"][:10]
    assert record["complete"]
    again(bench)
    assert bench.locator(".work").evaluate("(one) => one.inert")
    bench.get_by_role("button", name="Open the job again").click()
    expect(bench.locator("#finish")).to_have_text("Finish the job")
    bench.locator("[data-step]").first.uncheck()
    expect(bench.locator(".step").first).to_have_class("step do")


def test_a_hold_point_needs_another_person(browser: Browser, tmp_path: Path) -> None:
    text = """\
## file: job.proc
procedure look "Look at the magnet"
  revision A 2026-11-02
  roles
    inspector "inspector"
  "Open the lid."
  hold for inspector "Look at the magnet together."
"""
    site = write_site(page_jobs(*world(text, tmp_path)), tmp_path / "out")
    context = browser.new_context()
    page = context.new_page()
    page.goto(site.address("procedures/look.html"))
    begin(ready(page), "A. Smith", "117")
    hold = page.locator(".step.hold .field")
    for spelling in (" a.  smith ", "SMITH, A", "Á. Smith"):
        hold.get_by_label("Name").fill(spelling)
        expect(hold.locator(".verdict")).to_contain_text("Another person signs here")
    hold.get_by_label("Name").fill("B. Jones")
    expect(hold.locator(".verdict")).to_have_text("")
    context.close()


def test_one_step_at_a_time_with_one_thumb(bench: Page) -> None:
    bench.set_viewport_size({"width": 360, "height": 740})
    bench.get_by_role("button", name="One step at a time").click()
    seen = [one for one in bench.locator(".step").all() if one.is_visible()]
    assert len(seen) == 1
    expect(bench.locator("#which-step")).to_contain_text("Step 1.1, 1 of ")
    for name in ("#back", "#done", "#on"):
        size = bench.locator(name).bounding_box()
        assert size is not None
        assert min(size["width"], size["height"]) >= 44
    bench.locator("#done").click()
    expect(bench.locator(".step").first).to_be_hidden()
    expect(bench.locator("#which-step")).to_contain_text("2 of ")
    bench.locator("#back").click()
    expect(bench.locator("#done")).to_have_text("Not done after all")
    bench.locator("#done").click()
    expect(bench.locator("[data-step]").first).not_to_be_checked()
    # An answer that closes the way of the current step leads to one that is open.
    bench.get_by_role("button", name="All steps").click()
    expect(bench.locator(".step").nth(3)).to_be_visible()


def test_a_branch_that_shuts_takes_the_current_step_along(bench: Page) -> None:
    bench.get_by_role("button", name="One step at a time").click()
    for _ in range(40):
        if "Shaft runout" in (bench.locator(".step.current").inner_text()):
            break
        bench.locator("#on").click()
    bench.get_by_label("Shaft runout", exact=True).fill("0.01")
    bench.locator("#on").click()
    expect(bench.locator(".step.current")).to_contain_text("Leave the shaft")


def test_discarding_asks_first(bench: Page) -> None:
    begin(bench, "A. Smith", "117")
    tick(bench, 0)
    asked: list[str] = []

    def answer(dialog: Dialog) -> None:
        asked.append(dialog.message)
        dialog.accept()

    bench.once("dialog", answer)
    bench.get_by_role("button", name="Discard this job").click()
    ready(bench)
    expect(bench.locator("[data-step]").first).not_to_be_checked()
    expect(bench.locator("#begin")).to_be_visible()
    assert len(asked) == 1
    assert "Machine 117" in asked[0]


def test_the_printout_holds_the_record_alone(bench: Page) -> None:
    begin(bench, "<i>A</i>", "117")
    tick(bench, 0)
    bench.evaluate("window.print = () => { window.printed = document.body.className; }")
    bench.get_by_role("button", name="Print the record").click()
    assert "printing" in bench.evaluate("window.printed")
    sheet = bench.locator("#printout")
    assert "<i>A</i>" in sheet.evaluate("(one) => one.textContent")
    assert sheet.locator("i").count() == 0
    bench.emulate_media(media="print")
    bench.evaluate("document.body.classList.add('printing')")
    assert sheet.is_visible()
    assert not bench.locator(".work").is_visible()


def lasting(context: BrowserContext, site: Site) -> Page:
    page = context.new_page()
    page.goto(site.address(RESEAL))
    return ready(page)


def test_what_was_tapped_just_before_the_page_is_left(browser: Browser, bench_site: Site) -> None:
    """A tap that the disk has not told yet is taken along."""
    context = browser.new_context()
    page = lasting(context, bench_site)
    for number in range(8):
        page.evaluate("(n) => document.querySelectorAll('[data-step]')[n].click()", number)
        page.reload()
        ready(page)
        expect(page.locator("[data-step]").nth(number)).to_be_checked()
    context.close()


BUSY_DISK = """() => new Promise((resolve) => {
  const request = indexedDB.open("witnessmark");
  request.onsuccess = () => {
    const writing = request.result.transaction(["jobs", "taps"], "readwrite");
    const again = () => { writing.objectStore("jobs").count().onsuccess = again; };
    again();
    resolve();
  };
})"""


def test_a_job_begun_just_before_the_page_is_left_is_taken_along_with_its_tap(
    browser: Browser, bench_site: Site
) -> None:
    """The first tap begins the job: on a slow disk neither is there when the page goes."""
    context = browser.new_context()
    page = lasting(context, bench_site)
    page.evaluate(BUSY_DISK)
    page.evaluate("document.querySelector('[data-step]').click()")
    page.reload()
    ready(page)
    expect(page.locator("[data-step]").first).to_be_checked()
    expect(page.locator("#to-job")).not_to_have_text("")
    assert page.evaluate("Object.keys(localStorage).filter((key) => key.includes('late'))") == []
    context.close()


NO_DATABASE = "Object.defineProperty(window, 'indexedDB', { value: undefined });"
NO_STORAGE = (
    "Object.defineProperty(window, 'localStorage', { get() { throw new Error('denied'); } });"
)


@pytest.mark.parametrize(
    ("trouble", "kind"),
    [(NO_DATABASE, "as far as"), (NO_DATABASE + NO_STORAGE, "keeps nothing")],
    ids=["no-database", "nothing"],
)
def test_where_little_may_be_kept_it_is_told(
    browser: Browser, bench_site: Site, trouble: str, kind: str
) -> None:
    context = browser.new_context()
    context.add_init_script(trouble)
    page = lasting(context, bench_site)
    tick(page, 0)
    expect(page.locator("#kept")).to_contain_text(kind)
    page.reload()
    ready(page)
    if kind == "as far as":
        expect(page.locator("[data-step]").first).to_be_checked()
    context.close()


def test_bolts_are_tapped_in_their_order(demo: Watched) -> None:
    """Pass by pass; one out of turn is refused, and what was turned is there after a break."""
    page = demo.open("procedures/manway-gasket.html")
    figure = page.locator(".step .diagram[data-order]").first
    order = json.loads(figure.get_attribute("data-order") or "")
    assert len(order) == 8
    said, ahead = figure.locator("output"), figure.locator(".turning button").first
    expect(said).to_contain_text(f"Next is bolt {order[0]}.")
    figure.locator(f'.bolt[data-bolt="{order[3]}"]').click()
    expect(said).to_contain_text("Not that one")
    figure.locator(f'.bolt[data-bolt="{order[0]}"]').click()
    ahead.click()
    expect(figure.locator(".bolt.turned")).to_have_count(2)
    again(page)
    expect(figure.locator(".bolt.turned")).to_have_count(2)
    expect(said).to_contain_text(f"Next is bolt {order[2]}.")
    figure.locator(".turning button").last.click()
    expect(figure.locator(".bolt.turned")).to_have_count(1)
    for _ in range(len(order) - 1):
        ahead.click()
    passes = json.loads(figure.get_attribute("data-passes") or "")
    if len(passes) > 1:
        expect(said).to_contain_text(passes[1])
        expect(figure.locator(".bolt.turned")).to_have_count(0)
    while ahead.is_enabled():
        ahead.click()
    expect(said).to_have_text("All are tight.")
    expect(page.locator("#kept")).to_have_text("kept")
