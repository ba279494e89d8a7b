"""Who works a sweep out: processes of this machine, or the workers of a cluster elsewhere."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from threading import Thread
from typing import Any, TypeVar

from baitwright.terms.errors import InputError
from baitwright.workshop.told.extras import need_extra

T = TypeVar("T")
_AHEAD = 2
"""Tasks in hand for each process: one under way, one waiting."""
_AHEAD_ELSEWHERE = 1_000
"""Tasks in hand of a cluster, whose size changes (judgement)."""
_PATIENCE = "10 s"
_ALONE = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")


@dataclass(frozen=True, slots=True)
class Engine:
    """Something that does tasks, and how many are to be in its hand."""

    executor: Executor
    ahead: int

    def done(self, work: Callable[[int], T], tasks: Iterable[int]) -> Iterator[tuple[int, T]]:
        """Each task with what came of it, in the order in which they are done.

        Raises
        ------
        InputError: a process was ended from outside.
        """
        waiting: dict[Future[T], int] = {}
        left = iter(tasks)
        try:
            while True:
                for task in left:
                    waiting[self.executor.submit(work, task)] = task
                    if len(waiting) >= self.ahead:
                        break
                if not waiting:
                    return
                for one in wait(waiting, return_when=FIRST_COMPLETED).done:
                    yield waiting.pop(one), one.result()
        except BrokenProcessPool:
            hint = "Was the memory full? What is done is kept: the same command goes on."
            raise InputError(
                "workers", "one was ended", "processes left alone", hint=hint
            ) from None
        finally:
            for one in waiting:
                one.cancel()


def cores() -> int:
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def here(workers: int) -> Iterator[Engine]:
    """Processes of this machine, one core to each."""
    for name in _ALONE:  # before they are started: a matrix library asks once
        os.environ.setdefault(name, "1")
    context = get_context("spawn")  # alike on every system, and nothing of ours is taken along
    with ProcessPoolExecutor(workers, mp_context=context, initializer=_begin) as pool:
        yield Engine(pool, _AHEAD * workers)


def _begin() -> None:
    """A worker ends at Ctrl-C without a word, and when the process that began it is gone."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


@contextmanager
def elsewhere(scheduler: str) -> Iterator[Engine]:
    """The workers of a cluster, by the address of its scheduler.

    Raises
    ------
    InputError: the extra is not installed, or nobody answers there.
    """
    need_extra("sweep", "distributed")
    from distributed import Client

    try:
        client: Any = Client(  # type: ignore[no-untyped-call]
            scheduler, timeout=_PATIENCE, set_as_default=False
        )
    except (OSError, ValueError, TimeoutError) as error:
        accepted = "the address of a scheduler such as tcp://10.0.0.2:8786"
        raise InputError("scheduler", scheduler, accepted, hint=f"{error}.") from None
    with client:
        yield Engine(client.get_executor(pure=False), _AHEAD_ELSEWHERE)
