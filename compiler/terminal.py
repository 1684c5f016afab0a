"""What is printed and where: answers to standard output, progress to a screen."""

from __future__ import annotations

import codecs
import os
import sys
from dataclasses import dataclass
from typing import Literal, TextIO

_USUAL_WIDTH = 100

_STAND_INS = {
    "│": "|", "─": "^", "…": "...", "×": "x", "±": "+-", "·": ".", "–": "-", "—": "-", "−": "-",
    "‑": "-", "→": "->", "°": "deg", "Ø": "dia. ", "µ": "u", "≤": "<=", "≥": ">=", "½": "1/2",
    "¼": "1/4", "¾": "3/4", "“": '"', "”": '"', "‘": "'", "’": "'", "\N{NO-BREAK SPACE}": " ",
    "\N{NARROW NO-BREAK SPACE}": " ", "²": "2", "³": "3", "π": "pi", "Ω": "ohm",
}  # fmt: skip
"""How characters of the trade are written where a terminal has no more than the keyboard's."""


class AnswerLost(Exception):
    """What was found out cannot be told: the disk behind the answer is full, say."""


@dataclass(slots=True)
class Terminal:
    """The two streams and what they can bear.

    `width` is in columns of the screen that answers go to, `progress_width` of the other one.
    A reader that goes away (`| head`) ends the printing and not the work.
    """

    out: TextIO
    err: TextIO
    format: Literal["text", "json"]
    colour: bool
    shows_progress: bool
    width: int
    progress_width: int = _USUAL_WIDTH
    _progress_length: int = 0
    _gone: bool = False

    @classmethod
    def of_process(cls, format: str) -> Terminal:
        """Return the process's own. Colour needs a screen and no NO_COLOR; printing never fails."""
        for stream in (sys.stdout, sys.stderr):
            reconfigure = getattr(stream, "reconfigure", None)
            if reconfigure:
                reconfigure(errors=_STAND_IN)
        return cls(
            out=sys.stdout,
            err=sys.stderr,
            format="json" if format == "json" else "text",
            colour=sys.stdout.isatty() and not os.environ.get("NO_COLOR") and _term_is_able(),
            shows_progress=sys.stderr.isatty() and _term_is_able(),
            width=_columns_of(sys.stdout),
            progress_width=_columns_of(sys.stderr),
        )

    def print(self, text: str = "") -> None:
        """Print an answer. Raises `AnswerLost` when it cannot be written."""
        self._clear_progress()
        if self._gone:
            return
        try:
            self.out.write(text + "\n")
            self.out.flush()
        except BrokenPipeError:
            self._gone = True
            _silence(self.out)
        except OSError as error:
            _silence(self.out)
            reason = (error.strerror or type(error).__name__).lower()
            raise AnswerLost(f"The answer cannot be written: {reason}.") from error

    def say(self, text: str) -> None:
        """Print something beside the answer, to standard error."""
        self._clear_progress()
        self._beside(text + "\n")

    def progress(self, done: int, total: int, what: str) -> None:
        """Show how far a long work is, on one line that is overwritten; only on a screen."""
        if not self.shows_progress:
            return
        self._clear_progress()
        if done < total:
            count = f"{done + 1:>{len(str(total))}} of {total}  "
            # A control character in the name of a file must not move the cursor.
            name = "".join(c if c.isprintable() else "?" for c in what)
            line = (count + name)[: self.progress_width - 1]
            self._beside(line)
            self._progress_length = len(line)

    def _clear_progress(self) -> None:
        if self._progress_length:
            self._beside("\r" + " " * self._progress_length + "\r")
            self._progress_length = 0

    def _beside(self, text: str) -> None:
        try:
            self.err.write(text)
            self.err.flush()
        except BrokenPipeError:
            _silence(self.err)


def _silence(stream: TextIO) -> None:
    """Let what is still in the stream go nowhere, or Python complains of it at the very end."""
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
    except OSError:
        return


def _columns_of(stream: TextIO) -> int:
    """Return how wide the stream's screen is; COLUMNS, where it is set, knows better."""
    given = os.environ.get("COLUMNS", "")
    if given.isdecimal() and 0 < int(given) < 10_000:
        return int(given)
    try:
        return os.get_terminal_size(stream.fileno()).columns or _USUAL_WIDTH
    except (OSError, ValueError, AttributeError):
        return _USUAL_WIDTH


def _term_is_able() -> bool:
    return os.environ.get("TERM", "") != "dumb"


def _stand_in(error: UnicodeError) -> tuple[str | bytes, int]:
    """Write what the stream's encoding lacks with what it has."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(_STAND_INS.get(character, "?") for character in lacking), error.end


_STAND_IN = "witnessmark-stand-in"
codecs.register_error(_STAND_IN, _stand_in)
