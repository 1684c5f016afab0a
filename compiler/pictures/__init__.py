"""Whether the bytes of a picture can be shown: whole, of a size that can be borne, and harmless."""

from compiler.pictures.dots import jpeg_problem, png_problem
from compiler.pictures.drawing import svg_problem

_PROBLEMS = {"svg": svg_problem, "png": png_problem, "jpeg": jpeg_problem}


def picture_problem(kind: str, data: bytes) -> str:
    """Return why the bytes are no picture of this kind that can be used, '' when they are.

    `kind` is `svg`, `png` or `jpeg`.
    """
    return _PROBLEMS[kind](data) if data else "the file is empty"


__all__ = ["picture_problem"]
