"""What only a server can do to a notebook, and how one moves there and back."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from decimal import Decimal
from pathlib import Path
from threading import Thread

import pytest
from sqlalchemy import Connection, MetaData

from baitwright.ledger.movements import Movement, Reason, book_of
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook import on_server
from baitwright.notebook.backup import back_up, restore
from baitwright.notebook.copies import FOLDER, backups
from baitwright.notebook.on_server import OnServer
from baitwright.notebook.soundness import examine
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.where import Server
from baitwright.terms.errors import InputError
from tests.cli.test_commands import RECIPE
from tests.cli.test_notebook import done, refused
from tests.notebook.cluster import GUEST, PASSWORD, USER, Cluster
from tests.notebook.kitchen import HOUR, NOW, opened, room_in

STORES = Path(__file__).with_name("stores")


@pytest.fixture
def place(cluster: Cluster, tmp_path: Path) -> Server:
    return cluster.place(tmp_path)


def rows(file: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row of a notebook's file, by table."""
    with closing(sqlite3.connect(file)) as plain:
        tables = [name for (name,) in plain.execute("SELECT name FROM sqlite_master")]
        names = [name for name in tables if not name.startswith(("ix_", "sqlite_"))]
        return {name: sorted(plain.execute(f"SELECT * FROM {name}"), key=repr) for name in names}


def fill(book: Notebook, count: int) -> None:
    with book.writing() as page:
        for at in range(count):
            name = f"Kürbis {at}"
            body = {"about": "Copper", "day": "2026-11-27", "notes": f"50 % \\0 'x' {at}"}
            page.write("batch", name, body, seen=0, time=NOW, reason="tried")
            page.post([Movement("eggs", "", NOW, at + 1, Decimal(2 * at), Reason.BOUGHT)])
            page.link(Link(Place(Stop.MIX, "tub"), Place(Stop.BATCH, name)))
        page.write("batch", "Kürbis 0", None, seen=1, time=NOW)
        page.reserve("batch 1", "eggs", {"": 3}, time=NOW)
        page.add_person({"name": "Ash"}, time=NOW)
        page.erase_person("person 1", time=NOW)
        page.purge("batch", "Kürbis 1", time=NOW)


# --- there and back --------------------------------------------------------------------------


@pytest.mark.parametrize("kept", sorted(STORES.glob("*.sql")), ids=lambda path: path.stem)
def test_a_notebook_of_every_step_moves_to_a_server(
    kept: Path, place: Server, tmp_path: Path
) -> None:
    file = tmp_path / "old.sqlite"
    with closing(sqlite3.connect(file)) as plain:
        plain.executescript(kept.read_text(encoding="utf-8"))
    assert restore(place, file, now=NOW).replaced is None
    book = open_notebook(place, now=NOW)
    with book.writing() as page:
        assert [one.version for one in page.history("recipe", "Copper")] == [1, 2]
        assert [one.version for one in page.all("recipe")] == [2]
        assert page.lots("semolina") == {"S-1": 700_000}
        page.write("recipe", "Copper", {}, seen=2, time=NOW)  # numbered on, after those that came
    book.close()
    assert backups(place) == ()


def test_a_notebook_moves_to_a_server_and_back_row_by_row(place: Server, tmp_path: Path) -> None:
    here = opened(tmp_path)
    fill(here, 700)
    here.close()
    restore(place, tmp_path / "notebook.sqlite", now=NOW)
    copy = back_up(place, now=NOW)
    assert rows(copy) == rows(tmp_path / "notebook.sqlite")
    there = open_notebook(place, now=NOW)
    with there.reading() as page:
        assert len(page.last("batch", 1000, words="50 %")) == 698
        assert page.account("eggs") == book_of(page.book_lines()).items["eggs"]
    there.close()


def test_new_rows_are_numbered_after_those_put_back(place: Server) -> None:
    book = open_notebook(place, now=NOW)
    fill(book, 3)
    copy = back_up(place, now=NOW)
    fill_more = [Movement("eggs", "", NOW, 1, Decimal(1), Reason.BOUGHT)] * 5
    with book.writing() as page:
        page.post(fill_more)
    restore(place, copy, now=NOW + HOUR)
    with book.writing() as page:
        page.post(fill_more[:1])
    again = back_up(place, now=NOW + 2 * HOUR)
    assert [row[0] for row in rows(again)["movements"]] == [1, 2, 3, 4]
    book.close()


