"""What the tests of the command share: running it in this process, and small folders."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from compiler.cli import main

CLEAN = """\
procedure {name} "Refit the vent cap"
  revision A  2026-11-02
  starts with cap off
  parts
    cap     "vent cap"  0.4 kg
  fasteners
    screw   3 × M5×12 ISO 7380-1 10.9  holds cap  torque 4 N·m
  clean cap
  fit cap
    note "Arrow up."
  tighten screw
"""

BROKEN = CLEAN.replace("tighten screw", "tighten scrw")

Run = Callable[..., "Ran"]


@dataclass(frozen=True)
class Ran:
    """What came of a command: exit code, standard output, standard error."""

    code: int
    out: str
    err: str


def runner(capsys: pytest.CaptureFixture[str]) -> Run:
    """Return a function that runs the command in this process with words, and says what came."""

    def run(*words: str | Path) -> Ran:
        capsys.readouterr()
        code = main([str(word) for word in words])
        out, err = capsys.readouterr()
        assert "Traceback" not in err
        return Ran(code, out, err)

    return run


def put(root: Path, path: str, content: str | bytes) -> Path:
    """Write a file below `root` and return its path."""
    file = root / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return file


def clean(name: str = "vent-cap") -> str:
    """Return a small procedure without findings."""
    return CLEAN.format(name=name)


def broken(name: str = "vent-cap") -> str:
    """Return the same with one error, on line 11 from column 11."""
    return BROKEN.format(name=name)


def findings_schema() -> dict[str, Any]:
    """Return the published schema of findings."""
    text = files("compiler.findings").joinpath("findings.schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    jsonschema.Draft202012Validator.check_schema(schema)
    return schema


def read_findings(out: str) -> dict[str, Any]:
    """Return what `--format json` printed, after holding it against the published schema."""
    found: dict[str, Any] = json.loads(out)
    jsonschema.Draft202012Validator(findings_schema()).validate(found)
    return found
