"""The tables of a notebook as plain rows: read one after the other, checked, and put in."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime
from functools import cache
from itertools import islice
from typing import Any

from sqlalchemy import BigInteger, Column, Connection, MetaData, Table, func, select
from sqlalchemy.sql.elements import ColumnElement

from baitwright.ledger.movements import Reason
from baitwright.ledger.trace import Stop
from baitwright.notebook.leaf import written
from baitwright.notebook.records import LONGEST_BODY
from baitwright.notebook.tables import levels, metadata, newest
from baitwright.terms.errors import InputError

Row = Mapping[str, Any]
"""One line of a table by its columns; a body is the text that stands in the notebook."""
FOLLOWING = (newest, levels)
"""Tables that follow from others, and are made anew."""
AT_ONCE = 1000
"""Rows that are in hand at a time."""


def told_tables() -> tuple[Table, ...]:
    """The tables that say something of their own; what follows from them is made anew."""
    return tuple(table for table in metadata.sorted_tables if table not in FOLLOWING)


def rows_of(
    connection: Connection, table: Table, *wanted: ColumnElement[bool], order: tuple[str, ...] = ()
) -> Iterator[Row]:
    """The rows of a table by its key, or by some columns, a few in hand at a time."""
    by = [table.c[name] for name in order] or list(table.primary_key)
    found = select(table).where(*wanted).order_by(*by).execution_options(yield_per=AT_ONCE)
    names = table.c.keys()
    with connection.execute(found) as rows:
        for row in rows:
            yield dict(zip(names, row, strict=True))


def count_of(connection: Connection, table: Table, *wanted: ColumnElement[bool]) -> int:
    """How many rows a table has."""
    count = select(func.count()).select_from(table).where(*wanted)
    return int(connection.execute(count).scalar_one())


def is_empty(connection: Connection) -> bool:
    """Whether nothing was ever written in a notebook."""
    return not any(count_of(connection, table) for table in metadata.sorted_tables)


def put_in(connection: Connection, table: Table, rows: Iterable[Row]) -> int:
    """Put rows in as they are; how many there were."""
    waiting, count = iter(rows), 0
    while some := list(islice(waiting, AT_ONCE)):
        connection.execute(table.insert(), some)
        count += len(some)
    return count


def count_on(connection: Connection, tables: MetaData) -> None:
    """Let a server number new rows after the last; restarting is taken back with the rest."""
    for table in tables.sorted_tables:
        if "id" in table.c and connection.dialect.name == "postgresql":
            last = connection.execute(select(func.coalesce(func.max(table.c.id), 0))).scalar_one()
            numbers = connection.execute(select(func.pg_get_serial_sequence(table.name, "id")))
            restart = f"ALTER SEQUENCE {numbers.scalar_one()} RESTART WITH {last + 1}"
            connection.exec_driver_sql(restart)


def from_told(table: Table, told: object) -> Row:
    """A row of a file as a row of the notebook: a body is plain data there and text here.

    Raises
    ------
    InputError: a column too many or too few, or a value of the wrong type.
    """
    if not isinstance(told, dict):
        raise InputError(table.name, _short(told), "a row with its columns by name")
    row = dict(told)
    if "body" in table.c and row.get("body") is not None:
        if not isinstance(row["body"], dict):
            raise InputError(f"{table.name}.body", _short(row["body"]), "entries by name, or none")
        try:
            row["body"] = json.dumps(row["body"], ensure_ascii=False, allow_nan=False)
        except (ValueError, RecursionError) as error:
            accepted = "numbers, texts, lists and entries, not too deep"
            raise InputError(f"{table.name}.body", str(error), accepted) from None
    return checked(table, row)


def checked(table: Table, row: Row) -> Row:
    """The row itself, once every value of it is what its column takes.

    Raises
    ------
    InputError: it is not.
    """
    for name, fits, accepted in _columns(table):
        if name not in row:
            raise InputError(f"{table.name}.{name}", None, accepted)
        if not fits(row[name]):
            raise InputError(f"{table.name}.{name}", _short(row[name]), accepted)
    if len(row) > len(table.c):
        unknown = next(name for name in row if name not in table.c)
        known = ", ".join(table.c.keys())
        raise InputError(f"column of {table.name}", _short(unknown), f"one of {known}")
    return row


@cache
def _columns(table: Table) -> tuple[tuple[str, Callable[[Any], bool], str], ...]:
    return tuple((column.name, *_taken(column)) for column in table.columns)


_WORDS = {
    ("movements", "reason"): frozenset(Reason),
    ("links", "source_stop"): frozenset(Stop),
    ("links", "into_stop"): frozenset(Stop),
}
_SMALL, _LARGE = 2**31 - 1, 10**18
"""What a column of whole numbers holds; values end at a million millions of money."""


def words_of(column: Column[Any]) -> tuple[str, ...]:
    """The words that a column is made of; none where it takes any text."""
    return tuple(sorted(_WORDS.get((column.table.name, column.name), ())))


def bounds_of(column: Column[Any]) -> tuple[int, int]:
    """The least and the largest of a column of whole numbers."""
    is_large = isinstance(column.type, BigInteger)
    return (-_LARGE, _LARGE) if is_large else (1, _SMALL)


def _taken(column: Column[Any]) -> tuple[Callable[[Any], bool], str]:
    """Whether a column takes a value, and what it takes in words."""
    if column.type.python_type is int:
        least, most = bounds_of(column)
        accepted = f"a whole number from {least} to {most}"
        return lambda value: type(value) is int and least <= value <= most, accepted
    words = words_of(column)
    if words:
        return lambda value: value in words, f"one of {', '.join(words)}"
    fits, accepted = _TEXTS.get(column.name, _ANY_TEXT)
    if column.nullable:
        return lambda value: value is None or fits(value), f"{accepted}, or none"
    return fits, accepted


def _is_text(value: object) -> bool:
    if not isinstance(value, str):
        return False
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _is_time(value: object) -> bool:
    if not isinstance(value, str):
        return False
    try:
        return written(datetime.fromisoformat(value)) == value
    except (ValueError, OverflowError):
        return False


def _is_body(value: object) -> bool:
    return _is_text(value) and len(str(value)) <= LONGEST_BODY


_ANY_TEXT = (_is_text, "a text")
_TEXTS: Mapping[str, tuple[Callable[[Any], bool], str]] = {
    "time": (_is_time, "a moment in UTC such as 2026-11-27T09:00:00.000000+00:00"),
    "kind": (lambda value: _is_text(value) and value.strip(), "a text that is not blank"),
    "name": (lambda value: _is_text(value) and value.strip(), "a text that is not blank"),
    "body": (_is_body, f"entries of {LONGEST_BODY} characters at most together"),
}


def _short(value: object) -> str:
    text = value if isinstance(value, str) else repr(value)
    return text if len(text) <= 60 else f"{text[:60]}..."
