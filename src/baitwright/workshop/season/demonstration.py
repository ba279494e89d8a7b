"""The demonstration: an invented season in a notebook of its own, never in the maker's."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from baitwright.notebook.store import open_notebook
from baitwright.workshop.season.demo_place import NAME
from baitwright.workshop.season.demo_season import season


def begin(place: Path, *, now: datetime, anew: bool = False) -> None:
    """Fill the demonstration's notebook, where there is none yet or it is to begin anew.

    It is filled under another name first, so that nobody opens half a season.

    Parameters
    ----------
    place: as `demo_place` tells; nothing else is written to.
    now: with its zone; the season ends today.
    anew: whether what was tried in it is to go.
    """
    if place.exists() and not anew:
        return
    part = place.with_name(f".{NAME}.part.sqlite")
    place.parent.mkdir(parents=True, exist_ok=True)
    _gone(part)
    book = open_notebook(part, now=now)
    try:
        season(book, now=now)
    finally:
        book.close()
    _gone(place)
    part.replace(place)


def _gone(place: Path) -> None:
    """A notebook's file, and what its keeper left beside it."""
    for tail in ("", "-wal", "-shm"):
        place.with_name(place.name + tail).unlink(missing_ok=True)
