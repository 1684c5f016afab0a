"""The answer of `witnessmark changes`: two issues of a folder, from the disk or from git."""

from __future__ import annotations

import io
import os
import subprocess
import tarfile
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Literal

from compiler.changes import Changes, LeftOut, compare_libraries
from compiler.emit.record import folders_written
from compiler.load import load_folder
from compiler.pipeline import compile_sources
from compiler.terminal import Terminal

if TYPE_CHECKING:
    from compiler.document.model import Library

NOW = "now"
"""What the folder as it is now is called, beside a git revision."""


class CannotCompare(Exception):
    """One of the two issues cannot be had; the message says why and what to try."""


def changes_answer(old: str, new: str, folder: Path, terminal: Terminal) -> Changes:
    """Return what changed from `old` to `new`: folders, or git revisions of `folder`.

    Without `new` it is the folder as it is now. Nothing is written but a temporary folder, which is
    gone again. Raises `CannotCompare`.
    """
    before, lost_before = _compiled(old, folder, "old", terminal)
    after, lost_after = _compiled(new, folder, "new", terminal)
    return compare_libraries(before, after, (old, new or NOW), (*lost_before, *lost_after))


def _compiled(
    name: str, folder: Path, side: Literal["old", "new"], terminal: Terminal
) -> tuple[Library, tuple[LeftOut, ...]]:
    with _issue(name, folder) as root:
        read = load_folder(root, folders_written)
        if not read.sources:
            raise CannotCompare(f"There is no .proc file in {name or folder}.")
        compiled = compile_sources(read.sources, read.probe, progress=terminal.progress)
        library, lost = compiled.sound_part()
    return library, tuple(LeftOut(procedure, side) for procedure in lost)


@contextmanager
def _issue(name: str, folder: Path) -> Iterator[Path]:
    """Give a folder on the disk that holds the issue; one made for a git revision goes again."""
    if name and not os.path.isdir(name):
        data = _archive(name, folder)
        with tempfile.TemporaryDirectory(prefix="witnessmark-") as place:
            _unpack(data, Path(place))
            yield Path(place)
        return
    root = Path(name) if name else folder
    if not os.path.isdir(root):
        raise CannotCompare(f"There is no folder {root}.")
    yield root


def _archive(revision: str, folder: Path) -> bytes:
    """Return the folder as it was at a git revision, as a tar file.

    The folder itself may be gone by now; so git is asked from the nearest one above that is there.
    """
    whole = Path(os.path.abspath(folder))
    here = next(place for place in (whole, *whole.parents) if os.path.isdir(place))
    top = _git(here, "rev-parse", "--show-toplevel").decode("utf-8", "surrogateescape").rstrip("\n")
    if not top:
        raise CannotCompare(
            f"There is no folder {revision}, and {folder} is not kept in git, so there are no "
            "revisions of it. Name two folders."
        )
    commit = _git(
        here, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}"
    )
    if not commit:
        raise CannotCompare(
            f"There is no folder and no git revision {revision}. `git log --oneline` lists them."
        )
    path = os.path.relpath(os.path.realpath(whole), os.path.realpath(top)).replace(os.sep, "/")
    tree = commit.decode("ascii").strip() + ("" if path == "." else f":{path}")
    data = _git(Path(top), "archive", "--format=tar", tree)
    if not data:
        raise CannotCompare(f"At {revision} there is no folder {folder}.")
    return data


def _git(place: Path, *words: str) -> bytes:
    """Return what git says, b'' when it says no. It is told to take no locks and ask nothing."""
    environment = {**os.environ, "GIT_OPTIONAL_LOCKS": "0", "GIT_TERMINAL_PROMPT": "0"}
    try:
        answer = subprocess.run(
            ["git", "-C", str(place), *words],
            capture_output=True,
            stdin=subprocess.DEVNULL,
            env=environment,
            check=False,
        )
    except FileNotFoundError as error:
        raise CannotCompare("git is not installed here. Name two folders.") from error
    except ValueError as error:  # a NUL in what was typed
        raise CannotCompare("There is no such folder or git revision.") from error
    return answer.stdout if answer.returncode == 0 else b""


def _unpack(data: bytes, place: Path) -> None:
    """Write the plain files of a tar file below a folder; links and other things stay out."""
    with tarfile.open(fileobj=io.BytesIO(data)) as archive:
        for member in archive:
            parts = PurePosixPath(member.name).parts
            content = archive.extractfile(member) if member.isreg() else None
            if content is None or not parts or ".." in parts or parts[0] == "/":
                continue
            file = place.joinpath(*parts)
            try:
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_bytes(content.read())
            except OSError as error:
                reason = (error.strerror or type(error).__name__).lower()
                raise CannotCompare(f"{file} cannot be written: {reason}.") from error
