"""Kills the browser while steps are ticked, and counts what is missing when the page opens again.

`python -m browser.power_cut 200` in `tests/` does it two hundred times and prints what was lost.
A process that is killed loses what it holds in memory; that a complete transaction is on the disk,
and not only with the system, is what strict durability of IndexedDB asks of the browser (W3C,
"Indexed Database API 3.0", transaction durability).
"""

from __future__ import annotations

import contextlib
import os
import random
import shutil
import signal
import sys
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import BrowserContext, BrowserType, Error, Page, sync_playwright

from browser.support import Site, write_site
from browser.worlds import world
from compiler.emit.html import page_jobs

STEPS = 40

LONG = """\
## file: job.proc
procedure long "A long job"
  revision A 2026-11-02
""" + "".join(f'  "Look at place {number}."\n' for number in range(1, STEPS + 1))


@dataclass
class Losses:
    """What was lost: taps shown as kept, and taps on the way to the disk (one at most may be)."""

    kills: int = 0
    taps: int = 0
    kept_but_missing: int = 0
    under_way_and_missing: int = 0
    most_missing_at_once: int = 0
    notes: list[str] = field(default_factory=list)


def long_site(folder: Path) -> Site:
    """Return a site with one long procedure."""
    (folder / "text").mkdir(parents=True)
    return write_site(page_jobs(*world(LONG, folder / "text")), folder / "site")


def kill_often(kind: BrowserType, chromium: str, kills: int, seed: int) -> Losses:
    """Tick until the browser is killed at a moment that chance picks, `kills` times."""
    chance = random.Random(seed)
    losses = Losses()
    with tempfile.TemporaryDirectory() as scratch:
        site = long_site(Path(scratch))
        for number in range(kills):
            profile = Path(scratch) / f"profile-{number}"
            _one_kill(kind, chromium, site, profile, chance, losses)
            shutil.rmtree(profile, ignore_errors=True)
    return losses


def _one_kill(
    kind: BrowserType,
    chromium: str,
    site: Site,
    profile: Path,
    chance: random.Random,
    losses: Losses,
) -> None:
    context, page = _open(kind, chromium, site, profile)
    shown = chance.randrange(1, STEPS - 1)
    for number in range(shown):
        _tap(page, number)
        page.wait_for_selector(f".step.is-done >> nth={number}", state="attached")
    # One more is tapped, and the battery is out somewhere between that and the disk.
    delay = chance.choice([0, 0, 1, 2, 3, 5, 8])
    page.evaluate(
        "([n, ms]) => setTimeout(() => document.querySelectorAll('[data-step]')[n].click(), ms)",
        [shown, delay],
    )
    _kill(profile)
    # It is dead, as it should be.
    with contextlib.suppress(Error):
        context.close()
    context, page = _open(kind, chromium, site, profile)
    there = [box.is_checked() for box in page.locator("[data-step]").all()]
    context.close()
    missing = there[:shown].count(False)
    losses.kills += 1
    losses.taps += shown + 1
    losses.kept_but_missing += missing
    losses.under_way_and_missing += not there[shown]
    losses.most_missing_at_once = max(losses.most_missing_at_once, missing + (not there[shown]))
    if any(there[shown + 1 :]):
        losses.notes.append("a step is ticked that nobody tapped")


def _open(
    kind: BrowserType, chromium: str, site: Site, profile: Path
) -> tuple[BrowserContext, Page]:
    context = kind.launch_persistent_context(
        profile, executable_path=chromium, args=["--no-sandbox"]
    )
    page = context.pages[0]
    page.goto(site.address("procedures/long.html"))
    page.wait_for_selector("body[data-ready]")
    return context, page


def _tap(page: Page, number: int) -> None:
    page.evaluate("(n) => document.querySelectorAll('[data-step]')[n].click()", number)


def _kill(profile: Path) -> None:
    """Kill every process that works on the profile, without a warning."""
    for entry in Path("/proc").iterdir():
        if not entry.name.isdecimal():
            continue
        try:
            command = (entry / "cmdline").read_bytes()
        except OSError:
            continue
        if str(profile).encode() in command:
            os.kill(int(entry.name), signal.SIGKILL)


def main(kills: int) -> None:
    """Kill the browser `kills` times and print what was lost."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        sys.exit("no chromium on this machine")
    with sync_playwright() as playwright:
        losses = kill_often(playwright.chromium, chromium, kills, seed=1)
    sys.stdout.write(
        f"{losses.kills} kills, {losses.taps} taps\n"
        f"shown as kept, and missing: {losses.kept_but_missing}\n"
        f"on the way to the disk, and missing: {losses.under_way_and_missing}\n"
        f"most missing after one kill: {losses.most_missing_at_once}\n"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]))
