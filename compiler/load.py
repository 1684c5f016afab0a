"""Reads a folder of procedures from the disk: its texts, and what is known of its pictures.

Nothing is trusted: a file may be too big, no text at all, gone by now, or a picture that would run
a script in the reader's browser. Each such fault is a finding or a reason, never an exception.
"""

from __future__ import annotations

import difflib
import os
import re
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from compiler.findings.model import Finding
from compiler.pictures import picture_problem
from compiler.source import KEPT, LEDGER, MOST_BYTES, SourceFile, Span

MOST_PICTURE_BYTES = 25_000_000
MOST_KEPT_BYTES = 8 * MOST_BYTES
"""Two issues of a procedure are some 3 000 bytes, so that is enough for 5 000 procedures."""

MOST_FILES = 5_000
MOST_DEPTH = 12

_PICTURES = {".svg": "svg", ".png": "png", ".jpg": "jpeg", ".jpeg": "jpeg"}
_LINE_END = re.compile(rb"\r\n|\r|\n")
_CLIPS = frozenset({".mp4", ".webm", ".m4v", ".mov", ".ogv"})


@dataclass(frozen=True, slots=True)
class PictureInfo:
    """What is known of a picture or clip; `resolve/pictures.py` says what the fields mean."""

    kind: str
    size: int = 0
    problem: str = ""
    near: str = ""


@dataclass(frozen=True)
class Folder:
    """A folder that was read: the texts in the order of their paths, and what could not be read.

    `ledger` is the list of what was issued, `kept` what is kept of the latest issues, where there
    are such files.
    """

    root: Path
    sources: tuple[SourceFile, ...]
    findings: tuple[Finding, ...]
    pictures: tuple[str, ...] = ()
    ledger: SourceFile | None = None
    kept: SourceFile | None = None
    _looked: dict[str, PictureInfo] = field(default_factory=dict)

    @property
    def everything(self) -> tuple[SourceFile, ...]:
        """Return all texts to be compiled: those of the author, and what is known of issues."""
        issued = (one for one in (self.ledger, self.kept) if one is not None)
        return (*self.sources, *issued)

    def probe(self, path: str) -> PictureInfo:
        """Tell of the picture or clip at `path`, relative to the folder."""
        if path not in self._looked:
            self._looked[path] = self._look(path)
        return self._looked[path]

    @property
    def picture_bytes(self) -> Mapping[str, bytes]:
        """The bytes of the pictures that were asked for and can be shown, by path.

        The rest of the folder is nobody's business: nothing of it is copied into the output.
        """
        shown = (path for path in self.pictures if path in self._looked)
        return _PictureBytes(
            self.root, tuple(path for path in shown if not self._looked[path].problem)
        )

    def _look(self, path: str) -> PictureInfo:
        if path.startswith(("..", "/")) or ":" in path.split("/")[0]:
            return PictureInfo("other", problem="it lies outside of the folder that is compiled")
        if path not in self.pictures:
            return self._absent(path)
        if _leads_out(self.root, path):
            return PictureInfo("other", problem="it is a link that leads out of the folder")
        suffix = PurePosixPath(path).suffix.lower()
        try:
            size = (self.root / path).stat().st_size
            if suffix in _CLIPS:
                return PictureInfo("clip", size, "" if size else "the file is empty")
            if size > MOST_PICTURE_BYTES:
                limit = MOST_PICTURE_BYTES // 1_000_000
                return PictureInfo(_PICTURES[suffix], size, f"it is bigger than {limit} MB")
            data = (self.root / path).read_bytes()
        except OSError as error:
            return PictureInfo("other", problem=_because(error))
        return PictureInfo(_PICTURES[suffix], size, picture_problem(_PICTURES[suffix], data))

    def _absent(self, path: str) -> PictureInfo:
        """Return what to say of a file that is not among the pictures."""
        if (self.root / path).is_file():
            return PictureInfo("other", problem="only SVG, PNG and JPEG files can be shown")
        same_name = [p for p in self.pictures if PurePosixPath(p).stem == PurePosixPath(path).stem]
        near = same_name or difflib.get_close_matches(path, self.pictures, n=1)
        return PictureInfo("missing", near=near[0] if near else "")


def _leads_out(root: Path, path: str) -> bool:
    """Return whether a path below the folder is, or goes over, a link to somewhere else."""
    return not (root / path).resolve().is_relative_to(root.resolve())


class _PictureBytes(Mapping[str, bytes]):
    """Reads a picture when it is wanted. Raises `OSError` when it has gone since it was probed."""

    def __init__(self, root: Path, paths: tuple[str, ...]) -> None:
        self._root = root
        self._paths = paths

    def __getitem__(self, path: str) -> bytes:
        # What is shown is copied into the output: never a file that the folder does not hold.
        if path not in self._paths or _leads_out(self._root, path):
            raise KeyError(path)
        return (self._root / path).read_bytes()

    def __iter__(self) -> Iterator[str]:
        return iter(self._paths)

    def __len__(self) -> int:
        return len(self._paths)


