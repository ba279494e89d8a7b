"""Records of a page, read: one with its versions, those that stand, and what is in them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Row, Select, bindparam, func, or_, select

from baitwright.notebook.leaf import Leaf, in_parts
from baitwright.notebook.tables import newest, revisions

_OF = select(revisions).where(
    revisions.c.kind == bindparam("kind"), revisions.c.name == bindparam("name")
)
_LATEST = _OF.order_by(revisions.c.version.desc()).limit(1)
_HISTORY = _OF.order_by(revisions.c.version)


@dataclass(frozen=True, slots=True)
class Revision:
    """One version of a record; ``body`` is None where it was taken away."""

    kind: str
    name: str
    version: int
    time: datetime
    reason: str
    body: Mapping[str, Any] | None


class RecordLists(Leaf):
    """Reads the records of a page."""

    def latest(self, kind: str, name: str) -> Revision | None:
        """The newest version of a record, be it taken away; none where it never was."""
        row = self._connection.execute(_LATEST, {"kind": kind, "name": name}).first()
        return None if row is None else revision_of(row)

    def history(self, kind: str, name: str) -> tuple[Revision, ...]:
        """Every version of a record, the first one first."""
        found = self._connection.execute(_HISTORY, {"kind": kind, "name": name})
        return tuple(revision_of(row) for row in found)

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
        return tuple(
            one
            for part in in_parts(names)
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

    def _read(self, wanted: Select[Any]) -> tuple[Revision, ...]:
        return tuple(revision_of(row) for row in self._connection.execute(wanted))


def _standing(kind: str) -> Select[Any]:
    """The revisions of a kind that stand today."""
    joined = revisions.join(newest, newest.c.revision == revisions.c.id)
    return select(revisions).select_from(joined).where(newest.c.kind == kind)


def revision_of(row: Row[Any]) -> Revision:
    """One version, as its row has it."""
    body = None if row.body is None else json.loads(row.body)
    time = datetime.fromisoformat(row.time)
    return Revision(row.kind, row.name, row.version, time, row.reason, body)
