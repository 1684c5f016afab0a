"""The CSV lists: read back by a reader of RFC 4180, complete, and safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import dataclasses
import io

import pytest

from compiler.document.model import Library, SupplyView, ToolView
from compiler.emit.lists import list_jobs


def made(library: Library) -> dict[str, bytes]:
    """Return the files under `lists/` by path."""
    return {job.path: job.make() for job in list_jobs(library)}


def read(data: bytes) -> list[list[str]]:
    """Return the rows of a list as a spreadsheet would read them."""
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline=""), strict=True))


@pytest.fixture(scope="module")
def files(demo_library: Library) -> dict[str, list[list[str]]]:
    return {path: read(data) for path, data in made(demo_library).items()}


def test_three_lists_for_each_procedure_and_visit_and_for_all(
    demo_library: Library, files: dict[str, list[list[str]]]
) -> None:
    names = ["lists/all", *(f"lists/procedures/{d.id}" for d in demo_library.documents)]
    names += [f"lists/visits/{v.id}" for v in demo_library.visits]
    kinds = ("tools", "parts", "torques")
    assert sorted(files) == sorted(f"{name}-{kind}.csv" for name in names for kind in kinds)


def test_every_file_is_a_table_that_reads_back(
    demo_library: Library, files: dict[str, list[list[str]]]
) -> None:
    for path, rows in files.items():
        head = rows[0]
        assert len(set(head)) == len(head), path
        assert all(len(row) == len(head) for row in rows), path
    # RFC 4180: lines end in CR LF. The mark in front tells spreadsheets that it is UTF-8.
    for path, data in made(demo_library).items():
        assert data.startswith(b"\xef\xbb\xbf"), path
        assert data.count(b"\n") == data.count(b"\r\n") == len(files[path]), path


def test_each_row_holds_what_the_document_says(
    demo_library: Library, files: dict[str, list[list[str]]]
) -> None:
    for document in demo_library.documents:
        tools = [
            dict(zip(head, row, strict=True))
            for head, *rows in [files[f"lists/procedures/{document.id}-tools.csv"]]
            for row in rows
        ]
        assert [(t["tool"], t["count"]) for t in tools] == [
            (plain(t.text), str(t.count)) for t in document.tools
        ]
        torques = [
            dict(zip(head, row, strict=True))
            for head, *rows in [files[f"lists/procedures/{document.id}-torques.csv"]]
            for row in rows
        ]
        assert [(t["fastener"], t["torque"], t["steps"]) for t in torques] == [
            (t.fastener, plain(t.target.text), "; ".join(t.step_numbers)) for t in document.torques
        ]
        parts = files[f"lists/procedures/{document.id}-parts.csv"][1:]
        assert [row[:4] for row in parts] == [
            [s.kind, plain(s.text), s.number, plain(s.quantity)] for s in document.supplies
        ]


@pytest.mark.parametrize("kind", ["tools", "parts", "torques"])
def test_the_list_of_all_is_the_sum_of_the_lists(
    demo_library: Library, files: dict[str, list[list[str]]], kind: str
) -> None:
    rows = [
        [document.id, *row]
        for document in demo_library.documents
        for row in files[f"lists/procedures/{document.id}-{kind}.csv"][1:]
    ]
    assert rows
    assert files[f"lists/all-{kind}.csv"][1:] == rows


def plain(text: str) -> str:
    """Return the text as it is written into a cell."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


HOSTILE = (
    '=HYPERLINK("x")', "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1", '"', ",",
    '",\n"', "a\r\nb",
)  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE)
def test_no_cell_is_run_as_a_formula(demo_library: Library, text: str) -> None:
    """OWASP, CSV Injection (from memory): none begins with = + - @, a tab, a line end."""
    document = dataclasses.replace(
        demo_library.documents[0],
        tools=(ToolView(text, text, text, 1, "", False, (text,), ()),),
        supplies=(SupplyView("part", text, text, text, text, (), ()),),
        torques=(),
    )
    library = dataclasses.replace(demo_library, documents=(document,), visits=())
    for path, data in made(library).items():
        for row in read(data)[1:]:
            assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n")) for cell in row)
            assert any(text in cell for cell in row), path
    tools = read(made(library)[f"lists/procedures/{document.id}-tools.csv"])
    assert tools[1][0].removeprefix("'") == text


def test_no_cell_of_the_demo_is_disarmed_for_nothing(files: dict[str, list[list[str]]]) -> None:
    cells = {cell for rows in files.values() for row in rows for cell in row}
    assert len(cells) > 500
    assert not [cell for cell in cells if cell.startswith("'")]
