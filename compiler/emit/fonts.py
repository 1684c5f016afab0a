"""The shipped fonts as a style sheet names them."""

from __future__ import annotations

from compiler.paths import font_files


def font_faces(folder: str) -> str:
    """Return the rules that bring the fonts, which lie at the address `folder`."""
    rules = [
        f'@font-face {{ font-family: "{font.family}"; font-weight: {font.weight}; '
        f"font-style: {font.style}; font-display: swap; "
        f'src: url("{folder}/{font.path.name}") format("truetype"); }}\n'
        for font in font_files()
    ]
    return "".join(rules)
