"""Pages, sheets, lists and data, made from the finished document."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from compiler.document.model import Library
    from compiler.emit.job import OutputJob


def output_jobs(
    library: Library, pictures: Mapping[str, bytes], paper: str = "a4", sheets: bool = True
) -> list[OutputJob]:
    """Return every file to be written for `library`.

    `pictures` maps the paths used in the documents to their bytes. `paper` is `a4` or `letter`.
    """
    from compiler.emit.data import data_jobs
    from compiler.emit.html import page_jobs
    from compiler.emit.lists import list_jobs
    from compiler.emit.pdf import sheet_jobs

    jobs = [*page_jobs(library, pictures), *list_jobs(library), *data_jobs(library)]
    if sheets:
        jobs += sheet_jobs(library, pictures, paper)
    return jobs
