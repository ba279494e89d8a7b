"""A part of a page: the transaction it is on, how it writes a moment, and asks for many names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime

from sqlalchemy import Connection

_AT_ONCE = 500
"""Names of one query: databases take some ten thousands of words in one."""


class Leaf:
    """Reads and writes in one transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    @property
    def connection(self) -> Connection:
        """The transaction, for what is done to whole tables."""
        return self._connection


def written(time: datetime) -> str:
    """A moment in UTC, ISO 8601, to the microsecond.

    Raises
    ------
    ValueError: it has no zone.
    """
    if time.tzinfo is None:
        raise ValueError("a time without its zone")
    return time.astimezone(UTC).isoformat(timespec="microseconds")


def in_parts(names: Iterable[str]) -> Iterator[list[str]]:
    """Names in order, each once, as many as one query asks for at a time."""
    wanted = sorted(set(names))
    for at in range(0, len(wanted), _AT_ONCE):
        yield wanted[at : at + _AT_ONCE]
