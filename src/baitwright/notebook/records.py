"""Records of a page: version after version, the newest of them, and what a purge leaves."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Row, Select, func, or_, select

from baitwright.notebook.leaf import Leaf, written
from baitwright.notebook.tables import newest, revisions, tombstones
from baitwright.terms.errors import InputError

LONGEST_BODY = 1_000_000
"""Characters of one record (judgement); photos stand beside it as files."""
LONGEST_NAME = 200
"""Characters of a record's name, as the tables have them."""

_AT_ONCE = 500
"""Names in one query."""
ABOUT, DAY = ("about", "item"), ("day", "came")
"""Under which entries of its body a record says what it is about, and of which day it is."""


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


class Records(Leaf):
    """The records of a page."""

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
        InputError: no name, a long one, or more text than a record holds.
        """
        if not name.strip():
            raise InputError(f"{kind}'s name", name, "a name")
        if len(name) > LONGEST_NAME:
            accepted = f"a name of {LONGEST_NAME} characters at most"
            raise InputError(f"{kind}'s name", f"{len(name)} characters", accepted)
        latest = self.latest(kind, name)
        there = 0 if latest is None else latest.version
        if there != seen:
            raise ChangedMeanwhileError(kind, name, seen=seen, there=there)
        text = None if body is None else json.dumps(body, ensure_ascii=False, allow_nan=False)
        if text is not None and len(text) > LONGEST_BODY:
            accepted = f"{LONGEST_BODY} characters at most"
            raise InputError(f"{kind} {name}", f"{len(text)} characters", accepted)
        made = {"kind": kind, "name": name, "version": there + 1, "time": written(time)}
        added = revisions.insert().values(**made, reason=reason, body=text)
        (at,) = self._connection.execute(added).inserted_primary_key or (None,)
        revision = Revision(kind, name, there + 1, time, reason, body)
        self._list_no_more(kind, name)
        if body is not None:
            self._list(revision, at)
        return revision

    def latest(self, kind: str, name: str) -> Revision | None:
        """The newest version of a record, be it taken away; none where it never was."""
        found = _of(kind, name).order_by(revisions.c.version.desc()).limit(1)
        row = self._connection.execute(found).first()
        return None if row is None else _revision(row)

    def history(self, kind: str, name: str) -> tuple[Revision, ...]:
        """Every version of a record, the first one first."""
        found = self._connection.execute(_of(kind, name).order_by(revisions.c.version))
        return tuple(_revision(row) for row in found)

    def all(self, kind: str, *, about: str | None = None) -> tuple[Revision, ...]:
        """The newest version of every record of a kind that was not taken away, by name.

        Parameters
        ----------
        kind: such as "lot".
        about: of one thing only, such as the lots of an item.
        """
        wanted = _standing(kind).order_by(newest.c.name)
        if about is not None:
            wanted = wanted.where(newest.c.about == about)
        return self._read(wanted)

    def named(self, kind: str, names: Iterable[str]) -> tuple[Revision, ...]:
        """The newest version of those records of a kind that were not taken away, by name."""
        wanted = sorted(set(names))
        parts = (wanted[at : at + _AT_ONCE] for at in range(0, len(wanted), _AT_ONCE))
        return tuple(
            one
            for part in parts
            for one in self._read(
                _standing(kind).where(newest.c.name.in_(part)).order_by(newest.c.name)
            )
        )

    def last(self, kind: str, count: int, *, words: str = "") -> tuple[Revision, ...]:
        """The newest version of the last records of a kind, the latest day first.

        Parameters
        ----------
        kind: such as "batch".
        count: how many at most.
        words: that stand in the name or in what was written, in capitals or not.
        """
        wanted = _standing(kind).order_by(newest.c.day.desc(), newest.c.revision.desc())
        for word in words.split():
            found = newest.c.name.icontains(word, autoescape=True)
            wanted = wanted.where(found | revisions.c.body.icontains(word, autoescape=True))
        return self._read(wanted.limit(count))

    def count(self, kind: str, *, name: str = "") -> int:
        """How many records of a kind there ever were whose name begins so, taken away or not."""
        named = revisions.c.name.startswith(name, autoescape=True)
        ever = select(func.count(func.distinct(revisions.c.name)))
        found = ever.where(revisions.c.kind == kind, named)
        return int(self._connection.execute(found).scalar_one())

    def names(self, kind: str) -> tuple[str, ...]:
        """Of every record of a kind that there ever was, taken away or not."""
        ever = select(revisions.c.name).distinct().where(revisions.c.kind == kind)
        return tuple(self._connection.execute(ever.order_by(revisions.c.name)).scalars())

    def tally(self) -> Mapping[str, int]:
        """How many records of each kind stand."""
        counted = select(newest.c.kind, func.count()).group_by(newest.c.kind)
        rows = self._connection.execute(counted.order_by(newest.c.kind))
        return {kind: int(many) for kind, many in rows}

    def holding(self, words: str) -> tuple[tuple[str, str], ...]:
        """Kind and name of every record of which some version or its reason has these words."""
        told = json.dumps(words, ensure_ascii=False)[1:-1]
        has = [
            column.icontains(each, autoescape=True)
            for column, each in ((revisions.c.body, told), (revisions.c.reason, words))
        ]
        found = select(revisions.c.kind, revisions.c.name).distinct().where(or_(*has))
        rows = self._connection.execute(found.order_by(revisions.c.kind, revisions.c.name))
        return tuple((kind, name) for kind, name in rows)

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

        The file's free space and the copies made before still hold it: `notebook.purging` sees to
        both.

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
        self._list_no_more(kind, name)
        stone = {"kind": kind, "name": name, "time": written(time), "versions": count}
        self._connection.execute(tombstones.insert().values(**stone))
        return count

    def list_anew(self) -> None:
        """List what stands from the revisions alone, for a notebook that was filled in one go."""
        self._connection.execute(newest.delete())
        last = (
            select(revisions.c.kind, revisions.c.name, func.max(revisions.c.version).label("last"))
            .group_by(revisions.c.kind, revisions.c.name)
            .subquery()
        )
        same = (revisions.c.kind == last.c.kind) & (revisions.c.name == last.c.name)
        standing = (
            select(revisions)
            .join(last, same & (revisions.c.version == last.c.last))
            .where(revisions.c.body.is_not(None))
            .execution_options(yield_per=1000)
        )
        for row in self._connection.execute(standing):
            self._list(_revision(row), row.id)

    def _list(self, made: Revision, at: int | None) -> None:
        body = made.body or {}
        row = {"kind": made.kind, "name": made.name, "revision": at}
        filed = {"about": _filed(body, ABOUT, 200), "day": _filed(body, DAY, 10)}
        self._connection.execute(newest.insert().values(**row, **filed))

    def _list_no_more(self, kind: str, name: str) -> None:
        this = (newest.c.kind == kind) & (newest.c.name == name)
        self._connection.execute(newest.delete().where(this))

    def _read(self, wanted: Select[Any]) -> tuple[Revision, ...]:
        return tuple(_revision(row) for row in self._connection.execute(wanted))


def _standing(kind: str) -> Select[Any]:
    """The revisions of a kind that stand today."""
    joined = revisions.join(newest, newest.c.revision == revisions.c.id)
    return select(revisions).select_from(joined).where(newest.c.kind == kind)


def _filed(body: Mapping[str, Any], keys: tuple[str, ...], most: int) -> str:
    return next((str(body[key])[:most] for key in keys if body.get(key)), "")


def _of(kind: str, name: str) -> Any:
    return select(revisions).where(revisions.c.kind == kind, revisions.c.name == name)


def _revision(row: Row[Any]) -> Revision:
    body = None if row.body is None else json.loads(row.body)
    time = datetime.fromisoformat(row.time)
    return Revision(row.kind, row.name, row.version, time, row.reason, body)
