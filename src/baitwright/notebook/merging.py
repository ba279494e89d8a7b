"""Two notebooks held against each other: what one has that the other lacks, and what differs."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from itertools import groupby
from operator import itemgetter
from typing import Any

from sqlalchemy import Connection, Table, func, select

from baitwright.notebook.page import Page
from baitwright.notebook.rows import Row, count_on, put_in, rows_of, told_tables
from baitwright.notebook.tables import (
    links,
    metadata,
    movements,
    people,
    reservations,
    revisions,
    tombstones,
)
from baitwright.terms.errors import InputError

TABLES = (revisions, movements, reservations, links, people, tombstones)
"""Those whose rows can be held against each other."""
LOCAL = ("export", "answer copy")
"""Kinds of records that are about files of one machine, and are nobody else's business."""
ENTRY = ("entry", "entries")
"""Under these names a body mentions entries of the book by their numbers."""
_NOT_TOLD = "{}"
"""The body of a person whose code was given after the copy that was put back."""
_Version = tuple[str, str, str | None]
"""Time, reason and body of a version."""


class Fate(StrEnum):
    """What a record or a person of the other notebook is to this one."""

    NEW = "new"
    GOES_ON = "goes on"
    DIFFERS = "differs"
    ALIKE = "as here, written at another time"
    SAME = "as here"


_AS_HERE = (Fate.SAME, Fate.ALIKE)


class Keep(StrEnum):
    """Whose version stands where two differ."""

    MINE = "mine"
    THEIRS = "theirs"


@dataclass(frozen=True, slots=True)
class Held:
    """A record of the other notebook held against this one: the last version here and there.

    ``common`` is up to which version they are the same; without a common one they are two things.
    """

    kind: str
    name: str
    fate: Fate
    here: int
    there: int
    common: int


@dataclass(frozen=True, slots=True)
class Merge:
    """What there is to bring in, and what stands in the way."""

    records: tuple[Held, ...]
    """Those that are not the same."""
    same: int
    people: tuple[tuple[str, Fate], ...]
    entries: frozenset[int]
    """Of the other book, that this one lacks."""
    numbers: Mapping[int, int]
    """Of every entry of the other book, by its number there: its number here."""
    reservations: tuple[Row, ...]
    links: tuple[Row, ...]
    unlinked: tuple[int, ...]
    """Links of this notebook into what went on in the other one, which has them no more."""

    @property
    def differing(self) -> tuple[Held, ...]:
        """Records that are not what they are here."""
        return tuple(one for one in self.records if one.fate is Fate.DIFFERS)

    @property
    def differing_people(self) -> tuple[str, ...]:
        """Codes under which something else is written here."""
        return tuple(code for code, fate in self.people if fate is Fate.DIFFERS)

    @property
    def is_nothing(self) -> bool:
        """Whether there is nothing to bring in."""
        told = [one.fate for one in self.records] + [fate for _, fate in self.people]
        is_told = any(fate not in _AS_HERE for fate in told)
        return not any((is_told, self.entries, self.reservations, self.links, self.unlinked))


def compare(here: Page, there: Page) -> Merge:
    """Hold another notebook against this one.

    Raises
    ------
    InputError: the other has rows that cannot be held against those of this one.
    """
    for table in told_tables():
        if table not in TABLES and next(rows_of(there.connection, table), None) is not None:
            accepted = "an empty notebook for a file with such rows"
            raise InputError("import", table.name, accepted)
    numbers, entries = _numbered(here.connection, there.connection)
    records = tuple(_records(here, there, numbers))
    added, dropped = _links(here.connection, there.connection, records)
    return Merge(
        records=tuple(one for one in records if one.fate is not Fate.SAME),
        same=sum(one.fate is Fate.SAME for one in records),
        people=tuple(_people(here, there)),
        entries=entries,
        numbers=numbers,
        reservations=_new_rows(reservations, here, there),
        links=added,
        unlinked=dropped,
    )


def new_lines(merge: Merge, there: Page) -> Iterator[Row]:
    """The lines of the other's book that this one lacks, as they were written."""
    for row in rows_of(there.connection, movements, order=("entry", "id")):
        if row["entry"] in merge.entries:
            yield row


