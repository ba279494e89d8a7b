"""Notebooks for the tests, in a folder of their own."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from baitwright.notebook.store import Notebook, open_notebook

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def opened(folder: Path, *, now: datetime = NOW) -> Notebook:
    return open_notebook(folder / "notebook.sqlite", now=now)
