"""Sheets read back: what they say, how they are built, and where the words stand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from compiler.document.model import Library
from compiler.wording.phrases import LABELS
from sheets.support import MM, Sheet, document, make, overlapping, resolved, said, squeezed, steps

pytestmark = pytest.mark.sheets

SHORT, LONG, VISIT = "walk-round", "seal-change", "visits/autumn-service"
ALL = (SHORT, LONG, VISIT)


@pytest.fixture(scope="module")
def sheets(demo_library: Library, demo_pictures: Mapping[str, bytes]) -> dict[str, Sheet]:
    """Return the shortest sheet, the longest and one of a visit."""
    return {name: make(demo_library, demo_pictures, name) for name in ALL}


@pytest.mark.parametrize(("name", "most"), [(SHORT, 2), (LONG, 16), (VISIT, 7)])
def test_pages(sheets: dict[str, Sheet], name: str, most: int) -> None:
    """Every page is A4 upright (ISO 216: 210 by 297 mm) and says its number and how many."""
    sheet = sheets[name]
    count = len(sheet.reader.pages)
    assert 1 <= count <= most
    for number, (page, text) in enumerate(zip(sheet.reader.pages, sheet.pages, strict=True), 1):
        assert float(page.mediabox.width) == pytest.approx(210 * MM, abs=0.5)
        assert float(page.mediabox.height) == pytest.approx(297 * MM, abs=0.5)
        assert squeezed(f"Page {number} of {count}") in squeezed(text)
        assert squeezed(LABELS.disclaimer) in squeezed(text)


@pytest.mark.parametrize("name", [SHORT, LONG])
def test_revision_and_title_on_every_page(
    sheets: dict[str, Sheet], demo_library: Library, name: str
) -> None:
    doc = document(demo_library, name)
    assert doc.revision is not None
    for text in sheets[name].pages:
        top = squeezed("".join(text.splitlines()[:3]))
        assert squeezed(f"Revision {doc.revision.name}, {doc.revision.day}") in top
        assert squeezed(doc.title) in top


@pytest.mark.parametrize("name", [SHORT, LONG])
def test_every_word_of_the_work_is_there(
    sheets: dict[str, Sheet], demo_library: Library, name: str
) -> None:
    doc, text = document(demo_library, name), sheets[name].flow
    missing = []
    for step in steps(doc):
        lines = [*step.lines, *step.notes, *step.whys, *(p.text for p in step.safety)]
        missing += [(step.number, said(line)) for line in lines if said(line) not in text]
        if squeezed(step.number) + ("a." if len(step.lines) > 1 else "") not in text:
            missing.append((step.number, "its number"))
    assert missing == []
    assert len(steps(doc)) > 10


def test_lists_torques_and_rules_are_there(sheets: dict[str, Sheet], demo_library: Library) -> None:
    doc, text = document(demo_library, LONG), sheets[LONG].flow
    wanted = [
        *(tool.text for tool in doc.tools),
        *(tool.tag for tool in doc.tools),
        *(supply.text for supply in doc.supplies),
        *(supply.number for supply in doc.supplies),
        *(row.target.text for row in doc.torques),
        *(row.window.text for row in doc.torques if row.window),
        *(energy.name for energy in doc.energies),
        *doc.rules,
        LABELS.stop_if_different,
        doc.digest[:12],
        doc.source_file,
    ]
    assert [one for one in wanted if squeezed(one) not in text] == []
    assert doc.torques
    assert doc.rules


def test_what_a_visit_takes_along_is_there(sheets: dict[str, Sheet], demo_library: Library) -> None:
    visit = next(one for one in demo_library.visits if f"visits/{one.id}" == VISIT)
    wanted = [
        *(job.procedure.title for job in visit.jobs),
        *(job.serial for job in visit.jobs),
        *(tool.text for tool in visit.tools),
        *(supply.text for supply in visit.supplies),
        *(row.target.text for row in visit.torques),
        *visit.rules,
        visit.title,
        visit.day,
    ]
    text = sheets[VISIT].flow
    assert [one for one in wanted if squeezed(one) not in text] == []


@pytest.mark.parametrize("name", ALL)
def test_tagged_for_those_who_read_by_ear(sheets: dict[str, Sheet], name: str) -> None:
    """ISO 14289-1 (PDF/UA-1): marked, a structure tree, a language, a title that is shown."""
    root: Any = sheets[name].reader.root_object
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"] == True  # noqa: E712 (a boolean object of pypdf)
    assert "/StructTreeRoot" in root
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] == True  # noqa: E712
    assert b"pdfuaid:part" in root["/Metadata"].get_data()
    info = sheets[name].reader.metadata
    assert info is not None
    assert info.title
    assert info.creation_date is None


@pytest.mark.parametrize("name", ALL)
def test_fonts_are_inside(sheets: dict[str, Sheet], name: str) -> None:
    """ISO 14289-1, 7.21: each font is embedded; both families are the ones we ship."""
    names = set()
    for page in sheets[name].reader.pages:
        fonts: Any = resolved(page["/Resources"])
        for font in resolved(fonts["/Font"]).values():  # type: ignore[attr-defined]
            inner: Any = resolved(resolved(font)["/DescendantFonts"])  # type: ignore[index]
            description: Any = resolved(resolved(inner[0])["/FontDescriptor"])  # type: ignore[index]
            assert "/FontFile2" in description or "/FontFile3" in description
            names.add(str(description["/FontName"]))
    assert names
    assert [one for one in names if "Atkinson" not in one and "Source" not in one] == []


@pytest.mark.parametrize("name", [SHORT, LONG])
def test_bookmarks(sheets: dict[str, Sheet], demo_library: Library, name: str) -> None:
    def flat(items: list[Any]) -> list[str]:
        return [t for i in items for t in (flat(i) if isinstance(i, list) else [i.title])]

    doc = document(demo_library, name)
    marks = [squeezed(mark) for mark in flat(sheets[name].reader.outline)]
    for title in (doc.title, LABELS.before_start, LABELS.work, LABELS.after):
        assert squeezed(title) in marks
    for node in doc.body:
        title = getattr(node, "title", "")
        if title:
            assert any(squeezed(title) in mark for mark in marks), title


@pytest.mark.parametrize("name", ALL)
def test_no_word_outside_the_margins(sheets: dict[str, Sheet], name: str) -> None:
    """Margins of the style sheet: 16 mm left, 14 mm right; the frame of text 22 to 280 mm down."""
    words = sheets[name].words
    assert len(words) > 200
    out = [
        word
        for word in words
        if word.left < 16 * MM - 1
        or word.right > (210 - 14) * MM + 1
        or word.top < 5 * MM
        or word.bottom > 292 * MM
    ]
    assert out == []


@pytest.mark.parametrize("name", ALL)
def test_no_word_over_another(sheets: dict[str, Sheet], name: str) -> None:
    """Boxes of two words of a page share no more than a sliver (line boxes touch a little)."""
    assert overlapping(sheets[name].words) == []


def test_letter_paper(demo_library: Library, demo_pictures: Mapping[str, bytes]) -> None:
    """Letter is 8 1/2 by 11 inches (ANSI/ASME Y14.1, size A)."""
    sheet = make(demo_library, demo_pictures, SHORT, "letter")
    for page in sheet.reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == (612, 792)
    assert [w for w in sheet.words if w.right > 612 - 14 * MM + 1 or w.bottom > 785] == []
    for step in steps(document(demo_library, SHORT)):
        assert said(step.lines[0]) in sheet.flow


@pytest.mark.parametrize("name", [SHORT, VISIT])
def test_the_same_bytes_twice(
    sheets: dict[str, Sheet],
    demo_library: Library,
    demo_pictures: Mapping[str, bytes],
    name: str,
) -> None:
    assert make(demo_library, demo_pictures, name).data == sheets[name].data
