"""One file to be written: where, what decides its bytes, and how they are made."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OutputJob:
    """A file of the output.

    `path` is relative to the output folder, with forward slashes; its first part is the folder that
    is replaced as a whole (`site`, `sheets`, `lists`, `data`). `key` is a digest of everything that
    decides the bytes: a file whose key did not change since the last build is kept. `make` returns
    the bytes; it may take long and runs only when it must. `slow` tells that it takes long and may
    run in another process: `make` and all that it holds can be pickled.
    """

    path: str
    key: str
    make: Callable[[], bytes]
    slow: bool = False


def digest(*parts: bytes | str) -> str:
    """Return one hex digest of several parts; where one ends and the next begins counts too."""
    whole = hashlib.sha256()
    for part in parts:
        data = part.encode("utf-8", "surrogatepass") if isinstance(part, str) else part
        whole.update(len(data).to_bytes(8, "big"))
        whole.update(data)
    return whole.hexdigest()


def ready(path: str, data: bytes) -> OutputJob:
    """Return a job whose bytes are at hand already."""
    return OutputJob(path, digest(data), lambda: data)
