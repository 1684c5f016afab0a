"""`check`: exit codes, what is printed, which files belong together, what is refused."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from cli.cli_support import Run, broken, clean, put, read_findings

SHOP = 'shop crib "Crib"\n  tools\n    keys hex-keys 3 mm\n    bits hex-bits 3 mm drive 1/4 in\n'
WRENCH = "    wrench torque-wrench 2..10 N·m drive 1/4 in accuracy 4 %\n"
MACHINE = 'machine press "Press"\n  parts\n    lid "lid" 2 kg\n'
FOR_PRESS = (
    'procedure lid-off "Lid off"\n  machine press\n  revision A 2026-11-02\n'
    "  remove lid\n  fit lid\n"
)


def test_a_clean_folder(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", clean())
    for words in ((), (".",), ("vent-cap.proc",), (tmp_path,), ("vent-cap.proc", ".")):
        ran = run("check", *words)
        assert (ran.code, ran.out, ran.err) == (0, "Nothing found: all is well.\n", "")


def test_a_finding_shows_place_line_mark_reason_and_what_to_try(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", broken())
    ran = run("check")
    assert ran.code == 1
    assert ran.out == (
        "error  vent-cap.proc:11:11  [unknown-name]\n"
        "  Nothing is called scrw here.\n"
        "   11 │   tighten scrw\n"
        "                  ────\n"
        "  Try: Did you mean screw?\n"
        "\n"
        "Found 1 error.\n"
    )


def test_warnings_leave_it_clean(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "a.proc", clean("a").replace('"Arrow up."', '"Arrow up, as required."'))
    ran = run("check", "--format", "json")
    found = read_findings(ran.out)
    assert [f["rule"] for f in found["findings"]] == ["vague-words"]
    assert (ran.code, found["errors"], found["warnings"]) == (0, 0, 1)


def test_json_keeps_to_its_schema(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "a/umläut.proc", broken("a"))
    put(tmp_path, "a/again.proc", clean("b") + clean("c"))
    put(tmp_path, "a/bytes.proc", bytes(range(256)))
    ran = run("check", "a", "--format", "json")
    found = read_findings(ran.out)
    assert (ran.code, ran.err) == (1, "")
    assert found["errors"] == sum(f["severity"] == "error" for f in found["findings"])
    (scrw,) = [f for f in found["findings"] if f["message"] == "Nothing is called scrw here."]
    assert (scrw["file"], scrw["line"], scrw["column"]) == ("a/umläut.proc", 11, 11)
    assert broken("a")[scrw["start"] : scrw["end"]] == "scrw"
    assert (scrw["endLine"], scrw["endColumn"]) == (11, 15)


def test_json_of_a_clean_folder(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "a.proc", clean("a"))
    assert read_findings(run("check", "--format", "json").out) == {
        "findings": [], "errors": 0, "warnings": 0,
    }  # fmt: skip


def test_without_a_word_the_folder_procedures_is_meant(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "procedures/a.proc", broken("a"))
    put(tmp_path, "elsewhere/b.proc", broken("b"))
    assert "procedures/a.proc:11:11" in run("check").out
    assert run("check").out.count("[unknown-name]") == 1
    assert run("check", ".").out.count("[unknown-name]") == 2


def test_files_are_named_as_seen_from_here(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = put(tmp_path, "one/sub/a.proc", broken("a"))
    put(tmp_path, "two/a.proc", broken("a").replace("clean cap", "clan cap"))
    ran = run("check", "one", "two")
    assert "one/sub/a.proc:11:11  [unknown-name]" in ran.out
    assert "two/a.proc:8:3  [unknown-verb]" in ran.out
    assert " 8 │   clan cap" in ran.out
    assert f"{file.as_posix()}:11:11" in run("check", file).out
    assert f"{tmp_path.as_posix()}/one/sub/a.proc:11:11" in run("check", tmp_path / "one").out
    monkeypatch.chdir(tmp_path / "two")
    assert "../one/sub/a.proc:11:11" in run("check", "../one/sub/a.proc").out


def test_a_file_is_compiled_with_the_folder_of_its_shop_file(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "all/shop.proc", SHOP)
    file = put(tmp_path, "all/caps/vent-cap.proc", clean())
    put(tmp_path, "all/caps/other.proc", broken("other"))
    ran = run("check", file.relative_to(tmp_path))
    assert ran.code == 1
    assert "[tool-not-in-shop]" in ran.out
    assert "other.proc" not in ran.out
    put(tmp_path, "all/shop.proc", SHOP + WRENCH)
    assert run("check", file.relative_to(tmp_path)).code == 0


def test_a_file_below_procedures_is_compiled_with_all_of_them(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "procedures/press.proc", MACHINE)
    put(tmp_path, "procedures/press/lid-off.proc", FOR_PRESS)
    assert run("check", "procedures/press/lid-off.proc").code == 0


def test_a_procedure_that_waits_for_another_file_is_not_called_clean(
    run: Run, tmp_path: Path
) -> None:
    """An error in the machine's file keeps its procedures from being walked through."""
    put(tmp_path, "press.proc", MACHINE + '    lever "lever" over 3 N·m\n')
    put(tmp_path, "lid-off.proc", FOR_PRESS)
    put(tmp_path, "vent-cap.proc", clean())
    ran = run("check", "lid-off.proc")
    assert ran.code == 1
    assert "press.proc:4:" in ran.out
    assert run("check", "vent-cap.proc").code == 0


