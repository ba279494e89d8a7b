"""Every call to a disk or a database that a deed makes: counted, and one of them made to fail.

What is counted: statements and commits of SQLAlchemy, statements and copies of `sqlite3` by itself,
and within one folder files opened, written to, closed, renamed, deleted and made to last, and
folders made. Reading is let be: it changes nothing, and what cannot be read has tests of its own.
"""

from __future__ import annotations

import builtins
import contextlib
import errno
import io
import os
import sqlite3
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, event
from sqlalchemy.engine.default import DefaultDialect

_OF_THE_SYSTEM = ("replace", "rename", "mkdir", "unlink", "fsync", "open")
_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT


class Failing(Enum):
    """How a call fails."""

    FULL = "the disk is full"
    BROKEN = "the disk cannot be written to"
    LOST = "the server went away"


@dataclass
class Storage:
    """Calls counted, and which of them fails: the first is 1, none where 0."""

    folder: Path
    fails_at: int = 0
    how: Failing = Failing.FULL
    lose: Callable[[Any], bool] | None = None
    calls: list[str] = field(default_factory=list)
    is_watching: bool = True

    def call(self, what: str, connection: Any = None) -> None:
        """One more call; the chosen one fails."""
        if not self.is_watching:
            return
        if what == "unlink" and self.how is Failing.FULL:
            return  # it makes room
        self.calls.append(what)
        if len(self.calls) == self.fails_at:
            if what.startswith("SQL"):
                self._fail_database(connection)
            else:
                raise self._of_the_disk()

    @property
    def was_reached(self) -> bool:
        """Whether the chosen call came."""
        return 0 < self.fails_at <= len(self.calls)

    def _fail_database(self, connection: Any) -> None:
        if self.lose is not None:
            self.is_watching = False
            is_lost = self.lose(connection)
            self.is_watching = True
            if is_lost:
                return  # the server says the rest
        said = {Failing.FULL: "database or disk is full", Failing.BROKEN: "disk I/O error"}
        raise sqlite3.OperationalError(said.get(self.how, "disk I/O error"))

    def _of_the_disk(self) -> OSError:
        number = errno.ENOSPC if self.how is Failing.FULL else errno.EIO
        return OSError(number, os.strerror(number))


class _Written:
    """A file that is written to, call by call."""

    def __init__(self, file: Any, storage: Storage) -> None:
        self._file, self._storage = file, storage

    def write(self, data: Any) -> Any:
        self._storage.call("write")
        return self._file.write(data)

    def writelines(self, pieces: Any) -> None:
        for piece in pieces:
            self.write(piece)

    def close(self) -> None:
        is_open, self_closed = not self._file.closed, self._file.close
        self_closed()  # what it holds is let go of in any case, as by the system
        if is_open:
            self._storage.call("close")

    def __enter__(self) -> _Written:
        return self

    def __exit__(self, *error: object) -> None:
        self.close()

    def __iter__(self) -> Iterator[Any]:
        return iter(self._file)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


@contextlib.contextmanager
def watched(storage: Storage) -> Iterator[Storage]:
    """Count calls while the block runs, and let the chosen one fail."""
    with contextlib.ExitStack() as undone:
        _watch_sqlalchemy(storage, undone)
        _watch_sqlite(storage, undone)
        _watch_files(storage, undone)
        yield storage


def _put(undone: contextlib.ExitStack, place: Any, name: str, made: Any) -> None:
    undone.callback(setattr, place, name, getattr(place, name))
    setattr(place, name, made)


def _watch_sqlalchemy(storage: Storage, undone: contextlib.ExitStack) -> None:
    def executes(cursor: Any, statement: str, *_: Any) -> None:
        storage.call(f"SQL {statement.split(None, 1)[0]}", cursor.connection)

    for name in ("do_execute", "do_executemany", "do_execute_no_params"):
        event.listen(Engine, name, executes)
        undone.callback(event.remove, Engine, name, executes)
    real = DefaultDialect.do_commit

    def commits(self: DefaultDialect, connection: Any) -> None:
        storage.call("SQL COMMIT", getattr(connection, "driver_connection", connection))
        real(self, connection)

    _put(undone, DefaultDialect, "do_commit", commits)


def _watch_sqlite(storage: Storage, undone: contextlib.ExitStack) -> None:
    class Watched(sqlite3.Connection):
        def execute(self, statement: str, *more: Any) -> sqlite3.Cursor:
            storage.call(f"SQL alone {statement.split(None, 1)[0]}")
            return super().execute(statement, *more)

        def backup(self, *target: Any, **how: Any) -> None:
            storage.call("SQL alone backup")
            super().backup(*target, **how)

    real = sqlite3.connect

    def connects(*place: Any, **how: Any) -> sqlite3.Connection:
        storage.call("SQL alone connect")
        return real(*place, **{"factory": Watched, **how})

    _put(undone, sqlite3, "connect", connects)


def _watch_files(storage: Storage, undone: contextlib.ExitStack) -> None:
    def is_ours(path: Any) -> bool:
        try:
            return storage.folder in Path(os.fsdecode(path)).parents
        except TypeError:
            return False  # a file's number

    opens = io.open

    def opened(file: Any, mode: str = "r", *more: Any, **how: Any) -> Any:
        if not set(mode) & set("wax+") or not is_ours(file):
            return opens(file, mode, *more, **how)
        storage.call("open")
        return _Written(opens(file, mode, *more, **how), storage)

    _put(undone, io, "open", opened)
    _put(undone, builtins, "open", opened)
    for name in _OF_THE_SYSTEM:
        _put(undone, os, name, _counted(name, storage, is_ours))


def _counted(name: str, storage: Storage, is_ours: Callable[[Any], bool]) -> Callable[..., Any]:
    real = getattr(os, name)

    def counted(what: Any, *more: Any, **how: Any) -> Any:
        is_looked_at = name == "open" and not (more and more[0] & _WRITES)
        if name == "fsync" or (is_ours(what) and not is_looked_at):
            storage.call(name)
        return real(what, *more, **how)

    return counted
