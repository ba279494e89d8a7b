"""Opening the notebook, one SQLite file: made, brought up to date or refused, never half open."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.exc import DatabaseError

from baitwright.notebook.backup import back_up
from baitwright.notebook.page import Page
from baitwright.notebook.soundness import APPLICATION, HEAD, examine, is_blank
from baitwright.terms.errors import InputError

_PRAGMAS = ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "secure_delete = ON")
_PATIENCE = 5.0
"""How long a writer waits for another one, s."""


@dataclass(frozen=True, slots=True)
class Notebook:
    """An open notebook; each page is one transaction, whole or not at all."""

    engine: Engine
    path: Path

    @contextmanager
    def reading(self) -> Iterator[Page]:
        """A page to read from; all of it of one moment.

        Raises
        ------
        InputError: the file is damaged or cannot be read.
        """
        try:
            with self.engine.connect() as connection:
                yield Page(connection)
        except DatabaseError as error:
            raise _refused(self.engine, error) from None

    @contextmanager
    def writing(self) -> Iterator[Page]:
        """A page to write on; when the block ends without an error all of it is kept.

        Raises
        ------
        InputError: another writer does not make way, or there is no room; nothing was written.
        """
        try:
            writer = self.engine.connect().execution_options(writes=True)
            with writer as connection, connection.begin():
                yield Page(connection)
        except DatabaseError as error:
            raise _refused(self.engine, error) from None

    def close(self) -> None:
        """Let go of the file."""
        self.engine.dispose()


def open_notebook(path: Path, *, now: datetime) -> Notebook:
    """Open a notebook, or make one where there is none.

    Parameters
    ----------
    path: its file.
    now: for the name of the backup that is made before an older notebook is changed.

    Raises
    ------
    InputError: no notebook but something else, one of a later program, a damaged one, or a place
        that cannot be written to.
    """
    _check_file(path)
    engine = _engine(path)
    book = Notebook(engine, path)
    try:
        _bring_up_to_date(book, now)
    except (DatabaseError, OSError) as error:
        book.close()
        raise _refused(engine, error) from None
    except InputError:
        book.close()
        raise
    return book


def step_of(connection: Connection) -> str | None:
    """The step that a notebook has taken last; none where there is nothing yet."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def _engine(path: Path) -> Engine:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        accepted = "a file in a folder that can be written to"
        raise InputError("notebook", str(path), accepted, hint=f"{error.strerror}.") from None
    engine = create_engine(
        URL.create("sqlite", database=str(path)), connect_args={"timeout": _PATIENCE}
    )
    event.listen(engine, "connect", _on_connect)
    event.listen(engine, "begin", _on_begin)
    return engine


def _on_connect(connection: Any, record: Any) -> None:
    """Let SQLAlchemy begin every transaction itself, and make each last through a power cut."""
    connection.isolation_level = None
    for pragma in _PRAGMAS:
        connection.execute(f"PRAGMA {pragma}")


def _on_begin(connection: Connection) -> None:
    """A writer asks for the pen at once, so that what it reads is still true when it writes."""
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _check_file(path: Path) -> None:
    """Refuse a file that is no notebook or is damaged, before anything is written to it."""
    accepted = "a notebook of this program, or a file that is not there yet"
    if path.is_dir():
        raise InputError("notebook", str(path), accepted, hint="It is a folder.")
    if not path.exists() or is_blank(path):
        return
    problem = examine(path)
    if problem:
        raise InputError("notebook", str(path), accepted, hint=problem)


def _bring_up_to_date(book: Notebook, now: datetime) -> None:
    with book.engine.connect() as connection:
        step = step_of(connection)
    if step == HEAD:
        return
    if step is not None and step > HEAD:
        hint = "Take the newer program; this one could not read it whole."
        raise InputError("notebook", f"step {step}", f"one up to step {HEAD}", hint=hint)
    if step is not None:
        back_up(book.path, now=now, before="step")
    _take_steps(book)


def _take_steps(book: Notebook) -> None:
    """All steps in one transaction; Alembic is loaded only where there is one to take."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).with_name("migrations")))
    with book.engine.connect().execution_options(writes=True) as connection, connection.begin():
        if step_of(connection) == HEAD:
            return  # another process was quicker
        config.attributes["connection"] = connection
        command.upgrade(config, HEAD)
        connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION}")


def _refused(engine: Engine, error: Exception) -> InputError:
    """A failure of file or database in the maker's words."""
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
    accepted = f"a notebook that can be written to at {engine.url.database}"
    return InputError("notebook", why, accepted, hint=hint)
