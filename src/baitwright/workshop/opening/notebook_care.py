"""Looking after the notebook: opened, copied once a day, put back when it must be."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from enum import Enum
from pathlib import Path

from baitwright.notebook.backup import Restored, back_up, restore, too_many
from baitwright.notebook.copies import FOLDER, backups, made_at
from baitwright.notebook.halves import let_go
from baitwright.notebook.keeper import keeper_of
from baitwright.notebook.plain_pages import follow, pages_beside
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.turns import alone
from baitwright.notebook.where import Where, folder_of, name_of
from baitwright.terms.errors import InputError
from baitwright.workshop.opening.copies_kept import copied_last

_EVERY = timedelta(days=1)
"""A notebook that is written in is copied this often."""
Clock = Callable[[], datetime]


def clock_with_zone() -> datetime:
    """The local time now with its zone, for what is kept."""
    return datetime.now().astimezone()


class Use(Enum):
    """What a notebook is opened for."""

    LOOK = "look into it"
    CHANGE = "change what is there"
    BEGIN = "write in it, or begin it"


def is_there(place: Where) -> bool:
    """Whether there is a notebook at a place, be it an empty one."""
    keeper = keeper_of(place)
    return keeper.stands() and not keeper.is_blank()


@contextmanager
def open_at(place: Where, use: Use, *, clock: Clock) -> Iterator[Notebook]:
    """The notebook, open; before the first writing of a day it is copied.

    After a writing the plain pages beside it follow.

    Raises
    ------
    InputError: it cannot be opened or copied, or there is none to look into or to change.
    """
    refuse_none(place, use)
    if use is not Use.LOOK and is_there(place):
        copy_if_due(place, clock=clock)
    book, now = open_notebook(place, now=clock()), clock()
    try:
        yield book
    finally:
        if use is not Use.LOOK:
            follow_pages(book, now)
        book.close()


def refuse_none(place: Where, use: Use) -> None:
    """Refuse to look into a notebook, or to change one, where there is none.

    Raises
    ------
    InputError: there is none.
    """
    if use is not Use.BEGIN and not is_there(place):
        accepted = "a notebook: `baitwright keep` or `baitwright shelf in` makes one"
        raise InputError("notebook", str(place), accepted, hint="There is none yet.")


def copy_if_due(place: Where, *, clock: Clock) -> None:
    """Copy a notebook whose last copy is a day old.

    Raises
    ------
    InputError: it is damaged, or there is no room.
    """
    if not _is_due(place, clock):
        return
    with alone(folder_of(place) / FOLDER / f".{name_of(place)}-due"):
        if _is_due(place, clock):  # of several that are the first of a day one copies
            copy_now(place, clock=clock)


def _is_due(place: Where, clock: Clock) -> bool:
    copies = backups(place)
    return not copies or abs(clock() - made_at(copies[-1])) >= _EVERY


def follow_pages(book: Notebook, now: datetime) -> None:
    """Bring the plain pages up to what was written; that they cannot be is told and no more."""
    try:
        follow(book, pages_beside(book.place), now=now)
    except InputError as error:
        sys.stderr.write(f"baitwright: {error}\n")


def copy_now(place: Where, *, clock: Clock) -> Path:
    """Copy the notebook, and let go of copies that a newer one of their week replaces.

    Raises
    ------
    InputError: there is none, it is damaged, or there is no room.
    """
    made = back_up(place, now=clock())
    let_go(*too_many(backups(place), now=clock()))
    return made


def copy_before(book: Notebook, what: str, *, now: datetime) -> Path:
    """Copy an open notebook before something is done to it; such a copy is never thinned out.

    Raises
    ------
    InputError: it is damaged, or there is no room.
    """
    return back_up(book.place, now=now, before=what)


def put_back(place: Where, backup: Path | None, *, clock: Clock) -> Restored:
    """Put a copy back, the newest where none is named; what stands there is copied first.

    Raises
    ------
    InputError: there is no copy, or it is not sound.
    """
    copies = backups(place)
    if backup is None and not copies:
        accepted = f"a backup in {folder_of(place)}, or one that is named"
        raise InputError("backup", None, accepted, hint="There is none yet.")
    chosen = copies[-1] if backup is None else backup
    return restore(place, chosen, now=clock())


def last_copy(place: Where) -> str:
    """When the notebook was copied last, and how to put that back."""
    when = copied_last(place)
    if when is None:
        return "no backup yet: baitwright backup"
    return f"last backup: {when:%a %d %b %Y %H:%M}; baitwright restore {backups(place)[-1]}"
