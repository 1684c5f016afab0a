"""Where the files lie that ship with the compiler: the grammar, the page templates, the fonts.

The only module that knows a checkout from an installed wheel.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


@dataclass(frozen=True, slots=True)
class FontFile:
    """One font file as CSS speaks of it: family, weight (400 or 700), style ('normal', 'italic').

    `path` is the TrueType file on this machine and `licence` the text that must travel with it.
    """

    family: str
    weight: int
    style: str
    path: Path
    licence: Path

    def read(self) -> bytes:
        """Return the bytes of the font, so that emitters need not touch the disk."""
        return self.path.read_bytes()

    def read_licence(self) -> str:
        """Return the licence text, for the folder that the font is copied to."""
        return self.licence.read_text(encoding="utf-8")


READING_FAMILY = "Atkinson Hyperlegible"
"""The family of pages and sheets, drawn so that 0 and O, 1 l and I, 8 and B are told apart."""

SYMBOL_FAMILY = "Source Sans Pro"
"""The family that serves the characters the first one lacks: → ✓ ☐ ☑ ′ ″ ⅛ ⅜ ▲ and others."""

FONT_FAMILIES = (READING_FAMILY, SYMBOL_FAMILY)
"""The families in the order a style sheet must name them."""

SUBSTITUTES: Mapping[str, str] = {
    "⌀": "Ø",
    "∅": "Ø",
    "□": "☐",
    "✗": "×",
    "\N{NON-BREAKING HYPHEN}": "-",
}
"""Characters in neither family, each with the shipped one that reads the same in print."""

_STYLES = ((400, "normal"), (400, "italic"), (700, "normal"), (700, "italic"))
_READING_FACES = tuple(
    f"AtkinsonHyperlegible-{face}.ttf" for face in ("Regular", "Italic", "Bold", "BoldItalic")
)
_SYMBOL_FACES = tuple(f"SourceSansPro-{face}.ttf" for face in ("Regular", "It", "Bold", "BoldIt"))


def grammar_dir() -> Path:
    """Return the folder that holds the grammar files."""
    return _shipped_dir("grammar")


def templates_dir() -> Path:
    """Return the folder that holds the page and sheet templates."""
    return _shipped_dir("site_templates")


@cache
def template_files(folder: str) -> Mapping[str, bytes]:
    """Return every file below `site_templates/<folder>` by its path there, read once a run."""
    top = templates_dir() / folder
    files = sorted(path for path in top.rglob("*") if path.is_file())
    return {path.relative_to(top).as_posix(): path.read_bytes() for path in files}


def font_files() -> tuple[FontFile, ...]:
    """Return every shipped font file, the reading family first.

    Raise `FileNotFoundError` if a font package is missing: sheets that fall back on whatever fonts
    a machine happens to have would differ from machine to machine.
    """
    reading = _package_dir("fontpkg_atkinson_hyperlegible")
    symbols = _package_dir("font_source_sans_pro")
    return (
        *_faces(READING_FAMILY, reading / "files", _READING_FACES, reading / "LICENSE"),
        *_faces(SYMBOL_FAMILY, symbols / "files", _SYMBOL_FACES, symbols / "files/LICENSE.txt"),
    )


def _faces(
    family: str, folder: Path, names: tuple[str, ...], licence: Path
) -> tuple[FontFile, ...]:
    return tuple(
        FontFile(family, weight, style, folder / name, licence)
        for (weight, style), name in zip(_STYLES, names, strict=True)
    )


def _shipped_dir(name: str) -> Path:
    # A wheel carries the folder inside the package; a checkout has it beside the package.
    for folder in (_PACKAGE / name, _PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the folder {name}/ that ships with witnessmark is missing")


def _package_dir(name: str) -> Path:
    # The package is looked up, not imported: importing it would list its folder for nothing.
    spec = find_spec(name)
    if spec is None or spec.origin is None:
        raise FileNotFoundError(f"the font package {name} that witnessmark needs is not installed")
    return Path(spec.origin).resolve().parent
