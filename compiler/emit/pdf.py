"""The sheets: one PDF for each procedure and each visit, tagged for those who read by ear.

Pictures and fonts come through a fetcher under names of their own, so that the bytes do not depend
on the folder the project lies in, and nothing outside of it can be asked for.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from functools import cache, partial
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote

from compiler.document.model import Document, Library, VisitPage
from compiler.emit.job import OutputJob, digest
from compiler.emit.templating import render, templates_digest
from compiler.paths import font_files, templates_dir
from compiler.wording.phrases import LABELS

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

_FOLDER = "sheet"
_SCHEME = "asset:"
_PAPER = {"a4": "A4", "letter": "Letter"}
_KINDS = {"svg": "image/svg+xml", "png": "image/png", "jpg": "image/jpeg", "jpeg": "image/jpeg"}


def sheet_jobs(library: Library, pictures: Mapping[str, bytes], paper: str) -> list[OutputJob]:
    """Return the sheets. `pictures` maps paths to bytes; `paper` is `a4` or `letter`."""
    base = digest(templates_digest(_FOLDER), repr(LABELS), paper)
    jobs = []
    for document in library.documents:
        used = {path: pictures[path] for path in sorted(_pictures_of(document, pictures))}
        key = digest(base, repr(document), *used, *used.values())
        make = partial(_procedure, document, used, paper)
        jobs.append(OutputJob(f"sheets/{document.id}.pdf", key, make))
    for visit in library.visits:
        make_visit = partial(_visit, visit, paper)
        path = f"sheets/visit-{visit.id}.pdf"
        jobs.append(OutputJob(path, digest(base, repr(visit)), make_visit))
    return jobs


def _pictures_of(document: Document, pictures: Mapping[str, bytes]) -> set[str]:
    """Return the pictures that a document shows; a path is named in full wherever it is used."""
    text = repr(document)
    return {path for path in pictures if repr(path) in text}


def _procedure(document: Document, pictures: Mapping[str, bytes], paper: str) -> bytes:
    return _pdf(render(_FOLDER, "procedure.html", doc=document), pictures, paper)


def _visit(visit: VisitPage, paper: str) -> bytes:
    return _pdf(render(_FOLDER, "visit.html", v=visit), {}, paper)


def _pdf(html: str, pictures: Mapping[str, bytes], paper: str) -> bytes:
    import weasyprint

    fonts, style = _style(paper)
    page = weasyprint.HTML(
        string=html,
        base_url=_SCHEME,
        url_fetcher=partial(_fetch, pictures),
    )
    out = io.BytesIO()
    page.write_pdf(out, stylesheets=[style], font_config=fonts, pdf_variant="pdf/ua-1")
    return out.getvalue()


@cache
def _style(paper: str) -> tuple[FontConfiguration, CSS]:
    """Return the fonts and the style sheet, made once for all sheets of a run."""
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    faces = "".join(
        f'@font-face {{ font-family: "{font.family}"; font-weight: {font.weight}; '
        f'font-style: {font.style}; src: url("{_SCHEME}fonts/{font.path.name}"); }}\n'
        for font in font_files()
    )
    size = f"@page {{ size: {_PAPER[paper]}; }}\n"
    text = (templates_dir() / _FOLDER / "sheet.css").read_text(encoding="utf-8")
    css = CSS(
        string=faces + size + text,
        base_url=_SCHEME,
        font_config=fonts,
        url_fetcher=partial(_fetch, {}),
    )
    return fonts, css


def _fetch(pictures: Mapping[str, bytes], url: str, **_: object) -> dict[str, Any]:
    """Return the bytes of a font or a picture; everything else is refused."""
    name = unquote(url.removeprefix(_SCHEME).lstrip("/"))
    if name.startswith("fonts/"):
        font = next((f for f in font_files() if f.path.name == name[6:]), None)
        if font is not None:
            return {"string": font.read(), "mime_type": "font/ttf"}
    path = name.removeprefix("pictures/")
    if path in pictures:
        kind = _KINDS[path.rsplit(".", 1)[-1].lower()]
        return {"string": pictures[path], "mime_type": kind}
    raise ValueError(f"a sheet may not load {url}")