def take_in(
    merge: Merge, here: Page, there: Page, *, keep: Keep | None, now: datetime, reason: str
) -> None:
    """Write all that there is to bring in; where records differ, theirs as the next version.

    Parameters
    ----------
    merge: of the two, as they stand on these pages.
    here, there: the pages.
    keep: whose version stands where two differ.
    now: for versions that are written anew.
    reason: for the same.
    """
    emptied = _emptied(here.connection), _emptied(there.connection)
    for one in merge.records:
        if one.fate in (Fate.NEW, Fate.GOES_ON):
            this = (one.kind, one.name)
            _go_on(here, there, one=one, numbers=merge.numbers, emptied=emptied[0].get(this, 0))
            if this in emptied[1]:
                _bring_stones(here, there, one)
        elif one.fate is Fate.DIFFERS and keep is Keep.THEIRS:
            *_, last = _versions(there, one.kind, one.name)
            body = _body(_told(last, merge.numbers)[2])
            here.write(one.kind, one.name, body, seen=one.here, time=now, reason=reason)
    _take_people(merge, here, there, keep=keep)
    put_in(here.connection, movements, _renumbered(merge, there))
    here.sum_anew()
    for number in merge.unlinked:
        here.connection.execute(links.delete().where(links.c.id == number))
    for table, rows in ((reservations, merge.reservations), (links, merge.links)):
        put_in(here.connection, table, rows)
    count_on(here.connection, metadata)


# --- records -----------------------------------------------------------------------------------


def _records(here: Page, there: Page, numbers: Mapping[int, int]) -> Iterator[Held]:
    emptied = _emptied(here.connection)
    by = ("kind", "name", "version")
    wanted = revisions.c.kind.not_in(LOCAL)
    found = rows_of(there.connection, revisions, wanted, order=by)
    for (kind, name), rows in groupby(found, key=itemgetter(*by[:2])):
        ours, purged = list(_versions(here, kind, name)), emptied.get((kind, name), 0)
        theirs = [_told(row, numbers, purged if _is_one_of(row, ours) else 0) for row in rows]
        mine = [_told(row, emptied=purged) for row in ours]
        common = 0
        while common < min(len(mine), len(theirs)) and mine[common] == theirs[common]:
            common += 1
        yield Held(kind, name, _fate(mine, theirs, common), len(mine), len(theirs), common)


def _is_one_of(row: Row, ours: Sequence[Row]) -> bool:
    """Whether a version there is the one here, or comes after all that are here."""
    at = row["version"] - 1
    return at >= len(ours) or bool(ours[at]["time"] == row["time"])


def _fate(mine: Sequence[_Version], theirs: Sequence[_Version], common: int) -> Fate:
    if not mine:
        return Fate.NEW
    if common == len(theirs):
        return Fate.SAME
    if common == len(mine):
        return Fate.GOES_ON
    return Fate.ALIKE if mine[-1][2] == theirs[-1][2] else Fate.DIFFERS


def _emptied(connection: Connection) -> dict[tuple[str, str], int]:
    """Up to which version a record was purged, or its words overwritten; neither comes back."""
    last = select(tombstones.c.kind, tombstones.c.name, func.max(tombstones.c.versions))
    found = connection.execute(last.group_by(tombstones.c.kind, tombstones.c.name))
    return {(kind, name): int(versions) for kind, name, versions in found}


def _told(row: Row, numbers: Mapping[int, int] | None = None, emptied: int = 0) -> _Version:
    """A version as this notebook would tell it: entries of the book by their numbers here."""
    if row["version"] <= emptied:
        return row["time"], "", None
    text = row["body"]
    if text is not None and numbers and any(f'"{key}"' in text for key in ENTRY):
        body = _with_numbers(json.loads(text), numbers)
        text = json.dumps(body, ensure_ascii=False, allow_nan=False)
    return row["time"], row["reason"], text


def _with_numbers(told: Any, numbers: Mapping[int, int], *, is_entry: bool = False) -> Any:
    if isinstance(told, dict):
        return {
            key: _with_numbers(value, numbers, is_entry=key in ENTRY) for key, value in told.items()
        }
    if isinstance(told, list):
        return [_with_numbers(one, numbers, is_entry=is_entry) for one in told]
    return numbers.get(told, told) if is_entry and type(told) is int else told


def _body(text: str | None) -> Any:
    return None if text is None else json.loads(text)


def _versions(page: Page, kind: str, name: str) -> Iterator[Row]:
    this = (revisions.c.kind == kind, revisions.c.name == name)
    return rows_of(page.connection, revisions, *this, order=("version",))


def _go_on(here: Page, there: Page, *, one: Held, numbers: Mapping[int, int], emptied: int) -> None:
    """Write the versions that this notebook lacks, with their own times and reasons."""
    for row in list(_versions(there, one.kind, one.name))[one.here :]:
        time, reason, text = _told(row, numbers, emptied)
        seen, when = row["version"] - 1, datetime.fromisoformat(time)
        here.write(one.kind, one.name, _body(text), seen=seen, time=when, reason=reason)


