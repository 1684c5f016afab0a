"""What ships with the compiler is found from a checkout and from a wheel, and the fonts serve."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from compiler.paths import (
    FONT_FAMILIES,
    SUBSTITUTES,
    FontFile,
    font_files,
    grammar_dir,
    templates_dir,
)

FONTS = font_files()

PRINTED = "×±·°≤≥≈½¼¾⅛⅜⅝⅞Ø²³→←↑↓′″–—…“”‘’•✓☐☑▲■Ωµμ"
"""Characters that sheets print or technicians write, beside ASCII and the letters below."""

LETTERS = "ÄÖÜäöüßÀÂÇÉÈÊËÎÏÔÙÛàâçéèêëîïôùûÅÆØåæøÑñŁłŚśŻżČčŘřŠšŽžŐőŰűĞğİı"
"""Letters beyond ASCII of languages in which Latin script is written in the trade."""


def characters(font: FontFile) -> set[str]:
    with TTFont(font.path, lazy=True) as file:
        return {chr(code) for code in file.getBestCmap()}


def family_faces(family: str) -> list[FontFile]:
    return [font for font in FONTS if font.family == family]


def test_both_folders_of_the_checkout_are_found(project_root: Path) -> None:
    assert grammar_dir() == project_root / "grammar"
    assert templates_dir() == project_root / "site_templates"


@pytest.mark.parametrize("family", FONT_FAMILIES)
def test_each_family_has_its_four_faces(family: str) -> None:
    faces = family_faces(family)
    assert {(face.weight, face.style) for face in faces} == {
        (400, "normal"),
        (400, "italic"),
        (700, "normal"),
        (700, "italic"),
    }
    for face in faces:
        with TTFont(face.path, lazy=True) as file:
            # OpenType 1.9, 'OS/2' fsSelection: bit 0 italic, bit 5 bold.
            flags = file["OS/2"].fsSelection
            assert (bool(flags & 1), bool(flags & 32)) == (
                face.style == "italic",
                face.weight == 700,
            )
            assert file["name"].getBestFamilyName() == family


@pytest.mark.parametrize("font", FONTS, ids=lambda font: font.path.stem)
def test_fonts_are_static_and_may_travel(font: FontFile) -> None:
    """A variable font would be cut to size for each sheet, with the date of the day inside."""
    assert font.read()[:4] == b"\x00\x01\x00\x00"
    with TTFont(font.path, lazy=True) as file:
        assert "fvar" not in file
    assert "SIL OPEN FONT LICENSE" in font.read_licence().upper()


def test_every_character_of_a_sheet_is_in_a_shipped_font() -> None:
    """Sheets do not hang on the fonts that a machine happens to have."""
    ascii_printed = {chr(code) for code in range(0x20, 0x7F)}
    for weight in (400, 700):
        shipped = set[str]().union(
            *(characters(font) for font in FONTS if (font.weight, font.style) == (weight, "normal"))
        )
        assert ascii_printed | set(PRINTED) | set(LETTERS) <= shipped
        assert set(SUBSTITUTES.values()) <= shipped
        assert not set(SUBSTITUTES) & shipped, "a shipped character needs no substitute"


def test_the_wheel_carries_grammar_and_templates(project_root: Path, tmp_path: Path) -> None:
    """Build the wheel, unpack it away from the checkout, and ask the package in it."""
    build = [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory"]
    subprocess.run([*build, str(tmp_path)], cwd=project_root, check=True, capture_output=True)
    (wheel,) = tmp_path.glob("*.whl")
    unpacked = tmp_path / "unpacked"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(unpacked)
    code = "from compiler.paths import *; print(grammar_dir(), templates_dir(), sep='\\n')"
    asked = subprocess.run(
        [sys.executable, "-c", code],
        cwd=unpacked,
        env={"PYTHONPATH": str(unpacked)},
        check=True,
        capture_output=True,
        text=True,
    )
    grammar, templates = map(Path, asked.stdout.splitlines())
    assert names_below(grammar) == names_below(project_root / "grammar")
    assert names_below(templates) == names_below(project_root / "site_templates")
    assert {grammar.parent, templates.parent} == {unpacked / "compiler"}
    assert (unpacked / "compiler" / "py.typed").is_file()
    assert {path.name.partition("-")[0] for path in unpacked.iterdir()} == {
        "compiler",
        "witnessmark",
    }
    (entry_points,) = unpacked.glob("*.dist-info/entry_points.txt")
    assert "witnessmark = compiler.cli:main" in entry_points.read_text(encoding="utf-8")


def names_below(folder: Path) -> set[str]:
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
