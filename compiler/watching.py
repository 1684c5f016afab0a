"""Building again at every save, until it is stopped.

Events are gathered until the folder has been quiet for a moment, since one save is several events
and editors save in several moves. A half-saved or broken file gives findings and leaves the last
good output in place. Only what changed is made anew: unchanged files are not parsed again and
unchanged outputs are kept (`emit/write.py`).
"""

from __future__ import annotations

import os
import queue
import time
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

# This module is loaded by the command `watch` alone, so nothing else waits for the library.
from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from compiler.emit.record import folders_written
from compiler.exit_codes import CLEAN, WRONG_USE
from compiler.pipeline import Parser
from compiler.source import KEPT, LEDGER

if TYPE_CHECKING:
    from watchdog.observers.api import BaseObserver, ObservedWatch

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

    Returns 0 when it is interrupted, and 2 when the folder cannot be watched or is taken away.
    """
    order = _Order(root, out, paper, sheets)
    events: queue.Queue[Path] = queue.Queue()
    observer = Observer()
    watches = _Watches(observer, _Listener(out, events), root, out)
    parse = Parser()
    try:
        watches.renew(())
        observer.start()
        _rebuild(order, parse, terminal)
        terminal.print(f"Watching {root.absolute()}. Stop with Ctrl-C.")
        while root.is_dir():
            changed = _next_changes(events)
            if changed:
                terminal.print(f"\nChanged: {_names(root, changed)}")
                watches.renew(changed)
                _rebuild(order, parse, terminal)
        terminal.say(f"{root} is gone, so there is nothing to watch. The output stays as it was.")
    except KeyboardInterrupt:
        terminal.print("Stopped watching.")
        return CLEAN
    except _CannotWatch as refused:
        terminal.say(str(refused))
    finally:
        observer.stop()
        if observer.is_alive():
            observer.join()
    return WRONG_USE


class _CannotWatch(Exception):
    """The system will not tell of changes; the message says why."""


class _Watches:
    """One watch for each folder that is read, and none for what is written.

    A single watch over the whole tree would also follow the folders of a build as they come, move
    and go, where the output lies inside the source.
    """

    def __init__(
        self, observer: BaseObserver, listener: FileSystemEventHandler, root: Path, out: Path
    ) -> None:
        self._observer = observer
        self._listener = listener
        self._root = root.resolve()
        self._out = out.resolve()
        self._watched: dict[Path, ObservedWatch] = {}

    def renew(self, changed: Collection[Path]) -> None:
        """Watch the folders that are there now; those that came, went or moved are watched anew."""
        wanted = dict.fromkeys(self._folders())
        for path in list(self._watched):
            if path not in wanted or any(path == c or c in path.parents for c in changed):
                self._observer.unschedule(self._watched.pop(path))
        for path in wanted:
            if path not in self._watched:
                self._watch(path)

    def _watch(self, path: Path) -> None:
        try:
            self._watched[path] = self._observer.schedule(self._listener, str(path))
        except OSError as error:
            if path.is_dir():  # otherwise it has gone meanwhile, and its parent tells of that
                reason = (error.strerror or type(error).__name__).lower()
                raise _CannotWatch(f"{path} cannot be watched: {reason}.") from error

    def _folders(self) -> Iterator[Path]:
        """Yield the folders that are read, those over links too, each once."""
        seen: set[tuple[int, int]] = set()
        for place, below, _ in os.walk(self._root, followlinks=True):
            there = Path(place)
            try:
                status = there.stat()
            except OSError:
                below.clear()
                continue
            if (status.st_dev, status.st_ino) in seen or there == self._out != self._root:
                below.clear()
                continue
            seen.add((status.st_dev, status.st_ino))
            written = folders_written(there)
            below[:] = sorted(n for n in below if not n.startswith(".") and n not in written)
            # The observer does not follow links, so it gets the place that they lead to.
            yield there.resolve()


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
    top = root.resolve()
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
    library, pictures = checked.compiled.library(), checked.folder.picture_bytes
    try:
        jobs = output_jobs(library, pictures, order.paper, order.sheets)
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

    def __init__(self, out: Path, events: queue.Queue[Path]) -> None:
        self._out = out.resolve()
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
                if self._matters(path, event.is_directory):
                    self._events.put(path)

    def _matters(self, path: Path, is_directory: bool) -> bool:
        # Folders that are written are not watched; that one comes or goes is told all the same.
        if path.name.startswith("."):
            return False
        if is_directory:
            return path != self._out and path.name not in folders_written(path.parent)
        suffix = path.suffix.lower()
        return suffix == ".proc" or suffix in _SHOWN_ENDINGS or path.name in (LEDGER, KEPT)
