"""A copy of a notebook opened bare, to empty rows of it: what goes leaves nothing on the disk."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

_STONE = "INSERT INTO tombstones (kind, name, time, versions) VALUES (?, ?, ?, ?)"


@contextmanager
def emptying(copy: Path) -> Iterator[sqlite3.Connection]:
    """A file that nobody else has open; each transaction on it is begun by its own words."""
    with closing(sqlite3.connect(copy, isolation_level=None)) as file:
        file.execute("PRAGMA secure_delete = ON")
        file.execute("PRAGMA journal_mode = DELETE")
        yield file


def put_tombstone(
    file: sqlite3.Connection, kind: str, name: str, *, time: str, versions: int
) -> None:
    """Say that the first versions of a record were purged, and when."""
    file.execute(_STONE, (kind, name, time, versions))
