"""Sheets for those who read by ear, held against ISO 14289-1 (PDF/UA-1) by two checkers.

`page-validation` has the whole profile, `pdfua` a part of it on another reader of PDF files. Both
are told here to find something, so that a checker that says yes to everything would be seen.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from pathlib import Path
from typing import Any

import page
import pdfua
import pytest

from compiler.document.model import Library
from compiler.wording.phrases import LABELS
from sheets.support import Sheet, document, make, resolved, squeezed, steps

pytestmark = pytest.mark.sheets

LONG, VISIT = "open-pump", "visits/autumn-service"
ALL = (LONG, "walk-round", VISIT)


@pytest.fixture(scope="module")
def sheets(demo_library: Library, demo_pictures: Mapping[str, bytes]) -> dict[str, Sheet]:
    """Return sheets that hold, together, every kind of piece."""
    return {name: make(demo_library, demo_pictures, name) for name in ALL}


def by_page(data: bytes) -> list[str]:
    """Return the rules that `page-validation` finds broken."""
    report = page.validate_pdf_bytes(data, profile=page.ValidationProfile.PDF_UA_1)
    assert report.is_compliant == (not report.failures)
    return sorted({one.rule_id for one in report.failures})


def by_pdfua(data: bytes, folder: Path) -> list[str]:
    """Return the rules that `pdfua` finds broken or doubtful."""
    file = folder / "sheet.pdf"
    file.write_bytes(data)
    report = pdfua.validate(str(file))
    assert report.findings or report.exit_code == 0
    return sorted({one.rule_id for one in report.findings})


@pytest.mark.parametrize("name", ALL)
def test_two_checkers_find_nothing(sheets: dict[str, Sheet], name: str, tmp_path: Path) -> None:
    assert by_page(sheets[name].data) == []
    assert by_pdfua(sheets[name].data, tmp_path) == []


def test_both_checkers_find_a_drawing_without_words(tmp_path: Path) -> None:
    from weasyprint import HTML

    html = "<html lang='en'><title>T</title><p>A</p><svg viewBox='0 0 9 9'><path d='M0 0h9'/></svg>"
    data = HTML(string=html).write_pdf(pdf_variant="pdf/ua-1")
    assert by_page(data) == ["PDFUA1-FIGURE-ALTERNATIVE-TEXT-001"]
    assert by_pdfua(data, tmp_path) == ["UA-13-004"]


def elements(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """Yield the elements of the structure tree in the order of reading."""

    def below(element: Any) -> Iterator[dict[str, Any]]:
        yield element
        kids: Any = resolved(element.get("/K", []))
        for kid in kids if isinstance(kids, list) else [kids]:
            child: Any = resolved(kid)
            if isinstance(child, dict) and "/S" in child:
                yield from below(child)

    root: Any = sheet.reader.root_object
    for top in resolved(root["/StructTreeRoot"])["/K"]:  # type: ignore[index]
        yield from below(resolved(top))


@pytest.mark.parametrize("name", ALL)
def test_every_header_cell_says_what_it_heads(sheets: dict[str, Sheet], name: str) -> None:
    """ISO 14289-1, 7.5; the values are those of ISO 32000-1, table 349."""
    scopes = [str(one["/A"].get("/Scope")) for one in elements(sheets[name]) if one["/S"] == "/TH"]
    assert set(scopes) == {"/Column", "/Row"}


def test_drawings_and_pictures_are_put_into_words(
    sheets: dict[str, Sheet], demo_library: Library
) -> None:
    """ISO 14289-1, 7.3: the words are those of the author, or what the drawing shows."""
    shown = {LABELS.alert_mark}
    for step in steps(document(demo_library, LONG)):
        shown |= {view.alt for view in step.diagrams} | {view.alt for view in step.pictures}
    told = {str(one["/Alt"]) for one in elements(sheets[LONG]) if one["/S"] == "/Figure"}
    assert len(shown) > 2
    assert shown <= told
    visit = next(one for one in demo_library.visits if f"visits/{one.id}" == VISIT)
    assert visit.plan is not None
    plan = [str(one["/Alt"]) for one in elements(sheets[VISIT]) if one["/S"] == "/Figure"]
    assert visit.plan.text in plan


@pytest.mark.parametrize("name", ALL)
def test_headings_go_down_one_level_at_a_time(sheets: dict[str, Sheet], name: str) -> None:
    """ISO 14289-1, 7.4.2."""
    kinds = [str(one["/S"])[1:] for one in elements(sheets[name])]
    levels = [int(kind[1]) for kind in kinds if kind[0] == "H" and kind[1:].isdigit()]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(lower - upper <= 1 for upper, lower in pairwise(levels))


@pytest.mark.parametrize("name", ALL)
def test_margins_are_not_read_out(sheets: dict[str, Sheet], name: str) -> None:
    """ISO 14289-1, 7.8: running lines are artifacts of pagination, and are printed all the same."""
    sheet = sheets[name]
    for one, text in zip(sheet.reader.pages, sheet.pages, strict=True):
        content = one.get_contents()
        assert content is not None
        operations = [(op, args) for args, op in content.operations]
        running = [args for op, args in operations if op == b"BDC" and args[0] == "/Artifact"]
        assert len(running) >= 3
        assert all(args[1] == {"/Type": "/Pagination"} for args in running)
        assert squeezed(LABELS.disclaimer) in squeezed(text)
    # What is in the tree is there, and is what the parent tree leads to: nothing hangs in the air.
    root: Any = resolved(sheet.reader.root_object["/StructTreeRoot"])
    known = {id(one) for one in elements(sheet)}
    numbers: Any = resolved(resolved(root["/ParentTree"])["/Nums"])  # type: ignore[index]
    for entry in numbers[1::2]:
        inner: Any = resolved(entry)
        for reference in inner if isinstance(inner, list) else [inner]:
            element = resolved(reference)
            if isinstance(element, dict):
                assert id(element) in known


@pytest.mark.parametrize("name", ALL)
def test_no_element_without_anything_in_it(sheets: dict[str, Sheet], name: str) -> None:
    hollow = [
        one["/S"]
        for one in elements(sheets[name])
        if not one.get("/K") and one["/S"] not in ("/TD", "/TH")
    ]
    assert hollow == []
