"""Slow files made in processes of their own: the same bytes, and nothing lost when one dies."""

from __future__ import annotations

import os
import signal
from functools import partial
from pathlib import Path

import pytest

from compiler.emit.job import OutputJob
from compiler.emit.workers import FEWEST, making, workers_for
from compiler.emit.write import OutputRefused, Written, write_outputs


def process_of(number: int) -> bytes:
    """Return a number and the process that made it."""
    return f"{number} {os.getpid()}".encode()


def refused() -> bytes:
    raise OutputRefused("no room")


def killed(first: int) -> bytes:
    """End the worker hard, as the system does when memory is short; the first process lives."""
    if os.getpid() != first:
        os.kill(os.getpid(), signal.SIGKILL)
    return b"made after all"


def slow(number: int) -> OutputJob:
    return OutputJob(f"sheets/{number}.pdf", str(number), partial(process_of, number), slow=True)


def test_how_many_workers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("compiler.emit.workers._cores", lambda: 8)
    assert [workers_for(n) for n in (0, 1, 2 * FEWEST - 1, 2 * FEWEST, 100)] == [1, 1, 1, 2, 8]
    assert [workers_for(100, asked) for asked in (1, 3, 16)] == [1, 3, 16]
    assert workers_for(2, 16) == 2
    assert workers_for(0, 4) == 1


def test_slow_files_are_made_elsewhere_and_quick_ones_here() -> None:
    jobs = [*map(slow, range(6)), OutputJob("lists/a.csv", "a", partial(process_of, 9))]
    with making(jobs, 2) as made:
        told = [made(job).decode().split() for job in jobs]
    assert [number for number, _ in told] == ["0", "1", "2", "3", "4", "5", "9"]
    here = str(os.getpid())
    assert here not in {process for _, process in told[:6]}
    assert told[6][1] == here


def test_one_worker_is_this_process() -> None:
    with making([slow(1), slow(2)], 1) as made:
        assert made(slow(1)).decode() == f"1 {os.getpid()}"


def test_what_a_job_raises_is_raised_here(tmp_path: Path) -> None:
    jobs = [slow(1), OutputJob("sheets/b.pdf", "b", refused, slow=True)]
    with pytest.raises(OutputRefused, match="no room"):
        write_outputs(tmp_path, jobs, workers=2)
    assert not (tmp_path / "sheets").exists()


def test_when_a_worker_is_killed_the_rest_is_made_here(tmp_path: Path) -> None:
    last = OutputJob("sheets/z.pdf", "z", partial(killed, os.getpid()), slow=True)
    assert write_outputs(tmp_path, [*map(slow, range(3)), last], workers=2) == Written(4, 0)
    assert (tmp_path / "sheets/z.pdf").read_bytes() == b"made after all"
    assert (tmp_path / "sheets/0.pdf").read_bytes().startswith(b"0 ")


def test_what_is_kept_goes_to_no_worker(tmp_path: Path) -> None:
    jobs = list(map(slow, range(3)))
    assert write_outputs(tmp_path, jobs, workers=2) == Written(3, 0)
    never = [OutputJob(job.path, job.key, refused, slow=True) for job in jobs]
    assert write_outputs(tmp_path, never, workers=2) == Written(0, 3)
