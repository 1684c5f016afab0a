"""What is printed and where: answers to standard output, progress to a screen."""

from __future__ import annotations

import os
import shutil
import sys
from dataclasses import dataclass
from typing import Literal, TextIO


@dataclass(slots=True)
class Terminal:
    """The two streams and what they can bear."""

    out: TextIO
    err: TextIO
    format: Literal["text", "json"]
    colour: bool
    shows_progress: bool
    width: int
    _progress_length: int = 0

    @classmethod
    def of_process(cls, format: str) -> Terminal:
        """Return the process's own. Colour needs a screen and no NO_COLOR; printing never fails."""
        for stream in (sys.stdout, sys.stderr):
            reconfigure = getattr(stream, "reconfigure", None)
            if reconfigure:
                reconfigure(errors="replace")
        return cls(
            out=sys.stdout,
            err=sys.stderr,
            format="json" if format == "json" else "text",
            colour=sys.stdout.isatty() and not os.environ.get("NO_COLOR") and _term_is_able(),
            shows_progress=sys.stderr.isatty() and _term_is_able(),
            width=shutil.get_terminal_size((100, 24)).columns,
        )

    def print(self, text: str = "") -> None:
        """Print an answer."""
        self._clear_progress()
        self.out.write(text + "\n")
        self.out.flush()

    def say(self, text: str) -> None:
        """Print something beside the answer, to standard error."""
        self._clear_progress()
        self.err.write(text + "\n")
        self.err.flush()

    def progress(self, done: int, total: int, what: str) -> None:
        """Show how far a long work is, on one line that is overwritten; only on a screen."""
        if not self.shows_progress:
            return
        self._clear_progress()
        if done < total:
            line = f"{done + 1:>{len(str(total))}} of {total}  {what}"[: self.width - 1]
            self.err.write(line)
            self._progress_length = len(line)
        self.err.flush()

    def _clear_progress(self) -> None:
        if self._progress_length:
            self.err.write("\r" + " " * self._progress_length + "\r")
            self._progress_length = 0


def _term_is_able() -> bool:
    return os.environ.get("TERM", "") != "dumb"
