"""What a reader sees: made from the walk-through and the derived lists, read by the emitters."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from compiler.document.build import build_library as build_library

__all__ = ["build_library"]


def __getattr__(name: str) -> object:
    """Bring `build_library` only when it is asked for: emitters need the model alone."""
    if name == "build_library":
        from compiler.document.build import build_library

        return build_library
    raise AttributeError(name)
