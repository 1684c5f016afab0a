"""`build`: what it writes and where, the same bytes again, and nothing when something is wrong."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from cli.cli_support import Run, broken, clean, put, read_findings
from compiler.load import Folder, PictureInfo

FOLDERS = ["data", "lists", "site"]


def tree(out: Path) -> dict[str, bytes]:
    """Return every file below `out` by path, the record of the build too."""
    return {
        path.relative_to(out).as_posix(): path.read_bytes()
        for path in sorted(out.rglob("*"))
        if path.is_file()
    }


def test_a_build_says_where_to_look(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", clean())
    ran = run("build", "--no-sheets")
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[0] == "Nothing found: all is well."
    assert lines[1].startswith("Wrote ")
    assert f"Pages:  {Path('build/site/index.html')}" in lines
    assert "Sheets: none were asked for" in lines
    assert sorted(p.name for p in (tmp_path / "build").iterdir() if p.is_dir()) == FOLDERS
    for path in ("site/index.html", "site/procedures/vent-cap.html", "data/vent-cap.json",
                 "lists/procedures/vent-cap-tools.csv"):  # fmt: skip
        assert (tmp_path / "build" / path).stat().st_size > 0


@pytest.mark.sheets
def test_sheets_are_made_and_taken_away_when_they_are_not_asked_for(
    run: Run, tmp_path: Path
) -> None:
    """A sheet that stayed while the pages changed would be an old print."""
    put(tmp_path, "vent-cap.proc", clean())
    ran = run("build", "--paper", "letter")
    assert (ran.code, ran.err) == (0, "")
    sheet = tmp_path / "build/sheets/vent-cap.pdf"
    assert sheet.read_bytes().startswith(b"%PDF-")
    assert "kept 0" in ran.out
    assert "Wrote 0 files" in run("build", "--paper", "letter").out
    assert "Wrote 1 file, " in run("build", "--paper", "a4").out
    assert "took 1 away" in run("build", "--no-sheets").out
    assert not sheet.exists()


@pytest.mark.sheets
def test_sheets_of_several_workers(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", clean())
    put(tmp_path, "other-cap.proc", clean().replace("procedure vent-cap", "procedure other-cap"))
    assert run("build", "--workers", "2").code == 0
    two = tree(tmp_path / "build")
    assert {"sheets/vent-cap.pdf", "sheets/other-cap.pdf"} <= set(two)
    assert run("build", "--workers", "1", "--out", "one").code == 0
    assert tree(tmp_path / "one") == two


@pytest.mark.parametrize("number", ["0", "65", "-1", "x", "", "1" * 5000, "²"])
def test_how_many_workers_is_a_small_number(run: Run, number: str) -> None:
    ran = run("build", f"--workers={number}")
    assert ran.code == 2
    assert "is no number from 1 to 64" in ran.err


def test_a_second_build_keeps_all_and_says_so(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", clean())
    run("build", "--no-sheets")
    before = tree(tmp_path / "build")
    ran = run("build", "--no-sheets")
    assert ran.out.splitlines()[1] == f"Wrote 0 files, kept {len(before) - 1} as they were."
    assert tree(tmp_path / "build") == before


def test_the_same_folder_elsewhere_gives_the_same_bytes(tmp_path: Path, project_root: Path) -> None:
    """A part of the demo, in folders of different names, with sets in different orders."""
    demo = project_root / "procedures"
    outputs = []
    for number, (folder, out) in enumerate((("one", "build"), ("Ö r t/zwei", "b/two"))):
        place = tmp_path / folder
        shutil.copytree(demo / "mixer", place / "mixer")
        shutil.copy(demo / "shop.proc", place / "shop.proc")
        words = ("build", place.name, "--out", out, "--no-sheets")
        ran = subprocess.run(
            [sys.executable, "-m", "compiler.cli", *words],
            cwd=place.parent, env={**os.environ, "PYTHONHASHSEED": str(number)},
            capture_output=True, timeout=120,
        )  # fmt: skip
        assert (ran.returncode, ran.stderr) == (0, b"")
        outputs.append(tree(place.parent / out))
    one, two = outputs
    assert sorted(one) == sorted(two)
    assert [path for path in one if one[path] != two[path]] == []
    assert len(one) > 30
    everything = b"".join(one.values())
    for trace in (str(tmp_path), str(project_root)):
        assert trace.encode() not in everything


def test_errors_write_nothing_and_leave_what_is_there(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", broken())
    ran = run("build", "--no-sheets")
    assert ran.code == 1
    assert "[unknown-name]" in ran.out
    assert ran.err == "Nothing was written: mend what is marked as an error first.\n"
    assert not (tmp_path / "build").exists()
    put(tmp_path, "vent-cap.proc", clean())
    assert run("build", "--no-sheets").code == 0
    before = tree(tmp_path / "build")
    put(tmp_path, "vent-cap.proc", broken())
    assert run("build", "--no-sheets").code == 1
    assert tree(tmp_path / "build") == before


def test_a_file_that_cannot_be_read_stops_the_build(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "a.proc", clean("a"))
    put(tmp_path, "b.proc", b"\xff\xfe")
    assert run("build", "--no-sheets").code == 1
    assert run("tools", "a").code == 1
    assert not (tmp_path / "build").exists()


def test_json(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "a.proc", clean("a"))
    ran = run("build", "--no-sheets", "--format", "json")
    assert (ran.code, ran.err, read_findings(ran.out)["errors"]) == (0, "", 0)
    put(tmp_path, "a.proc", broken("a"))
    ran = run("build", "--no-sheets", "--format", "json")
    assert (ran.code, read_findings(ran.out)["errors"]) == (1, 1)


def test_wrong_folders(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "all/a.proc", clean("a"))
    put(tmp_path, "foreign/site/index.html", "precious")
    put(tmp_path, "file", "x")
    (tmp_path / "empty").mkdir()
    for words, said in (
        (("nowhere",), "There is no nowhere."),
        (("all/a.proc",), "all/a.proc is a file. Name the folder that it lies in: all"),
        (("empty",), "There is no .proc file in "),
        (("all", "--out", "file"), "file is a file, not a folder."),
        (("all", "--out", "file/below"), "file/below cannot be written: not a directory."),
        (("all", "--out", "x" * 5000), "x"),
        (("all", "--out", "foreign"), "foreign/site/index.html was not made by this tool"),
    ):
        ran = run("build", *words, "--no-sheets")
        assert ran.code == 2, words
        assert ran.err.startswith(said), words
    assert sorted(tree(tmp_path)) == ["all/a.proc", "file", "foreign/site/index.html"]


def test_the_output_may_lie_inside_the_source(run: Run, tmp_path: Path) -> None:
    """What was built is never read back in, not even its pictures."""
    put(tmp_path, "a.proc", clean("a"))
    for out in ("build", ".", "deep/out"):
        assert run("build", ".", "--out", out, "--no-sheets").code == 0
        first = tree(tmp_path / out)
        assert "Wrote 0 files" in run("build", ".", "--out", out, "--no-sheets").out
        assert tree(tmp_path / out) == first
    assert (tmp_path / "a.proc").read_text() == clean("a")


def test_names_that_differ_in_capitals_only(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "a.proc", clean("Seal"))
    put(tmp_path, "b.proc", clean("seal"))
    ran = run("build", "--no-sheets")
    assert ran.code == 2
    assert "would be the same file on many systems" in ran.err


def test_no_name_is_in_the_way_of_another(run: Run, tmp_path: Path) -> None:
    names = ("all", "index", "procedure", "visit-x", "all-tools", "con")
    for name in names:
        put(tmp_path, f"{name}.proc", clean(name))
    put(tmp_path, "v.proc", 'visit all "All"\n' + "".join(f"  do {name}\n" for name in names))
    put(tmp_path, "w.proc", 'visit x "X"\n  do all\n')
    assert run("build", "--no-sheets").code == 0
    for name in names:
        assert (tmp_path / f"build/site/procedures/{name}.html").is_file()
        assert (tmp_path / f"build/lists/procedures/{name}-tools.csv").is_file()


def test_a_procedure_that_went_takes_its_pages_along(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "a.proc", clean("a"))
    gone = put(tmp_path, "b.proc", clean("b"))
    run("build", "--no-sheets")
    assert (tmp_path / "build/site/procedures/b.html").is_file()
    gone.unlink()
    assert "took 5 away" in run("build", "--no-sheets").out
    assert not any(path.stem.split("-")[0] == "b" for path in (tmp_path / "build").rglob("b*.*"))


def test_a_picture_that_has_gone_since_the_folder_was_read_is_told(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Editors take a file away for a moment when they save it."""
    put(
        tmp_path, "vent-cap.proc", clean().replace("  clean cap\n", '  picture "cap.svg" "A cap"\n')
    )
    drawing = put(tmp_path, "cap.svg", '<svg xmlns="http://www.w3.org/2000/svg"/>')
    assert run("build", "--no-sheets").code == 0
    before = tree(tmp_path / "build")
    probe = Folder.probe

    def gone_soon(folder: Folder, path: str) -> PictureInfo:
        info = probe(folder, path)
        drawing.unlink(missing_ok=True)
        return info

    monkeypatch.setattr(Folder, "probe", gone_soon)
    ran = run("build", "--no-sheets")
    assert ran.code == 2
    assert ran.err == "cap.svg cannot be read any more: no such file or directory.\n"
    assert tree(tmp_path / "build") == before
