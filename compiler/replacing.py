"""Puts a whole new file in the place of an old one, or leaves the old one as it is."""

from __future__ import annotations

import os
from pathlib import Path


def replace_file(path: Path, data: bytes) -> None:
    """Write a file whole or not at all. Raises `OSError` when the disk refuses.

    Links stay links, and permissions what they were; a new file gets the usual ones. What is there
    and no file, such as a pipe or a terminal, takes the bytes as they come.
    """
    target = path.resolve()
    if target.exists() and not target.is_file() and not target.is_dir():
        target.write_bytes(data)
        return
    import tempfile  # takes a while to load, and most runs write nothing this way

    handle, name = tempfile.mkstemp(dir=target.parent, prefix=".witnessmark-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.chmod(name, target.stat().st_mode & 0o7777 if target.exists() else _usual_mode())
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _usual_mode() -> int:
    mask = os.umask(0o077)
    os.umask(mask)
    return 0o666 & ~mask
