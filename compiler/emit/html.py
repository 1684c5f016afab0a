"""The site: a first page with search, a page for each procedure, machine, tool and visit.

Works from a file, over plain http and without a network: every address is relative, scripts and
styles are files of the site itself, and the page's own policy forbids anything else.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import PurePosixPath

from compiler.document.exchange import exchange
from compiler.document.model import Document, Library, MachinePage, ToolPage, VisitPage
from compiler.emit.finder import LISTED, finder_script, models_of
from compiler.emit.fonts import font_faces
from compiler.emit.howto import howto
from compiler.emit.job import OutputJob, digest, ready
from compiler.emit.templating import render, templates_digest
from compiler.paths import font_files, template_files
from compiler.wording.phrases import LABELS

_FOLDER = "site"

POLICY = (
    "default-src 'none'; script-src 'self' file:; style-src 'self' file:; "
    "img-src 'self' file: data:; media-src 'self' file:; font-src 'self' file:; "
    "base-uri 'none'; form-action 'none'"
)
"""What a page may load: files of its own site. `file:` stands for the site opened from a disk."""


def page_jobs(library: Library, pictures: Mapping[str, bytes]) -> list[OutputJob]:
    """Return every file of the site. `pictures` maps the paths in the documents to their bytes."""
    base = digest(templates_digest(_FOLDER), repr(LABELS), library.title, POLICY)
    jobs = [*_assets(), *_pictures(library, pictures)]

    def add(path: str, subject: object, make: Callable[[], str]) -> None:
        key = digest(base, repr(subject))
        jobs.append(OutputJob(path, key, lambda: make().encode()))

    everything = (library.rows, library.machines, library.tools, library.visits)
    add("site/index.html", everything, partial(_index, library))
    add("site/finder.js", everything, partial(finder_script, library))
    for document in library.documents:
        add(f"site/procedures/{document.id}.html", document, partial(_procedure, document))
    for machine in library.machines:
        path = f"site/machines/{machine.id}.html"
        add(path, machine, partial(_machine, machine, library.title))
    for tool in library.tools:
        add(f"site/tools/{tool.id}.html", tool, partial(_tool, tool, library.title))
    for visit in library.visits:
        add(f"site/visits/{visit.id}.html", visit, partial(_visit, visit))
    return jobs


def _page(template: str, root: str, shop_title: str, **values: object) -> str:
    words = json.dumps(dict(LABELS.script), ensure_ascii=False)
    return render(
        _FOLDER, template, root=root, words=words, policy=POLICY, shop_title=shop_title, **values
    )


def _index(library: Library) -> str:
    models = models_of(library.rows)
    return _page("index.html", "", library.title, library=library, listed=LISTED, models=models)


def _procedure(document: Document) -> str:
    return _page(
        "procedure.html",
        "../",
        document.shop_title,
        doc=document,
        about=_about(document),
        issues=[[one.revision, one.day, one.mark, one.change] for one in document.issues],
        has_second=_has_second(document),
        exchange=exchange,
        howto=howto(document),
    )


def _has_second(page: Document | MachinePage | VisitPage) -> bool:
    """Return whether a page gives any value in a second unit."""
    return ", second='" in repr(page).replace("second=''", "")


def _about(document: Document) -> dict[str, str]:
    """Return what a job and its record say of the page that they were begun on."""
    return {
        "document": document.id,
        "digest": document.digest,
        "title": document.title,
        "revision": document.revision.name if document.revision else "",
        "machine": document.machine_id,
        "machine_title": document.machine_title,
    }


def _machine(machine: MachinePage, shop_title: str) -> str:
    return _page("machine.html", "../", shop_title, m=machine, has_second=_has_second(machine))


def _tool(tool: ToolPage, shop_title: str) -> str:
    return _page("tool.html", "../", shop_title, t=tool)


def _visit(visit: VisitPage) -> str:
    # A job is told by all four; one without a revision would be none.
    about = {
        "document": f"visit-{visit.id}",
        "digest": visit.digest,
        "title": visit.title,
        "revision": "",
    }
    return _page(
        "visit.html",
        "../",
        visit.shop_title,
        v=visit,
        about=about,
        has_second=_has_second(visit),
    )


def _assets() -> Iterator[OutputJob]:
    for path, data in template_files(_FOLDER).items():
        if path == "assets/style.css":
            yield ready(f"site/{path}", font_faces("fonts").encode() + data)
        elif path.startswith("assets/"):
            yield ready(f"site/{path}", data)
    for font in font_files():
        yield ready(f"site/assets/fonts/{font.path.name}", font.read())
    for number, licence in enumerate(sorted({font.read_licence() for font in font_files()}), 1):
        yield ready(f"site/assets/fonts/licence-{number}.txt", licence.encode())


def _pictures(library: Library, pictures: Mapping[str, bytes]) -> Iterator[OutputJob]:
    """Return the pictures and clips, each under its own path below `site/pictures`."""
    for path in sorted(pictures):
        parts = PurePosixPath(path).parts
        assert ".." not in parts, "the loader takes pictures of the folder only"
        yield ready(f"site/pictures/{path}", pictures[path])
