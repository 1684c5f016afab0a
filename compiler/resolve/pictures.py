"""What the resolver asks about pictures and clips; the disk answers in `load.py`."""

from __future__ import annotations

import posixpath
from collections.abc import Callable
from typing import Protocol, TypeAlias


class PictureFacts(Protocol):
    """What is known of a picture or clip.

    `kind` is `svg`, `png`, `jpeg`, `clip`, `other`, or `missing` when no such file is there; `near`
    then is the path of the most similar file, if any. `problem` says in shop language why a file
    cannot be used (`it holds a script`), '' when it can.
    """

    @property
    def kind(self) -> str:
        """Return what the file is."""

    @property
    def problem(self) -> str:
        """Return why the file cannot be used."""

    @property
    def near(self) -> str:
        """Return the path of the nearest file there is."""


PictureProbe: TypeAlias = Callable[[str], "PictureFacts | None"]
"""Tells of the file at a path relative to the compiled folder, with `/`. None: no such file."""


def no_pictures(path: str) -> PictureFacts | None:
    """Answer for a text without a folder: there are no pictures at all."""
    return None


def beside(file: str, path: str) -> str:
    """Return the path of a picture named in `file`, relative to the compiled folder.

    A path that leads out of the folder keeps its leading `..`.
    """
    return posixpath.normpath(posixpath.join(posixpath.dirname(file), path.replace("\\", "/")))
