"""Bars at the margin: what changed since the issue before stands marked, and nothing else does."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from cli.cli_support import Run, clean, put, runner
from hypothesis import given
from hypothesis import strategies as st

from compiler.changes.bars import carried, difference, with_bars
from compiler.changes.pieces import WORK, Piece, pieces_of
from compiler.document.model import Document, Library, StepView
from compiler.document.numbers import every_node, steps_of
from compiler.emit.templating import render
from compiler.issued import read_issues, read_kept
from compiler.load import load_folder
from compiler.pipeline import compile_sources
from compiler.source import SourceFile

KEPT = Path("procedures/issued-steps.txt")
STEPS = """\
procedure racks "Look after the racks"
  revision A 2026-10-05
  "Wash the racks."
  "Dry the racks."
  "Oil the hinges."
  "Polish the racks."
"""


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Return the command, called in an empty folder."""
    monkeypatch.chdir(tmp_path)
    return runner(capsys)


def issue(run: Run, text: str, revision: str = "A") -> None:
    """Issue the racks with this text under this revision."""
    put(Path(), "procedures/racks.proc", text.replace("revision A", f"revision {revision}"))
    assert run("issue").code == 0


def now(text: str, revision: str) -> Document:
    """Return the document of the racks as the text is now."""
    put(Path(), "procedures/racks.proc", text.replace("revision A", f"revision {revision}"))
    folder = load_folder(Path("procedures"))
    (document,) = compile_sources(folder.everything, folder.probe).library().documents
    return document


def marked(document: Document) -> list[str]:
    """Return the numbers of the steps that have a bar."""
    return [one.number for one in steps_of(document.body) if one.altered]


def out(document: Document) -> list[str]:
    """Return what is told to have been taken out, where it stood."""
    told = [f"{one.number}: {one.taken_out}" for one in steps_of(document.body) if one.taken_out]
    assert document.since is not None
    return [*told, *([document.since.taken_out] if document.since.taken_out else [])]


# --- What is marked -----------------------------------------------------------------------------


def test_a_first_issue_and_a_folder_without_a_list_have_no_bars(run: Run) -> None:
    assert now(STEPS, "A").since is None
    issue(run, STEPS)
    assert now(STEPS, "A").since is None
    page = render("sheet", "procedure.html", doc=now(STEPS, "A"), code=None)
    assert "altered" not in page
    assert 'class="since"' not in page


def test_a_changed_a_new_and_a_gone_step(run: Run) -> None:
    issue(run, STEPS)
    text = STEPS.replace('"Dry the racks."', '"Dry the racks."\n    note "In the sun."')
    text = text.replace('  "Oil the hinges."\n', "")
    text = text.replace('"Polish the racks."', '"Polish the racks."\n  "Count the racks."')
    document = now(text, "B")
    assert marked(document) == ["2", "4"]
    assert out(document) == ["3: Taken out here: step 3 of A"]
    assert document.since is not None
    assert document.since.text == (
        "A bar at the margin marks what changed since revision A (2026-10-05): steps 2 and 4. "
        "Taken out: step 3 of A."
    )


def test_bars_are_against_the_issue_before_and_a_draft_against_the_latest(run: Run) -> None:
    issue(run, STEPS)
    second = STEPS.replace("the hinges", "the two hinges")
    issue(run, second, "B")
    assert marked(now(second, "B")) == ["3"]
    third = second.replace("Dry", "Wipe")
    draft = now(third, "C")
    assert draft.since is not None
    assert (draft.since.revision, marked(draft)) == ("B", ["2"])
    issue(run, third, "C")
    assert marked(now(third, "C")) == ["2"]
    kept, findings = read_kept(SourceFile("x", KEPT.read_text(encoding="utf-8")))
    assert findings == ()
    assert [one.revision for one in kept] == ["B", "C"], "of each procedure the latest two"


def test_a_moved_step_has_a_bar_where_it_stands_now_and_is_not_gone(run: Run) -> None:
    issue(run, STEPS)
    lines = STEPS.splitlines(keepends=True)
    document = now("".join((*lines[:3], lines[5], *lines[3:5])), "B")
    assert marked(document) == ["2"]
    assert out(document) == []


