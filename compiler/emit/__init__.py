"""Pages, sheets, lists and data, made from the finished document."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from compiler.document.model import Library
    from compiler.emit.job import OutputJob


def output_jobs(
    library: Library,
    pictures: Mapping[str, bytes],
    paper: str = "a4",
    sheets: bool = True,
    one_file: bool = False,
) -> list[OutputJob]:
    """Return every file to be written for `library`.

    `pictures` maps the paths used in the documents to their bytes. `paper` is one of `PAPERS`.
    With `one_file` each page is made a second time, with all it needs in it. Raises `OutputRefused`
    when a picture has gone since the folder was read.
    """
    from compiler.emit.write import OutputRefused

    try:
        return _jobs(library, pictures, paper, sheets, one_file)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise OutputRefused(f"{error.filename} cannot be read any more: {reason}.") from error


def _jobs(
    library: Library, pictures: Mapping[str, bytes], paper: str, sheets: bool, one_file: bool
) -> list[OutputJob]:
    from compiler.emit.alone import alone_jobs
    from compiler.emit.data import data_jobs
    from compiler.emit.html import page_jobs
    from compiler.emit.lists import list_jobs
    from compiler.emit.pdf import sheet_jobs
    from compiler.emit.pdf_handouts import handout_jobs

    pages = page_jobs(library, pictures)
    jobs = [*pages, *list_jobs(library), *data_jobs(library)]
    if one_file:
        jobs += alone_jobs(pages)
    if sheets:
        jobs += sheet_jobs(library, pictures, paper)
        jobs += handout_jobs(library, paper)
    return jobs
