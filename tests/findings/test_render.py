"""A finding on the screen stays in its lines whatever a text holds; as JSON it fits its schema."""

from __future__ import annotations

import json
import re
from importlib.resources import files
from typing import Any

import pytest
from case_support import check_texts, parts
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from compiler.findings.model import Finding, Fix, Label
from compiler.findings.render import render_json, render_text, summary_line
from compiler.source import SourceFile, Span

LINES = 'procedure lid "Refit the lid"\n  revision A 2026-02-30\n  fit lod\n'
SOURCE = SourceFile("a.proc", LINES)
CONTROL = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069\u2028]")


def source_of(path: str) -> SourceFile | None:
    return SOURCE if path == "a.proc" else None


def at(piece: str, **more: Any) -> Finding:
    start = LINES.index(piece)
    span = Span("a.proc", start, start + len(piece))
    return Finding("unknown-name", span, "Nothing is called lod here.", **more)


def schema() -> Draft202012Validator:
    text = files("compiler.findings").joinpath("findings.schema.json").read_text(encoding="utf-8")
    body = json.loads(text)
    Draft202012Validator.check_schema(body)
    return Draft202012Validator(body)


def test_a_finding_shows_its_place_its_line_and_what_to_try() -> None:
    label = Label(Span("a.proc", LINES.index("A"), LINES.index("A") + 1), "the revision")
    rendered = render_text(
        at("lod", hint="Did you mean lid?", labels=(label,)), source_of, False, 80
    )
    assert rendered.splitlines() == [
        "error  a.proc:3:7  [unknown-name]",
        "  Nothing is called lod here.",
        "    3 │   fit lod",
        "              ───",
        "  see a.proc:2:12",
        "    2 │   revision A 2026-02-30",
        "                   ─ the revision",
        "  Try: Did you mean lid?",
    ]


def test_a_file_that_could_not_be_read_is_named_without_a_line() -> None:
    lost = Finding("not-readable", Span("b.proc", 0, 0), "b.proc cannot be read.")
    assert render_text(lost, source_of, False, 80).splitlines() == [
        "error  b.proc  [not-readable]",
        "  b.proc cannot be read.",
    ]


def test_colour_adds_only_escapes() -> None:
    plain = render_text(at("lod", hint="Did you mean lid?"), source_of, False, 80)
    coloured = render_text(at("lod", hint="Did you mean lid?"), source_of, True, 80)
    assert coloured != plain
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain


def test_a_mark_that_goes_on_below_leaves_out_the_comment() -> None:
    text = 'fit lid   # "not" marked\n    note "Gently."\n'
    source = SourceFile("b.proc", 'fit lid   # not marked\n    note "Gently."\n')
    found = Finding("bad-date", Span("b.proc", 0, len(source.text)), "No day.")
    mark = render_text(found, lambda _: source, False, 80).splitlines()[3]
    assert mark.count("─") == len("fit lid")
    quoted = SourceFile("b.proc", text)
    mark = render_text(found, lambda _: quoted, False, 80).splitlines()[3]
    assert mark.count("─") == len('fit lid   # "not" marked')


@pytest.mark.parametrize("width", [20, 60, 80, 200])
def test_a_long_line_is_cut_around_its_mark(width: int) -> None:
    source = SourceFile("b.proc", "x" * 400 + " lod " + "y" * 400)
    found = Finding("unknown-name", Span("b.proc", 401, 404), "Nothing is called lod here.")
    shown, mark = render_text(found, lambda _: source, False, width).splitlines()[2:4]
    assert len(shown) <= max(width, 40)
    assert shown[mark.index("─") : mark.rindex("─") + 1] == "lod"


def test_wide_and_combining_letters_keep_the_mark_in_its_place() -> None:
    source = SourceFile("b.proc", "圧搾 e\u0301 lod")
    found = Finding("unknown-name", Span("b.proc", 6, 9), "Nothing is called lod here.")
    mark = render_text(found, lambda _: source, False, 80).splitlines()[3]
    assert mark.index("─") == len("    1 │ ") + 4 + 1 + 1 + 1


@given(st.text(max_size=60), st.integers(0, 60), st.integers(0, 60), st.integers(1, 120))
def test_nothing_in_a_text_can_move_the_cursor(
    text: str, start: int, size: int, width: int
) -> None:
    source = SourceFile("b.proc", text)
    found = Finding("bad-date", Span("b.proc", start, start + size), text or "x", hint=text)
    rendered = render_text(found, lambda _: source, False, width)
    assert not CONTROL.search(rendered)
    assert len(rendered.split("\n")) == (5 if text else 4)


def test_json_fits_its_schema_and_says_the_same() -> None:
    fix = Fix(Span("a.proc", LINES.index("lod"), LINES.index("lod") + 3), "lid")
    label = Label(Span("b.proc", 0, 0), "elsewhere")
    found = (at("lod", fix=fix, labels=(label,), hint="Did you mean lid?"), at("fit"))
    body = json.loads(render_json(found, source_of))
    schema().validate(body)
    assert (body["errors"], body["warnings"]) == (2, 0)
    first = body["findings"][0]
    assert (first["line"], first["column"], first["endColumn"]) == (3, 7, 10)
    assert LINES[first["start"] : first["end"]] == "lod"
    assert first["fix"]["text"] == "lid"
    assert first["labels"][0]["file"] == "b.proc"


def test_json_of_nothing_fits_its_schema() -> None:
    body = json.loads(render_json((), source_of))
    schema().validate(body)
    assert body == {"findings": [], "errors": 0, "warnings": 0}


@pytest.mark.parametrize("missing", ["rule", "line", "hint", "labels"])
def test_the_schema_refuses_what_lacks_a_part(missing: str) -> None:
    body = json.loads(render_json((at("lod"),), source_of))
    del body["findings"][0][missing]
    assert not schema().is_valid(body)


def test_json_of_compiled_texts_fits_its_schema() -> None:
    text = 'procedure lid "Refit"\n  revision A 2026-02-30\n  fit lid\n  "Oil it as needed."\n'
    checked = check_texts(parts(text, "lid.proc"))
    assert checked.findings
    schema().validate(json.loads(render_json(checked.findings, checked.source_of)))


@pytest.mark.parametrize(
    ("rules", "line"),
    [
        ([], "Nothing found: all is well."),
        (["bad-date"], "Found 1 error."),
        (["bad-date", "bad-date", "vague-words"], "Found 2 errors and 1 warning."),
        (["vague-words", "vague-words"], "Found 2 warnings."),
    ],
)
def test_the_last_line_counts(rules: list[str], line: str) -> None:
    assert summary_line([Finding(rule, Span("", 0, 0), "x") for rule in rules]) == line


def test_a_line_of_nothing_but_blanks_is_shown_at_once() -> None:
    """The comment behind a mark is looked for in what is shown, not in a line of any length."""
    source = SourceFile("b.proc", "x" + " " * 1_000_000 + "y\nz")
    found = Finding("bad-date", Span("b.proc", 0, len(source.text)), "No day.")
    mark = render_text(found, lambda _: source, False, 80).splitlines()[3]
    assert mark.strip() == "─"
