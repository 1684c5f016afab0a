"""Writing the output: each folder is replaced whole or not at all, and unchanged files are kept.

The record `.witnessmark.json` in the output folder names what this tool wrote. A folder with one of
our names that is not in the record belongs to somebody else and is never replaced.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from compiler.emit.job import OutputJob

RECORD = ".witnessmark.json"
_STAGE_PREFIX = ".witnessmark-new-"
_OLD_PREFIX = ".witnessmark-old-"


class OutputRefused(Exception):
    """The output folder cannot be written without harm; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What the record says of one file: the key it was made from and the digest of its bytes."""

    key: str
    sha256: str


@dataclass(frozen=True, slots=True)
class Written:
    """What a build did: how many files were made anew and how many were kept."""

    made: int
    kept: int


def write_outputs(
    out: Path,
    jobs: Iterable[OutputJob],
    progress: Callable[[int, int, str], None] = lambda done, total, path: None,
) -> Written:
    """Bring the folders of `out` to exactly the files of `jobs`.

    All files are made in a stage beside the old ones first; only when every one succeeded are the
    folders swapped, so a failure or a full disk leaves the last good output in place.

    Raises `OutputRefused` when a folder is not ours or the disk cannot take the files.
    """
    todo = sorted(jobs, key=lambda job: job.path)
    try:
        out.mkdir(parents=True, exist_ok=True)
        _restore_interrupted(out)
        before = _read_record(out)
        folders = sorted({job.path.split("/", 1)[0] for job in todo})
        _refuse_foreign(out, folders, before)
        stage = Path(tempfile.mkdtemp(prefix=_STAGE_PREFIX, dir=out))
    except OSError as error:
        raise OutputRefused(f"{out}: {error.strerror or error}") from error
    try:
        record, written = _fill(stage, out, todo, before, progress)
        # The record goes first: if this is killed in between, a file that differs from its record
        # is made anew, while a folder without a record would be taken for somebody else's.
        _write_record(out, record)
        _swap(out, stage, sorted(set(folders) | _recorded_folders(before)))
    except OSError as error:
        raise OutputRefused(f"{out}: {error.strerror or error}") from error
    finally:
        shutil.rmtree(stage, ignore_errors=True)
    return written


def _fill(
    stage: Path,
    out: Path,
    todo: list[OutputJob],
    before: Mapping[str, Kept],
    progress: Callable[[int, int, str], None],
) -> tuple[dict[str, Kept], Written]:
    record: dict[str, Kept] = {}
    made = 0
    for done, job in enumerate(todo):
        progress(done, len(todo), job.path)
        target = stage / job.path
        target.parent.mkdir(parents=True, exist_ok=True)
        old = before.get(job.path)
        if old and old.key == job.key and _link_unchanged(out / job.path, target, old.sha256):
            record[job.path] = old
            continue
        data = job.make()
        target.write_bytes(data)
        record[job.path] = Kept(job.key, hashlib.sha256(data).hexdigest())
        made += 1
    progress(len(todo), len(todo), "")
    return record, Written(made, len(todo) - made)


def _link_unchanged(old: Path, new: Path, sha256: str) -> bool:
    """Take over the file of the last build if nobody has changed it since."""
    try:
        if hashlib.sha256(old.read_bytes()).hexdigest() != sha256:
            return False
        try:
            os.link(old, new)
        except OSError:
            shutil.copyfile(old, new)
    except OSError:
        return False
    return True


def _swap(out: Path, stage: Path, folders: list[str]) -> None:
    for name in folders:
        current, old, new = out / name, out / f"{_OLD_PREFIX}{name}", stage / name
        if current.exists():
            current.rename(old)
        if new.exists():
            new.rename(current)
        shutil.rmtree(old, ignore_errors=True)


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


def _refuse_foreign(out: Path, folders: list[str], before: Mapping[str, Kept]) -> None:
    ours = _recorded_folders(before)
    for name in folders:
        folder = out / name
        if name not in ours and folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise OutputRefused(
                f"{folder} is there already and was not made by this tool. "
                "Move it away, or choose another folder with --out."
            )


def _recorded_folders(record: Mapping[str, Kept]) -> set[str]:
    return {path.split("/", 1)[0] for path in record}


def _read_record(out: Path) -> dict[str, Kept]:
    """Return the record of the last build; a missing or damaged one counts as none."""
    try:
        raw = json.loads((out / RECORD).read_text(encoding="utf-8"))
        return {
            path: Kept(entry["key"], entry["sha256"])
            for path, entry in raw["files"].items()
            if _is_plain(path)
        }
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def _is_plain(path: str) -> bool:
    parts = path.split("/")
    return len(parts) > 1 and all(part not in ("", ".", "..") for part in parts)


def _write_record(out: Path, record: Mapping[str, Kept]) -> None:
    files = {path: {"key": k.key, "sha256": k.sha256} for path, k in sorted(record.items())}
    text = json.dumps({"files": files}, indent=1) + "\n"
    temporary = out / f"{RECORD}.new"
    temporary.write_text(text, encoding="utf-8")
    temporary.replace(out / RECORD)
