"""Disk or server fail at one call after the other: nothing is half written, once more does.

The calls are those that the deed makes when nothing fails. Whatever fails is told as an
`InputError`; the notebook then holds what it held before, or all of what was done; no half file is
left; and the same deed succeeds when it is done again.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Mapping
from contextlib import closing
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Any

import psycopg
import pytest

from baitwright.notebook.copies import FOLDER
from baitwright.notebook.store import open_notebook
from baitwright.notebook.where import Server, Where, folder_of, name_of
from baitwright.terms.errors import InputError
from tests.faults.deeds import DEEDS, LATER, Deed, furnish
from tests.faults.storage import Failing, Storage, watched
from tests.notebook.cluster import Cluster
from tests.notebook.random_book import everything

Rows = Mapping[str, list[dict[str, Any]]]
_NUMBERS = count(1)


@dataclass(frozen=True)
class Shop:
    """A furnished notebook of which a copy is made for every try."""

    place: Where
    cluster: Cluster | None = None

    def copy(self, folder: Path) -> Where:
        """The same notebook once more, in a folder of its own."""
        home = folder / f"try-{next(_NUMBERS)}"
        shutil.copytree(folder_of(self.place), home)
        if not isinstance(self.place, Server) or self.cluster is None:
            return home / self.place.name
        name, made = self.place.url.partition("@/")[2].partition("?")[0], f"try{next(_NUMBERS)}"
        with closing(self.cluster.connection()) as connection:
            connection.execute(f"CREATE DATABASE {made} TEMPLATE {name}")
        place = Server(self.place.url.replace(f"@/{name}?", f"@/{made}?"), home)
        for kept in (home / FOLDER).glob(f"{name_of(self.place)}-*"):
            kept.rename(kept.with_name(kept.name.replace(name_of(self.place), name_of(place))))
        return place

    def forget(self, place: Where) -> None:
        """Let go of a copy."""
        shutil.rmtree(folder_of(place))
        if isinstance(place, Server) and self.cluster is not None:
            name = place.url.partition("@/")[2].partition("?")[0]
            with closing(self.cluster.connection()) as connection:
                connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture(scope="module")
def on_file(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    place = tmp_path_factory.mktemp("shop") / "home" / "notebook.sqlite"
    furnish(place)
    return Shop(place)


@pytest.fixture(scope="module")
def on_server(tmp_path_factory: pytest.TempPathFactory, cluster: Cluster) -> Shop:
    home = tmp_path_factory.mktemp("shop") / "home"
    home.mkdir()
    place = cluster.place(home)
    furnish(place)
    return Shop(place, cluster)


def rows(place: Where, deed: Deed) -> Rows:
    """All that a notebook holds, without the notes that a deed may leave."""
    with closing(open_notebook(place, now=LATER)) as book:
        found = everything(book)
    kept = {
        name: [_anywhere(one, place) for one in lines if one.get("kind") not in deed.may_differ]
        for name, lines in found.items()
    }
    return _counted_anew(kept)


def _counted_anew(found: Rows) -> Rows:
    """Rows with their numbers from 1 up: a server leaves out one for each row taken back."""
    turns = {
        name: {one["id"]: at for at, one in enumerate(lines, 1) if "id" in one}
        for name, lines in found.items()
    }
    anew: dict[str, list[dict[str, Any]]] = {}
    for name, lines in found.items():
        table_of = {"id": name, "revision": "revisions"}
        anew[name] = [
            {key: turns[table_of[key]][told] if key in table_of else told for key, told in items}
            for items in (one.items() for one in lines)
        ]
    return anew


def _anywhere(row: Mapping[str, Any], place: Where) -> dict[str, Any]:
    """A row in which the place's own name does not stand: a copy has another."""
    return {
        key: told.replace(name_of(place), "here")
        if key == "body" and isinstance(told, str)
        else told
        for key, told in row.items()
    }


def halves(place: Where) -> list[str]:
    """Files that are only begun."""
    return sorted(path.name for path in folder_of(place).rglob("*.part*"))


