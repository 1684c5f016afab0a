"""A sheet as anyone would style it: the same words, boxes, pictures and sizes, no care for speed.

Each step is a table of two cells, tables find out their widths and join their lines, and fonts and
style sheet are brought anew for each sheet, with all that the page holds in one file.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from typing import Any
from xml.etree import ElementTree

from compiler.emit.fonts import font_faces
from compiler.emit.shelf import SCHEME, Shelf
from compiler.paths import template_files

_CARELESS = """
.step { display: table; width: 100%; border-collapse: collapse; padding-left: 0 }
.step > .number, .step > .rest { display: table-cell; vertical-align: top }
.step .first, .step .line, .step .first.line, .step.ticked .line, .step.ticked .first.line {
  margin-left: 0; padding-left: 0; text-indent: 0 }
table { table-layout: auto; border-collapse: collapse }
tr > :first-child { border-left: none }
th, td { border: .6pt solid #888 }
"""
"""Behind the style sheet of ours, which gives the letters their sizes."""


def careless(html: str) -> str:
    """Return a sheet's page with its style in it, where no step and no table is set with care."""
    import tinyhtml5

    root: Any = tinyhtml5.parse(html, namespace_html_elements=False)
    for parent in list(root.iter()):
        for child in [one for one in parent if one.tag in ("wbr", "colgroup")]:
            _take_out(parent, child)
    for step in list(root.iter("div")):
        if "step" in step.get("class", "").split():
            _in_two_cells(step)
    for one in root.iter():
        if isinstance(one.tag, str):
            one.tag = one.tag.rpartition("}")[2]
    style = ElementTree.SubElement(root.find("head"), "style")
    style.text = font_faces(f"{SCHEME}fonts") + "@page { size: A4 }\n"
    style.text += template_files("sheet")["sheet.css"].decode() + _CARELESS
    return "<!doctype html>" + ElementTree.tostring(root, encoding="unicode", method="html")


def _in_two_cells(step: Any) -> None:
    """Put the number of a step into one cell and all else into another."""
    rest = ElementTree.Element("div", {"class": "rest"})
    for child in list(step):
        step.remove(child)
        rest.append(child)
    for line in rest.iter("p"):
        for part in line:
            if part.tag == "span" and "number" in part.get("class", "").split():
                _take_out(line, part)
                part.tail = None
                step.append(part)
                break
    step.append(rest)


def _take_out(parent: Any, child: Any) -> None:
    """Take an element away, and leave the text that stands behind it."""
    place, tail = list(parent).index(child), child.tail or ""
    if place:
        parent[place - 1].tail = (parent[place - 1].tail or "") + tail
    else:
        parent.text = (parent.text or "") + tail
    parent.remove(child)


def as_pdf(page: str, pictures: Mapping[str, bytes]) -> bytes:
    """Set such a page: nothing is kept from one to the next, pictures go in as they are."""
    from weasyprint import HTML

    out = io.BytesIO()
    html = HTML(string=page, base_url=SCHEME, url_fetcher=Shelf(pictures))
    html.write_pdf(out, pdf_variant="pdf/ua-1")
    return out.getvalue()
