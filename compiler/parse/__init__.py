"""Text of a file to its syntax nodes, and findings about what could not be read."""

from __future__ import annotations

from compiler.parse.parser import parse_bytes, parse_fragment, parse_text

__all__ = ["parse_bytes", "parse_fragment", "parse_text"]
