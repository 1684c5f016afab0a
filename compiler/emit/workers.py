"""Slow files are made in processes of their own, one a core, while the quick ones are made here.

Measured on Linux with the demo: a worker that sets sheets holds some 90 MB.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from compiler.emit.job import OutputJob

if TYPE_CHECKING:
    from concurrent.futures import Future, ProcessPoolExecutor

FEWEST = 4
"""Slow files for each worker; for fewer a worker costs more than it saves."""


def workers_for(slow: int, asked: int = 0) -> int:
    """Return how many workers make so many slow files; 1 means none beside this process.

    `asked` is what the user wants, 0 for what fits: one a core, and enough to do for each.
    """
    if asked:
        return max(1, min(asked, slow))
    return max(1, min(_cores(), slow // FEWEST))


def _cores() -> int:
    """Return how many cores this process may use, which may be fewer than there are."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def making(jobs: Sequence[OutputJob], asked: int = 0) -> Iterator[Callable[[OutputJob], bytes]]:
    """Begin the slow ones of these jobs, and give the function that brings the bytes of any.

    What a job raises is raised there. Should a worker be killed, what is left is made here.
    """
    slow = [job for job in jobs if job.slow]
    workers = workers_for(len(slow), asked)
    if workers == 1:
        yield lambda job: job.make()
        return
    from concurrent.futures.process import BrokenProcessPool

    pool = _pool(workers)
    begun: dict[str, Future[bytes]] = {job.path: pool.submit(job.make) for job in slow}

    def made(job: OutputJob) -> bytes:
        future = begun.get(job.path)
        try:
            return job.make() if future is None else future.result()
        except BrokenProcessPool:
            return job.make()

    try:
        yield made
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _pool(workers: int) -> ProcessPoolExecutor:
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    # Both start clean: no thread and no lock of this process is copied. Nothing is loaded ahead,
    # since a library that the system lacks would end the server, where a worker can tell it.
    methods = multiprocessing.get_all_start_methods()
    context = multiprocessing.get_context("forkserver" if "forkserver" in methods else "spawn")
    return ProcessPoolExecutor(workers, mp_context=context, initializer=_left_to_the_first)


def _left_to_the_first() -> None:
    """Leave Ctrl+C to the process that began this one: it ends the workers."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
