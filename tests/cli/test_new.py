"""`new`: first files that compile as they are, in any order, and never in place of another."""

from __future__ import annotations

import itertools
import re
from pathlib import Path

import pytest

from cli.cli_support import Run, clean, put

KINDS = ("machine", "procedure", "shop", "visit")


@pytest.mark.parametrize("kind", KINDS)
def test_a_first_file_in_an_empty_folder_is_clean(run: Run, tmp_path: Path, kind: str) -> None:
    ran = run("new", kind, "first-one")
    assert ran.code == 0
    file = tmp_path / "first-one.proc"
    assert file.read_text(encoding="utf-8").splitlines()[0].startswith("#")
    assert re.search(
        rf'^{kind} first-one "First one"$', file.read_text(encoding="utf-8"), re.MULTILINE
    )
    said = re.search(r"witnessmark check (\S+)\n", ran.out)
    assert said is not None
    assert run("check", said[1]).out == "Nothing found: all is well.\n"
    assert run("check").out == "Nothing found: all is well.\n"


@pytest.mark.parametrize("order", list(itertools.permutations(KINDS)), ids="-".join)
def test_all_four_in_any_order_are_clean(run: Run, order: tuple[str, ...]) -> None:
    for kind in order:
        words = ("--machine", "press") if kind == "procedure" else ()
        name = {"machine": "press", "procedure": "belt-change"}.get(kind, f"the-{kind}")
        assert run("new", kind, name, *words).code == 0
    ran = run("check")
    assert (ran.code, "error" in ran.out) == (0, False)


def test_the_examples_build(run: Run, tmp_path: Path) -> None:
    run("new", "shop", "crib")
    run("new", "machine", "press")
    run("new", "procedure", "belt-change", "--machine", "press")
    run("new", "procedure", "cover-off")
    run("new", "visit", "spring")
    assert run("check").out == "Nothing found: all is well.\n"
    assert run("build", "--no-sheets").code == 0
    tools = run("tools", "belt-change").out
    assert "5 mm hex key" in tools
    assert "torque wrench" in tools
    assert "drive belt: 1" in tools


def test_a_procedure_for_a_machine_speaks_of_its_parts(run: Run, tmp_path: Path) -> None:
    run("new", "machine", "press")
    run("new", "procedure", "belt-change", "--machine", "press")
    text = (tmp_path / "belt-change.proc").read_text(encoding="utf-8")
    assert "  isolate motor-supply, wash-water\n" in text
    assert "    replace belt\n" in text


def test_a_machine_that_is_not_there_yet(run: Run, tmp_path: Path) -> None:
    ran = run("new", "procedure", "belt-change", "--machine", "press")
    assert ran.code == 0
    assert "witnessmark new machine press" in ran.err
    assert "[missing-machine]" in run("check").out
    run("new", "machine", "press")
    assert run("check").code == 0
    assert "Did you mean press?" in run("new", "procedure", "b", "--machine", "pres").err


def test_a_visit_names_what_is_there(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", clean())
    assert run("new", "visit", "spring").code == 0
    assert "  do vent-cap\n" in (tmp_path / "spring.proc").read_text(encoding="utf-8")
    assert not (tmp_path / "look-over.proc").exists()
    assert run("check").code == 0


def test_a_crib_that_lacks_the_tools_gets_a_procedure_without(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "shop.proc", 'shop s "S"\n  tools\n    level spirit-level "level"\n')
    assert run("new", "procedure", "job").code == 0
    assert run("check", "job.proc").out == "Nothing found: all is well.\n"


def test_broken_files_beside_it_do_no_harm(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "broken.proc", b"machine \xff")
    put(tmp_path, "worse.proc", "visit\n\tshop")
    for kind in KINDS:
        assert run("new", kind, f"my-{kind}").code == 0
    ran = run("check")
    assert ran.code == 1
    assert "my-" not in ran.out


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("Zapfen Wechsel", "zapfen-wechsel"), ("seal_change", "seal-change"), ("a--b", "a-b"),
        ("-a", "a"), ("a/b", "a-b"), ("../up", "up"), ("a\nb", "a-b"), ('a" "b', "a-b"),
        ("Öl Wechsel", "öl-wechsel"), ("x" * 300, "x" * 80), ("9x", ""), ("", ""), ("--", ""),
        ("a.proc", "a-proc"),
    ],
)  # fmt: skip
def test_what_cannot_be_a_name(run: Run, tmp_path: Path, name: str, near: str) -> None:
    ran = run("new", "machine", "--", name)
    assert (ran.code, ran.out) == (2, "")
    assert "cannot be a name" in ran.err
    assert ran.err.endswith(f" Try {near}.\n") if near else " Try " not in ran.err
    assert list(tmp_path.iterdir()) == []
    if near:
        assert run("new", "machine", near).code == 0


@pytest.mark.parametrize("name", ["für-öl", "TP-40", "X", "about", "remove", "machine"])
def test_what_can_be_a_name(run: Run, name: str) -> None:
    for kind in ("procedure", "machine"):
        assert run("new", kind, name, "--folder", kind).code == 0
        assert run("check", kind).code == 0


def test_nothing_is_overwritten(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "seal.proc", "precious")
    (tmp_path / "link.proc").symlink_to("nowhere")
    for name in ("seal", "link"):
        ran = run("new", "procedure", name)
        assert ran.code == 2
        assert f"{name}.proc is there already" in ran.err
    assert (tmp_path / "seal.proc").read_text() == "precious"
    assert not (tmp_path / "nowhere.proc").exists()


def test_a_name_that_is_taken_in_another_file(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "sub/press.proc", 'machine press "Press"\n')
    put(tmp_path, "sub/crib.proc", 'shop crib "Crib"\n')
    put(tmp_path, "sub/vent.proc", clean())
    put(tmp_path, "sub/v.proc", 'visit spring "Spring"\n  do vent-cap\n')
    for kind, name in (("machine", "press"), ("procedure", "vent-cap"), ("visit", "spring")):
        ran = run("new", kind, name)
        assert ran.code == 2
        assert f"describes a {kind} {name} already" in ran.err
    ran = run("new", "shop", "other")
    assert ran.code == 2
    assert "sub/crib.proc is this folder's shop file already" in ran.err
    assert [path.name for path in tmp_path.iterdir()] == ["sub"]


def test_where_it_goes(run: Run, tmp_path: Path) -> None:
    assert run("new", "shop", "crib", "--folder", "a b/c").code == 0
    assert (tmp_path / "a b/c/crib.proc").is_file()
    assert "check 'a b/c/crib.proc'" in run(
        "new", "procedure", "x", "--folder", "a b/c"
    ).out.replace("x.proc", "crib.proc")
    (tmp_path / "procedures").mkdir()
    assert run("new", "visit", "spring").code == 0
    assert (tmp_path / "procedures/spring.proc").is_file()
    put(tmp_path, "file", "x")
    ran = run("new", "shop", "crib", "--folder", "file")
    assert ran.code == 2
    assert "cannot be written" in ran.err
    assert run("new", "shop", "crib", "--folder", "x" * 5000).code == 2
    assert run("new", "shop", "crib", "--folder", "a\0b").code == 2


def test_only_a_procedure_is_for_a_machine(run: Run) -> None:
    ran = run("new", "visit", "spring", "--machine", "press")
    assert (ran.code, ran.out) == (2, "")
    assert "--machine" in ran.err
