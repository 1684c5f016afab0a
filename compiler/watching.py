"""Building again at every save, until it is stopped.

Events are gathered until the folder has been quiet for a moment, since one save is several events
and editors save in several moves. A half-saved or broken file gives findings and leaves the last
good output in place. Only what changed is made anew: unchanged files are not parsed again and
unchanged outputs are kept (`emit/write.py`).
"""

from __future__ import annotations

import queue
import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

# This module is loaded by the command `watch` alone, so nothing else waits for the library.
from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from compiler.pipeline import Parser

if TYPE_CHECKING:
    from compiler.terminal import Terminal

QUIET_SECONDS = 0.05
"""How long the folder must be quiet before a build: a save is several events."""

_LOOK_SECONDS = 0.5
_MOST_NAMES = 5
_SHOWN_ENDINGS = frozenset(
    {".svg", ".png", ".jpg", ".jpeg", ".mp4", ".webm", ".m4v", ".mov", ".ogv"}
)


@dataclass(frozen=True, slots=True)
class _Order:
    """What is built from where to where."""

    root: Path
    out: Path
    paper: str
    sheets: bool


def watch_folder(root: Path, out: Path, paper: str, sheets: bool, terminal: Terminal) -> int:
    """Build `root` into `out` now and after every save.

    Returns 0 when it is interrupted, and 2 when the folder is taken away.
    """
    order = _Order(root, out, paper, sheets)
    events: queue.Queue[Path] = queue.Queue()
    observer = Observer()
    observer.schedule(_Listener(root, out, events), str(root), recursive=True)
    observer.start()
    parse = Parser()
    try:
        _rebuild(order, parse, terminal)
        terminal.print(f"Watching {root.absolute()}. Stop with Ctrl-C.")
        while root.is_dir():
            changed = _next_changes(events)
            if changed:
                terminal.print(f"\nChanged: {_names(root, changed)}")
                _rebuild(order, parse, terminal)
        terminal.say(f"{root} is gone, so there is nothing to watch. The output stays as it was.")
    except KeyboardInterrupt:
        terminal.print("Stopped watching.")
        return 0
    finally:
        observer.stop()
        observer.join()
    return 2


def _next_changes(events: queue.Queue[Path]) -> tuple[Path, ...]:
    """Wait for changes and return the changed paths once it is quiet; () now and then."""
    try:
        changed = {events.get(timeout=_LOOK_SECONDS)}
    except queue.Empty:
        return ()
    while True:
        try:
            changed.add(events.get(timeout=QUIET_SECONDS))
        except queue.Empty:
            return tuple(sorted(changed))


def _names(root: Path, changed: tuple[Path, ...]) -> str:
    """Return the changed files as they are called in the folder, and how many more there are."""
    top = root.absolute()
    shown = [
        (path.relative_to(top) if path.is_relative_to(top) else path).as_posix()
        for path in changed[:_MOST_NAMES]
    ]
    more = len(changed) - len(shown)
    return ", ".join(shown) + (f" and {more} more" if more else "")


def _rebuild(order: _Order, parse: Parser, terminal: Terminal) -> None:
    from compiler.emit import output_jobs
    from compiler.emit.write import OutputRefused, write_outputs
    from compiler.reporting import check_folder, report

    began = time.monotonic()
    checked = check_folder(order.root, terminal, parse)
    if checked.is_empty:
        terminal.say(f"There is no .proc file in {order.root} yet.")
        return
    if report(checked.findings, checked.sources.get, terminal):
        terminal.print("The output stays as it was.")
        return
    jobs = output_jobs(
        checked.compiled.library(), checked.folder.picture_bytes, order.paper, order.sheets
    )
    try:
        written = write_outputs(order.out, jobs, terminal.progress)
    except OutputRefused as refused:
        terminal.say(str(refused))
        return
    seconds = time.monotonic() - began
    terminal.print(
        f"Wrote {written.made} files, kept {written.kept} as they were, in {seconds:.1f} s."
    )


class _Listener(FileSystemEventHandler):
    """Puts the paths of saves that matter on a queue: sources and pictures, never our output."""

    def __init__(self, root: Path, out: Path, events: queue.Queue[Path]) -> None:
        # What the observer tells begins with the folder as it was given to it.
        self._root = root.absolute()
        self._out = out.absolute()
        self._events = events

    def dispatch(self, event: FileSystemEvent) -> None:
        """Take one event from the observer's thread."""
        if event.event_type in ("opened", "closed_no_write"):
            return
        if event.is_directory and event.event_type == "modified":
            return  # something in it came or went, and that is told by an event of its own
        for raw in (event.src_path, event.dest_path):
            if raw:
                path = Path(raw if isinstance(raw, str) else bytes(raw).decode(errors="replace"))
                if self._matters(path.absolute(), event.is_directory):
                    self._events.put(path.absolute())

    def _matters(self, path: Path, is_directory: bool) -> bool:
        if path == self._out or self._out in path.parents or not path.is_relative_to(self._root):
            return False
        if any(part.startswith(".") for part in path.relative_to(self._root).parts):
            return False
        suffix = path.suffix.lower()
        return is_directory or suffix == ".proc" or suffix in _SHOWN_ENDINGS
