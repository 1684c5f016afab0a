"""`watch`: a save builds again, a half-saved file leaves the output, what is mended counts."""

from __future__ import annotations

import io
import queue
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from watchdog.events import (
    DirCreatedEvent,
    DirModifiedEvent,
    DirMovedEvent,
    FileClosedNoWriteEvent,
    FileCreatedEvent,
    FileMovedEvent,
    FileSystemEvent,
)

from cli.cli_support import broken, clean, put
from compiler.terminal import Terminal
from compiler.watching import _Listener, watch_folder

PATIENCE = 60.0
"""Seconds after which something is taken never to come; nothing waits so long when all is well."""


class Heard(io.StringIO):
    """What was printed, to be waited for from another thread."""

    def wait_for(self, words: str, after: int = 0) -> int:
        """Return where the text that follows `words` begins."""
        return until(lambda: self.getvalue().find(words, after) + 1) + len(words) - 1


def until(condition: Callable[[], int]) -> int:
    """Wait for a condition and return what it gave."""
    end = time.monotonic() + PATIENCE
    while not (found := condition()):
        assert time.monotonic() < end, "it never came"
        time.sleep(0.01)
    return found


def text_of(page: Path) -> str:
    """Return what a page says; nothing in the moment when its folder is swapped."""
    try:
        return page.read_text(encoding="utf-8")
    except FileNotFoundError:
        return ""


@contextmanager
def watching(root: Path, out: Path) -> Iterator[Heard]:
    """Watch a folder from a thread; the folder is taken away at the end, which ends the watch."""
    heard = Heard()
    terminal = Terminal(heard, heard, "text", colour=False, shows_progress=False, width=100)
    codes: list[int] = []
    thread = threading.Thread(
        target=lambda: codes.append(watch_folder(root, out, "a4", False, terminal))
    )
    thread.start()
    try:
        heard.wait_for("Watching ")
        yield heard
    finally:
        root.rename(root.with_name("gone"))
        thread.join(PATIENCE)
    assert codes == [2]
    assert "there is nothing to watch" in heard.getvalue()


def test_saves_are_built_and_half_saved_files_are_not(tmp_path: Path) -> None:
    root, out = tmp_path / "steps", tmp_path / "build"
    file = put(root, "vent-cap.proc", clean())
    page = out / "site/procedures/vent-cap.html"
    with watching(root, out) as heard:
        assert "Refit the vent cap" in text_of(page)
        first, at = page.read_bytes(), len(heard.getvalue())

        file.write_text(clean()[: clean().index('"Arrow')], encoding="utf-8")
        file.write_text(broken(), encoding="utf-8")
        at = heard.wait_for("[unknown-name]", at)
        at = heard.wait_for("The output stays as it was.", at)
        assert page.read_bytes() == first

        file.write_text(clean().replace("Refit", "Put back"), encoding="utf-8")
        at = heard.wait_for("Changed: vent-cap.proc", at)
        at = heard.wait_for("Wrote ", at)
        until(lambda: "Put back the vent cap" in text_of(page))


def test_new_moved_and_lost_files_count(tmp_path: Path) -> None:
    """As many editors save: a new file beside the old one, then moved over it."""
    root, out = tmp_path / "steps", tmp_path / "steps" / "build"
    put(root, "vent-cap.proc", clean())
    with watching(root, out) as heard:
        at = len(heard.getvalue())
        put(tmp_path, "new", clean().replace("Arrow up", "Arrow down"))
        (tmp_path / "new").rename(root / "vent-cap.proc")
        at = heard.wait_for("Wrote ", heard.wait_for("Changed: vent-cap.proc", at))
        page = out / "site/procedures/vent-cap.html"
        until(lambda: "Arrow down" in text_of(page))

        put(root, "more/other.proc", clean("other"))
        until(lambda: (out / "site/procedures/other.html").exists())
        (root / "more/other.proc").unlink()
        until(lambda: not (out / "site/procedures/other.html").exists())


