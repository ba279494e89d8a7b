"""Deliveries from a file onto the shelf: all rows in one transaction after a copy, or none."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.opening.notebook_care import copy_before
from baitwright.workshop.shelf.deliveries import put_on_shelf
from baitwright.workshop.tables.table_columns import Columns, match_columns
from baitwright.workshop.tables.table_fields import Days
from baitwright.workshop.tables.table_file import Decimals, FileTable, HowToRead, RowError
from baitwright.workshop.tables.table_known import KnownShelf, known_shelf
from baitwright.workshop.tables.table_reading import read_table
from baitwright.workshop.tables.table_rows import Reading, ReadRow, read_rows


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the maker says of a table: how its file reads, ours for theirs, and days' order.

    ``again`` lets a supplier's lot come a second time; ``only_look`` writes nothing.
    """

    file: HowToRead = field(default_factory=HowToRead)
    columns: Mapping[str, str] = field(default_factory=dict)
    days: Days | None = None
    again: bool = False
    only_look: bool = False


@dataclass(frozen=True, slots=True)
class TableImport:
    """What became of a table: as read, its rows, what is wrong, and the lots that were made.

    There are lots only where nothing is wrong and something was to be written.
    """

    table: FileTable
    columns: Columns
    rows: tuple[ReadRow, ...]
    wrong: tuple[RowError, ...]
    lots: tuple[str, ...] = ()
    copied: Path | None = None


def how_from(**typed: Any) -> HowToRead:
    """How a file reads, as it was typed; what was not is left to the file."""
    said = {name: word for name, word in typed.items() if word is not None}
    if "decimals" in said:
        said["decimals"] = Decimals(said["decimals"])
    return HowToRead(**said)


def wishes_from(
    *, columns: Mapping[str, str], days: str | None, again: bool, only_look: bool, **file: Any
) -> Wishes:
    """Wishes as they were typed; ``file`` is what `how_from` takes."""
    return Wishes(how_from(**file), columns, Days(days) if days else None, again, only_look)


def import_table(
    book: Notebook | None, path: Path, wishes: Wishes, *, now: datetime
) -> TableImport:
    """Put every row of a table of deliveries on the shelf, or none where one of them is wrong.

    The notebook is copied before, and one `shelf undo` takes the whole table back.

    Parameters
    ----------
    book: an open notebook; none where there is none yet and nothing is to be written.
    path: a CSV or XLSX file.
    wishes: what the maker says of it.
    now: with its zone.

    Raises
    ------
    InputError: the file is no table, a column is missing, or the notebook cannot be written to.
        Rows that are wrong are listed and not raised.
    """
    table = read_table(path, wishes.file)
    try:
        columns = match_columns(table.headings, wishes.columns)
    except InputError as error:
        raise error.located(str(path)) from None
    how = Reading(now.date(), wishes.days, wishes.again)

    def read(page: Page | None) -> tuple[tuple[ReadRow, ...], tuple[RowError, ...]]:
        known = KnownShelf() if page is None else known_shelf(page)
        return read_rows(table, columns, known=known, how=how)

    if book is None:
        return TableImport(table, columns, *read(None))
    with book.reading() as page:
        rows, wrong = read(page)
    if wrong or wishes.only_look:
        return TableImport(table, columns, rows, wrong)
    copied = copy_before(book, "import", now=now)
    with book.writing() as page:
        rows, wrong = read(page)  # the shelf may have changed since it was looked at
        lots = () if wrong else put_on_shelf(page, (one.delivery for one in rows), now=now)
    return TableImport(table, columns, rows, wrong, lots, copied)
