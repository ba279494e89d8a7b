"""The workshop opens at once, because what plans a batch waits until one is planned."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.architecture.tree import ROOT
from tests.web.rooms import filled

HEAVY = (
    *("numpy", "scipy", "matplotlib", "numba", "typst", "segno", "icalendar"),
    *("openpyxl", "psycopg", "argon2", "cryptography", "babel", "websockets"),
)
STORE = ("sqlalchemy", "alembic")
"""What keeps a notebook: of no use before there is one."""
LISTS = ("/", "/batches", "/shelf", "/trace", "/travel", "/more")
RUN = """
import json, sys
from pathlib import Path
from fastapi.testclient import TestClient
import baitwright.web.server
from baitwright.web.app import make_app
from baitwright.web.house import House
from baitwright.workshop.opening.standing import Standing
heavy, place, *pages = json.loads(sys.argv[1])
house = House(Standing(Path(place)), bytes(32), ("testserver",))
with TestClient(make_app(house)) as client:
    told = [(page, client.get(page).status_code) for page in pages]
print(json.dumps([told, sorted({name.split(".")[0] for name in sys.modules} & set(heavy))]))
"""


def answered(place: Path, *pages: str, heavy: tuple[str, ...] = HEAVY) -> list[str]:
    """What a fresh program has loaded after it answered some pages."""
    asked = json.dumps([heavy, str(place), *pages])
    command = [sys.executable, "-c", RUN, asked]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    told, loaded = json.loads(done.stdout)
    assert [status for _, status in told] == [200] * len(pages)
    return list(loaded)


def test_the_page_that_begins_loads_nothing_heavy_and_no_store(tmp_path: Path) -> None:
    assert answered(tmp_path / "none.sqlite", "/", heavy=(*HEAVY, *STORE)) == []


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return filled(tmp_path_factory.mktemp("season") / "notebook.sqlite").place


def test_pages_that_list_what_is_kept_load_nothing_heavy(season: Path) -> None:
    assert answered(season, *LISTS) == []


def test_what_plans_a_batch_would_be_seen(tmp_path: Path) -> None:
    assert answered(tmp_path / "none.sqlite", "/plan?start=demo") == ["numpy"]
