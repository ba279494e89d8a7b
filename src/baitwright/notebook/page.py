"""A page of the notebook: what is read and written in one transaction."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import Connection, Row, func, select

from baitwright.ledger.movements import STEP, Account, Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.tables import links, movements, revisions, tombstones
from baitwright.terms.errors import InputError

LONGEST_BODY = 1_000_000
"""Characters of one record (judgement); photos stand beside it as files."""


@dataclass(frozen=True, slots=True)
class Revision:
    """One version of a record; ``body`` is None where it was taken away."""

    kind: str
    name: str
    version: int
    time: datetime
    reason: str
    body: Mapping[str, Any] | None


class ChangedMeanwhileError(InputError):
    """A record was written by someone else since it was read.

    Parameters
    ----------
    kind, name: which record.
    seen, there: the version that was read, and the one that stands now.
    """

    def __init__(self, kind: str, name: str, *, seen: int, there: int) -> None:
        self.seen, self.there = seen, there
        hint = "Someone wrote in it meanwhile: read it again, then write."
        accepted = f"version {there}, the newest" if there else "none, for it is not there"
        super().__init__(f"{kind} {name}", f"version {seen}", accepted, hint=hint)


class Page:
    """What a transaction reads and writes."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    # --- records ---------------------------------------------------------------------------

    def write(
        self,
        kind: str,
        name: str,
        body: Mapping[str, Any] | None,
        *,
        seen: int,
        time: datetime,
        reason: str = "",
    ) -> Revision:
        """Write the next version of a record, or take it away with a body of None.

        Parameters
        ----------
        kind, name: which record.
        body: plain data.
        seen: the version that was read, 0 for a new one.
        time: now, with its zone.
        reason: why, in the maker's words.

        Raises
        ------
        ChangedMeanwhileError: another version stands there by now.
        InputError: no name, or more text than a record holds.
        """
        if not name.strip():
            raise InputError(f"{kind}'s name", name, "a name")
        latest = self.latest(kind, name)
        there = 0 if latest is None else latest.version
        if there != seen:
            raise ChangedMeanwhileError(kind, name, seen=seen, there=there)
        text = None if body is None else json.dumps(body, ensure_ascii=False, allow_nan=False)
        if text is not None and len(text) > LONGEST_BODY:
            accepted = f"{LONGEST_BODY} characters at most"
            raise InputError(f"{kind} {name}", f"{len(text)} characters", accepted)
        made = {"kind": kind, "name": name, "version": there + 1, "time": _written(time)}
        self._connection.execute(revisions.insert().values(**made, reason=reason, body=text))
        return Revision(kind, name, there + 1, time, reason, body)

    def latest(self, kind: str, name: str) -> Revision | None:
        """The newest version of a record, be it taken away; none where it never was."""
        found = _of(kind, name).order_by(revisions.c.version.desc()).limit(1)
        row = self._connection.execute(found).first()
        return None if row is None else _revision(row)

    def history(self, kind: str, name: str) -> tuple[Revision, ...]:
        """Every version of a record, the first one first."""
        found = self._connection.execute(_of(kind, name).order_by(revisions.c.version))
        return tuple(_revision(row) for row in found)

    def all(self, kind: str) -> tuple[Revision, ...]:
        """The newest version of every record of a kind that was not taken away, by name."""
        newest = (
            select(revisions.c.name, func.max(revisions.c.version).label("version"))
            .where(revisions.c.kind == kind)
            .group_by(revisions.c.name)
            .subquery()
        )
        same = (revisions.c.name == newest.c.name) & (revisions.c.version == newest.c.version)
        wanted = (
            select(revisions)
            .join(newest, same)
            .where(revisions.c.kind == kind, revisions.c.body.is_not(None))
            .order_by(revisions.c.name)
        )
        return tuple(_revision(row) for row in self._connection.execute(wanted))

    def undo(self, kind: str, name: str, *, time: datetime) -> Revision:
        """Write the version before the newest once more, as the newest.

        Raises
        ------
        InputError: there is no such record.
        """
        versions = self.history(kind, name)
        if not versions:
            raise InputError(f"{kind} {name}", None, "a record of the notebook")
        before = versions[-2].body if len(versions) > 1 else None
        last = versions[-1]
        reason = f"undoes version {last.version}"
        return self.write(kind, name, before, seen=last.version, time=time, reason=reason)

    def purge(self, kind: str, name: str, *, time: datetime) -> int:
        """Empty every version of a record for good; how many there were.

        Copies made before still hold it, until they are thinned out or thrown away.

        Raises
        ------
        InputError: there is no such record.
        """
        emptied = (
            revisions.update()
            .where(revisions.c.kind == kind, revisions.c.name == name)
            .values(body=None, reason="")
        )
        count = self._connection.execute(emptied).rowcount
        if not count:
            raise InputError(f"{kind} {name}", None, "a record of the notebook")
        stone = {"kind": kind, "name": name, "time": _written(time), "versions": count}
        self._connection.execute(tombstones.insert().values(**stone))
        return count

    # --- the shelf's book ------------------------------------------------------------------

    def post(self, lines: Iterable[Movement]) -> int:
        """Write lines that the book has accepted, as one entry; its number."""
        last = select(func.coalesce(func.max(movements.c.entry), 0))
        entry = int(self._connection.execute(last).scalar_one()) + 1
        rows = [
            {
                "entry": entry,
                "time": _written(one.time),
                "item": one.item,
                "lot": one.lot,
                "amount": one.amount,
                "value_millionths": int(one.value / STEP),
                "reason": one.reason.value,
                "override": one.override,
            }
            for one in lines
        ]
        if rows:
            self._connection.execute(movements.insert(), rows)
        return entry

    def entry_lines(self, entry: int | None = None) -> tuple[Movement, ...]:
        """The lines of an entry, or of the last one."""
        wanted: Any = entry
        if entry is None:
            wanted = select(func.max(movements.c.entry)).scalar_subquery()
        found = select(movements).where(movements.c.entry == wanted).order_by(movements.c.id)
        return tuple(_movement(row) for row in self._connection.execute(found))

    def book_lines(self, item: str | None = None) -> tuple[Movement, ...]:
        """The lines of the book as they were written, of one item or of all."""
        wanted = select(movements).order_by(movements.c.id)
        if item is not None:
            wanted = wanted.where(movements.c.item == item)
        return tuple(_movement(row) for row in self._connection.execute(wanted))

    def lots(self, item: str) -> Mapping[str, int]:
        """What each lot of an item holds."""
        held = (
            select(movements.c.lot, func.sum(movements.c.amount))
            .where(movements.c.item == item)
            .group_by(movements.c.lot)
        )
        return {lot: int(amount) for lot, amount in self._connection.execute(held)}

    def account(self, item: str) -> Account:
        """How much of an item there is over all its lots, and what it is worth."""
        sums = select(func.sum(movements.c.amount), func.sum(movements.c.value_millionths))
        row = self._connection.execute(sums.where(movements.c.item == item)).one()
        amount, millionths = (int(one or 0) for one in row)
        return Account(amount, millionths * STEP)

    # --- traces ----------------------------------------------------------------------------

    def link(self, made: Link) -> None:
        """Write that something of one place went into another; once is enough."""
        row = {
            "source_stop": made.source.stop.value,
            "source_name": made.source.name,
            "into_stop": made.into.stop.value,
            "into_name": made.into.name,
        }
        known = select(links.c.id).filter_by(**row)
        if self._connection.execute(known).first() is None:
            self._connection.execute(links.insert().values(**row))

    def links(self) -> tuple[Link, ...]:
        """What went into what, as it was written."""
        rows = self._connection.execute(select(links).order_by(links.c.id))
        return tuple(
            Link(
                Place(Stop(row.source_stop), row.source_name),
                Place(Stop(row.into_stop), row.into_name),
            )
            for row in rows
        )


def _of(kind: str, name: str) -> Any:
    return select(revisions).where(revisions.c.kind == kind, revisions.c.name == name)


def _written(time: datetime) -> str:
    if time.tzinfo is None:
        raise ValueError("a time without its zone")
    return time.astimezone(UTC).isoformat(timespec="microseconds")


def _revision(row: Row[Any]) -> Revision:
    body = None if row.body is None else json.loads(row.body)
    time = datetime.fromisoformat(row.time)
    return Revision(row.kind, row.name, row.version, time, row.reason, body)


def _movement(row: Row[Any]) -> Movement:
    return Movement(
        item=row.item,
        lot=row.lot,
        time=datetime.fromisoformat(row.time),
        amount=row.amount,
        value=Decimal(row.value_millionths) * STEP,
        reason=Reason(row.reason),
        override=row.override,
    )
