"""Cases that cannot be kept as files of the checkout: links to nothing, pipes, big files.

Each makes its folder where it is told to; the rest is as in `tests/cases`.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path

from compiler.source import MOST_BYTES

LOOK = 'procedure look "Look at the press"\n  revision A 2026-10-05\n  "Look round."\n'


def _link_to_nothing(root: Path) -> None:
    (root / "look.proc").write_text(LOOK)
    (root / "press.proc").symlink_to(root / "moved" / "press.proc")


def _pipe(root: Path) -> None:
    (root / "look.proc").write_text(LOOK)
    os.mkfifo(root / "press.proc")


def _too_deep(root: Path) -> None:
    folder = root.joinpath(*("old",) * 14)
    folder.mkdir(parents=True)
    (folder / "look.proc").write_text(LOOK)


def _link_to_a_file(root: Path) -> None:
    """One text reached over a link: the file itself is hidden, so it is there once."""
    (root / ".kept").mkdir()
    (root / ".kept" / "look.proc").write_text(LOOK)
    (root / "look.proc").symlink_to(root / ".kept" / "look.proc")


def _not_ours(root: Path) -> None:
    """What is no `.proc` file is not opened, nor is what is hidden, nor a folder met twice."""
    (root / "look.proc").write_text(LOOK)
    (root / "press.txt").symlink_to(root / "nowhere")
    (root / ".press.proc").symlink_to(root / "nowhere")
    (root / "again").symlink_to(root, target_is_directory=True)


def _big(root: Path) -> None:
    line = '  "Look round."\n'
    (root / "look.proc").write_text(LOOK + line * (MOST_BYTES // len(line)))


def _just_not_big(root: Path) -> None:
    (root / "look.proc").write_text(LOOK + "#" * (MOST_BYTES - len(LOOK)))


MADE: Mapping[str, Callable[[Path], None]] = {
    "not-readable/fails-link-to-nothing": _link_to_nothing,
    "not-readable/fails-pipe": _pipe,
    "not-readable/fails-too-many-folders-deep": _too_deep,
    "not-readable/ok-link-to-a-file": _link_to_a_file,
    "not-readable/ok-not-ours": _not_ours,
    "file-too-large/fails-two-megabytes": _big,
    "file-too-large/ok-just-not-too-big": _just_not_big,
}
"""By rule and name."""

_DEEP = "/".join(("old",) * 13)

MADE_MARKS: Mapping[str, tuple[tuple[str, int, str], ...]] = {
    "not-readable/fails-link-to-nothing": (("press.proc", 1, "error: not-readable"),),
    "not-readable/fails-pipe": (("press.proc", 1, "error: not-readable"),),
    "not-readable/fails-too-many-folders-deep": (
        ("/".join(("old",) * 13), 1, "error: not-readable"),
    ),
    "file-too-large/fails-two-megabytes": (("look.proc", 1, "error: file-too-large"),),
}
"""Where each must be found."""