def test_no_room_for_a_copy_is_not_the_servers_fault(
    place: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = open_notebook(place, now=NOW)
    fill(book, 300)
    book.close()

    def full(source: Connection, into: Connection, tables: MetaData) -> None:
        into.exec_driver_sql("PRAGMA max_page_count = 30")
        pour(source, into, tables)

    pour = on_server._pour
    monkeypatch.setattr(on_server, "_pour", full)
    with pytest.raises(InputError, match=r"disk is full.*room for a copy on this machine"):
        back_up(place, now=NOW)
    assert list((place.home / FOLDER).iterdir()) == []


def test_what_is_written_last_is_in_the_copy_of_what_is_replaced(
    place: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody writes between that copy and the replacing."""
    book = open_notebook(place, now=NOW)
    copy = back_up(place, now=NOW)
    monkeypatch.setattr("baitwright.notebook.on_server._SETTINGS", ("lock_timeout = '50ms'",))
    other = open_notebook(place, now=NOW)

    def write() -> None:
        with other.writing() as page:
            page.write("recipe", "Copper", {}, seen=0, time=NOW)

    with pytest.raises(InputError, match="Another window is writing"):
        OnServer(place).take_over(copy, first=write)
    other.close()
    book.close()


def test_a_copy_that_breaks_off_changes_nothing(
    place: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = open_notebook(place, now=NOW)
    fill(book, 3)
    before = rows(back_up(place, now=NOW))

    def broken(*_: object) -> None:
        raise OSError("the disk is gone")

    monkeypatch.setattr("baitwright.notebook.on_server.count_on", broken)
    with pytest.raises(InputError, match=r"the disk is gone\. The notebook is as it was"):
        restore(place, backups(place)[0], now=NOW + HOUR)
    assert rows(back_up(place, now=NOW + 2 * HOUR)) == before
    book.close()


def test_from_the_command_line(place: Server, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", place.url)
    monkeypatch.setattr("baitwright.cli.place.usual_place", lambda: place.home / "notebook.sqlite")
    assert "There is none yet" in refused("notebook").stderr
    done("keep", str(RECIPE))
    copy = done("backup").removeprefix("written: ").strip()
    assert Path(copy).parent == place.home / FOLDER
    done("shelf", "in", "semolina", "25 kg", "--price", "40.00")
    assert "semolina" in done("shelf")
    assert "what it replaced:" in done("restore")
    assert "The shelf is empty" in done("shelf")
    told = done("notebook")
    assert f"Notebook {place}\n" in told
    assert "last backup:" in told


# --- only what is ours -----------------------------------------------------------------------


@pytest.mark.parametrize("table", ["catches (fish text)", "alembic_version (version_num text)"])
def test_the_database_of_another_program_is_left_alone(
    cluster: Cluster, place: Server, tmp_path: Path, table: str
) -> None:
    opened(tmp_path).close()
    with cluster.connection(place) as connection:
        connection.execute(f"CREATE TABLE {table}")
        for touched in (
            lambda: open_notebook(place, now=NOW),
            lambda: back_up(place, now=NOW),
            lambda: restore(place, tmp_path / "notebook.sqlite", now=NOW),
        ):
            with pytest.raises(InputError, match="database of another program"):
                touched()
        tables = connection.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'")
        assert [name for (name,) in tables] == [table.partition(" ")[0]]


def test_a_table_beside_the_notebook_stays_as_it_is(cluster: Cluster, place: Server) -> None:
    open_notebook(place, now=NOW).close()
    with cluster.connection(place) as connection:
        connection.execute("CREATE TABLE catches (fish text)")
        connection.execute("INSERT INTO catches VALUES ('tench')")
        connection.execute("CREATE VIEW big AS SELECT fish FROM catches")
        restore(place, back_up(place, now=NOW), now=NOW + HOUR)
        assert connection.execute("SELECT * FROM catches").fetchall() == [("tench",)]


def test_what_a_server_brings_along_is_nobodys(cluster: Cluster, place: Server) -> None:
    with cluster.connection(place) as connection:
        connection.execute("CREATE EXTENSION pg_stat_statements")
    book = open_notebook(place, now=NOW)
    fill(book, 2)
    book.close()
    assert examine(back_up(place, now=NOW)) == ""


def test_schemas_of_one_database_are_notebooks_of_their_own(
    cluster: Cluster, place: Server
) -> None:
    rooms = [room_in(place, at) for at in (1, 2)]
    for at, room in enumerate(rooms, 1):
        with pytest.raises(InputError, match="no schema"):
            open_notebook(room, now=NOW)
        with cluster.connection(place) as connection:
            connection.execute(f"CREATE SCHEMA room{at}")
        book = open_notebook(room, now=NOW)
        fill(book, at + 1)
        book.close()
    first, second = (back_up(room, now=NOW) for room in rooms)
    restore(rooms[0], second, now=NOW + HOUR)
    assert rows(back_up(rooms[0], now=NOW + 2 * HOUR)) == rows(second)
    assert rows(back_up(rooms[1], now=NOW + 2 * HOUR)) == rows(second)
    assert rows(first) != rows(second)


def test_letters_that_would_be_lost(cluster: Cluster, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="LATIN1: make one with the encoding UTF8"):
        open_notebook(cluster.place(tmp_path, encoding="LATIN1"), now=NOW)


@pytest.fixture
def careless(cluster: Cluster) -> Iterator[None]:
    """The server while it does not wait for the disk."""
    for change in ("SET fsync = off", "RESET fsync"):
        with cluster.connection() as connection:
            connection.execute(f"ALTER SYSTEM {change}")
            connection.execute("SELECT pg_reload_conf()")
        if change.startswith("SET"):
            yield


@pytest.mark.usefixtures("careless")
def test_a_server_that_does_not_wait_for_the_disk(place: Server) -> None:
    with pytest.raises(InputError, match="fsync is off"):
        open_notebook(place, now=NOW)


# --- what can go wrong -----------------------------------------------------------------------


def test_a_server_that_is_away(cluster: Cluster, tmp_path: Path) -> None:
    away = Server(f"postgresql://ann:{PASSWORD}@/bait?host={tmp_path}", tmp_path / "home")
    for touched in (
        lambda: open_notebook(away, now=NOW),
        lambda: back_up(away, now=NOW),
    ):
        with pytest.raises(InputError, match=r"at postgresql://ann@/bait\. Nothing was") as told:
            touched()
        assert "\n" not in str(told.value)
        assert PASSWORD not in str(told.value)
    assert list(tmp_path.iterdir()) == []


def test_a_wrong_password_is_not_repeated(cluster: Cluster, place: Server) -> None:
    wrong = Server(place.url.replace(USER, f"{GUEST}:m4gpie", 1), place.home)
    with pytest.raises(InputError, match="password authentication failed") as told:
        open_notebook(wrong, now=NOW)
    assert "m4gpie" not in str(told.value)


def test_a_user_who_may_not(place: Server) -> None:
    guest = Server(place.url.replace(USER, f"{GUEST}:{PASSWORD}", 1), place.home)
    with pytest.raises(InputError, match="does not let this user"):
        open_notebook(guest, now=NOW)
    open_notebook(place, now=NOW).close()
    with pytest.raises(InputError, match="does not let this user"):
        open_notebook(guest, now=NOW)


def test_a_database_that_may_only_be_read(cluster: Cluster, place: Server) -> None:
    book = open_notebook(place, now=NOW)
    fill(book, 2)
    book.close()
    with cluster.connection(place) as connection:
        database = connection.info.dbname
        connection.execute(f"ALTER DATABASE {database} SET default_transaction_read_only = on")
    book = open_notebook(place, now=NOW)
    shut = pytest.raises(InputError, match=r"read only\. Nothing was written")
    with shut, book.writing() as page:
        page.write("recipe", "Copper", {}, seen=0, time=NOW)
    copy = back_up(place, now=NOW)
    with pytest.raises(InputError, match=r"read only\. Nothing was written"):
        restore(place, copy, now=NOW + HOUR)
    with book.reading() as page:
        assert page.all("recipe") == ()
        assert page.count("batch") == 2
    book.close()


def test_what_is_acknowledged_lasts_whatever_the_server_is_used_to(
    cluster: Cluster, place: Server
) -> None:
    with cluster.connection(place) as connection:
        database = connection.info.dbname
        connection.execute(f"ALTER DATABASE {database} SET synchronous_commit = off")
    book = open_notebook(place, now=NOW)
    with book.engine.connect() as connection:
        assert connection.exec_driver_sql("SHOW synchronous_commit").scalar() == "on"
    book.close()


def hang_up(cluster: Cluster, place: Server) -> None:
    """End every connection to a database."""
    others = "pid <> pg_backend_pid() AND datname = current_database()"
    with cluster.connection(place) as connection:
        connection.execute(
            f"SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity WHERE {others}"
        )


def test_a_server_that_goes_away_while_one_writes(cluster: Cluster, place: Server) -> None:
    book = open_notebook(place, now=NOW)
    gone = pytest.raises(InputError, match=r"went away\. Nothing was written")
    with gone, book.writing() as page:
        page.write("recipe", "Copper", {}, seen=0, time=NOW)
        hang_up(cluster, place)
        page.write("recipe", "Chalk", {}, seen=0, time=NOW)
    doubtful = pytest.raises(InputError, match="look whether this was kept")
    with doubtful, book.writing() as page:
        page.write("recipe", "Copper", {}, seen=0, time=NOW)
        hang_up(cluster, place)
    hang_up(cluster, place)
    with book.reading() as page:  # a connection that was lost between pages is made anew
        assert page.all("recipe") == ()
    book.close()


def test_two_who_begin_at_once_begin_one_notebook(place: Server) -> None:
    failed: list[Exception] = []

    def begin(name: str) -> None:
        try:
            book = open_notebook(place, now=NOW)
            with book.writing() as page:
                page.write("recipe", name, {}, seen=0, time=NOW)
            book.close()
        except Exception as error:
            failed.append(error)

    threads = [Thread(target=begin, args=(name,)) for name in "abcd"]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert failed == []
    book = open_notebook(place, now=NOW)
    with book.reading() as page:
        assert [one.name for one in page.all("recipe")] == list("abcd")
    book.close()
