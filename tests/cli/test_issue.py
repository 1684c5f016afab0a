"""`witnessmark issue`: what goes out is written down, and `check` holds the procedures to it."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cli.cli_support import Run, broken, clean, put, read_findings
from compiler.document.digest import content_digest
from compiler.document.model import Document, IssueView, Library
from compiler.emit.templating import render
from compiler.issued import HEAD, next_revision, read_issues, with_issues
from compiler.load import load_folder
from compiler.pipeline import compile_sources
from compiler.source import SourceFile
from compiler.wording.phrases import LABELS

LIST = Path("procedures/issued.txt")
LINE = re.compile(r"vent-cap A 2026-11-02 [0-9a-f]{64} [0-9a-f]{16}")

SHOP = """\
shop house "Trial bench"
  units N·m, mm, kg
  tools
    bits   hex-bits 3 mm  drive 3/8 in
    small  torque-wrench 1..25 N·m  drive 3/8 in  accuracy 4 %  calibrated until 2026-12-31
    dial  dial-indicator "dial indicator"  tag "DI-1"  calibrated until 2026-12-31
"""
MEASURED = clean().replace(
    "  clean cap", '  measure gap "Gap" with dial  at most 0.1 mm\n  clean cap'
)


@pytest.fixture
def issued(run: Run, tmp_path: Path) -> Path:
    """Return the file of a procedure that was issued."""
    file = put(tmp_path, "procedures/vent-cap.proc", clean())
    assert run("issue").code == 0
    return file


def test_what_goes_out_is_written_down(run: Run, issued: Path) -> None:
    text = LIST.read_text(encoding="utf-8")
    assert text.startswith(HEAD)
    assert LINE.fullmatch(text.removeprefix(HEAD).strip())
    assert run("check").code == 0
    assert run("issue").out == "Nothing to issue: all of it is in the list.\n"
    assert LIST.read_text(encoding="utf-8") == text


def test_the_digest_is_the_one_on_the_prints(run: Run, issued: Path) -> None:
    run("build", "--no-sheets", "--out", "out")
    page = Path("out/site/procedures/vent-cap.html").read_text(encoding="utf-8")
    digest = LIST.read_text(encoding="utf-8").split()[-2]
    assert digest[:12] in page


def test_other_content_under_the_same_revision_is_found(run: Run, issued: Path) -> None:
    put(issued.parent, issued.name, clean().replace("Arrow up", "Arrow down"))
    found = read_findings(run("check", "--format", "json").out)
    (finding,) = found["findings"]
    assert finding["rule"] == "revision-not-raised"
    assert (finding["file"], finding["line"]) == ("procedures/vent-cap.proc", 2)
    assert "`revision B`" in finding["hint"]
    assert finding["labels"][0]["file"] == "procedures/issued.txt"
    assert run("check", "procedures/vent-cap.proc").code == 1
    assert run("build", "--no-sheets", "--out", "out").code == 1
    assert not Path("out").exists()


def test_a_raised_revision_is_free_until_it_is_issued(run: Run, issued: Path) -> None:
    for step in ("Arrow down.", "Arrow to the door."):
        text = (
            clean()
            .replace("Arrow up.", step)
            .replace("revision A  2026-11-02", "revision B 2026-11-20")
        )
        put(issued.parent, issued.name, text)
        assert run("check").code == 0
    assert run("issue").out == "Issued vent-cap B\n"
    lines = LIST.read_text(encoding="utf-8").removeprefix(HEAD).splitlines()
    assert [line.split()[1] for line in lines] == ["A", "B"]
    put(issued.parent, issued.name, clean())
    assert run("check").code == 0, "the old content under its old revision"


def test_the_way_a_file_is_laid_out_is_no_content(run: Run, issued: Path) -> None:
    text = "# Written by the day shift.\n\n" + clean().replace(
        "  clean cap", "\n  clean    cap  # all over"
    )
    put(issued.parent, issued.name, text)
    put(issued.parent, "deeper/vent-cap.proc", text)
    issued.unlink()
    assert run("check").code == 0


def test_a_fresh_calibration_is_no_content(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "procedures/vent-cap.proc", MEASURED)
    put(tmp_path, "procedures/shop.proc", SHOP)
    assert run("issue").code == 0
    put(tmp_path, "procedures/shop.proc", SHOP.replace("2026-12-31", "2027-12-31"))
    assert run("check").code == 0
    put(tmp_path, "procedures/shop.proc", SHOP.replace("DI-1", "DI-2"))
    assert "revision-not-raised" in run("check").out


def test_issuing_does_not_launder_a_change(run: Run, issued: Path) -> None:
    before = LIST.read_bytes()
    put(issued.parent, issued.name, clean().replace("Arrow up", "Arrow down"))
    answer = run("issue")
    assert answer.code == 1
    assert "[revision-not-raised]" in answer.out
    assert "Nothing was issued" in answer.err
    assert LIST.read_bytes() == before


def test_issuing_again_is_said_and_replaces_the_line(run: Run, issued: Path) -> None:
    put(issued.parent, "other.proc", clean("other"))
    run("issue", "other")
    put(issued.parent, issued.name, clean().replace("Arrow up", "Arrow down"))
    assert run("issue", "--again", "other").code == 1
    answer = run("issue", "--again", "vent-cap")
    assert answer.code == 0
    assert answer.out.startswith("Issued again vent-cap A")
    assert run("check").code == 0
    assert len(LIST.read_text(encoding="utf-8").removeprefix(HEAD).splitlines()) == 2


def test_only_what_is_named(run: Run, issued: Path) -> None:
    put(issued.parent, "one.proc", clean("one"))
    put(issued.parent, "two.proc", clean("two"))
    assert run("issue", "two").out == "Issued two A\n"
    refused = run("issue", "thre")
    assert refused.code == 2
    assert "There is no procedure 'thre'" in refused.err
    assert run("issue").out == "Issued one A\n"
    names = [line.split()[0] for line in LIST.read_text(encoding="utf-8").splitlines()[2:]]
    assert names == ["one", "two", "vent-cap"]


def test_nothing_is_issued_while_an_error_stands(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "procedures/vent-cap.proc", broken())
    assert run("issue").code == 1
    assert run("issue", "--again").code == 1
    assert not LIST.exists()
    assert run("issue", "--folder", "nowhere").code == 2


def test_a_list_that_cannot_be_read(run: Run, issued: Path) -> None:
    before = LIST.read_bytes()
    for content, rule in ((b"\xff\xfe\x00", "not-text"), (b"look E\n", "not-understood")):
        put(issued.parent, "issued.txt", content)
        answer = run("check")
        assert answer.code == 1
        assert (
            f"procedures/issued.txt{':1:1' if rule == 'not-understood' else ''}  [{rule}]"
            in answer.out
        )
        assert run("issue").code == 1
        assert LIST.read_bytes() == content
    LIST.unlink()
    LIST.mkdir()
    assert "[not-readable]" in run("check").out
    LIST.rmdir()
    put(issued.parent, "issued.txt", before.replace(b"\n", b"\r\n"))
    assert run("check").code == 0


def test_without_a_list_nobody_is_held_to_anything(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "procedures/vent-cap.proc", clean())
    put(tmp_path, "procedures/deeper/issued.txt", "no list of this folder")
    assert run("check").code == 0


@pytest.mark.parametrize(
    ("name", "after"),
    [("A", "B"), ("E", "F"), ("H", "J"), ("N", "P"), ("P", "R"), ("R", "T"), ("W", "Y"),
     ("Y", "AA"), ("Z", "AA"), ("1", "2"), ("09", "10"), ("B2", ""), ("é", ""), ("a", "")],
)  # fmt: skip
def test_the_revision_that_comes_after(name: str, after: str) -> None:
    """ASME Y14.35 does without I, O, Q, S, X and Z (from memory)."""
    assert next_revision(name) == after


def test_the_list_of_the_demo_has_every_digest_of_it(demo_library: Library) -> None:
    listed = with_issues("", demo_library.documents)
    issues, findings = read_issues(SourceFile("issued.txt", listed.text))
    assert findings == ()
    assert {one.digest for one in issues} == {one.digest for one in demo_library.documents}
    assert with_issues(listed.text, demo_library.documents).text == listed.text


def test_the_demo_is_issued_as_it_is(demo_library: Library) -> None:
    """After a change of our wording: make accept. After one of the demo: raise its revision."""
    issues = {one.id: one.issues[-1] for one in demo_library.documents if one.issues}
    digests = {one.id: one.digest[:12] for one in demo_library.documents}
    assert {id: one.mark for id, one in issues.items()} == digests
    assert all(one.is_issued for one in issues.values())


@given(st.lists(st.integers(0, 5), unique=True), st.lists(st.integers(0, 5), unique=True))
def test_the_order_of_issuing_does_not_lose_or_change_lines(
    demo_library: Library, first: list[int], second: list[int]
) -> None:
    def chosen(which: list[int]) -> list[Document]:
        return [demo_library.documents[at] for at in which]

    one = with_issues("", chosen(first))
    two = with_issues(one.text, chosen(second))
    assert set(one.text.splitlines()) <= set(two.text.splitlines())
    names = [line.split()[0] for line in two.text.removeprefix(HEAD).splitlines()]
    assert names == sorted(demo_library.documents[at].id for at in {*first, *second})


@given(st.text())
def test_any_text_is_read(text: str) -> None:
    source = SourceFile("issued.txt", text)
    issues, findings = read_issues(source)
    for span in (*(one.span for one in issues), *(one.span for one in findings)):
        assert 0 <= span.start < span.end <= len(text)


# --- Who changed the content ---------------------------------------------------------------------

TORQUED = """\
procedure vent-cap "Clean the cap"
  revision A  2026-11-02
  parts
    cap  "vent cap"
  fasteners
    cap-screw  4 × M6×16 ISO 4762 8.8  holds cap  torque 9 N·m ±10 %
  remove cap
  clean cap
  fit cap
  fit cap-screw
  tighten cap-screw
