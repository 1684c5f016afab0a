"""The command as a whole: words it takes, exit codes, quick help, streams that close, faults."""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from cli.cli_support import Run, broken, clean, put
from compiler import __version__
from compiler.cli import _parser, main
from compiler.helping import HELP
from compiler.reckon.arguments import QUESTIONS

HEAVY = ("lark", "pint", "jinja2", "weasyprint", "watchdog", "fontTools", "compiler.pipeline")
COMMANDS = (
    "check", "build", "watch", "tools", "records", "changes", "issue", "new", "explain", *QUESTIONS
)  # fmt: skip


def python(*words: str, **variables: str) -> subprocess.CompletedProcess[bytes]:
    """Run Python on its own, as a terminal would."""
    return subprocess.run(
        [sys.executable, *words], capture_output=True, timeout=120, env={**os.environ, **variables}
    )


def command(*words: str | Path, **variables: str) -> subprocess.CompletedProcess[bytes]:
    """Run the command in a process of its own."""
    return python("-m", "compiler.cli", *map(str, words), **variables)


def test_without_a_word_it_says_what_it_can_do(run: Run) -> None:
    ran = run()
    assert ran.code == 2
    for name in COMMANDS:
        assert f"\n    {name} " in ran.out


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_says_what_it_is_for_with_examples_that_it_takes(run: Run, name: str) -> None:
    about, examples = HELP[name]
    out = run(name, "--help").out
    assert about in out
    assert max(map(len, (*about.splitlines(), *examples))) <= 82
    for example in examples:
        assert f"\n  {example}\n" in out
        program, *words = shlex.split(example.partition(" > ")[0])
        assert (program, words[0]) == ("witnessmark", name)
        assert _parser().parse_args(words).run
        if name in QUESTIONS:
            assert run(*words).code == 0


def test_nothing_else_has_help() -> None:
    assert set(HELP) == set(COMMANDS)


@pytest.mark.parametrize("words", [["--help"], *([name, "--help"] for name in COMMANDS)])
def test_help_of_everything(run: Run, words: list[str]) -> None:
    ran = run(*words)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("usage: witnessmark")


def test_version(run: Run) -> None:
    assert run("--version").out == f"witnessmark {__version__}\n"
    assert run("--version").code == 0


@pytest.mark.parametrize(
    "words",
    [
        ["bogus"], ["check", "--format", "xml"], ["build", "--paper", "b5"], ["build", "a", "b"],
        ["tools"], ["new"], ["new", "thing", "x"], ["new", "machine"], ["--bogus"],
        ["explain", "a", "b"], ["watch", "--format", "json"],
    ],
)  # fmt: skip
def test_wrong_use(run: Run, words: list[str]) -> None:
    ran = run(*words)
    assert (ran.code, ran.out) == (2, "")
    assert "usage: witnessmark" in ran.err


@pytest.mark.parametrize(
    "words", [["--help"], ["--version"], ["check", "--help"], ["torque", "--help"], ["bogus"]]
)
def test_help_loads_nothing_heavy(words: list[str]) -> None:
    code = (
        "import sys\nfrom compiler.cli import main\n"
        f"main({words!r})\n"
        f"print('LOADED', *[name for name in {HEAVY!r} if name in sys.modules])"
    )
    ran = python("-c", code)
    assert ran.stdout.decode().splitlines()[-1] == "LOADED"


def test_check_loads_no_library_for_pages(tmp_path: Path) -> None:
    put(tmp_path, "a.proc", clean("a"))
    pages = ("jinja2", "weasyprint", "watchdog", "fontTools")
    code = (
        "import sys\nfrom compiler.cli import main\n"
        f"main(['check', {str(tmp_path)!r}])\n"
        f"print('LOADED', *[name for name in {pages!r} if name in sys.modules])"
    )
    assert python("-c", code).stdout.decode().splitlines()[-1] == "LOADED"


def test_a_fault_of_ours_is_told_as_one(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    put(tmp_path, "a.proc", clean("a"))

    def fault(*_: object, **__: object) -> None:
        raise ZeroDivisionError("deep inside")

    monkeypatch.setattr("compiler.reporting.compile_sources", fault)
    assert main(["check", str(tmp_path)]) == 3
    err = capsys.readouterr().err
    assert "your procedure is not to blame" in err
    assert "ZeroDivisionError: deep inside" in err


def test_stopped_by_hand(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    put(tmp_path, "a.proc", clean("a"))

    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("compiler.reporting.compile_sources", stop)
    assert main(["check", str(tmp_path)]) == 130
    assert capsys.readouterr().err == "Stopped.\n"


@pytest.mark.parametrize("buffered", ["1", ""])
def test_a_reader_that_goes_away_ends_the_printing_and_not_the_work(
    tmp_path: Path, buffered: str
) -> None:
    """As with `| head`: the exit code is what it would have been, and nothing is complained of."""
    for number in range(20):
        put(tmp_path, f"all/{number}.proc", broken(f"a{number}"))
    reading, writing = os.pipe()
    os.close(reading)
    try:
        ran = subprocess.run(
            [sys.executable, "-m", "compiler.cli", "check", str(tmp_path / "all")],
            stdout=writing, stderr=subprocess.PIPE, timeout=120,
            env={**os.environ, "PYTHONUNBUFFERED": buffered},
        )  # fmt: skip
    finally:
        os.close(writing)
    assert (ran.returncode, ran.stderr) == (1, b"")


def test_a_terminal_without_our_characters(tmp_path: Path) -> None:
    put(tmp_path, "a.proc", broken("a"))
    ascii_only = {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"}
    ran = command("check", tmp_path, **ascii_only)
    assert (ran.returncode, ran.stderr) == (1, b"")
    assert b"   11 |   tighten scrw\n                  ^^^^\n" in ran.stdout
    ran = command("tools", "seal", "--folder", tmp_path, PYTHONIOENCODING="latin-1")
    assert ran.returncode == 1
    assert b"   11 |   tighten scrw\n" in ran.stdout


def test_data_is_the_same_on_any_terminal(tmp_path: Path) -> None:
    put(tmp_path, "a.proc", clean("a"))
    words = ("tools", "a", "--folder", tmp_path, "--format", "json")
    plain = command(*words, PYTHONIOENCODING="ascii")
    assert plain.returncode == 0
    assert plain.stdout == command(*words, PYTHONIOENCODING="utf-8").stdout
    assert b"N\\u00b7m" in plain.stdout
