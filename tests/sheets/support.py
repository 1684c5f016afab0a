"""What the tests of the sheets share: making one, and reading it back."""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from xml.etree import ElementTree

from pypdf import PdfReader
from pypdf.generic import IndirectObject

from compiler.document.model import Document, Library, Line, StepView
from compiler.document.numbers import every_node
from compiler.emit.pdf import sheet_jobs
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
    """Make one sheet of a library."""
    jobs = {job.path: job for job in sheet_jobs(library, pictures, paper)}
    return Sheet(jobs[f"sheets/{name}.pdf"].make())


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
