"""Places for notebooks: a file, and a database of a server that runs as long as the tests."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.where import Where
from tests.notebook.cluster import WANTED, Cluster, programs
from tests.notebook.kitchen import NOW


@pytest.fixture(scope="session")
def cluster() -> Iterator[Cluster]:
    """A server; where there is none the test is left out, unless it is wanted."""
    found = programs()
    if found is None:
        said = "no PostgreSQL server here: install Debian's package postgresql"
        (pytest.fail if os.environ.get(WANTED) else pytest.skip)(said)
    made = Cluster(found)
    yield made
    made.remove()


@pytest.fixture(params=["file", "server"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> Where:
    """Where a notebook may be begun."""
    if request.param == "file":
        return tmp_path / "notebook.sqlite"
    made: Where = request.getfixturevalue("cluster").place(tmp_path)
    return made


@pytest.fixture
def book(place: Where) -> Iterator[Notebook]:
    """A notebook, just begun."""
    made = open_notebook(place, now=NOW)
    yield made
    made.close()
