"""Witnessmark: compiles step-language procedures into checked pages and sheets."""

from __future__ import annotations

__version__ = "0.1.0"
