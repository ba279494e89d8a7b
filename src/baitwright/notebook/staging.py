"""A notebook of rows from elsewhere, in a place of its own, before a line of it counts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy import MetaData, Table, func, select
from sqlalchemy.exc import IntegrityError

from baitwright.notebook.hidden import HiddenRows
from baitwright.notebook.page import Page
from baitwright.notebook.rows import (
    FOLLOWING,
    Row,
    count_on,
    from_told,
    put_in,
    rows_of,
    told_tables,
)
from baitwright.notebook.soundness import HEAD
from baitwright.notebook.store import Notebook, begin_at_step, open_notebook
from baitwright.notebook.tables import metadata, movements, revisions
from baitwright.terms.errors import InputError

Told = Iterable[tuple[str, object]]
"""Rows of a file, each with the name of its table; those of one table together."""
MOST_MOVED = 4 * 10**18
"""Of all amounts, and of all values, together: what a database can still add up."""


@contextmanager
def staged(told: Told, *, step: str, now: datetime) -> Iterator[Notebook]:
    """Rows that a program of some step wrote, as a notebook of today that nobody else sees.

    Parameters
    ----------
    told: the rows.
    step: that their notebook had taken last.
    now: when, with its zone.

    Raises
    ------
    InputError: a table, a column or a value that no notebook has, or rows that do not agree.
    """
    if not known_step(step):
        hint = "Take the newer program; this one could not read it whole."
        raise InputError("step", step, f"one up to step {HEAD}", hint=hint)
    with TemporaryDirectory(prefix="baitwright-") as folder:
        path = Path(folder) / "notebook.sqlite"
        book = begin_at_step(path, step)
        try:
            _fill(book, told, step)
            if step != HEAD:
                book.close()
                book = open_notebook(path, now=now)
            with book.writing() as page:
                _agree(page)
                page.list_anew()
                page.sum_anew()
            yield book
        finally:
            book.close()


def known_step(step: str) -> bool:
    """Whether this program can read what one of that step wrote."""
    return step.isascii() and step.isdigit() and len(step) == len(HEAD) and "0" < step <= HEAD


def copy_into(page: Page, stage: Notebook) -> None:
    """Put everything of a staged notebook into an empty one, row for row."""
    with stage.reading() as there:
        for table in metadata.sorted_tables:
            put_in(page.connection, table, rows_of(there.connection, table))
    count_on(page.connection, metadata)


def _fill(book: Notebook, told: Told, step: str) -> None:
    known, hidden = _tables_of(book, step), HiddenRows()
    with book.writing() as page:
        for name, rows in groupby(told, key=itemgetter(0)):
            if name not in known:
                raise InputError("table", name, f"one of {', '.join(known)}")
            table = known[name]
            try:
                put_in(page.connection, table, _looked_at(table, rows, hidden))
            except IntegrityError as error:
                raise InputError(name, str(error.orig), "rows that agree") from None
        hidden.refuse("rows")


def _looked_at(table: Table, rows: Told, hidden: HiddenRows) -> Iterator[Row]:
    for _, told in rows:
        row = from_told(table, told)
        hidden.look(table.name, row)
        yield row


def _tables_of(book: Notebook, step: str) -> Mapping[str, Table]:
    if step == HEAD:
        return {table.name: table for table in told_tables()}
    there = MetaData()
    there.reflect(book.engine)
    others = ("alembic_version", *(table.name for table in FOLLOWING))
    return {table.name: table for table in there.sorted_tables if table.name not in others}


def _agree(page: Page) -> None:
    """Refuse what each row allows and all of them together do not."""
    versions, last = func.count(), func.max(revisions.c.version)
    gaps = (
        select(revisions.c.kind, revisions.c.name, versions, last)
        .group_by(revisions.c.kind, revisions.c.name)
        .having(versions != last)
    )
    found = page.connection.execute(gaps).first()
    if found is not None:
        kind, name, count, latest = found
        accepted = f"every version up to the last, {latest}"
        raise InputError(f"{kind} {name}", f"{count} versions", accepted)
    for column in (movements.c.amount, movements.c.value_millionths):
        # as a float, for the sum of whole numbers itself may be more than the database adds up
        moved = page.connection.execute(select(func.total(func.abs(column)))).scalar_one()
        if moved > MOST_MOVED:
            raise InputError(column.name, f"{moved:.3g} in all", f"{MOST_MOVED:.3g} at most")