def chosen(calls: int, most: int) -> list[int]:
    """Calls to fail at: all, the middle one, or so many from the first to the last."""
    if calls <= most:
        return list(range(1, calls + 1))
    if most == 1:
        return [1 + calls // 2]
    return sorted({1 + round(at * (calls - 1) / (most - 1)) for at in range(most)})


def try_all(shop: Shop, deed: Deed, folder: Path, *, how: Failing, most: int, lose: Any) -> int:
    """Let every chosen call fail; how many there are."""
    place = shop.copy(folder)
    before = rows(place, deed)
    with watched(Storage(folder, how=how)) as counted:
        deed.do(place)
    after, calls = rows(place, deed), len(counted.calls)
    assert (after == before) is (deed.name in CHANGES_NOTHING)
    shop.forget(place)
    for at in chosen(calls, most):
        place = shop.copy(folder)
        said: Exception | None = None
        with watched(Storage(folder, at, how, lose)) as storage:
            try:
                deed.do(place)
            except InputError as error:
                said = error
        where = f"{deed.name}, call {at} of {calls}, {counted.calls[at - 1]}: {how.value}"
        assert storage.was_reached, where
        found = rows(place, deed)
        assert found in (before, after), f"{where}: half written"
        assert said is not None or found == after, f"{where}: nothing was said, nothing was done"
        if said is not None:
            assert found == before or "look whether" in str(said) or deed.name in GOES_ON, where
        if counted.calls[at - 1] != "unlink":
            assert halves(place) == [], where
        if found == before:
            deed.do(place)
            assert rows(place, deed) == after, f"{where}: not done the second time"
        shop.forget(place)
    return calls


CHANGES_NOTHING = ("back up", "export")
GOES_ON = ("purge",)
"""Deeds that go on with copies and pages after the notebook, and are done once more from there."""


@pytest.mark.faults
@pytest.mark.parametrize("how", [Failing.FULL, Failing.BROKEN], ids=lambda one: one.name.lower())
@pytest.mark.parametrize("deed", DEEDS.values(), ids=lambda one: one.name)
def test_a_disk_that_fails_leaves_a_notebook_whole(
    on_file: Shop,
    deed: Deed,
    how: Failing,
    tmp_path: Path,
    sample_size: Callable[[int, int], int],
    record_property: Callable[[str, object], None],
) -> None:
    calls = try_all(on_file, deed, tmp_path, how=how, most=sample_size(2, 10_000), lose=None)
    record_property("calls that failed, one at a time", calls)


@pytest.mark.faults
# A cursor of a connection that is gone cannot be closed.
@pytest.mark.filterwarnings("ignore:.*ServerCursor:pytest.PytestUnraisableExceptionWarning")
@pytest.mark.parametrize("how", [Failing.FULL, Failing.LOST], ids=lambda one: one.name.lower())
@pytest.mark.parametrize("deed", DEEDS.values(), ids=lambda one: one.name)
def test_a_server_that_fails_leaves_a_notebook_whole(
    on_server: Shop,
    deed: Deed,
    how: Failing,
    tmp_path: Path,
    sample_size: Callable[[int, int], int],
    record_property: Callable[[str, object], None],
) -> None:
    """Full: this machine's disk, and the server by its own error; lost: it ends the connection."""
    assert on_server.cluster is not None
    cluster = on_server.cluster

    def lose(connection: Any) -> bool:
        if not isinstance(connection, psycopg.Connection):
            return False  # of the copy, which is a file
        with closing(cluster.connection()) as other:
            if how is Failing.LOST:
                pid = connection.info.backend_pid
                other.execute(f"SELECT pg_terminate_backend({pid}, 5000)")
                return True
        raise psycopg.errors.DiskFull("could not extend file: No space left on device")

    most = sample_size(1, 10_000)
    calls = try_all(on_server, deed, tmp_path, how=how, most=most, lose=lose)
    record_property("calls that failed, one at a time", calls)


def test_what_fails_is_what_was_counted(tmp_path: Path) -> None:
    """The test's own instrument: calls are seen, the chosen one fails, and all is put back."""
    import os

    before = (os.replace, os.open, open)
    for at, kind in ((1, "open"), (2, "write"), (3, "close"), (4, "replace")):
        with watched(Storage(tmp_path, at)) as storage, pytest.raises(OSError, match="No space"):
            (tmp_path / "part").write_text("one")
            (tmp_path / "part").replace(tmp_path / "whole")
        assert storage.calls[at - 1] == kind
        assert (tmp_path / "whole").exists() is False
    assert (os.replace, os.open, open) == before
