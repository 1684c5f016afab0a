"""From the syntax of all files to the model: every name looked up, every value exact."""

from __future__ import annotations

from compiler.resolve.blocks import followed_by
from compiler.resolve.pictures import PictureFacts, PictureProbe, no_pictures
from compiler.resolve.project import resolve

__all__ = ["PictureFacts", "PictureProbe", "followed_by", "no_pictures", "resolve"]
