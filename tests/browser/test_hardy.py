"""Pages that are treated badly: a disk that refuses, odd things in the memory, keys hit twice."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from browser.support import Site, watched
from browser.test_jobs import NO_DATABASE, RESEAL, again, begin, ready, saved, tick
from browser.worlds import BENCH, world
from compiler.records import judge_record, read_record

pytestmark = pytest.mark.browser

SIZE = {"width": 360, "height": 740}


@pytest.fixture
def phone(browser: Browser, bench_site: Site) -> Iterator[Page]:
    with watched(browser, bench_site, viewport=SIZE) as it:
        yield it.open(RESEAL)


NO_ROOM = """() => {
  const add = IDBObjectStore.prototype.add;
  IDBObjectStore.prototype.add = () => { throw new DOMException("full", "QuotaExceededError"); };
  window.makeRoom = () => { IDBObjectStore.prototype.add = add; };
}"""


def test_what_the_disk_refused_is_told_until_it_is_there(phone: Page) -> None:
    """A later tap that is kept must not cover up one that was not."""
    begin(phone, "A. Smith", "117")
    phone.evaluate(NO_ROOM)
    phone.locator("[data-step]").nth(0).check()
    expect(phone.locator("#kept")).to_contain_text("Not kept")
    phone.locator("[data-step]").nth(1).check()
    expect(phone.locator("#kept")).to_contain_text("Not kept")
    phone.evaluate("window.makeRoom()")
    tick(phone, 2)
    expect(phone.locator("#kept")).to_have_text("kept")
    again(phone)
    for number in range(3):
        expect(phone.locator("[data-step]").nth(number)).to_be_checked()


def test_what_the_disk_refused_is_taken_along(phone: Page) -> None:
    begin(phone, "A. Smith", "117")
    phone.evaluate(NO_ROOM)
    phone.locator("[data-step]").nth(0).check()
    expect(phone.locator("#kept")).to_contain_text("Not kept")
    again(phone)
    expect(phone.locator("[data-step]").nth(0)).to_be_checked()


def test_what_another_page_took_along_is_not_lost(phone: Page) -> None:
    """A page that is left with nothing to take along leaves alone what another one left."""
    begin(phone, "A. Smith", "117")
    phone.evaluate(NO_ROOM)
    phone.locator("[data-step]").nth(0).check()
    expect(phone.locator("#kept")).to_contain_text("Not kept")
    twin = phone.context.new_page()
    twin.goto(phone.url)
    ready(twin)
    phone.goto("about:blank")
    twin.close(run_before_unload=False)
    phone.goto(twin.url)
    expect(ready(phone).locator("[data-step]").nth(0)).to_be_checked()


ODD = """async () => {
  const open = indexedDB.open("witnessmark", 1);
  const opened = await new Promise((done) => { open.onsuccess = () => done(open.result); });
  const writing = opened.transaction(["jobs", "taps"], "readwrite");
  const job = await new Promise((done) => {
    const all = writing.objectStore("jobs").getAll();
    all.onsuccess = () => done(all.result[0]);
  });
  const jobs = writing.objectStore("jobs"), taps = writing.objectStore("taps");
  jobs.put({ id: "odd", document: job.document, digest: job.digest });
  jobs.put({ id: 7 });
  const tap = { id: "x", job: job.id, at: "2026-11-26T08:00:00+01:00", by: "A", told: "" };
  for (const what of ["__proto__", "constructor", "latest", "toString", "tick"]) {
    taps.add({ ...tap, what: what, name: "__proto__", value: "</script><b>" });
  }
  taps.add({ ...tap, what: "entry", name: "measure-runout-1-1", value: { deep: [] } });
  taps.add({ ...tap, what: "tick", name: "step:remove-guard", value: true, at: null });
  taps.add({ ...tap, what: "clock", name: "confirm-1", value: "soon" });
  taps.add({ job: job.id });
  taps.add({ ...tap, what: "entry", name: "__proto__", value: "1" });
  await new Promise((done) => { writing.oncomplete = done; });
  opened.close();
}"""


def test_odd_things_in_the_memory_are_passed_over(phone: Page) -> None:
    begin(phone, "A. Smith", "117")
    tick(phone, 1)
    phone.evaluate(ODD)
    again(phone)
    expect(phone.locator("[data-step]").nth(0)).not_to_be_checked()
    expect(phone.locator("[data-step]").nth(1)).to_be_checked()
    expect(phone.locator("#job-name")).to_contain_text("Machine 117")
    record = saved(phone)
    assert [step["done"] for step in record["steps"]][:2] == [False, True]


def test_odd_things_taken_along_are_passed_over(phone: Page) -> None:
    for odd in ("{", "7", '[null, {"job": 7, "id": {}}]', '{"length": 3}'):
        phone.evaluate("(text) => localStorage.setItem('witnessmark:late', text)", odd)
        again(phone)
    tick(phone, 0)


def test_without_a_database_two_windows_write_side_by_side(
    browser: Browser, bench_site: Site
) -> None:
    context = browser.new_context()
    context.add_init_script(NO_DATABASE)
    one = context.new_page()
    one.goto(bench_site.address(RESEAL))
    ready(one).locator("[data-step]").nth(0).check()
    expect(one.locator("#kept")).to_contain_text("as far as")
    other = context.new_page()
    other.goto(one.url)
    ready(other).locator("[data-step]").nth(1).check()
    expect(other.locator("#kept")).to_contain_text("as far as")
    one.locator("[data-step]").nth(2).check()
    again(other)
    for number in range(3):
        expect(other.locator("[data-step]").nth(number)).to_be_checked()
    context.close()


def test_a_key_that_is_hit_twice_finishes_once(phone: Page) -> None:
    begin(phone, "A. Smith", "117")
    # Both in one go: on a slow machine two clicks may lie a second apart, and are then meant.
    phone.evaluate("for (const _ of [1, 2]) document.getElementById('finish').click()")
    expect(phone.locator("#finish")).to_have_text("Open the job again")
    assert [row[2] for row in saved(phone)["journal"]] == ["end"]


def test_a_record_holds_what_another_window_did(phone: Page) -> None:
    """Saved from a window that is behind, it would leave out half of the job."""
    begin(phone, "A. Smith", "117")
    twin = phone.context.new_page()
    twin.goto(phone.url)
    tick(ready(twin), 0)
    twin.close()
    phone.evaluate("document.getElementById('save').click()")
    expect(phone.locator("[data-step]").first).to_be_checked()


def test_one_step_at_a_time_begins_with_the_lists_and_ends_with_the_record(phone: Page) -> None:
    """All that belongs to a job is there without going back to the long page."""
    phone.get_by_role("button", name="One step at a time").click()
    expect(phone.locator("#which-step")).to_contain_text("Step 1.1, 1 of ")
    phone.locator("#back").click()
    expect(phone.locator("#which-step")).to_have_text("Before you start")
    expect(phone.get_by_label("Your name")).to_be_visible()
    expect(phone.locator("#done")).to_be_hidden()
    phone.locator("#on").click()
    for _ in range(60):
        if phone.locator("#finish").is_visible():
            break
        phone.locator("#done").click()
    expect(phone.locator("#which-step")).to_have_text("Close the job")
    expect(phone.locator(".after .field").first).to_be_visible()
    phone.get_by_role("button", name="Finish the job").click()
    expect(phone.locator("#finish")).to_have_text("Open the job again")
    again(phone)
    phone.get_by_role("button", name="One step at a time").click()
    expect(phone.locator("#which-step")).to_have_text("Close the job")
    phone.locator("#back").click()
    expect(phone.locator(".step.current")).to_have_count(1)


def test_what_a_page_saves_stands_before_an_inspector(phone: Page, tmp_path: Path) -> None:
    """Typed, corrected, unticked, for one model, in one go: nothing in it is called made up."""
    begin(phone, "A. Smith", "117")
    phone.get_by_label("P-40", exact=True).check()
    phone.get_by_label("Shaft runout", exact=True).press_sequentially("0.09")
    tick(phone, 0)
    phone.get_by_label("Shaft runout", exact=True).fill("")
    phone.get_by_label("Shaft runout", exact=True).press_sequentially("0,04")
    phone.locator("[data-step]").first.uncheck()
    phone.get_by_label("Your name").fill("B. Jones")
    for box in phone.locator("[data-step]").all():
        if box.is_visible():
            box.check()
    phone.get_by_label("clear", exact=True).check()
    phone.get_by_role("button", name="Finish the job").click()
    expect(phone.locator("#finish")).to_have_text("Open the job again")
    with phone.expect_download() as download:
        phone.get_by_role("button", name="Save the record").last.click()
    read = read_record("a.json", download.value.path().read_bytes())
    assert read.faults == ()
    assert read.record is not None
    library, _ = world(BENCH, tmp_path)
    found = judge_record("a.json", read.record, library.documents[0], {})
    assert {fault.kind for fault in found} == {"not-entered", "not-signed", "ticked-at-once"}


def test_at_the_top_stands_which_job_it_is(phone: Page) -> None:
    """The lists are long: who comes back sees whose job is open, or has to pick one."""
    expect(phone.locator("#to-job")).to_have_text("This job")
    begin(phone, "A. Smith", "117")
    expect(phone.locator("#to-job")).to_contain_text("Machine 117, A. Smith")
    phone.get_by_role("button", name="Begin another job").click()
    begin(ready(phone), "B. Jones", "118")
    fresh = phone.context.new_page()
    fresh.goto(phone.url)
    expect(ready(fresh).locator("#to-job")).to_contain_text("Several jobs are open here")
    # In the view of one step, too, a tap that could belong to either leads to the choice.
    fresh.get_by_role("button", name="One step at a time").click()
    fresh.locator("#done").click()
    expect(fresh.locator("#others li").first).to_be_visible()
    fresh.close()