def test_what_stood_at_the_end_is_told_at_the_end(run: Run) -> None:
    issue(run, STEPS)
    document = now(STEPS.replace('  "Polish the racks."\n', ""), "B")
    assert marked(document) == []
    assert out(document) == ["Taken out here: step 4 of A"]
    for folder in ("sheet", "site"):
        assert "Taken out here" in (page_of(document) if folder == "site" else sheet_of(document))


def test_a_step_that_leaves_its_choice_has_a_bar(run: Run) -> None:
    ask = 'ask wet "Are they wet?"\n  if wet is yes\n    '
    issue(run, STEPS.replace('"Dry', f'{ask}"Dry'))
    document = now(STEPS.replace('"Dry', f'{ask}"Shake them."\n  "Dry'), "B")
    assert "4" in marked(document)


def test_numbers_that_moved_on_are_no_change(run: Run) -> None:
    back = STEPS + '  ask clean "Are they clean?"\n  if clean is no\n    go back to washed\n'
    back = back.replace('"Wash the racks."', '"Wash the racks."  as washed')
    issue(run, back)
    document = now(back.replace('  "Wash', '  "Fetch the racks."\n  "Wash'), "B")
    assert marked(document) == ["1"]
    assert "Go back to step 2" in sheet_of(document)


def test_a_revision_alone_changes_nothing(run: Run) -> None:
    issue(run, STEPS)
    document = now(STEPS, "B")
    assert document.since is not None
    assert (
        document.since.text == "Nothing but the revision has changed since revision A (2026-10-05)."
    )
    assert "altered" not in sheet_of(document)


def test_what_comes_from_the_machine_has_its_bar_too(run: Run, tmp_path: Path) -> None:
    text = clean().replace("vent-cap", "racks")
    issue(run, text)
    document = now(text.replace("4 N·m", "5 N·m").replace("0.4 kg", "0.5 kg"), "B")
    assert [row.altered for row in document.torques] == [True]
    tightened = [one for one in steps_of(document.body) if one.altered]
    assert len(tightened) == 1
    assert "5" in sheet_of(document)
    assert 'class="row altered"' in sheet_of(document)


def sheet_of(document: Document) -> str:
    """Return the text of the sheet."""
    return render("sheet", "procedure.html", doc=document, code=None)


def page_of(document: Document) -> str:
    """Return the text of the page."""
    from compiler.emit.html import _procedure

    return _procedure(document)


# --- What is kept -------------------------------------------------------------------------------


