"""Copies of the notebook: made while it is open, read again before they count, and put back."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from baitwright.notebook.soundness import examine
from baitwright.terms.errors import InputError

FOLDER = "backups"
_STAMP = "%Y-%m-%dT%H%M%S%fZ"
DAYS, WEEKS = 7, 8
"""The newest copy of each of so many days, and of so many weeks, is kept (judgement)."""


def back_up(notebook: Path, *, now: datetime) -> Path:
    """Copy a notebook into the folder beside it, while others go on writing.

    Parameters
    ----------
    notebook: its file.
    now: when, with its zone, for the copy's name.

    Returns
    -------
    The copy, which was opened and found sound.

    Raises
    ------
    InputError: there is no notebook, no room, or the copy is not sound; no half copy is left.
    """
    if not notebook.exists():
        raise InputError("notebook", str(notebook), "a notebook that is there")
    problem = examine(notebook)
    if problem:
        raise InputError("notebook", str(notebook), "a sound notebook", hint=problem)
    folder = notebook.parent / FOLDER
    stamp = now.astimezone(UTC).strftime(_STAMP)
    made = folder / f"{notebook.stem}-{stamp}.sqlite"
    part = made.with_suffix(".part")
    try:
        folder.mkdir(exist_ok=True)
        _copy(notebook, part)
        _make_plain(part)
        problem = examine(part)
        if problem:
            raise InputError("backup", str(notebook), "a sound notebook", hint=problem)
        _make_last(part)
        part.replace(made)
    except (OSError, sqlite3.Error) as error:
        hint = f"{error}. The notebook is as it was."
        raise InputError("backup", str(folder), "a folder with room for it", hint=hint) from None
    finally:
        part.unlink(missing_ok=True)
    return made


def backups(notebook: Path) -> tuple[Path, ...]:
    """The copies of a notebook, the oldest first."""
    return tuple(sorted((notebook.parent / FOLDER).glob(f"{notebook.stem}-*Z.sqlite")))


def made_at(backup: Path) -> datetime:
    """When a copy was made, by its name."""
    stamp = backup.stem[-len("2026-11-27T090000000000Z") :]
    return datetime.strptime(stamp, _STAMP).replace(tzinfo=UTC)


def too_many(copies: Iterable[Path]) -> tuple[Path, ...]:
    """Copies that are neither the newest of one of the last days nor of one of the last weeks."""
    by_age = sorted(copies, reverse=True)
    kept = by_age[:1]
    for count, span in ((DAYS, "%Y-%j"), (WEEKS, "%G-%V")):
        newest: dict[str, Path] = {}
        for copy in by_age:
            newest.setdefault(made_at(copy).strftime(span), copy)
        kept += list(newest.values())[:count]
    return tuple(copy for copy in by_age if copy not in kept)


def restore(notebook: Path, backup: Path, *, now: datetime) -> Path | None:
    """Put a copy back in a notebook's place; what it replaces is copied first.

    The copy is written into the notebook's own file as one transaction, so that a power cut leaves
    the old one or the new one.

    Returns
    -------
    The copy of what was replaced; none where there was no notebook.

    Raises
    ------
    InputError: the copy is no sound notebook, or it cannot be written; the notebook is as it was.
    """
    accepted = "a backup of a notebook"
    if not backup.is_file():
        raise InputError("backup", str(backup), accepted)
    problem = examine(backup)
    if problem:
        raise InputError("backup", str(backup), accepted, hint=problem)
    replaced = back_up(notebook, now=now) if notebook.exists() else None
    try:
        _copy(backup, notebook)
    except sqlite3.Error as error:
        hint = f"{error}. The notebook is as it was."
        accepted = "one that can be written to"
        raise InputError("notebook", str(notebook), accepted, hint=hint) from None
    return replaced


def _copy(source: Path, into: Path) -> None:
    reading = f"{source.resolve().as_uri()}?mode=ro"
    with (
        closing(sqlite3.connect(reading, uri=True)) as old,
        closing(sqlite3.connect(into)) as new,
    ):
        new.execute("PRAGMA synchronous = FULL")
        old.backup(new)


def _make_plain(path: Path) -> None:
    """One file with nothing beside it."""
    with closing(sqlite3.connect(path)) as copy:
        copy.execute("PRAGMA journal_mode = DELETE")


def _make_last(path: Path) -> None:
    """Wait until the disk has it."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())
