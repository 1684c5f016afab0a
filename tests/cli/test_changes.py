"""`witnessmark changes`: two folders, or two revisions that git keeps."""

from __future__ import annotations

import json
import os
import re
import subprocess
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from cli.cli_support import Run, broken, clean, put

RAISED = clean().replace("revision A  2026-11-02", "revision B  2026-11-20")
TIGHTER = clean().replace("torque 4 N·m", "torque 5 N·m")


def git(root: Path, *words: str) -> str:
    """Run git with a name of its own, and nothing of the person's settings."""
    settings = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}
    who = ("-c", "user.name=Workshop", "-c", "user.email=workshop@example.org")
    done = subprocess.run(
        ["git", "-C", str(root), *who, *words],
        check=True, capture_output=True, text=True, env={**os.environ, **settings},
    )  # fmt: skip
    return done.stdout


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """Return a checkout of three issues: 4 N·m, 5 N·m, and 5 N·m under another revision."""
    git(tmp_path, "init", "-q", "-b", "main")
    for at, text in enumerate((clean(), TIGHTER, RAISED.replace("torque 4", "torque 5"))):
        put(tmp_path, "procedures/vent-cap.proc", text)
        git(tmp_path, "add", "procedures")
        git(tmp_path, "commit", "-q", "-m", f"Issue {at}")
    return tmp_path


def everything(root: Path) -> dict[str, bytes]:
    """Return all files of a folder, those of git as well."""
    return {str(p.relative_to(root)): p.read_bytes() for p in root.rglob("*") if p.is_file()}


def test_two_folders(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "old/vent-cap.proc", clean())
    put(tmp_path, "new/vent-cap.proc", TIGHTER)
    answer = run("changes", "old", "new")
    assert answer.code == 0
    assert "Torque: screw: 4 N·m → 5 N·m" in answer.out
    assert "The revision is still A: raise it" in answer.out
    assert "Tool: torque wrench that sets 4 N·m → torque wrench that sets 5 N·m" in answer.out
    assert answer.out.splitlines()[-1] == "1 procedure changed."
    assert run("changes", "old", "old").out == "Nothing changed. 1 procedure says the same.\n"


def test_two_revisions(run: Run, checkout: Path) -> None:
    before = everything(checkout)
    answer = run("changes", "HEAD~2", "HEAD~1", "--folder", "procedures")
    assert answer.code == 0
    assert "4 N·m → 5 N·m" in answer.out
    whole = run("changes", "HEAD~2", "HEAD").out
    assert "4 N·m → 5 N·m" in whole
    assert "revision A → B" in whole
    assert "raise it" not in whole
    assert everything(checkout) == before


def test_a_revision_and_the_folder_as_it_is_now(run: Run, checkout: Path) -> None:
    assert "Nothing changed." in run("changes", "HEAD").out
    put(checkout, "procedures/vent-cap.proc", clean())
    answer = run("changes", "HEAD")
    assert "5 N·m → 4 N·m" in answer.out
    assert run("changes", "main", "procedures").out == answer.out


def test_from_a_folder_inside_the_checkout(
    run: Run, checkout: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(checkout / "procedures")
    assert "4 N·m → 5 N·m" in run("changes", "HEAD~2", "HEAD", "--folder", ".").out


def test_a_folder_that_is_gone_by_now(run: Run, checkout: Path) -> None:
    (checkout / "procedures" / "vent-cap.proc").unlink()
    (checkout / "procedures").rmdir()
    answer = run("changes", "HEAD~2", "HEAD", "--folder", "procedures")
    assert "4 N·m → 5 N·m" in answer.out
    assert run("changes", "HEAD", "--folder", "procedures").code == 2


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("v9", "HEAD"), "no git revision v9"),
        (("HEAD", "HEAD~99"), "no git revision HEAD~99"),
        (("--folder", "elsewhere", "HEAD", "HEAD"), "At HEAD there is no folder elsewhere"),
        (("--", "--output=stolen", "HEAD"), "no git revision --output=stolen"),
        (("HEAD:procedures", "HEAD"), "no git revision HEAD:procedures"),
        (("a\0b", "HEAD"), "no such folder or git revision"),
    ],
)
def test_what_is_not_there(run: Run, checkout: Path, words: tuple[str, ...], said: str) -> None:
    before = everything(checkout)
    answer = run("changes", *words)
    assert answer.code == 2
    assert said in answer.err
    assert answer.out == ""
    assert everything(checkout) == before


def test_a_folder_that_is_in_no_git(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "procedures/vent-cap.proc", clean())
    answer = run("changes", "HEAD")
    assert answer.code == 2
    assert "not kept in git" in answer.err


def test_without_git(run: Run, checkout: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(checkout))
    answer = run("changes", "HEAD")
    assert answer.code == 2
    assert "git is not installed" in answer.err


def test_an_empty_folder(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "old/vent-cap.proc", clean())
    (tmp_path / "new").mkdir()
    answer = run("changes", "old", "new")
    assert answer.code == 2
    assert "no .proc file in new" in answer.err


def test_a_link_in_a_revision_is_not_followed(run: Run, checkout: Path) -> None:
    put(checkout, "outside.proc", clean("outside"))
    (checkout / "procedures" / "link.proc").symlink_to(checkout / "outside.proc")
    git(checkout, "add", "procedures")
    git(checkout, "commit", "-q", "-m", "A link")
    assert "outside" not in run("changes", "HEAD~1", "HEAD").out


def test_what_has_errors_is_left_out_and_told(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "old/vent-cap.proc", broken())
    put(tmp_path, "old/other.proc", clean("other"))
    put(tmp_path, "new/vent-cap.proc", clean())
    put(tmp_path, "new/other.proc", clean("other").replace("Arrow up", "Arrow down"))
    answer = run("changes", "old", "new")
    assert answer.code == 1
    assert "vent-cap was not compared: there are errors in its way in old." in answer.out
    assert "note “Arrow up.” → “Arrow down.”" in answer.out


def test_json_keeps_to_its_schema(run: Run, checkout: Path) -> None:
    text = files("compiler.changes").joinpath("changes.schema.json").read_text(encoding="utf-8")
    told = json.loads(run("changes", "HEAD~2", "HEAD~1", "--format", "json").out)
    jsonschema.Draft202012Validator(json.loads(text)).validate(told)
    (one,) = told["procedures"]
    assert [change["subject"] for change in one["changes"]] == ["torque", "tool"]
    assert (told["old"], told["new"]) == ("HEAD~2", "HEAD~1")
    assert str(checkout) not in json.dumps(told)


def test_page(run: Run, checkout: Path) -> None:
    assert run("changes", "HEAD~2", "HEAD", "--page", "what.html").code == 0
    page = Path("what.html").read_text(encoding="utf-8")
    assert "4\N{NO-BREAK SPACE}N·m → 5\N{NO-BREAK SPACE}N·m" in page
    assert re.search(r"From HEAD~2 to HEAD\.", page)
    run("changes", "HEAD~2", "HEAD", "--page", "again.html")
    assert Path("again.html").read_bytes() == Path("what.html").read_bytes()
    refused = run("changes", "HEAD~2", "HEAD", "--page", "no/such/place.html")
    assert refused.code == 2
    assert "cannot be written" in refused.err
