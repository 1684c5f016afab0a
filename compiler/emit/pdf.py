"""The sheets: one PDF for each procedure and each visit, tagged for those who read by ear.

Pictures and fonts come through a fetcher under names of their own, so that the bytes do not depend
on the folder the project lies in, and nothing outside of it can be asked for.
"""

from __future__ import annotations

import atexit
import gc
import io
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, redirect_stdout
from functools import cache, partial
from typing import TYPE_CHECKING

from compiler import __version__
from compiler.document.model import Document, Library, VisitPage
from compiler.emit.drawn import drawn_widths
from compiler.emit.fonts import font_faces
from compiler.emit.job import OutputJob, digest
from compiler.emit.papers import PAPERS
from compiler.emit.qr import Code, code_of, page_address
from compiler.emit.templating import render, templates_digest
from compiler.emit.write import OutputRefused
from compiler.paths import template_files
from compiler.wording.phrases import LABELS

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

_FOLDER = "sheet"


def sheet_jobs(library: Library, pictures: Mapping[str, bytes], paper: str) -> list[OutputJob]:
    """Return the sheets. `pictures` maps paths to bytes; `paper` is one of `PAPERS`."""
    base = digest(base_key(paper), library.site)
    jobs = []
    for document in library.documents:
        used = {path: pictures[path] for path in sorted(_pictures_of(document, pictures))}
        key = digest(base, repr(document), *used, *used.values())
        make = partial(_procedure, document, used, paper, library.site)
        jobs.append(OutputJob(f"sheets/{document.id}.pdf", key, make, slow=True))
    for visit in library.visits:
        used = {path: pictures[path] for path in sorted(_pictures_of(visit, pictures))}
        make_visit = partial(_visit, visit, used, paper, library.site)
        key = digest(base, repr(visit), *used, *used.values())
        jobs.append(OutputJob(f"sheets/visits/{visit.id}.pdf", key, make_visit, slow=True))
    return jobs


def base_key(paper: str) -> str:
    """Return a digest of what decides the bytes of all sheets on a paper."""
    return digest(made_by(), templates_digest(_FOLDER), repr(LABELS), paper)


@cache
def made_by() -> str:
    """Return what sets the sheets, with its version: another one may set them otherwise."""
    from importlib.metadata import version

    names = ("weasyprint", "pydyf", "pillow", "fontpkg-atkinson-hyperlegible")
    versions = [version(name) for name in (*names, "font-source-sans-pro")]
    return " ".join([__version__, *versions])


def _pictures_of(shown: Document | VisitPage, pictures: Mapping[str, bytes]) -> set[str]:
    """Return the pictures that a sheet shows; a path is named in full wherever it is used."""
    text = repr(shown)
    return {path for path in pictures if repr(path) in text}


def _procedure(document: Document, pictures: Mapping[str, bytes], paper: str, site: str) -> bytes:
    return as_pdf(procedure_page(document, pictures, paper, site), pictures, paper)


def procedure_page(
    document: Document, pictures: Mapping[str, bytes], paper: str, site: str = ""
) -> str:
    """Return the sheet of a procedure as HTML, before it is set; its style sheet is apart."""
    revision = document.revision.name if document.revision else ""
    code = _code(site, f"procedures/{document.id}.html", revision, document.digest)
    widths = drawn_widths(pictures, *PAPERS[paper].picture)
    return render(_FOLDER, "procedure.html", doc=document, code=code, widths=widths)


def _visit(visit: VisitPage, pictures: Mapping[str, bytes], paper: str, site: str) -> bytes:
    code = _code(site, f"visits/{visit.id}.html", "", visit.digest)
    widths = drawn_widths(pictures, *PAPERS[paper].picture)
    html = render(_FOLDER, "visit.html", v=visit, code=code, widths=widths)
    return as_pdf(html, pictures, paper)


def _code(site: str, page: str, revision: str, content: str) -> Code | None:
    return code_of(page_address(site, page, revision, content)) if site else None


def as_pdf(html: str, pictures: Mapping[str, bytes], paper: str, style: str = "") -> bytes:
    """Set a page as PDF. `style` names one more style sheet, behind the common one."""
    need_library()
    with _no_collector():
        return _set(html, pictures, paper, style)


def _set(html: str, pictures: Mapping[str, bytes], paper: str, style: str) -> bytes:
    from weasyprint import HTML

    from compiler.emit.pdf_tags import finish_tags
    from compiler.emit.photos import for_print
    from compiler.emit.shelf import SCHEME, Shelf

    fonts, css = _style(paper, style)
    shelf = Shelf(for_print(pictures, *PAPERS[paper].picture))
    page = HTML(string=html, base_url=SCHEME, url_fetcher=shelf)
    out = io.BytesIO()
    page.write_pdf(
        out,
        stylesheets=[css],
        font_config=fonts,
        pdf_variant="pdf/ua-1",
        finisher=finish_tags,
    )
    return out.getvalue()


@contextmanager
def _no_collector() -> Iterator[None]:
    """Let the collector of circles wait while a sheet is set.

    Nothing that it is made of can go before it is finished, and looking for it again and again
    takes a quarter of the time. It looks once behind each sheet, when all of it can go.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


@cache
def _style(paper: str, more: str) -> tuple[FontConfiguration, CSS]:
    """Return the fonts and the style sheet, made once for all sheets of a run."""
    # They must be gone before the interpreter takes the library apart that frees them.
    atexit.register(_style.cache_clear)
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

    from compiler.emit.own_fonts import only_our_fonts
    from compiler.emit.shelf import SCHEME, Shelf

    with only_our_fonts():
        fonts = FontConfiguration()
    size = f"@page {{ size: {PAPERS[paper].size}; }}\n"
    files = ["sheet.css", "pocket.css" if PAPERS[paper].pocket else "", more]
    rules = "".join(template_files(_FOLDER)[name].decode() for name in files if name)
    text = font_faces(f"{SCHEME}fonts") + size + rules
    shelf = Shelf({})
    css = CSS(string=text, base_url=SCHEME, font_config=fonts, url_fetcher=shelf)
    return fonts, css


@cache
def need_library() -> None:
    """Bring the library that sets the sheets; `OutputRefused` when the system lacks a part."""
    # It prints its own advice when a system library is missing; ours names what to install.
    with redirect_stdout(io.StringIO()):
        try:
            import weasyprint  # noqa: F401
        except OSError as error:
            missing = str(error).splitlines()[0]
            raise OutputRefused(
                f"Sheets cannot be made: a system library is missing ({missing}).\n"
                "On Debian or Ubuntu: sudo apt-get install libpangoft2-1.0-0 libharfbuzz-subset0\n"
                "Without sheets it goes on: add --no-sheets."
            ) from error
