"""Sheets have the two families that come as packages, and no letter of the system's."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest
from browser.worlds import world
from fontTools.ttLib import TTFont

from compiler.checks.printing import PRINTED, unprinted
from compiler.emit.own_fonts import only_our_fonts
from compiler.paths import font_files
from compiler.source import SourceFile
from sheets.support import Sheet, make, resolved, squeezed

pytestmark = pytest.mark.sheets

OTHERS = "漢字 עברית العربية 😀"
OURS = "Ελληνικά Привет → ☐ ⅜ Ø"
TEXT = f"""\
## file: a.proc
procedure a "Look"
  revision A 2026-02-28
  "Look at the sign {OTHERS} or {OURS}."
"""


def fonts_of(sheet: Sheet) -> set[str]:
    """Return the names of all fonts in a sheet, without the six letters of the subset."""
    names = set()
    for one in sheet.reader.pages:
        found: Any = resolved(resolved(one["/Resources"])["/Font"])  # type: ignore[index]
        names |= {str(resolved(font)["/BaseFont"]) for font in found.values()}  # type: ignore[index]
    return {name.removeprefix("/").partition("+")[2] for name in names}


def test_letters_of_no_font_bring_no_font_of_the_system(tmp_path: Path) -> None:
    """Here DejaVu or another has them, or nothing; the sheet is the same on both machines."""
    library, pictures = world(TEXT, tmp_path)
    sheet = make(library, pictures, "a")
    assert {name.replace("-", "") for name in fonts_of(sheet)} <= {
        "AtkinsonHyperlegible", "AtkinsonHyperlegibleBold", "SourceSansPro", "SourceSansProBold",
    }  # fmt: skip
    assert squeezed(OURS) in sheet.flow


def test_what_is_not_printed_is_told() -> None:
    (found,) = unprinted(SourceFile("a.proc", TEXT))
    assert found.rule == "not-printed"
    assert TEXT[found.span.start : found.span.end] == OTHERS


@pytest.mark.parametrize(
    ("text", "hint"),
    [("㎜", "Write mm instead."), ("①", "Write 1 instead."), ("ⅻ", "Write xii instead.")],
)
def test_what_is_meant_is_offered(text: str, hint: str) -> None:
    (found,) = unprinted(SourceFile("a.proc", f'note "{text}"\n'))
    assert found.hint == hint


@pytest.mark.parametrize(
    "text",
    ["# 漢字\n", 'note "a" # 漢字\n', "cafe\u0301", "a\u00a0b\u2009c\u200d\u202f", "⌀ □ ✗", "ÄÖÜß"],
)
def test_nothing_is_told(text: str) -> None:
    assert list(unprinted(SourceFile("a.proc", text))) == []


@pytest.mark.parametrize("text", ['note "# 漢字"\n', "nut #1 漢字\n", 'note "漢字" # b\n'])
def test_a_sign_in_a_text_begins_no_comment(text: str) -> None:
    assert len(list(unprinted(SourceFile("a.proc", text)))) == 1


def test_the_table_of_letters_is_that_of_the_fonts() -> None:
    """What one family has in both weights, by their character maps (OpenType, `cmap`)."""
    families: dict[str, set[int]] = {}
    for font in font_files():
        if font.style == "normal":
            has = set(TTFont(font.path).getBestCmap())
            families[font.family] = families.get(font.family, has) & has
    table = set()
    for one in PRINTED.split():
        first, _, last = one.partition("-")
        table |= set(range(int(first, 16), int(last or first, 16) + 1))
    assert table == {code for code in set().union(*families.values()) if code > 0x20}


def test_the_variable_is_put_back(monkeypatch: pytest.MonkeyPatch) -> None:
    for before in (None, "/etc/fonts/fonts.conf"):
        if before is None:
            monkeypatch.delenv("FONTCONFIG_FILE", raising=False)
        else:
            monkeypatch.setenv("FONTCONFIG_FILE", before)
        with only_our_fonts():
            assert Path(os.environ["FONTCONFIG_FILE"]).is_file()
        assert os.environ.get("FONTCONFIG_FILE") == before
