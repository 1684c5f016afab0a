"""A file is written whole or not at all, and nothing else in its place is harmed."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from cli.cli_support import clean, put
from compiler.replacing import replace_file


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def test_a_new_file_can_be_read_by_whom_any_other_could(tmp_path: Path) -> None:
    replace_file(tmp_path / "page.html", b"new")
    (tmp_path / "other").write_bytes(b"")
    assert (tmp_path / "page.html").read_bytes() == b"new"
    assert mode(tmp_path / "page.html") == mode(tmp_path / "other")


def test_permissions_and_links_stay(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"old")
    (tmp_path / "file").chmod(0o640)
    (tmp_path / "link").symlink_to("file")
    replace_file(tmp_path / "link", b"new")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "file").read_bytes() == b"new"
    assert mode(tmp_path / "file") == 0o640


def test_when_the_disk_refuses_the_old_one_stays_and_nothing_lies_about(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_bytes(b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space"):
        replace_file(tmp_path / "file", b"new")
    assert [path.name for path in tmp_path.iterdir()] == ["file"]
    assert (tmp_path / "file").read_bytes() == b"old"


def test_a_pipe_stays_a_pipe(tmp_path: Path) -> None:
    """`--page /dev/stdout` must not put a file where the device was."""
    os.mkfifo(tmp_path / "pipe")
    reader = os.open(tmp_path / "pipe", os.O_RDONLY | os.O_NONBLOCK)
    replace_file(tmp_path / "pipe", b"a page")
    assert os.read(reader, 100) == b"a page"
    os.close(reader)
    assert stat.S_ISFIFO((tmp_path / "pipe").stat().st_mode)


def test_a_full_disk_behind_the_answer_is_told_and_is_no_fault_of_ours(tmp_path: Path) -> None:
    put(tmp_path, "vent-cap.proc", clean())
    with open("/dev/full", "w", encoding="utf-8") as full:
        done = subprocess.run(
            [sys.executable, "-m", "compiler.cli", "check", str(tmp_path)],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode == 2
    assert done.stderr.strip() == "The answer cannot be written: no space left on device."