def test_a_finding_that_points_at_a_file_is_shown_with_it(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "one.proc", clean("same"))
    put(tmp_path, "two.proc", clean("same"))
    for file in ("one.proc", "two.proc"):
        assert "[duplicate-name]" in run("check", file).out


def test_what_is_not_there(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "notes.txt", "x")
    (tmp_path / "empty").mkdir()
    for words, said in (
        (("nowhere",), "There is no nowhere."),
        (("nowhere.proc",), "There is no nowhere.proc."),
        (("notes.txt",), "notes.txt is no file of steps."),
        (("empty",), "There is no .proc file in "),
        (("a\0b",), "There is no "),
        (("x" * 5000,), "There is no "),
        ((), "There is no .proc file in "),
    ):
        ran = run("check", *words)
        assert (ran.code, ran.out) == (2, ""), words
        assert ran.err.startswith(said), words


def test_hidden_files_and_what_was_built_are_not_read(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "a.proc", clean("a"))
    put(tmp_path, ".b.proc", broken("b"))
    put(tmp_path, ".git/c.proc", broken("c"))
    assert run("check").code == 0
    ran = run("check", ".b.proc")
    assert ran.code == 2
    assert ".b.proc was not read" in ran.err
    assert run("build", "--no-sheets", "--out", ".").code == 0
    record = (tmp_path / ".witnessmark.json").read_text()
    assert '"site/index.html"' in record
    put(tmp_path, "site/d.proc", broken("d"))
    assert run("check").code == 0


def test_links(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "real/a.proc", broken("a"))
    (tmp_path / "a.proc").symlink_to("real/a.proc")
    (tmp_path / "linked").symlink_to("real")
    (tmp_path / "dead.proc").symlink_to("nowhere")
    (tmp_path / "real" / "round").symlink_to(tmp_path / "real")
    assert "a.proc:11:11" in run("check", "a.proc").out
    assert "linked/a.proc:11:11" in run("check", "linked").out
    assert "linked/a.proc:11:11" in run("check", "linked/a.proc").out
    assert run("check", "real").out.count("[unknown-name]") == 1
    dead = run("check", "dead.proc")
    assert dead.code == 1
    assert "it is a link that leads nowhere" in dead.out


def test_a_pipe_in_the_folder_is_not_waited_for(run: Run, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.proc")
    ran = run("check")
    assert ran.code == 1
    assert "it is no ordinary file" in ran.out


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_of_every_system(run: Run, tmp_path: Path, end: str, mark: str) -> None:
    text = mark + broken("a").replace("\n", end)
    put(tmp_path, "Ö r t/für Öl.proc", text)
    ran = run("check", "Ö r t")
    assert "error  Ö r t/für Öl.proc:11:11  [unknown-name]\n" in ran.out
    assert "   11 │   tighten scrw\n                  ────\n" in ran.out
    assert ran.out.endswith("Found 1 error.\n")
    put(tmp_path, "Ö r t/für Öl.proc", text.replace("scrw", "screw"))
    assert run("check", "Ö r t").code == 0


@pytest.mark.parametrize(
    ("name", "content", "rule"),
    [
        ("bytes", bytes(range(256)), "not-text"),
        ("latin", 'procedure latin "für"\n'.encode("latin-1"), "not-text"),
        ("utf-16", clean("utf-16").encode("utf-16"), "not-text"),
        ("nul", b'procedure nul "x"\n  \0\n', "not-text"),
        ("big", b"#" * (2 * 1024 * 1024 + 1), "file-too-large"),
        ("tab", clean("tab").replace("  fit", "\tfit"), "tab-in-indent"),
        ("stairs", clean("stairs").replace("  fit", " fit"), "indentation"),
        ("quote", clean("quote").replace('up."', "up."), "unclosed-quote"),
        ("none", "", "not-understood"),
        ("picture", clean("picture") + '    picture "x.png" "X"\n', "picture-missing"),
        ("out", clean("out") + '    picture "../../x.png" "X"\n', "picture-not-usable"),
    ],
)
def test_bad_files_give_a_finding(
    run: Run, tmp_path: Path, name: str, content: str | bytes, rule: str
) -> None:
    put(tmp_path, f"all/{name}.proc", content)
    ran = run("check", "all", "--format", "json")
    found = read_findings(ran.out)
    assert ran.code == 1
    assert rule in {f["rule"] for f in found["findings"]}
    assert all(f["hint"] for f in found["findings"])
    text = run("check", "all")
    assert text.code == 1
    assert f"all/{name}.proc" in text.out


def test_hostile_text_cannot_reach_the_screen(run: Run, tmp_path: Path) -> None:
    """No character that moves a cursor, colours, rings, or turns the direction of writing."""
    put(tmp_path, "all/\x1b[2Jx.proc", "procedure \x1b]0;x\x07 \u202e \x9b31m \u2066\n  \x08\x0c\n")
    ran = run("check", "all")
    assert ran.code == 1
    for character in "\x1b\x07\u202e\x9b\u2066\x08\x0c\r":
        assert character not in ran.out
