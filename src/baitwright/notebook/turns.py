"""Turns that processes of one account take at something that only one may do at a time."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


@contextmanager
def alone(path: Path) -> Iterator[None]:
    """Hold a file of turns, which is there as long; others wait, threads of this process too.

    The system lets go of it when the process ends, however it does. Where the system or its disk
    knows no such turns, or the folder cannot be written to, nobody waits.
    """
    held = _held(path)
    try:
        yield
    finally:
        if held is not None:
            with suppress(OSError):  # where it cannot go it is in nobody's way
                path.unlink(missing_ok=True)  # while it is held: who waits for it looks again
            os.close(held)


def _held(path: Path) -> int | None:
    if sys.platform == "win32":
        return None
    import fcntl

    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        while True:
            file = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
            try:
                fcntl.flock(file, fcntl.LOCK_EX)
            except OSError:
                os.close(file)
                raise
            if _is_still(path, file):
                return file
            os.close(file)
    return None


def _is_still(path: Path, file: int) -> bool:
    """Whether a file that was waited for stands at its path yet."""
    try:
        return os.path.samestat(path.stat(), os.fstat(file))
    except FileNotFoundError:
        return False
