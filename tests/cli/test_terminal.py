"""The terminal: colour only where it is wanted, progress only on a screen, widths, stand-ins."""

from __future__ import annotations

import io
import sys

import pytest

from compiler.terminal import Terminal


class Screen(io.StringIO):
    """A stream that says it is a screen."""

    def isatty(self) -> bool:
        return True


def screens(monkeypatch: pytest.MonkeyPatch) -> tuple[Screen, Screen]:
    """Put two screens in place of the process's streams.

    Not a fixture: between the set-up of a test and the test itself pytest puts its own there.
    """
    out, err = Screen(), Screen()
    monkeypatch.setattr(sys, "stdout", out)
    monkeypatch.setattr(sys, "stderr", err)
    for name in ("NO_COLOR", "COLUMNS", "TERM"):
        monkeypatch.delenv(name, raising=False)
    return out, err


def test_colour_needs_a_screen_that_is_able(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    screens(monkeypatch)
    assert Terminal.of_process("text").colour
    with monkeypatch.context() as patch:
        patch.setenv("TERM", "dumb")
        assert not Terminal.of_process("text").colour
        assert not Terminal.of_process("text").shows_progress
    with monkeypatch.context() as patch:
        patch.setattr(sys, "stdout", io.StringIO())
        assert not Terminal.of_process("text").colour
        assert Terminal.of_process("text").shows_progress


@pytest.mark.parametrize(("value", "colour"), [("1", False), ("0", False), ("", True)])
def test_no_color_is_honoured_when_it_is_not_empty(
    monkeypatch: pytest.MonkeyPatch, value: str, colour: bool
) -> None:
    """As no-color.org asks: any value but the empty one, whatever it says."""
    screens(monkeypatch)
    monkeypatch.setenv("NO_COLOR", value)
    assert Terminal.of_process("text").colour is colour


def test_progress_is_one_line_that_is_wiped(monkeypatch: pytest.MonkeyPatch) -> None:
    out, err = screens(monkeypatch)
    terminal = Terminal.of_process("text")
    terminal.progress(0, 12, "a.proc")
    terminal.progress(9, 12, "b.proc")
    terminal.print("answer")
    assert out.getvalue() == "answer\n"
    lines = err.getvalue().split("\r")
    assert lines[0] == " 1 of 12  a.proc"
    assert lines[2] == "10 of 12  b.proc"
    assert lines[-2:] == [" " * len("10 of 12  b.proc"), ""]
    assert "\n" not in err.getvalue()


def test_the_end_of_progress_leaves_nothing_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    streams = screens(monkeypatch)
    terminal = Terminal.of_process("text")
    terminal.progress(0, 1, "a")
    terminal.progress(1, 1, "")
    assert streams[1].getvalue().endswith("\r")


def test_progress_fits_a_narrow_screen_and_moves_no_cursor(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    streams = screens(monkeypatch)
    monkeypatch.setenv("COLUMNS", "20")
    terminal = Terminal.of_process("text")
    terminal.progress(0, 1, "\x1b[2J" + "long" * 20)
    assert streams[1].getvalue() == "1 of 1  ?[2Jlonglon"


def test_no_progress_without_a_screen(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    screens(monkeypatch)
    file = io.StringIO()
    monkeypatch.setattr(sys, "stderr", file)
    Terminal.of_process("text").progress(0, 1, "a")
    assert file.getvalue() == ""


@pytest.mark.parametrize(
    ("columns", "width"), [("40", 40), ("", 100), ("0", 100), ("-5", 100), ("wide", 100)]
)
def test_width(monkeypatch: pytest.MonkeyPatch, columns: str, width: int) -> None:
    screens(monkeypatch)
    monkeypatch.setenv("COLUMNS", columns)
    assert Terminal.of_process("text").width == width


def test_characters_that_an_encoding_lacks_have_stand_ins(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding="ascii"))
    Terminal.of_process("text").print("│ ── 4 × M6, 9 N·m ±10 %… für \udcff")
    assert raw.getvalue() == b"| ^^ 4 x M6, 9 N.m +-10 %... f?r ?\n"


class Closed(Screen):
    """A stream whose reader has gone."""

    def write(self, text: str) -> int:
        raise BrokenPipeError

    def fileno(self) -> int:
        raise OSError


def test_readers_that_have_gone(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    screens(monkeypatch)
    monkeypatch.setattr(sys, "stdout", Closed())
    monkeypatch.setattr(sys, "stderr", Closed())
    terminal = Terminal.of_process("text")
    terminal.progress(0, 2, "a")
    terminal.print("one")
    terminal.print("two")
    terminal.say("three")
