"""Copies of the notebook: made while it is open, read again before they count, and put back."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from baitwright.notebook.carrying import carry_over, refuse_hidden_in
from baitwright.notebook.copies import FOLDER, STAMP, every_copy, made_at
from baitwright.notebook.halves import let_go, let_go_of_book
from baitwright.notebook.keeper import keeper_of
from baitwright.notebook.on_file import copy_file
from baitwright.notebook.soundness import examine, of_a_later_program
from baitwright.notebook.turns import alone
from baitwright.notebook.where import Where, folder_of, name_of
from baitwright.terms.errors import InputError

ALL, WEEKS = timedelta(days=7), 8
"""Every copy of so long, and the newest of each of so many weeks before, is kept (judgement)."""


def back_up(notebook: Where, *, now: datetime, before: str = "") -> Path:
    """Copy a notebook into the folder beside it, while others go on writing.

    Parameters
    ----------
    notebook: its file, or its database on a server.
    now: when, with its zone, for the copy's name.
    before: what is about to happen to the notebook; such a copy is never thinned out.

    Returns
    -------
    The copy, a file in either case, which was opened and found sound.

    Raises
    ------
    InputError: there is no notebook, no room, or the copy is not sound; no half copy is left.
    """
    keeper = keeper_of(notebook)
    if not keeper.stands():
        raise InputError("notebook", str(notebook), "a notebook that is there")
    problem = keeper.problem()
    if problem:
        raise InputError("notebook", str(notebook), "a sound notebook", hint=problem)
    folder = folder_of(notebook) / FOLDER
    made = folder / _name(notebook, now, f"before-{before}" if before else "")
    part = made.with_suffix(".part")
    try:
        with alone(
            folder / f".{name_of(notebook)}-copying"
        ):  # or another one would sweep the half copy away
            _copy(notebook, part)
            part.replace(made)
    except (OSError, sqlite3.Error) as error:
        hint = f"{error}. The notebook is as it was."
        raise InputError("backup", str(folder), "a folder with room for it", hint=hint) from None
    finally:
        let_go_of_book(part)
    return made


def _copy(notebook: Where, part: Path) -> None:
    """Write a copy that was read again; half ones that a killed program left go first."""
    part.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    _sweep(notebook)
    keeper_of(notebook).copy_to(part)
    _make_plain(part)
    problem = examine(part)
    if problem:
        raise InputError("backup", str(notebook), "a sound notebook", hint=problem)
    make_last(part)


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


@dataclass(frozen=True, slots=True)
class Restored:
    """Which copy was put in the place of what.

    ``replaced`` is none where there was no notebook, and ``purged`` whom and what the copy still
    told that had been purged since.
    """

    backup: Path
    replaced: Path | None
    purged: tuple[str, ...]


def restore(notebook: Where, backup: Path, *, now: datetime) -> Restored:
    """Put a copy back in a notebook's place; what it replaces is copied, or set aside if damaged.

    The copy is written as one transaction, so that a power cut leaves the old one or the new one.
    It may be of a notebook elsewhere: so one moves from a file to a server, and back. What was
    purged since is purged in what is put back, and a code that was given since is not given again;
    a damaged notebook cannot be asked, and its other copies are.

    Raises
    ------
    InputError: the copy is no sound notebook, or it cannot be written; the notebook is as it was.
    """
    accepted = "a backup of a notebook"
    if not backup.is_file():
        raise InputError("backup", str(backup), accepted)
    try:
        problem = examine(backup) or of_a_later_program(backup)
        if not problem:
            refuse_hidden_in(backup)
    except (OSError, sqlite3.Error, ValueError, RecursionError) as error:  # or words that are none
        problem = f"{error}. The notebook is as it was."
    if problem:
        raise InputError("backup", str(backup), accepted, hint=problem)
    keeper = keeper_of(notebook)
    aside = folder_of(notebook) / FOLDER / _name(notebook, now, "damaged")

    part = aside.with_suffix(".part")

    def spare() -> Restored:
        replaced, known = None, _sound_copies(notebook)
        if keeper.stands() and keeper.problem():
            keeper.set_aside(aside)
            replaced = aside
        elif keeper.stands():
            replaced = back_up(notebook, now=now, before="restore")
            known = [replaced]
        part.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        copy_file(backup, part)
        return Restored(backup, replaced, carry_over(part, known))

    try:
        return keeper.take_over(part, first=spare)
    except (OSError, sqlite3.Error, DBAPIError) as error:
        is_moved = aside.exists() and not keeper.stands()
        there = f"The damaged one is now {aside}" if is_moved else "The notebook is as it was"
        hint = f"{error}. {there}."
        accepted = "one that can be written to"
        raise InputError("notebook", str(notebook), accepted, hint=hint) from None
    finally:
        let_go_of_book(part)


def _sound_copies(notebook: Where) -> list[Path]:
    copies = (copy for copy in every_copy(notebook) if copy.suffix == ".sqlite")
    return [copy for copy in copies if not examine(copy)]


def _name(notebook: Where, now: datetime, word: str = "") -> str:
    stamp = now.astimezone(UTC).strftime(STAMP)
    return "-".join(filter(None, (name_of(notebook), word, f"{stamp}.sqlite")))


def _sweep(notebook: Where) -> None:
    """Half copies that a killed program left."""
    for half in (folder_of(notebook) / FOLDER).glob("*.part*"):
        if half.name.startswith(f"{name_of(notebook)}-"):
            let_go(half)


def _make_plain(path: Path) -> None:
    """One file with nothing beside it."""
    with closing(sqlite3.connect(path)) as copy:
        copy.execute("PRAGMA journal_mode = DELETE")


def make_last(path: Path) -> None:
    """Wait until the disk has it."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())
