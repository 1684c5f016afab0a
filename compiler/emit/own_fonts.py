"""Keeps the fonts of the system out of the sheets: they differ from machine to machine."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager

from compiler.paths import templates_dir

_WHERE = "FONTCONFIG_FILE"


@contextmanager
def only_our_fonts() -> Iterator[None]:
    """Have the library find no font but those that a style sheet brings, while this lasts.

    It takes no argument for that; fontconfig reads this variable each time it is set up.
    """
    before = os.environ.get(_WHERE)
    os.environ[_WHERE] = str(templates_dir() / "sheet" / "fonts.conf")
    try:
        yield
    finally:
        if before is None:
            del os.environ[_WHERE]
        else:
            os.environ[_WHERE] = before
