"""What the tests of the sheets share: making one, and reading it back."""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from xml.etree import ElementTree

from pypdf import PdfReader
from pypdf.generic import IndirectObject

from compiler.document.model import Document, Library, Line, StepView
from compiler.document.numbers import every_node
from compiler.emit.pdf import sheet_jobs
from compiler.emit.pdf_handouts import handout_jobs
from compiler.wording.text import plain_text

MM = 72 / 25.4
"""Points in a millimetre."""


@dataclass(frozen=True, slots=True)
class Word:
    """A word on a page: its box in points from the top left corner."""

    page: int
    text: str
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True)
class Sheet:
    """A sheet as bytes, and what readers make of it."""

    data: bytes

    @cached_property
    def reader(self) -> PdfReader:
        """Return the sheet as pypdf reads it."""
        return PdfReader(io.BytesIO(self.data), strict=True)

    @cached_property
    def pages(self) -> list[str]:
        """Return the text of every page, laid out as pdftotext reads it."""
        return _run("pdftotext", self.data, "-layout").split("\f")[:-1]

    @cached_property
    def flow(self) -> str:
        """Return the whole text without any space: where a line was broken tells nothing."""
        return squeezed(_run("pdftotext", self.data, "-raw"))

    @cached_property
    def words(self) -> list[Word]:
        """Return every word with its box."""
        tree = ElementTree.fromstring(_run("pdftotext", self.data, "-bbox"))
        found = []
        for number, page in enumerate(_named(tree, "page"), 1):
            for one in _named(page, "word"):
                box = [float(one.attrib[side]) for side in ("xMin", "yMin", "xMax", "yMax")]
                found.append(Word(number, one.text or "", *box))
        return found


def _named(tree: ElementTree.Element, name: str) -> Iterator[ElementTree.Element]:
    return (one for one in tree.iter() if one.tag.rsplit("}", 1)[-1] == name)


def _run(tool: str, data: bytes, option: str) -> str:
    ran = subprocess.run([tool, option, "-", "-"], input=data, capture_output=True, timeout=60)
    assert ran.returncode == 0, ran.stderr
    assert ran.stderr == b""
    # A control character may stand in the text of a sheet, never in XML.
    return re.sub(r"[\x00-\x08\x0b\x0e-\x1f]", "", ran.stdout.decode())


def squeezed(text: str) -> str:
    """Return a text without spaces and line breaks of any kind."""
    return re.sub(r"[\s\u00ad\u200b]+", "", text)


def make(library: Library, pictures: Mapping[str, bytes], name: str, paper: str = "a4") -> Sheet:
    """Make one sheet of a library, or one of the handouts beside them."""
    all_jobs = [*sheet_jobs(library, pictures, paper), *handout_jobs(library, paper)]
    jobs = {job.path: job for job in all_jobs}
    return Sheet(jobs[f"sheets/{name}.pdf"].make())


def outside(
    words: Iterable[Word], cells: Sequence[tuple[float, float, float, float]]
) -> list[Word]:
    """Return the words that lie in none of the cells; a cell is left, top, right, bottom in mm."""
    return [
        word
        for word in words
        if not any(
            word.left >= left * MM - 0.5
            and word.top >= top * MM - 0.5
            and word.right <= right * MM + 0.5
            and word.bottom <= bottom * MM + 0.5
            for left, top, right, bottom in cells
        )
    ]


def overlapping(words: Sequence[Word]) -> list[tuple[Word, Word]]:
    """Return pairs of words of one page that share more than a sliver (line boxes touch a little).

    Marks that say how to read and take no room of their own are left out.
    """
    real = [word for word in words if word.text.strip("\u200e\u200f\u202a\u202b\u202c\u202d\u202e")]
    over = []
    for place, one in enumerate(real):
        for other in real[place + 1 : place + 400]:
            if other.page != one.page:
                break
            wide = min(one.right, other.right) - max(one.left, other.left)
            high = min(one.bottom, other.bottom) - max(one.top, other.top)
            least = min(one.bottom - one.top, other.bottom - other.top)
            if wide > 1 and high > 0.5 * least:
                over.append((one, other))
    return over


def said(line: Line) -> str:
    """Return a line as the sheet prints it, second units behind the first, without spaces."""
    text = ""
    for part in line:
        second = getattr(part, "second", "")
        text += part.text + (f"({second})" if second else "")
    return squeezed(text) if text else squeezed(plain_text(line))


def steps(document: Document) -> list[StepView]:
    """Return all steps of a procedure."""
    return [node for node in every_node(document.body) if isinstance(node, StepView)]


def document(library: Library, name: str) -> Document:
    """Return a procedure of a library."""
    return next(one for one in library.documents if one.id == name)


def resolved(value: object) -> object:
    """Return what a reference of a PDF points to."""
    return value.get_object() if isinstance(value, IndirectObject) else value
