"""What ISO 14289-1 (PDF/UA-1) asks of the tags and the library that sets the sheets leaves open.

Called with the finished file just before it is written; `pydyf` objects are changed in place.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

_HOLLOW = ("/Span", "/P", "/Div", "/NonStruct")
"""Elements that say nothing when nothing is in them; a cell of a table counts even so."""


def finish_tags(document: Any, pdf: Any) -> None:
    """Say what each header cell heads, take lines of the margin out of the reading, drop hollows.

    `document` is the laid out document and `pdf` its file, as WeasyPrint hands them to a finisher.
    """
    _scopes(document)
    by_reference = {one.reference: one for one in pdf.objects}
    _margins(pdf, by_reference)
    root = by_reference[pdf.catalog["StructTreeRoot"]]
    for kid in root["K"]:
        _prune(by_reference[kid], by_reference)


def _scopes(document: Any) -> None:
    """Give each header cell its scope (7.5): a reader then says it before the cells it heads."""
    for page in document.pages:
        for box in _cells(page._page_box):
            row = box.element.attrib.get("scope") == "row"
            box.mark["A"]["Scope"] = "/Row" if row else "/Column"


def _cells(box: Any) -> Iterator[Any]:
    # What is placed freely stands behind a stand-in.
    box = getattr(box, "_box", box)
    if getattr(box, "element_tag", None) == "th" and hasattr(box, "mark"):
        yield box
    for child in getattr(box, "children", ()):
        yield from _cells(child)


def _margins(pdf: Any, by_reference: dict[bytes, Any]) -> None:
    """Mark what stands in the margins of each page as artifacts (7.8), which nobody reads out.

    They can be told by their elements, which hang on the document without being children of it.
    """
    root = by_reference[pdf.catalog["StructTreeRoot"]]
    trunk = root["K"][0]
    branches = set(by_reference[trunk]["K"])
    numbers = by_reference[root["ParentTree"]]["Nums"]
    parents = dict(zip(numbers[::2], numbers[1::2], strict=True))
    for page in by_reference.values():
        if not isinstance(page, dict) or page.get("Type") != "/Page":
            continue
        of_page = parents[page["StructParents"]]
        loose = set()
        for number, reference in enumerate(of_page):
            path = list(_way_up(reference, trunk, by_reference))
            if path[-1] not in branches:
                loose.add(number)
                of_page[number] = "null"
                for one in path:
                    by_reference[one].free = "f"
        _as_artifacts(by_reference[page["Contents"]].stream, loose)


def _way_up(reference: bytes, trunk: bytes, by_reference: dict[bytes, Any]) -> Iterator[bytes]:
    while reference != trunk:
        yield reference
        reference = by_reference[reference]["P"]


def _as_artifacts(stream: list[Any], loose: set[int]) -> None:
    for place, item in enumerate(stream):
        if isinstance(item, dict) and item.get("MCID") in loose:
            stream[place - 1] = "/Artifact"
            del item["MCID"]
            item["Type"] = "/Pagination"


def _prune(element: Any, by_reference: dict[bytes, Any]) -> bool:
    """Drop what holds nothing below an element; return whether it is itself of any use."""
    kept = []
    for kid in element["K"]:
        child = by_reference.get(kid) if isinstance(kid, bytes) else None
        if child is None or child.get("Type") != "/StructElem" or _prune(child, by_reference):
            kept.append(kid)
        else:
            child.free = "f"
    element["K"][:] = kept
    return bool(kept) or element["S"] not in _HOLLOW
