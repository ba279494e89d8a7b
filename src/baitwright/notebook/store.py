"""Opening the notebook: made, brought up to date or refused, never half open."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError

from baitwright.notebook.backup import back_up
from baitwright.notebook.keeper import Keeper, keeper_of
from baitwright.notebook.page import Page
from baitwright.notebook.soundness import HEAD
from baitwright.notebook.steps import step_of, take_steps
from baitwright.notebook.tables import metadata
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True)
class Notebook:
    """An open notebook; each page is one transaction, whole or not at all."""

    engine: Engine
    place: Where
    keeper: Keeper

    @contextmanager
    def reading(self) -> Iterator[Page]:
        """A page to read from; all of it of one moment.

        Raises
        ------
        InputError: it is damaged or cannot be read.
        """
        try:
            with self.engine.connect() as connection:
                yield Page(connection)
        except DBAPIError as error:
            raise self.keeper.refused(error) from None

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
        except DBAPIError as error:
            raise self.keeper.refused(error) from None

    def close(self) -> None:
        """Let go of file or server."""
        self.engine.dispose()


def open_notebook(place: Where, *, now: datetime) -> Notebook:
    """Open a notebook, or make one where there is none.

    Parameters
    ----------
    place: its file, or its database on a server.
    now: for the name of the backup that is made before an older notebook is changed.

    Raises
    ------
    InputError: no notebook but something else, one of a later program, a damaged one, or a place
        that cannot be written to or reached.
    """
    keeper = keeper_of(place)
    book = Notebook(keeper.engine(), place, keeper)
    try:
        _bring_up_to_date(book, now)
    except (DBAPIError, OSError) as error:
        book.close()
        raise keeper.refused(error) from None
    except InputError:
        book.close()
        raise
    return book


def begin_at_step(path: Path, step: str) -> Notebook:
    """Make a notebook's file as programs of a step made it, for what they wrote.

    Raises
    ------
    InputError: a step that this program does not know.
    """
    keeper = keeper_of(path)
    book = Notebook(keeper.engine(), path, keeper)
    if step == HEAD:  # the steps lead to the same tables, and take their time
        with book.writing() as page:
            metadata.create_all(page.connection)
        return book
    from alembic.util.exc import CommandError

    try:
        _take_steps(book, to=step)
    except CommandError:
        book.close()
        raise InputError("step", step, f"one up to {HEAD}") from None
    return book


def _bring_up_to_date(book: Notebook, now: datetime) -> None:
    with book.engine.connect() as connection:
        step = step_of(connection)
    if step == HEAD:
        return
    if step is not None and step > HEAD:
        hint = "Take the newer program; this one could not read it whole."
        raise InputError("notebook", f"step {step}", f"one up to step {HEAD}", hint=hint)
    if step is not None:
        back_up(book.place, now=now, before="step")
    _take_steps(book)


def _take_steps(book: Notebook, *, to: str = HEAD) -> None:
    """All steps in one transaction; another process may have been quicker."""
    with book.engine.connect().execution_options(writes=True) as connection, connection.begin():
        take_steps(connection, to=to)
        book.keeper.settle(connection)