def test_only_witnessmark_words_it_otherwise_and_the_bars_stay(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before and after it is issued again: the same text of the author has the same bars."""
    issue(run, STEPS)
    second = STEPS.replace("the hinges", "the two hinges")
    issue(run, second, "B")
    before = now(second, "B")
    monkeypatch.setattr("compiler.changes.pieces.piece_digest", otherwise)
    assert marked(now(second, "B")) == marked(before) == ["3"]
    assert run("issue", "--again").code == 0
    assert marked(now(second, "B")) == ["3"]


def otherwise(value: object) -> str:
    """Return another digest of the same piece, as if it were worded otherwise."""
    from compiler.document.digest import piece_digest

    return piece_digest(("otherwise", value))


def test_pieces_of_another_content_are_not_used(run: Run) -> None:
    """What is kept names the content it is of: a stale file draws no wrong bars."""
    issue(run, STEPS)
    text = KEPT.read_text(encoding="utf-8")
    KEPT.write_text(
        re.sub(r"^racks A \w+", f"racks A {'0' * 12}", text, flags=re.MULTILINE), "utf-8"
    )
    assert now(STEPS.replace("Dry", "Wipe"), "B").since is None


@pytest.mark.parametrize(
    "text",
    ["racks A 0123\n", "  work 1:0123456789\n", "racks A 012345678901\n  work x:0123456789\n"],
)
def test_what_is_kept_and_cannot_be_read_is_found(run: Run, text: str) -> None:
    issue(run, STEPS)
    KEPT.write_text(text, encoding="utf-8")
    answer = run("check")
    assert answer.code == 1
    assert "procedures/issued-steps.txt:" in answer.out
    assert "[not-understood]" in answer.out


@given(st.text())
def test_any_text_of_what_is_kept_is_read(text: str) -> None:
    kept, findings = read_kept(SourceFile("issued-steps.txt", text))
    assert all(0 <= one.span.start < one.span.end <= len(text) for one in findings)
    assert all(len(one.content) == 12 for one in kept)


def test_the_demo_is_kept_as_it_is_issued(demo_library: Library, project_root: Path) -> None:
    """Each of its issues has its pieces; those of the present one are those of the document."""
    folder = load_folder(project_root / "procedures")
    assert folder.ledger is not None
    assert folder.kept is not None
    kept = {(one.procedure, one.content): one.pieces for one in read_kept(folder.kept)[0]}
    issues, _ = read_issues(folder.ledger)
    for document in demo_library.documents:
        assert kept[document.id, document.digest[:12]] == pieces_of(document)
        mine = [one.digest[:12] for one in issues if one.procedure == document.id]
        assert all((document.id, mark) in kept for mark in mine[-2:])


def test_the_seal_of_the_demo(demo_library: Library) -> None:
    """The seat is new with revision E; what only follows from other numbers is not marked."""
    document = next(one for one in demo_library.documents if one.id == "seal-change")
    assert document.since is not None
    assert document.since.revision == "D"
    said = {words(one) for one in steps_of(document.body) if one.altered}
    assert any("end play" in one for one in said)
    assert all("seat" in one or "end play" in one or "bearings" in one or "Go back" in one
               for one in said)  # fmt: skip
    assert [one.change for one in document.issues][-1] == document.revision.change  # type: ignore[union-attr]


def words(step: StepView) -> str:
    """Return what a step says."""
    return " ".join(part.text for line in step.lines for part in line)


# --- Properties ---------------------------------------------------------------------------------

marks = st.lists(st.sampled_from("abcdef"), max_size=12)


def pieces(text: Sequence[str]) -> list[Piece]:
    """Return pieces that are called and say what the letters say."""
    return [Piece(str(at), letter, letter) for at, letter in enumerate(text, 1)]


@given(marks)
def test_the_same_has_no_difference(text: list[str]) -> None:
    assert not difference(pieces(text), pieces(text))


@given(marks, marks)
def test_what_has_no_bar_stood_there_before_in_the_same_order(
    old: list[str], new: list[str]
) -> None:
    found = difference(pieces(old), pieces(new))
    rest = [letter for at, letter in enumerate(new) if at not in found.altered]
    stream = iter(old)
    assert all(letter in stream for letter in rest)
    assert all(0 <= at <= len(new) for at in (*found.altered, *found.gone))
    gone = [piece.mark for piece in found.all_gone]
    assert all(letter not in gone or old.count(letter) > new.count(letter) for letter in "abcdef")


@given(marks, marks)
def test_other_words_of_ours_do_not_move_a_bar(old: list[str], new: list[str]) -> None:
    """Letters stand for the text of the author, large letters for how it is worded now."""
    before, worded = {WORK: tuple(pieces(old))}, {WORK: tuple(pieces(new))}
    anew = {WORK: tuple(replace(one, mark=one.mark.upper()) for one in worded[WORK])}
    bars = difference(before[WORK], worded[WORK]).altered
    assert difference(carried(before, worded, anew)[WORK], anew[WORK]).altered == bars


def test_every_step_taken_away_from_the_demo_is_told(demo_library: Library) -> None:
    """Each step of a long procedure in turn: the others have no bar, and its number is told."""
    document = next(one for one in demo_library.documents if one.id == "plate-bearing-change")
    bare = replace(document, since=None)
    before = pieces_of(bare)
    steps = [one for one in bare.body if isinstance(one, StepView)]
    for gone in steps or [next(n for n in every_node(bare.body) if isinstance(n, StepView))]:
        body = tuple(one for one in bare.body if one is not gone)
        after = with_bars(replace(bare, body=body), before, "A", "")
        assert after.since is not None
        assert gone.number in after.since.text
