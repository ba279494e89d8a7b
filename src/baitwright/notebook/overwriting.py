"""Words that a purge overwrites: in records, in the shelf's book and in suppliers' names.

Rows stay where they are and what they are: only the words change, and a tombstone says that they
did. What is the name of something stays, for others mention it by that.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, func, inspect, select

from baitwright.ledger.trace import Stop
from baitwright.notebook.leaf import written
from baitwright.notebook.page import Page
from baitwright.notebook.rows import Row, rows_of
from baitwright.notebook.tables import links, movements, newest, revisions, tombstones

KEPT_KEYS = ("files", "path", "sha256")
"""Entries that lead to files, and are no words."""
_AROUND = 30
"""Letters told on either side of what was overwritten."""
Fits = Callable[[str, Mapping[str, Any]], bool]
"""Whether what is left of a record of a kind can still be read as one."""


@dataclass(frozen=True, slots=True)
class Overwriting:
    """Words, and what stands in their place; records that do not fit any more stay as they were."""

    words: tuple[str, ...]
    by: str
    fits: Fits

    def of(self, text: str) -> str:
        """A text with the words overwritten, where they stand as whole words."""
        made = text
        for word in self.words:
            told = r"\s+".join(map(re.escape, word.split()))
            made = re.sub(rf"(?<!\w){told}(?!\w)", self.by, made, flags=re.IGNORECASE)
        return made

    def may_be_in(self, text: str) -> bool:
        """Whether it is worth reading a text closely."""
        plain = text.casefold()
        return any(word.split()[0].casefold() in plain for word in self.words)


@dataclass(frozen=True, slots=True)
class Overwritten:
    """Where words were overwritten, and how it reads there now."""

    where: str
    text: str


def overwrite(connection: Connection, told: Overwriting, *, time: datetime) -> list[Overwritten]:
    """Overwrite words wherever a notebook has them; where that was, each place once.

    Parameters
    ----------
    connection: the transaction; the notebook may be of any step.
    told: the words.
    time: for the tombstones.
    """
    names = _names(connection)
    found = [*_records(connection, told, names, time=time), *_book(connection, told)]
    found += _supplies(connection, told)
    if inspect(connection).has_table(newest.name):
        Page(connection).list_anew()
    return list({one.where: one for one in found}.values())


def _names(connection: Connection) -> frozenset[str]:
    """Whatever is mentioned by its name."""
    columns = (revisions.c.name, movements.c.item, movements.c.lot, links.c.into_name)
    each = (connection.scalars(select(column).distinct()) for column in columns)
    return frozenset(name for names in each for name in names)


def _records(
    connection: Connection, told: Overwriting, names: frozenset[str], *, time: datetime
) -> Iterator[Overwritten]:
    changed: dict[tuple[str, str], None] = {}
    for row in list(_worth_reading(connection, told)):
        places: list[Overwritten] = []
        where = f"{row['kind']} {row['name']}"
        body, text = row["body"], row["body"]
        if body is not None:
            made = _walked(json.loads(body), told, names, where=where, places=places)
            text = json.dumps(made, ensure_ascii=False, allow_nan=False)
            if not places or not told.fits(row["kind"], made):
                text, places = body, []
        reason = told.of(row["reason"])
        if reason != row["reason"]:
            places.append(_shown(f"{where}, reason of version {row['version']}", reason, told))
        if not places:
            continue
        this = revisions.update().where(revisions.c.id == row["id"])
        connection.execute(this.values(body=text, reason=reason))
        changed[row["kind"], row["name"]] = None
        yield from places
    for kind, name in changed:
        last = select(func.max(revisions.c.version))
        one = last.where(revisions.c.kind == kind, revisions.c.name == name)
        stone = {"kind": kind, "name": name, "time": written(time)}
        versions = connection.execute(one).scalar_one()
        connection.execute(tombstones.insert().values(**stone, versions=versions))


def _worth_reading(connection: Connection, told: Overwriting) -> Iterator[Row]:
    for row in rows_of(connection, revisions):
        if told.may_be_in(f"{row['reason']} {row['body'] or ''}"):
            yield row


def _walked(
    value: Any, told: Overwriting, names: frozenset[str], *, where: str, places: list[Overwritten]
) -> Any:
    """Data with the words overwritten, but for whole texts that are names and for files."""
    if isinstance(value, dict):
        return {
            key: one
            if key in KEPT_KEYS
            else _walked(one, told, names, where=f"{where}, {key}", places=places)
            for key, one in value.items()
        }
    if isinstance(value, list):
        return [_walked(one, told, names, where=where, places=places) for one in value]
    if not isinstance(value, str) or value in names:
        return value
    made = told.of(value)
    if made != value:
        places.append(_shown(where, made, told))
    return made


def _book(connection: Connection, told: Overwriting) -> Iterator[Overwritten]:
    for row in list(rows_of(connection, movements, movements.c.override != "")):
        made = told.of(row["override"])
        if made != row["override"]:
            this = movements.update().where(movements.c.id == row["id"])
            connection.execute(this.values(override=made))
            yield _shown(f"the shelf's book, entry {row['entry']}", made, told)


def _supplies(connection: Connection, told: Overwriting) -> Iterator[Overwritten]:
    """Suppliers' lots in traces; their lots tell them in the same words."""
    supplied = links.c.source_stop == Stop.SUPPLIED.value
    there = {tuple(row.values())[1:] for row in rows_of(connection, links, supplied)}
    for row in list(rows_of(connection, links, supplied)):
        made = told.of(row["source_name"])
        if made == row["source_name"]:
            continue
        this = links.c.id == row["id"]
        if tuple({**row, "source_name": made}.values())[1:] in there:
            connection.execute(links.delete().where(this))
        else:
            connection.execute(links.update().where(this).values(source_name=made))
        yield _shown(f"the trace of {made}", made, told)


def _shown(where: str, text: str, told: Overwriting) -> Overwritten:
    """The words around the first place."""
    plain = " ".join(text.split())
    at = max(plain.find(told.by), 0)
    start, end = max(at - _AROUND, 0), at + len(told.by) + _AROUND
    before, after = "..." if start else "", "..." if end < len(plain) else ""
    return Overwritten(where, f"{before}{plain[start:end]}{after}")
