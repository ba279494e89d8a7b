"""Records of a page, written: version after version, undone, and what a purge leaves."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import bindparam, func, select

from baitwright.notebook.hidden import refuse_hidden
from baitwright.notebook.leaf import written
from baitwright.notebook.record_lists import RecordLists, Revision, revision_of
from baitwright.notebook.tables import newest, revisions, tombstones
from baitwright.terms.errors import InputError

LONGEST_BODY = 1_000_000
"""Characters of one record (judgement); photos stand beside it as files."""
LONGEST_NAME = 200
"""Characters of a record's name, as the tables have them."""

ABOUT, DAY = ("about", "item"), ("day", "came")
"""Under which entries of its body a record says what it is about, and of which day it is."""

_ADDED, _LISTED = revisions.insert(), newest.insert()
_LISTED_NO_MORE = newest.delete().where(
    newest.c.kind == bindparam("of_kind"), newest.c.name == bindparam("of_name")
)


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


class Records(RecordLists):
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
        InputError: no name, a long one, a control character, or more text than a record holds.
        """
        refuse_hidden(f"{kind}'s name", name)
        refuse_hidden("reason", reason)
        refuse_hidden(f"{kind} {name}", body)
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
        added = self._connection.execute(_ADDED, {**made, "reason": reason, "body": text})
        (at,) = added.inserted_primary_key or (None,)
        revision = Revision(kind, name, there + 1, time, reason, body)
        if there:
            self._list_no_more(kind, name)
        if body is not None:
            self._list(revision, at)
        return revision

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
            self._list(revision_of(row), row.id)

    def _list(self, made: Revision, at: int | None) -> None:
        body = made.body or {}
        row = {"kind": made.kind, "name": made.name, "revision": at}
        filed = {"about": _filed(body, ABOUT, 200), "day": _filed(body, DAY, 10)}
        self._connection.execute(_LISTED, {**row, **filed})

    def _list_no_more(self, kind: str, name: str) -> None:
        self._connection.execute(_LISTED_NO_MORE, {"of_kind": kind, "of_name": name})


def _filed(body: Mapping[str, Any], keys: tuple[str, ...], most: int) -> str:
    return next((str(body[key])[:most] for key in keys if body.get(key)), "")
