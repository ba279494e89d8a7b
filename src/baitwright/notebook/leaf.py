"""A part of a page: the transaction it is on, and how it writes a moment."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import Connection


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
