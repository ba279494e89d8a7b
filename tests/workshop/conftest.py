"""A notebook, just begun."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from baitwright.notebook.store import Notebook, open_notebook
from tests.workshop.counter import NOW


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    made = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    yield made
    made.close()
