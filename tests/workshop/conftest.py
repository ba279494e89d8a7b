"""A notebook, just begun, and a shelf in it that things are sold from."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from baitwright.notebook.store import Notebook, open_notebook
from tests.workshop.counter import NOW, stocked


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    made = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    yield made
    made.close()


@pytest.fixture
def lots(book: Notebook) -> dict[str, str]:
    """The lots of a stocked shelf, by what they are."""
    return stocked(book)
