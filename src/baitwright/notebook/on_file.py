"""A notebook in a file of one's own, by SQLite."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy import URL, Connection, Engine, create_engine, event

from baitwright.notebook.soundness import APPLICATION, examine, is_blank
from baitwright.terms.errors import InputError

Done = TypeVar("Done")
_PRAGMAS = ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "secure_delete = ON")
_PATIENCE = 5.0
"""How long a writer waits for another one, s."""
_TRIES = 20
"""Quarters of a second that a copy waits for another writer."""


@dataclass(frozen=True, slots=True)
class OnFile:
    """The keeper of a file."""

    path: Path

    def stands(self) -> bool:
        """Whether there is a file."""
        return self.path.exists()

    def is_blank(self) -> bool:
        """Whether nobody wrote a table in the file."""
        return is_blank(self.path)

    def problem(self) -> str:
        """What is wrong with the file."""
        return examine(self.path)

    def engine(self) -> Engine:
        """Connections to the file, looked at before anything is written to it."""
        self._refuse_others()
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            begin_own(self.path)
        except OSError as error:
            accepted = "a file in a folder that can be written to"
            hint = f"{error.strerror}."
            raise InputError("notebook", str(self.path), accepted, hint=hint) from None
        url = URL.create("sqlite", database=str(self.path))
        engine = create_engine(url, connect_args={"timeout": _PATIENCE})
        event.listen(engine, "connect", _on_connect)
        event.listen(engine, "begin", _on_begin)
        return engine

    def settle(self, connection: Connection) -> None:
        """Write into the header whose file it is."""
        connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION}")

    def copy_to(self, path: Path) -> None:
        """Copy the file while others write in it."""
        copy_file(self.path, path)

    def take_over(self, copy: Path, *, first: Callable[[], Done]) -> Done:
        """Write a copy into the file as one transaction: a power cut leaves the old or the new."""
        answer = first()
        copy_file(copy, self.path)
        return answer

    def wipe(self) -> None:
        """Write the file anew without what it no longer holds; no log is left beside it."""
        try:
            with closing(sqlite3.connect(self.path, isolation_level=None)) as file:
                file.execute("PRAGMA secure_delete = ON")
                file.execute("VACUUM")
                (is_busy, *_) = file.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        except sqlite3.Error as error:
            is_busy, why = 1, f"{error}."
        else:
            why = "Another window has it open: close that one, and purge once more."
        if is_busy:
            accepted = "a notebook that nobody else has open"
            raise InputError("purge", str(self.path), accepted, hint=why)

    def set_aside(self, aside: Path) -> None:
        """Move the file, and what belongs to it, away."""
        aside.parent.mkdir(exist_ok=True)
        for tail in ("-wal", "-shm", ""):
            part = self.path.with_name(self.path.name + tail)
            if part.exists():
                part.replace(aside.with_name(aside.name + tail))

    def refused(self, error: Exception) -> InputError:
        """What SQLite said, and what to do about it."""
        why = str(getattr(error, "orig", error))
        hint = "Nothing was written."
        if "locked" in why:
            hint = "Another window is writing in it: try again. Nothing was written."
        elif "full" in why:
            hint = "There is no room left on the disk. Nothing was written."
        elif "malformed" in why or "not a database" in why:
            hint = "It is damaged: put the last backup back with `baitwright restore`."
        elif "readonly" in why or "unable to open" in why:
            hint = "The file or its folder cannot be written to. Nothing was written."
        accepted = f"a notebook that can be written to at {self.path}"
        return InputError("notebook", why, accepted, hint=hint)

    def _refuse_others(self) -> None:
        accepted = "a notebook of this program, or a file that is not there yet"
        if self.path.is_dir():
            raise InputError("notebook", str(self.path), accepted, hint="It is a folder.")
        if not self.stands() or self.is_blank():
            return
        problem = self.problem()
        if problem:
            raise InputError("notebook", str(self.path), accepted, hint=problem)


def begin_own(path: Path) -> None:
    """Make an empty file that its owner alone may read; one that is there keeps its rights.

    Raises
    ------
    OSError: the folder cannot be written to.
    """
    if not path.exists():
        path.touch(mode=0o600)


def copy_file(source: Path, into: Path) -> None:
    """SQLite's own online backup of one file into another, on the disk when it returns.

    Raises
    ------
    OSError, sqlite3.Error: no room, or another writer does not make way.
    """
    begin_own(into)
    reading = f"{source.resolve().as_uri()}?mode=ro"
    with (
        closing(sqlite3.connect(reading, uri=True)) as old,
        closing(sqlite3.connect(into)) as new,
    ):
        new.execute("PRAGMA synchronous = FULL")
        old.backup(new, progress=_patience())


def _patience() -> Callable[[int, int, int], None]:
    """Stop a copy that waits too long for another writer; SQLite itself would wait for ever."""
    waited = 0

    def look(status: int, left: int, pages: int) -> None:
        nonlocal waited
        waited += status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
        if waited > _TRIES:
            raise sqlite3.OperationalError("another window is writing in it")

    return look


def _on_connect(connection: Any, record: Any) -> None:
    """Let SQLAlchemy begin every transaction itself, and make each last through a power cut."""
    connection.isolation_level = None
    for pragma in _PRAGMAS:
        connection.execute(f"PRAGMA {pragma}")


def _on_begin(connection: Connection) -> None:
    """A writer asks for the pen at once, so that what it reads is still true when it writes."""
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
