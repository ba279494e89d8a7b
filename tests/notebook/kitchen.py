"""Notebooks for the tests, in a folder of their own."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from baitwright.notebook.keeper import keeper_of
from baitwright.notebook.steps import take_steps
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.where import Server, Where, folder_of

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
HOUR, DAY = timedelta(hours=1), timedelta(days=1)
# For a test that takes a place, or a book in one: not on both.
only_on_file = pytest.mark.parametrize("place", ["file"], indirect=True)
only_on_server = pytest.mark.parametrize("place", ["server"], indirect=True)


def room_in(place: Where, at: int) -> Where:
    """One of several places for notebooks: a file in a folder, or a schema of the database."""
    folder = folder_of(place) / f"room{at}"
    if isinstance(place, Server):
        return Server(f"{place.url}&options=-csearch_path%3Droom{at}", folder)
    return folder / place.name


def begin_long_ago(place: Where) -> None:
    """A notebook that has taken the first step only, with a recipe in it."""
    keeper = keeper_of(place)
    engine = keeper.engine()
    with engine.connect().execution_options(writes=True) as writer, writer.begin():
        take_steps(writer, to="0001")
        keeper.settle(writer)
        writer.exec_driver_sql(
            "INSERT INTO revisions (kind, name, version, time, reason, body) "
            f"VALUES ('recipe', 'Copper', 1, '{NOW.isoformat()}', '', '{{}}')"
        )
    engine.dispose()


def opened(folder: Path, *, now: datetime = NOW) -> Notebook:
    return open_notebook(folder / "notebook.sqlite", now=now)
