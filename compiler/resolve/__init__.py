"""From the syntax of all files to the model: every name looked up, every value exact."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from compiler.resolve.blocks import followed_by
    from compiler.resolve.pictures import PictureFacts, PictureProbe, no_pictures
    from compiler.resolve.project import resolve

__all__ = ["PictureFacts", "PictureProbe", "followed_by", "no_pictures", "resolve"]

_HOMES = {
    "PictureFacts": "pictures",
    "PictureProbe": "pictures",
    "followed_by": "blocks",
    "no_pictures": "pictures",
    "resolve": "project",
}


def __getattr__(name: str) -> object:
    """Load a part when it is asked for: who only reads a value does not wait for the others."""
    from importlib import import_module

    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