"""
WORDED_BEFORE = "c3fb5cc82fbd86806f1d9792f2a447575d16fca2945285b7ebcac19fbe8a9d2b"
"""Its content in an earlier version: the preload was worked out from 9 N·m, not from the ends of
its window. That digest was printed by that version."""


def rules_of(run: Run) -> list[str]:
    """Return what `check` finds, with the weight of it."""
    found = read_findings(run("check", "--format", "json").out)
    return [f"{one['severity']}: {one['rule']}" for one in found["findings"]]


def issued_before(tmp_path: Path, run: Run) -> str:
    """Issue a text as an earlier version worded it; return the line of the list."""
    put(tmp_path, "procedures/vent-cap.proc", TORQUED)
    assert run("issue").code == 0
    name, revision, day, digest, written = LIST.read_text(encoding="utf-8").splitlines()[-1].split()
    assert digest != WORDED_BEFORE
    line = f"{name} {revision} {day} {WORDED_BEFORE} {written}"
    LIST.write_text(f"{HEAD}{line}\n", encoding="utf-8")
    return line


def test_what_only_witnessmark_words_otherwise_is_told_as_that(run: Run, tmp_path: Path) -> None:
    issued_before(tmp_path, run)
    assert rules_of(run) == ["warning: worded-otherwise"]
    answer = run("check")
    assert answer.code == 0
    assert "witnessmark issue --again vent-cap" in " ".join(answer.out.split())
    before = LIST.read_text(encoding="utf-8")
    answer = run("issue")
    assert answer.code == 0
    assert "--again" in answer.err
    assert LIST.read_text(encoding="utf-8") == before
    assert run("issue", "--again").out.startswith("Issued again vent-cap A")
    assert rules_of(run) == []


def test_what_the_author_changed_is_an_error_also_then(run: Run, tmp_path: Path) -> None:
    issued_before(tmp_path, run)
    put(tmp_path, "procedures/vent-cap.proc", TORQUED.replace("9 N·m", "10 N·m"))
    assert rules_of(run) == ["error: revision-not-raised"]


def test_a_list_of_old_does_not_know_who_it_was(run: Run, tmp_path: Path) -> None:
    line = issued_before(tmp_path, run)
    LIST.write_text(f"{line.rpartition(' ')[0]}\n", encoding="utf-8")
    assert rules_of(run) == ["error: revision-not-raised"]
    assert "issue --again" in run("check").out


def test_another_label_of_ours_is_no_change_of_the_author(
    run: Run, issued: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = replace(LABELS, work_done="All done as it is written")
    monkeypatch.setattr("compiler.document.build.LABELS", other)
    assert rules_of(run) == ["warning: worded-otherwise"]


def test_until_it_is_issued_again_the_sheet_says_that_it_is_not_issued(
    run: Run, tmp_path: Path
) -> None:
    issued_before(tmp_path, run)
    held = compiled_with(LIST.read_text(encoding="utf-8"), tmp_path / "procedures")
    assert [(one.mark, one.is_issued) for one in held.issues] == [
        (WORDED_BEFORE[:12], True),
        (held.digest[:12], False),
    ]


def test_what_was_said_to_have_changed_is_kept(run: Run, issued: Path) -> None:
    day = 'revision B 2026-11-20 "Arrow to the door, 3 # up"'
    put(issued.parent, issued.name, clean().replace("revision A  2026-11-02", day))
    assert run("issue").code == 0
    put(
        issued.parent,
        issued.name,
        clean().replace("revision A  2026-11-02", "revision C 2026-12-01"),
    )
    held = compiled_with(LIST.read_text(encoding="utf-8"), issued.parent)
    assert [one.change for one in held.issues] == ["", "Arrow to the door, 3 # up", ""]
    assert run("issue").code == 0
    assert "3 # up" in LIST.read_text(encoding="utf-8")


def test_a_list_of_old_is_completed_by_the_next_issue(run: Run, issued: Path) -> None:
    new = LIST.read_text(encoding="utf-8")
    old = f"{new.rstrip().rpartition(' ')[0]}  # from the old list\n"
    LIST.write_text(old, encoding="utf-8")
    assert run("check").code == 0
    Path("procedures/issued-steps.txt").unlink()
    assert run("issue").code == 0
    assert LIST.read_text(encoding="utf-8") == f"{new.rstrip()}  # from the old list\n"
    assert Path("procedures/issued-steps.txt").exists()


def compiled_with(list_text: str, root: Path) -> Document:
    """Return the only document of a folder that has this list."""
    folder = load_folder(root)
    sources = (*folder.sources, SourceFile("issued.txt", list_text))
    (document,) = compile_sources(sources, folder.probe).library().documents
    return document


def test_a_list_changes_nothing_but_what_is_told_of_issues(run: Run, issued: Path) -> None:
    folder = load_folder(issued.parent)
    (plain,) = compile_sources(folder.sources, folder.probe).library().documents
    held = compiled_with(LIST.read_text(encoding="utf-8"), issued.parent)
    assert replace(held, issues=()) == plain
    assert held.digest == content_digest(held) == content_digest(plain)
    assert held.issues == (IssueView("A", "2026-11-02", plain.digest[:12]),)


def test_a_sheet_tells_what_was_issued_before_and_that_it_is_not_issued_itself(
    run: Run, issued: Path
) -> None:
    other = f"vent-cap 1 2025-01-31 {'5' * 64}\n"
    held = compiled_with(other, issued.parent)
    assert held.issues == (
        IssueView("1", "2025-01-31", "5" * 12),
        IssueView("A", "2026-11-02", held.digest[:12], is_issued=False),
    )
    page = render("sheet", "procedure.html", doc=held, code=None)
    text = " ".join(re.sub(r"<[^>]+>", " ", page).split())
    assert "Revision Day What changed Content 1 2025-01-31 – 555555555555 A 2026-11-02" in text
    assert "not issued" in text
    own = compiled_with(LIST.read_text(encoding="utf-8"), issued.parent)
    assert "not issued" not in render("sheet", "procedure.html", doc=own, code=None)


def test_without_a_list_a_sheet_says_nothing_of_it(run: Run, issued: Path) -> None:
    folder = load_folder(issued.parent)
    (plain,) = compile_sources(folder.sources, folder.probe).library().documents
    page = render("sheet", "procedure.html", doc=plain, code=None)
    assert 'class="issues"' not in page
    assert "not issued" not in page
