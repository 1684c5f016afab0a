"""What all tests share: the --accept option, and settled conditions for the generated cases."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import settings

from compiler.document.model import Library
from compiler.load import load_folder
from compiler.pipeline import compile_sources

ROOT = Path(__file__).resolve().parent.parent

# The same cases in every run, and no verdict that hangs on how busy the machine is.
settings.register_profile("settled", derandomize=True, deadline=None, database=None)
settings.load_profile("settled")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the option that `make accept` gives."""
    parser.addoption(
        "--accept", action="store_true", help="store what the tests render as the new reference"
    )


@pytest.fixture
def accept(request: pytest.FixtureRequest) -> bool:
    """Return whether rendered references are to be rewritten instead of compared."""
    return bool(request.config.getoption("--accept"))


@pytest.fixture(scope="session")
def project_root() -> Path:
    """Return the top folder of the checkout."""
    return ROOT


@pytest.fixture(scope="session")
def demo_library() -> Library:
    """Return the document of the demo folder, compiled once for all tests that only read it."""
    folder = load_folder(ROOT / "procedures")
    return compile_sources(folder.everything, folder.probe).library()


@pytest.fixture(scope="session")
def demo_pictures() -> Mapping[str, bytes]:
    """Return the pictures of the demo folder by path."""
    folder = load_folder(ROOT / "procedures")
    assert not any(folder.probe(path).problem for path in folder.pictures)
    return folder.picture_bytes


@pytest.fixture(scope="session")
def chromium_path() -> str:
    """Return the installed browser; a missing one is a failure, never a skipped test."""
    for name in ("chromium", "chromium-browser"):
        found = shutil.which(name)
        if found is not None:
            return found
    pytest.fail("no chromium on this machine: `make test` installs it")
