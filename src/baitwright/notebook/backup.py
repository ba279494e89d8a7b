"""Copies of the notebook: made while it is open, read again before they count, and put back."""

from __future__ import annotations

import os
import re
import sqlite3
from collections.abc import Callable, Iterable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from baitwright.notebook.soundness import examine, of_a_later_program
from baitwright.terms.errors import InputError

FOLDER = "backups"
_STAMP = "%Y-%m-%dT%H%M%S%fZ"
_STAMPED = r"\d{4}-\d\d-\d\dT\d{12}Z"
_STAMP_LENGTH = len("2026-11-27T090000000000Z")
_TRIES = 20
"""Quarters of a second that a copy waits for another writer."""
ALL, WEEKS = timedelta(days=7), 8
"""Every copy of so long, and the newest of each of so many weeks before, is kept (judgement)."""


def back_up(notebook: Path, *, now: datetime, before: str = "") -> Path:
    """Copy a notebook into the folder beside it, while others go on writing.

    Parameters
    ----------
    notebook: its file.
    now: when, with its zone, for the copy's name.
    before: what is about to happen to the notebook; such a copy is never thinned out.

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
    made = folder / _name(notebook, now, f"before-{before}" if before else "")
    part = made.with_suffix(".part")
    try:
        folder.mkdir(exist_ok=True)
        _sweep(notebook)
        _copy(notebook, part)
        _make_plain(part)
        problem = examine(part)
        if problem:
            raise InputError("backup", str(notebook), "a sound notebook", hint=problem)
        make_last(part)
        part.replace(made)
    except (OSError, sqlite3.Error) as error:
        hint = f"{error}. The notebook is as it was."
        raise InputError("backup", str(folder), "a folder with room for it", hint=hint) from None
    finally:
        part.unlink(missing_ok=True)
    return made


def backups(notebook: Path) -> tuple[Path, ...]:
    """The copies of a notebook, the oldest first; without those made before something."""
    folder = notebook.parent / FOLDER
    own = re.compile(rf"{re.escape(notebook.stem)}-{_STAMPED}\.sqlite")
    found = folder.iterdir() if folder.is_dir() else ()
    return tuple(sorted((path for path in found if own.fullmatch(path.name)), key=made_at))


def every_copy(notebook: Path) -> tuple[Path, ...]:
    """Whatever copies of a notebook there are: rolling, before something, damaged, and halves."""
    folder = notebook.parent / FOLDER
    own = re.compile(rf"{re.escape(notebook.stem)}-(?:before-[a-z]+-|damaged-)?{_STAMPED}\..+")
    found = folder.iterdir() if folder.is_dir() else ()
    return tuple(sorted(path for path in found if own.fullmatch(path.name)))


def made_at(backup: Path) -> datetime:
    """When a copy was made, by its name."""
    stamp = backup.stem[-_STAMP_LENGTH:]
    return datetime.strptime(stamp, _STAMP).replace(tzinfo=UTC)


def too_many(copies: Iterable[Path], *, now: datetime) -> tuple[Path, ...]:
    """Copies older than a week that are not the newest of one of the weeks before.

    Within a week none is let go: a later copy of the same day may hold less than an earlier one.
    """
    old = sorted((copy for copy in copies if now - made_at(copy) > ALL), key=made_at, reverse=True)
    newest: dict[str, Path] = {}
    for copy in old:
        newest.setdefault(made_at(copy).strftime("%G-%V"), copy)
    kept = list(newest.values())[:WEEKS]
    return tuple(copy for copy in old if copy not in kept)


def restore(notebook: Path, backup: Path, *, now: datetime) -> Path | None:
    """Put a copy back in a notebook's place; what it replaces is copied, or set aside if damaged.

    The copy is written into the notebook's own file as one transaction, so that a power cut leaves
    the old one or the new one.

    Returns
    -------
    What was replaced; none where there was no notebook.

    Raises
    ------
    InputError: the copy is no sound notebook, or it cannot be written; the notebook is as it was.
    """
    accepted = "a backup of a notebook"
    if not backup.is_file():
        raise InputError("backup", str(backup), accepted)
    problem = examine(backup) or of_a_later_program(backup)
    if problem:
        raise InputError("backup", str(backup), accepted, hint=problem)
    replaced = None
    try:
        if notebook.exists() and examine(notebook):
            replaced = _set_aside(notebook, now)
        elif notebook.exists():
            replaced = back_up(notebook, now=now, before="restore")
        _copy(backup, notebook)
    except (OSError, sqlite3.Error) as error:
        is_moved = replaced is not None and not notebook.exists()
        there = f"The damaged one is now {replaced}" if is_moved else "The notebook is as it was"
        hint = f"{error}. {there}."
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
        old.backup(new, progress=_patience())


def _patience() -> Callable[[int, int, int], None]:
    """Stop a copy that waits too long for another writer; SQLite itself would wait for ever."""
    waited = 0

    def look(status: int, left: int, pages: int) -> None:
        nonlocal waited
        waited += status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
        if waited > _TRIES:
            raise sqlite3.OperationalError("another window is writing in it")

    return look


def _name(notebook: Path, now: datetime, word: str = "") -> str:
    stamp = now.astimezone(UTC).strftime(_STAMP)
    return "-".join(filter(None, (notebook.stem, word, f"{stamp}.sqlite")))


def _sweep(notebook: Path) -> None:
    """Half copies that a killed program left."""
    for half in (notebook.parent / FOLDER).glob("*.part*"):
        if half.name.startswith(f"{notebook.stem}-"):
            half.unlink(missing_ok=True)


def _set_aside(notebook: Path, now: datetime) -> Path:
    """Move a damaged notebook, and what belongs to it, out of the way; nothing of it is lost."""
    folder = notebook.parent / FOLDER
    folder.mkdir(exist_ok=True)
    aside = folder / _name(notebook, now, "damaged")
    for tail in ("-wal", "-shm", ""):
        part = notebook.with_name(notebook.name + tail)
        if part.exists():
            part.replace(aside.with_name(aside.name + tail))
    return aside


def _make_plain(path: Path) -> None:
    """One file with nothing beside it."""
    with closing(sqlite3.connect(path)) as copy:
        copy.execute("PRAGMA journal_mode = DELETE")


def make_last(path: Path) -> None:
    """Wait until the disk has it."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())
