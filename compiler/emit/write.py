"""Writing the output: all folders are replaced or none, and unchanged files are kept.

What is not in the record of the folder (`record.py`) belongs to somebody else: it is never
replaced, and neither is a folder that holds it.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from compiler.emit.job import OutputJob
from compiler.emit.record import Kept, read_record, recorded_folders, write_record
from compiler.emit.workers import making

_STAGE_PREFIX = ".witnessmark-new-"
_OLD_PREFIX = ".witnessmark-old-"
_LEFT_BY_DESKTOPS = frozenset({".DS_Store", "Thumbs.db", "desktop.ini", ".directory"})


class OutputRefused(Exception):
    """The output folder cannot be written without harm; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Written:
    """What a build did: how many files were made anew, were kept, and were taken away."""

    made: int
    kept: int
    removed: int = 0


def write_outputs(
    out: Path,
    jobs: Iterable[OutputJob],
    progress: Callable[[int, int, str], None] = lambda done, total, path: None,
    workers: int = 0,
) -> Written:
    """Bring the folders of `out` to exactly the files of `jobs`.

    All files are made in a stage beside the old ones first; only when every one succeeded are the
    folders swapped, so a failure or a full disk leaves the last good output in place. Two builds
    into one folder take turns. `workers` is how many processes make the slow files, 0 for as many
    as there is work and room for.

    Raises `OutputRefused` when something in the way is not ours or the disk cannot take the files.
    """
    todo = sorted(jobs, key=lambda job: job.path)
    folders = sorted({job.path.split("/", 1)[0] for job in todo})
    _refuse_twins(todo)
    try:
        if out.exists() and not out.is_dir():
            raise OutputRefused(f"{out} is a file, not a folder. Choose another with --out.")
        out.mkdir(parents=True, exist_ok=True)
        with _turn(out):
            _restore_interrupted(out)
            before = read_record(out)
            folders = sorted(set(folders) | recorded_folders(before))
            _refuse_foreign(out, folders, before)
            stage = Path(tempfile.mkdtemp(prefix=_STAGE_PREFIX, dir=out))
            try:
                return _replace(out, stage, todo, folders, before, progress, workers)
            finally:
                _drop([stage])
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        raise OutputRefused(f"{out} cannot be written: {reason}.") from error


@contextmanager
def _turn(out: Path) -> Iterator[None]:
    """Wait until no other build writes to `out`; the system ends the turn of one that is killed."""
    if sys.platform == "win32":
        yield
        return
    import fcntl

    handle = os.open(out, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _replace(
    out: Path,
    stage: Path,
    todo: Sequence[OutputJob],
    folders: Sequence[str],
    before: Mapping[str, Kept],
    progress: Callable[[int, int, str], None],
    workers: int,
) -> Written:
    """Fill the stage, then put its folders in place of the old ones."""
    record, made = _fill(stage, out, todo, before, progress, workers)
    # While the folders change, the record names the old files and the new: if this is killed half
    # way, all of them are still known for ours, and one that differs from its digest is made anew.
    write_record(out, {**before, **record})
    _swap(out, stage, folders)
    write_record(out, record)
    return Written(made, len(todo) - made, len(before.keys() - record.keys()))


def _fill(
    stage: Path,
    out: Path,
    todo: Sequence[OutputJob],
    before: Mapping[str, Kept],
    progress: Callable[[int, int, str], None],
    workers: int,
) -> tuple[dict[str, Kept], int]:
    """Take over or make every file; return the new record, and how many were made."""
    record: dict[str, Kept] = {}
    anew: list[OutputJob] = []
    for job in todo:
        target = stage / job.path
        target.parent.mkdir(parents=True, exist_ok=True)
        old = before.get(job.path)
        if old and old.key == job.key and _link_unchanged(out / job.path, target, old.sha256):
            record[job.path] = old
        else:
            anew.append(job)
    with making(anew, workers) as made:
        for done, job in enumerate(anew, len(record)):
            progress(done, len(todo), job.path)
            data = made(job)
            (stage / job.path).write_bytes(data)
            record[job.path] = Kept(job.key, hashlib.sha256(data).hexdigest())
    progress(len(todo), len(todo), "")
    return record, len(anew)


def _link_unchanged(old: Path, new: Path, sha256: str) -> bool:
    """Take over the file of the last build if nobody has changed it since."""
    try:
        if old.is_symlink() or hashlib.sha256(old.read_bytes()).hexdigest() != sha256:
            return False
        try:
            os.link(old, new)
        except OSError:
            shutil.copyfile(old, new)
    except OSError:
        return False
    return True


def _swap(out: Path, stage: Path, folders: Sequence[str]) -> None:
    """Put the new folders in place of the old ones; when one will not move, move all back."""
    done: list[tuple[Path, Path]] = []
    try:
        for name in folders:
            current, old, new = out / name, out / f"{_OLD_PREFIX}{name}", stage / name
            for source, target in ((current, old), (new, current)):
                if source.exists():
                    source.rename(target)
                    done.append((source, target))
    except BaseException:
        for source, target in reversed(done):
            target.rename(source)
        raise
    _drop([out / f"{_OLD_PREFIX}{name}" for name in folders])


def _drop(folders: Sequence[Path]) -> None:
    """Take folders of ours away, to the end also when somebody stops the build meanwhile."""
    try:
        for folder in folders:
            shutil.rmtree(folder, ignore_errors=True)
    except KeyboardInterrupt:
        for folder in folders:
            shutil.rmtree(folder, ignore_errors=True)
        raise


def _restore_interrupted(out: Path) -> None:
    """Mend what a killed build left: put a folder back that was moved aside, drop old stages."""
    for old in out.glob(f"{_OLD_PREFIX}*"):
        current = out / old.name.removeprefix(_OLD_PREFIX)
        if current.exists():
            shutil.rmtree(old, ignore_errors=True)
        else:
            old.rename(current)
    for stage in out.glob(f"{_STAGE_PREFIX}*"):
        shutil.rmtree(stage, ignore_errors=True)


def _refuse_twins(jobs: Sequence[OutputJob]) -> None:
    """Raise when two files would be one, here or where capitals do not count."""
    first: dict[str, str] = {}
    for job in jobs:
        twin = first.setdefault(job.path.casefold(), job.path)
        if twin is not job.path:
            raise OutputRefused(
                f"{twin} and {job.path} would be the same file on many systems. "
                "Give what it is made of another name."
            )


def _refuse_foreign(out: Path, folders: Sequence[str], before: Mapping[str, Kept]) -> None:
    """Raise when replacing the folders would take something that this tool did not make."""
    for name in folders:
        folder = out / name
        if folder.is_symlink():
            raise OutputRefused(
                f"{folder} is a link to another place. Take the link away, or choose another "
                "folder with --out."
            )
        if folder.exists() and not folder.is_dir():
            raise _foreign(folder)
        for path in _files_below(folder):
            if path.relative_to(out).as_posix() not in before:
                raise _foreign(path)


def _files_below(folder: Path) -> Iterator[Path]:
    """Yield the files below `folder` in order, without what desktops leave lying about."""
    for place, below, names in os.walk(folder):
        linked = [name for name in below if (Path(place) / name).is_symlink()]
        below.sort()
        for name in sorted([*names, *linked]):
            if name not in _LEFT_BY_DESKTOPS:
                yield Path(place) / name


def _foreign(path: Path) -> OutputRefused:
    return OutputRefused(
        f"{path} was not made by this tool, and would be lost. "
        "Move it away, or choose another folder with --out."
    )
