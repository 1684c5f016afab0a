"""The command, run in this process from an empty folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli.cli_support import Run, runner


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    """Return the command as a function, called from an empty folder of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("COLUMNS", "100")
    return runner(capsys)
