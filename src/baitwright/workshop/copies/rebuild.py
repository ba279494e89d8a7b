"""A notebook made anew from its plain pages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.notebook.plain_pages import marks_of
from baitwright.notebook.plain_reading import contents, pages_of, rows_on
from baitwright.notebook.rows import count_of, is_empty, told_tables
from baitwright.notebook.staging import copy_into, staged
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """How many rows of each table came back, and what did not."""

    rows: Mapping[str, int]
    lost: tuple[str, ...]


def rebuild(book: Notebook, folder: Path, *, now: datetime, partly: bool = False) -> Rebuilt:
    """Write everything that stands on plain pages into an empty notebook, row for row.

    Parameters
    ----------
    book: the empty notebook.
    folder: with the pages.
    now: when, with its zone.
    partly: whether to go on without pages that are damaged or missing.

    Raises
    ------
    InputError: the notebook is not empty, or a page is damaged or missing; nothing was written.
    """
    step, marks = contents(folder)
    lost: list[str] = []
    with staged(_rows(folder, lost if partly else None), step=step, now=now) as stage:
        with stage.reading() as there:
            found = marks_of(there.connection)
            counts = {table.name: count_of(there.connection, table) for table in told_tables()}
        lost += [
            f"{name}: {found[name].rows} of {mark.rows}"
            for name, mark in marks.items()
            if name not in found or found[name] != mark
        ]
        if lost and not partly:
            hint = "Pages are missing; with --partly what is there is written all the same."
            raise InputError("pages", "; ".join(lost), "every page of a notebook", hint=hint)
        with book.writing() as here:
            if not is_empty(here.connection):
                raise InputError("notebook", str(book.place), "a new one: rebuild writes over none")
            copy_into(here, stage)
    return Rebuilt(counts, tuple(lost))


def _rows(folder: Path, lost: list[str] | None) -> Iterator[tuple[str, object]]:
    """The rows of all pages; a damaged page is noted where that is wished, or refused."""
    for path in pages_of(folder):
        try:
            found = list(rows_on(path))
        except InputError as error:
            if lost is None:
                raise
            lost.append(f"{path.name}: {error.hint}")
            continue
        yield from found
