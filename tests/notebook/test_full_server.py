"""A server whose disk is full says so at whatever is written, and the notebook is as it was."""

from __future__ import annotations

import random
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.backup import back_up, restore
from baitwright.notebook.copies import backups
from baitwright.notebook.page import Page
from baitwright.notebook.soundness import examine
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.tables import metadata
from baitwright.notebook.where import Server
from baitwright.terms.errors import InputError
from tests.notebook.cluster import Cluster
from tests.notebook.kitchen import HOUR, NOW
from tests.notebook.random_book import everything

TABLES = [table.name for table in metadata.sorted_tables]
FULL = r"There is no room left on the server's disk\. Nothing was written"
SMALL = "24m"
"""Of a disk: an empty database takes 7 MB, and the notebook in it half of one more."""


def at_random(characters: int) -> str:
    """A text that a server cannot make shorter."""
    return random.Random(characters).randbytes(characters // 2).hex()


def every_kind(page: Page, at: int = 0, *, notes: str = "") -> None:
    """Something new in every table."""
    now = NOW + timedelta(minutes=at)
    page.write("night", f"{at}", {"about": "Reed", "notes": notes}, seen=0, time=now)
    page.write("night", f"{at} purged", {}, seen=0, time=now)
    page.post([Movement("malt", f"{at}", now, 5, Decimal(1), Reason.BOUGHT)])
    page.reserve(f"batch {at}", "malt", {f"{at}": 2}, time=now)
    page.link(Link(Place(Stop.INGREDIENT, f"{at}"), Place(Stop.BATCH, f"{at}")))
    page.add_person({"name": "Ash", "notes": notes}, time=now)
    page.purge("night", f"{at} purged", time=now)


# --- at each table, by a server that says so -------------------------------------------------


def let_it_say_so(cluster: Cluster, place: Server, table: str, *, when: str = "row") -> None:
    """The server's own error for a full disk, at a table's next line or only when it is kept."""
    kind, moment = {
        "row": ("TRIGGER", "BEFORE INSERT OR UPDATE"),
        "kept": ("CONSTRAINT TRIGGER", "AFTER INSERT OR UPDATE"),
    }[when]
    put_off = "DEFERRABLE INITIALLY DEFERRED" if when == "kept" else ""
    with closing(cluster.connection(place)) as connection:
        connection.execute(
            "CREATE FUNCTION full_disk() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
            "RAISE EXCEPTION 'could not extend file: No space left on device' "
            "USING ERRCODE = 'disk_full'; END $$"
        )
        connection.execute(
            f"CREATE {kind} full_disk {moment} ON {table} {put_off} "
            "FOR EACH ROW EXECUTE FUNCTION full_disk()"
        )


@pytest.fixture
def shop(cluster: Cluster, tmp_path: Path) -> Iterator[tuple[Server, Notebook]]:
    place = cluster.place(tmp_path)
    book = open_notebook(place, now=NOW)
    with book.writing() as page:
        every_kind(page)
    yield place, book
    book.close()


@pytest.mark.parametrize("when", ["row", "kept"])
@pytest.mark.parametrize("table", TABLES)
def test_full_at_any_table_nothing_of_a_page_is_written(
    cluster: Cluster, shop: tuple[Server, Notebook], table: str, when: str
) -> None:
    place, book = shop
    before = everything(book)
    let_it_say_so(cluster, place, table, when=when)
    with pytest.raises(InputError, match=FULL), book.writing() as page:
        every_kind(page, 1)
    assert everything(book) == before
    assert book.keeper.problem() == ""


@pytest.mark.parametrize("table", TABLES)
def test_full_at_any_table_nothing_is_put_back(
    cluster: Cluster, shop: tuple[Server, Notebook], table: str
) -> None:
    place, book = shop
    copy = back_up(place, now=NOW)
    with book.writing() as page:
        every_kind(page, 1)
    before = everything(book)
    let_it_say_so(cluster, place, table)
    with pytest.raises(InputError, match=FULL):
        restore(place, copy, now=NOW + HOUR)
    assert everything(book) == before
    assert list(copy.parent.glob("*.part*")) == []


# --- on a small disk that is full ------------------------------------------------------------


@pytest.fixture
def tight(cluster: Cluster, tmp_path: Path) -> Iterator[tuple[Server, Callable[[], Path]]]:
    """A database on a disk of its own, and what fills that disk to its last byte."""
    disk = cluster.folder / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={SMALL},mode=0777", "tmpfs", str(disk)]
    try:
        done = subprocess.run(mount, capture_output=True, text=True, check=False)
        said = done.stderr.strip() if done.returncode else ""
    except OSError as error:
        said = str(error)
    if said:
        disk.rmdir()
        pytest.skip(f"no small disk may be mounted here, so that none is filled: {said}")
    room = disk / "room"
    room.mkdir(mode=0o700)
    if (owner := cluster.folder.owner()) != room.owner():
        shutil.chown(room, owner)

    def fill() -> Path:
        cluster.connection(place).close()  # after new tables the next one writes a file
        filler = disk / "filler"
        try:
            with filler.open("ab", buffering=0) as file:
                for size in (2**16, 2**12):  # the rest of a page of memory is not to be had
                    try:
                        while True:
                            file.write(bytes(size))
                    except OSError:
                        continue
        finally:
            assert shutil.disk_usage(disk).free == 0
        return filler

    place = cluster.place(tmp_path)
    name = place.url.partition("@/")[2].partition("?")[0]
    with closing(cluster.connection()) as connection:
        connection.execute(f"CREATE TABLESPACE small LOCATION '{room}'")
        connection.execute(f"ALTER DATABASE {name} SET TABLESPACE small")
        yield place, fill
        (disk / "filler").unlink(missing_ok=True)
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")
        connection.execute("DROP TABLESPACE small")
    subprocess.run(["umount", str(disk)], check=True)
    disk.rmdir()


def test_a_full_disk_of_a_server_loses_nothing(
    tight: tuple[Server, Callable[[], Path]],
) -> None:
    place, fill = tight
    book = open_notebook(place, now=NOW)
    with book.writing() as page:
        every_kind(page)
    copy = back_up(place, now=NOW)
    with book.writing() as page:
        every_kind(page, 1, notes=at_random(300_000))
    kept = everything(book)
    filler = fill()
    for at in range(2, 5):
        with pytest.raises(InputError, match=FULL), book.writing() as page:
            every_kind(page, at, notes=at_random(900_000))
    assert everything(book) == kept
    with pytest.raises(InputError, match=FULL):
        book.keeper.wipe()  # as a purge has the tables written anew
    assert everything(book) == kept
    assert examine(back_up(place, now=NOW + HOUR)) == ""  # a copy needs no room there
    book.close()
    book = open_notebook(place, now=NOW)
    assert everything(book) == kept
    filler.unlink()
    with book.writing() as page:
        every_kind(page, 5)
    restore(place, copy, now=NOW + 2 * HOUR)
    assert len(backups(place)) == 2
    book.close()


def test_a_notebook_that_has_no_room_to_begin(
    tight: tuple[Server, Callable[[], Path]],
) -> None:
    place, fill = tight
    filler = fill()
    with pytest.raises(InputError, match=FULL):
        open_notebook(place, now=NOW)
    filler.unlink()
    book = open_notebook(place, now=NOW)
    with book.writing() as page:
        every_kind(page)
    book.close()


def test_a_copy_for_which_there_is_no_room(tight: tuple[Server, Callable[[], Path]]) -> None:
    place, fill = tight
    book = open_notebook(place, now=NOW)
    with book.writing() as page:
        every_kind(page, notes=at_random(900_000))
    copy = back_up(place, now=NOW)
    kept = everything(book)
    fill()
    with pytest.raises(InputError, match=FULL):
        restore(place, copy, now=NOW + HOUR)
    assert everything(book) == kept
    book.close()