@pytest.mark.parametrize("out", [".", "steps", "steps/build", "steps/deep/build"])
def test_the_output_may_lie_around_or_inside_the_source(tmp_path: Path, out: str) -> None:
    """Each save is built, and what is written sets off no build of its own."""
    root = tmp_path / "steps"
    file = put(root, "vent-cap.proc", clean())
    with watching(root, tmp_path / out) as heard:
        file.write_text(clean().replace("Refit", "Put back"), encoding="utf-8")
        page = tmp_path / out / "site/procedures/vent-cap.html"
        until(lambda: "Put back the vent cap" in text_of(page))
        put(root, "sub/other.proc", clean("other"))
        until(lambda: page.with_name("other.html").exists())
        told = re.findall(r"Changed: (.*)", heard.getvalue())
        names = {name for line in told for name in line.split(", ")}
        assert names <= {"vent-cap.proc", "sub", "sub/other.proc", "deep"}


def test_folders_over_links_are_watched(tmp_path: Path) -> None:
    root, out = tmp_path / "steps", tmp_path / "build"
    file = put(tmp_path, "elsewhere/vent-cap.proc", clean())
    root.mkdir()
    (root / "linked").symlink_to(tmp_path / "elsewhere")
    with watching(root, out):
        file.write_text(clean().replace("Refit", "Put back"), encoding="utf-8")
        page = out / "site/procedures/vent-cap.html"
        until(lambda: "Put back the vent cap" in text_of(page))


def test_a_folder_without_a_file_is_waited_in(tmp_path: Path) -> None:
    root, out = tmp_path / "steps", tmp_path / "build"
    root.mkdir()
    with watching(root, out) as heard:
        assert "There is no .proc file in" in heard.getvalue()
        put(root, "vent-cap.proc", clean())
        until(lambda: (out / "site/procedures/vent-cap.html").exists())


def test_an_output_that_is_refused_does_not_end_the_watch(tmp_path: Path) -> None:
    root, out = tmp_path / "steps", tmp_path / "build"
    file = put(root, "vent-cap.proc", clean())
    theirs = put(out, "site/theirs.txt", "precious")
    with watching(root, out) as heard:
        assert "theirs.txt was not made by this tool" in heard.getvalue()
        theirs.unlink()
        file.write_text(clean() + "\n", encoding="utf-8")
        until(lambda: (out / "site/procedures/vent-cap.html").exists())


def test_the_command_stops_by_hand(tmp_path: Path) -> None:
    put(tmp_path, "steps/vent-cap.proc", clean())
    words = ("watch", "steps", "--out", "out", "--no-sheets")
    watch = subprocess.Popen(
        [sys.executable, "-m", "compiler.cli", *words], cwd=tmp_path,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        # Tests that run in the background are deaf to Ctrl-C, and so would be what they start.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )  # fmt: skip
    assert watch.stdout is not None
    assert watch.stderr is not None
    try:
        lines: list[str] = []
        while not lines or not lines[-1].startswith("Watching "):
            line = watch.stdout.readline().decode()
            assert line, watch.stderr.read().decode()
            lines.append(line)
        watch.send_signal(signal.SIGINT)
        out, err = watch.communicate(timeout=PATIENCE)
    finally:
        watch.kill()
        watch.wait()
    assert lines[0] == "Nothing found: all is well.\n"
    assert (watch.returncode, out, err) == (0, b"Stopped watching.\n", b"")
    assert (tmp_path / "out/site/index.html").is_file()


@pytest.mark.parametrize(
    ("event", "counts"),
    [
        (FileCreatedEvent("a.proc"), True),
        (FileCreatedEvent("sub/B.PROC"), True),
        (FileCreatedEvent("sub/pump.svg"), True),
        (FileCreatedEvent("sub/seal.mp4"), True),
        (FileMovedEvent("a.proc~", "a.proc"), True),
        (FileMovedEvent("a.proc", "../elsewhere"), True),
        (DirMovedEvent("sub", "other"), True),
        (FileCreatedEvent("notes.txt"), False),
        (FileCreatedEvent(".a.proc.swp"), False),
        (DirCreatedEvent(".git"), False),
        (DirCreatedEvent("build"), False),
        (DirCreatedEvent("sub"), True),
        (FileClosedNoWriteEvent("a.proc"), False),
        (DirModifiedEvent("sub"), False),
    ],
    ids=repr,
)
def test_what_counts_as_a_change(tmp_path: Path, event: FileSystemEvent, counts: bool) -> None:
    event.src_path = str(tmp_path / str(event.src_path))
    event.dest_path = str(tmp_path / str(event.dest_path)) if event.dest_path else ""
    events: queue.Queue[Path] = queue.Queue()
    _Listener(tmp_path / "build", events).dispatch(event)
    assert (not events.empty()) is counts