def load_folder(
    root: Path, leave_out: Callable[[Path], Collection[str]] = lambda folder: ()
) -> Folder:
    """Read every `*.proc` file below `root`, in the order of their paths.

    Hidden folders are left out; a folder reached twice over links is read once. `leave_out` names
    what is to be left out of a folder: what was written to it by an earlier build, for one.
    """
    sources: list[SourceFile] = []
    findings: list[Finding] = []
    pictures: list[str] = []
    for path in sorted(_files(root, leave_out, findings)):
        suffix = PurePosixPath(path).suffix.lower()
        if suffix == ".proc":
            if len(sources) == MOST_FILES:
                findings.append(_not_readable(path, f"a folder may hold {MOST_FILES} files"))
                break
            source = _read(root / path, path, findings, MOST_BYTES)
            if source is not None:
                sources.append(source)
        elif suffix in _PICTURES or suffix in _CLIPS:
            pictures.append(path)
    ledger = _read_beside(root, LEDGER, findings, MOST_BYTES)
    kept = _read_beside(root, KEPT, findings, MOST_KEPT_BYTES)
    return Folder(root, tuple(sources), tuple(findings), tuple(pictures), ledger, kept)


def _read_beside(root: Path, name: str, findings: list[Finding], most: int) -> SourceFile | None:
    """Return the text of a file that need not be there."""
    return _read(root / name, name, findings, most) if os.path.lexists(root / name) else None


def project_of(file: Path) -> Path:
    """Return the folder a file belongs to: the nearest one above with a shop file, or its own."""
    own = file.parent
    for folder in (own, *list(own.absolute().parents)[:4]):
        try:
            names = sorted(p for p in folder.iterdir() if p.suffix == ".proc" and p.is_file())
        except OSError:
            break
        if any(_starts_as_shop(p) for p in names):
            return folder
    return own


def _starts_as_shop(path: Path) -> bool:
    """Return whether the first word of a file is `shop`."""
    try:
        with path.open("rb") as file:
            head = file.read(4096)
    except OSError:
        return False
    for line in head.removeprefix(b"\xef\xbb\xbf").splitlines():
        words = line.split(b"#")[0].split()
        if words:
            return words[0] == b"shop"
    return False


def _files(
    root: Path, leave_out: Callable[[Path], Collection[str]], findings: list[Finding]
) -> Iterator[str]:
    """Yield the paths of all files below `root`, relative to it."""
    seen: set[tuple[int, int]] = set()
    waiting = [("", 0)]
    while waiting:
        folder, depth = waiting.pop()
        try:
            there = (root / folder).stat()
            if (there.st_dev, there.st_ino) in seen:
                continue
            seen.add((there.st_dev, there.st_ino))
            entries = sorted(os.scandir(root / folder), key=lambda entry: entry.name)
        except OSError as error:
            findings.append(_not_readable(folder or ".", _because(error)))
            continue
        unwanted = leave_out(root / folder)
        for entry in entries:
            path = f"{folder}/{entry.name}" if folder else entry.name
            if entry.name.startswith(".") or entry.name in unwanted:
                continue
            if not entry.is_dir():
                yield path
            elif depth < MOST_DEPTH:
                waiting.append((path, depth + 1))
            else:
                findings.append(_not_readable(path, f"it lies more than {MOST_DEPTH} folders deep"))


def _read(file: Path, path: str, findings: list[Finding], most: int) -> SourceFile | None:
    """Return the text of one file of at most so many bytes, or None and a finding."""
    try:
        if not file.is_file():
            nowhere = file.is_symlink() and not file.exists()
            reason = "it is a link that leads nowhere" if nowhere else "it is no ordinary file"
            findings.append(_not_readable(path, reason))
            return None
        with file.open("rb") as stream:
            data = stream.read(most + 1)
    except OSError as error:
        findings.append(_not_readable(path, _because(error)))
        return None
    if len(data) > most:
        limit = most // (1024 * 1024)
        hint = ""
        if path.endswith(".proc"):
            hint = "Split it: one procedure can `follow` another."
        findings.append(_at_start("file-too-large", path, f"it is bigger than {limit} MB", hint))
        return None
    try:
        return SourceFile(path, data.removeprefix(b"\xef\xbb\xbf").decode("utf-8"))
    except UnicodeDecodeError as error:
        line = len(_LINE_END.findall(data, 0, error.start)) + 1
        reason = f"line {line} holds a character that is not written in UTF-8"
        if data.startswith((b"\xff\xfe", b"\xfe\xff")):
            reason = "it was saved as UTF-16"
        findings.append(_at_start("not-text", path, reason, "Save it as UTF-8 in your editor."))
        return None


def _not_readable(path: str, reason: str) -> Finding:
    return _at_start("not-readable", path, reason)


def _at_start(rule: str, path: str, reason: str, hint: str = "") -> Finding:
    """Return a finding about a file as a whole."""
    return Finding(
        rule=rule,
        span=Span(path, 0, 0),
        message=f"{path} cannot be read: {reason}.",
        hint=hint or "Mend it, or move it out of the folder.",
    )


def _because(error: OSError) -> str:
    return (error.strerror or type(error).__name__).lower()
