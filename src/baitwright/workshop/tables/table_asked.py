"""A table of deliveries as a page asks for it: how its file reads, and which heading is which."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.tables.table_file import HowToRead
from baitwright.workshop.tables.table_headings import Ours
from baitwright.workshop.tables.table_import import (
    TableImport,
    Wishes,
    how_from,
    import_table,
    wishes_from,
)
from baitwright.workshop.tables.table_reading import read_table
from baitwright.workshop.tables.table_words import row_line, several, wrong_line

_COLUMN, LEFT_OUT = "column ", "="
"""In front of ours where a page tells whose heading it is; and a heading that is none."""
CHOICES: Mapping[str, tuple[str, ...]] = {
    "delimiter": ("comma", "semicolon", "tab"),
    "decimals": ("point", "comma"),
    "days": ("day-first", "month-first"),
    "again": ("yes",),
}
"""What a page may choose of how a file reads; nothing chosen is found in the file."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of our columns: the field that chooses, what is chosen, and what was found for it."""

    name: str
    ours: str
    chosen: str
    found: str


@dataclass(frozen=True, slots=True)
class Looked:
    """A table that was looked at: its headings and choices, its rows or what is wrong."""

    headings: tuple[str, ...]
    choices: tuple[Choice, ...]
    told: Mapping[str, str]
    read_as: str
    rows: tuple[str, ...] = ()
    wrong: tuple[str, ...] = ()
    unused: tuple[str, ...] = ()
    error: str = ""

    @property
    def is_good(self) -> bool:
        """Whether all of it could come in."""
        return bool(self.rows) and not self.wrong and not self.error


def look(book: Notebook | None, path: Path, of: Mapping[str, str], *, now: datetime) -> Looked:
    """Look at a table, write nothing.

    Raises
    ------
    InputError: it is no table.
    """
    table = read_table(path, how_of(of))
    told = {key: of.get(key, "") for key in (*CHOICES, "sheet", "encoding")}
    try:
        done = import_table(book, path, wishes_of(of), now=now)
    except InputError as error:
        said = str(InputError(error.field, error.got, error.accepted, hint=error.hint))
        choices = _choices(of, None)
        return Looked(table.headings, choices, told, table.told, error=said)
    rows = () if done.wrong else tuple(row_line(one) for one in done.rows)
    wrong = tuple(map(wrong_line, done.wrong))
    return Looked(
        table.headings, _choices(of, done), told, table.told, rows, wrong, done.columns.unmatched
    )


def wishes_of(of: Mapping[str, str]) -> Wishes:
    """What a page chose; only to look."""
    columns = {
        key.removeprefix(_COLUMN): one.removeprefix(LEFT_OUT)
        for key, one in of.items()
        if key.startswith(_COLUMN) and one
    }
    days, again = _one("days", of), bool(_one("again", of))
    return wishes_from(columns=columns, days=days, again=again, only_look=True, **_file(of))


def how_of(of: Mapping[str, str]) -> HowToRead:
    """How a file reads, as a page chose."""
    return how_from(**_file(of))


def imported(book: Notebook, path: Path, wishes: Wishes, *, now: datetime) -> str:
    """Put all rows of a table on the shelf; what became of it.

    Raises
    ------
    InputError: as `import_table`, or a row that is wrong.
    """
    done = import_table(book, path, wishes, now=now)
    if done.wrong:
        rows = f"{len({one.row for one in done.wrong})} rows to put right"
        raise InputError("table", rows, "rows that are all right", hint="Nothing was imported.")
    return f"{several(len(done.lots), 'lot')} on the shelf: {done.lots[0]} to {done.lots[-1]}"


def _file(of: Mapping[str, str]) -> dict[str, str | None]:
    named = {key: of.get(key, "").strip() for key in ("sheet", "encoding")}
    return {**named, "delimiter": _one("delimiter", of), "decimals": _one("decimals", of)}


def _one(key: str, of: Mapping[str, str]) -> str | None:
    told = of.get(key, "")
    if told and told not in CHOICES[key]:
        raise InputError(key, told, f"one of: {', '.join(CHOICES[key])}")
    return told or None


def _choices(of: Mapping[str, str], done: TableImport | None) -> tuple[Choice, ...]:
    matched = {} if done is None else done.columns.matched
    made = []
    for ours in Ours:
        one, name = matched.get(ours), f"{_COLUMN}{ours}"
        found = "" if one is None else f"{one.heading}{f', in {one.unit}' if one.unit else ''}"
        made.append(Choice(name, str(ours), of.get(name, ""), found))
    return tuple(made)
