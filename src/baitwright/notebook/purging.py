"""What a purge reaches beside the notebook: every copy of it."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from baitwright.notebook.backup import make_last
from baitwright.notebook.bare_file import emptying, put_tombstone
from baitwright.notebook.copies import every_copy
from baitwright.notebook.halves import let_go_of_book
from baitwright.notebook.leaf import written
from baitwright.notebook.on_file import OnFile, begin_own
from baitwright.notebook.overwriting import Overwriting, overwrite
from baitwright.notebook.people import PERSON
from baitwright.notebook.soundness import examine
from baitwright.notebook.where import Where

_EMPTY_PERSON = "UPDATE people SET body = NULL, time = ? WHERE code = ? AND body IS NOT NULL"
_EMPTY = """
UPDATE revisions SET body = NULL, reason = ''
WHERE kind = ? AND name = ? AND (body IS NOT NULL OR reason <> '')
"""
_UNLIST = "DELETE FROM newest WHERE kind = ? AND name = ?"
_TAILS = ("-journal", "-wal", "-shm")


@dataclass(frozen=True, slots=True)
class Gone:
    """What is purged: a record by kind and name, or a person by code."""

    kind: str
    name: str
    time: datetime


def purge_copies(
    notebook: Where, gone: Iterable[Gone], *, words: Overwriting | None = None
) -> dict[Path, str]:
    """Empty the same rows in every copy; why one could not be done, for each that could not.

    Words are overwritten there too. A copy that a power cut interrupts is as it was; half ones go.
    """
    left, all_gone = {}, tuple(gone)
    for copy in every_copy(notebook):
        if ".part" in copy.suffixes:
            copy.unlink(missing_ok=True)
            continue
        if copy.suffix != ".sqlite" or _has_more(copy):
            left[copy] = "It belongs to a damaged notebook: delete it yourself."
            continue
        part = copy.with_suffix(".part")
        try:
            why = _purge_copy(copy, part, gone=all_gone, words=words)
            left |= {copy: why} if why else {}
        except (OSError, sqlite3.Error, DBAPIError) as error:
            left[copy] = f"{error}."
        finally:
            let_go_of_book(part)
    return left


def _has_more(copy: Path) -> bool:
    return any(copy.with_name(copy.name + tail).exists() for tail in _TAILS)


def _purge_copy(copy: Path, part: Path, *, gone: Iterable[Gone], words: Overwriting | None) -> str:
    """Put a purged copy in a copy's place; why not, where it is not sound."""
    begin_own(part)
    shutil.copyfile(copy, part)
    if problem := examine(part):
        return problem
    if words is not None:
        _overwrite(part, words, time=max(one.time for one in gone))
    with emptying(part) as file:
        file.execute("BEGIN")
        for one in gone:
            _empty(file, one)
        file.execute("COMMIT")
        file.execute("VACUUM")
    if problem := examine(part):
        return problem
    make_last(part)
    part.replace(copy)
    return ""


def _overwrite(part: Path, words: Overwriting, *, time: datetime) -> None:
    engine = OnFile(part).engine()
    try:
        with engine.connect().execution_options(writes=True) as connection, connection.begin():
            overwrite(connection, words, time=time)
    finally:
        engine.dispose()


def _empty(file: sqlite3.Connection, gone: Gone) -> None:
    """The rows of what is gone, as far as a notebook of that step has their tables."""
    there = {name for (name,) in file.execute("SELECT name FROM sqlite_master")}
    if gone.kind == PERSON:
        if "people" in there:
            file.execute(_EMPTY_PERSON, (written(gone.time), gone.name))
        return
    count = file.execute(_EMPTY, (gone.kind, gone.name)).rowcount
    if "newest" in there:
        file.execute(_UNLIST, (gone.kind, gone.name))
    if count:
        put_tombstone(file, gone.kind, gone.name, time=written(gone.time), versions=count)
