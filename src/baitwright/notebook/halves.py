"""Files that are only begun, let go of whatever becomes of the rest."""

from __future__ import annotations

import contextlib
from pathlib import Path

_TAILS = ("", "-wal", "-shm", "-journal")
"""What SQLite may put beside a file."""


def let_go(*halves: Path) -> None:
    """Delete files that nobody needs; one that stays hides no other error, and does no harm."""
    for half in halves:
        with contextlib.suppress(OSError):
            half.unlink(missing_ok=True)


def let_go_of_book(half: Path) -> None:
    """The same of a notebook's file, with what may lie beside it."""
    let_go(*(half.with_name(half.name + tail) for tail in _TAILS))
