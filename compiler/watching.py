"""Building again at every save, until it is stopped.

Events are gathered until the folder has been quiet for a moment, since one save is several events
and editors save in several moves. A half-saved or broken file gives findings and leaves the last
good output in place. Only what changed is made anew: unchanged files are not parsed again and
unchanged outputs are kept (`emit/write.py`).
"""

from __future__ import annotations

import queue
import time
from pathlib import Path
from typing import TYPE_CHECKING

# This module is loaded by the command `watch` alone, so nothing else waits for the library.
from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from compiler.pipeline import Compiled, Parser, compile_sources

if TYPE_CHECKING:
    from compiler.terminal import Terminal

QUIET_SECONDS = 0.05
"""How long the folder must be quiet before a build: a save is several events."""

_LOOK_SECONDS = 0.5
_PICTURE_ENDINGS = {".svg", ".png", ".jpg", ".jpeg"}


def watch_folder(root: Path, out: Path, paper: str, sheets: bool, terminal: Terminal) -> int:
    """Build `root` into `out` now and after every save. Returns when interrupted, with 0."""
    events: queue.Queue[Path] = queue.Queue()
    observer = Observer()
    observer.schedule(_Listener(root, out, events), str(root), recursive=True)
    observer.start()
    parse = Parser()
    try:
        _rebuild(root, out, paper, sheets, parse, terminal, ())
        terminal.print(f"Watching {root}. Stop with Ctrl-C.")
        while observer.is_alive():
            changed = _next_changes(events)
            if changed:
                _rebuild(root, out, paper, sheets, parse, terminal, changed)
    except KeyboardInterrupt:
        terminal.print("Stopped watching.")
    finally:
        observer.stop()
        observer.join()
    return 0


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


def _rebuild(
    root: Path,
    out: Path,
    paper: str,
    sheets: bool,
    parse: Parser,
    terminal: Terminal,
    changed: tuple[Path, ...],
) -> None:
    from compiler.emit import output_jobs
    from compiler.emit.write import OutputRefused, write_outputs
    from compiler.load import load_folder
    from compiler.reporting import report

    began = time.monotonic()
    if changed:
        terminal.print("Saved: " + ", ".join(path.name for path in changed))
    if not root.is_dir():
        terminal.say(f"{root} is gone; waiting for it to come back.")
        return
    folder = load_folder(root)
    compiled: Compiled = compile_sources(folder.sources, folder.probe, parse)
    if report((*folder.findings, *compiled.findings), compiled.sources.get, terminal):
        terminal.print("The output stays as it was.")
        return
    jobs = output_jobs(compiled.library(), folder.picture_bytes, paper, sheets=sheets)
    try:
        written = write_outputs(out, jobs, terminal.progress)
    except OutputRefused as refused:
        terminal.say(str(refused))
        return
    seconds = time.monotonic() - began
    terminal.print(f"Wrote {written.made} files, kept {written.kept}, in {seconds:.1f} s.")


class _Listener(FileSystemEventHandler):
    """Puts the paths of saves that matter on a queue: sources and pictures, never our output."""

    def __init__(self, root: Path, out: Path, events: queue.Queue[Path]) -> None:
        self._root = root.resolve()
        self._out = out.resolve()
        self._events = events

    def dispatch(self, event: FileSystemEvent) -> None:
        """Take one event from the observer's thread."""
        if event.event_type in ("opened", "closed_no_write"):
            return
        for raw in (event.src_path, event.dest_path):
            if raw:
                path = Path(raw if isinstance(raw, str) else bytes(raw).decode(errors="replace"))
                if self._matters(path, event.is_directory):
                    self._events.put(path)

    def _matters(self, path: Path, is_directory: bool) -> bool:
        resolved = path if path.is_absolute() else path.resolve()
        if resolved == self._out or self._out in resolved.parents:
            return False
        if is_directory:
            return resolved != self._root
        return path.suffix == ".proc" or path.suffix.lower() in _PICTURE_ENDINGS