def _bring_stones(here: Page, there: Page, one: Held) -> None:
    this = (tombstones.c.kind == one.kind, tombstones.c.name == one.name)
    stones = [list(rows_of(page.connection, tombstones, *this)) for page in (here, there)]
    put_in(here.connection, tombstones, _beyond(*stones))


# --- people ------------------------------------------------------------------------------------


def _people(here: Page, there: Page) -> Iterator[tuple[str, Fate]]:
    mine = {row["code"]: row for row in rows_of(here.connection, people)}
    for row in rows_of(there.connection, people):
        known = mine.get(row["code"])
        if known is None:
            yield row["code"], Fate.NEW
        elif known["body"] in (row["body"], None) or row["body"] == _NOT_TOLD:
            yield row["code"], Fate.SAME  # an erased one stays erased
        elif known["body"] == _NOT_TOLD:
            yield row["code"], Fate.GOES_ON
        else:
            yield row["code"], Fate.DIFFERS


def _take_people(merge: Merge, here: Page, there: Page, *, keep: Keep | None) -> None:
    """People keep their code; codes that are given later are new ones."""
    fates = dict(merge.people)
    for row in list(rows_of(there.connection, people)):
        fate = fates[row["code"]]
        if fate is Fate.NEW:
            put_in(here.connection, people, [_bare(row)])
        elif fate is Fate.GOES_ON or (fate is Fate.DIFFERS and keep is Keep.THEIRS):
            changed = people.update().where(people.c.code == row["code"])
            told = {"time": row["time"], "body": row["body"]}
            here.connection.execute(changed.values(**told))


# --- lines -------------------------------------------------------------------------------------


def _numbered(here: Connection, there: Connection) -> tuple[Mapping[int, int], frozenset[int]]:
    """The number here of every entry there: its own, or for those that are new the next ones."""
    known: dict[int, list[int]] = {}
    last = 0
    for number, lines in _entries(here):
        known.setdefault(lines, []).append(number)
        last = number
    numbers, new = {}, []
    for number, lines in _entries(there):
        if known.get(lines):
            numbers[number] = known[lines].pop(0)
        else:
            new.append(number)
            numbers[number] = last + len(new)
    return numbers, frozenset(new)


def _entries(connection: Connection) -> Iterator[tuple[int, int]]:
    """Every entry of a book with the hash of its lines."""
    found = rows_of(connection, movements, order=("entry", "id"))
    for number, rows in groupby(found, key=itemgetter("entry")):
        yield number, hash(tuple(_line(row) for row in rows))


def _line(row: Row) -> tuple[object, ...]:
    """What a line is known by; its words may have been overwritten since."""
    return tuple(value for key, value in row.items() if key not in ("id", "entry", "override"))


def _renumbered(merge: Merge, there: Page) -> Iterator[Row]:
    for row in new_lines(merge, there):
        yield {**_bare(row), "entry": merge.numbers[row["entry"]]}


def _links(
    here: Connection, there: Connection, records: Iterable[Held]
) -> tuple[tuple[Row, ...], tuple[int, ...]]:
    """Links to add, and the numbers of those to let go.

    What went into a thing is as in the notebook in which it went on. Into what differs, or is no
    record at all, goes what either says.
    """
    fates: dict[str, Fate] = {}
    for one in records:
        for name in (one.name, f"{one.kind} {one.name}"):
            fates[name] = min(one.fate, fates.get(name, one.fate), key=list(Fate).index)
    mine = {tuple(_bare(row).values()): row for row in rows_of(here, links)}
    theirs = {tuple(_bare(row).values()): _bare(row) for row in rows_of(there, links)}
    added = (
        row
        for told, row in theirs.items()
        if told not in mine and fates.get(row["into_name"]) not in _AS_HERE
    )
    dropped = (
        row["id"]
        for told, row in mine.items()
        if told not in theirs and fates.get(row["into_name"]) is Fate.GOES_ON
    )
    return tuple(added), tuple(dropped)


def _new_rows(table: Table, here: Page, there: Page) -> tuple[Row, ...]:
    return tuple(_beyond(rows_of(here.connection, table), rows_of(there.connection, table)))


def _beyond(here: Iterable[Row], there: Iterable[Row]) -> Iterator[Row]:
    """Rows that are there more often than here, but for their numbers."""
    known = Counter(tuple(_bare(row).values()) for row in here)
    for row in map(_bare, there):
        told = tuple(row.values())
        if known[told]:
            known[told] -= 1
        else:
            yield row


def _bare(row: Row) -> dict[str, Any]:
    return {key: value for key, value in row.items() if key != "id"}
