"""The notebook opens what is one, refuses what is none, and keeps a page whole or not at all."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from decimal import Decimal
from multiprocessing import get_context
from pathlib import Path
from random import Random

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import text

from baitwright.ledger.movements import Book, Movement, Reason, book_of
from baitwright.ledger.trace import Chain, Link, Place, Stop
from baitwright.notebook import on_file, on_server
from baitwright.notebook.page import LONGEST_BODY, ChangedMeanwhileError
from baitwright.notebook.records import LONGEST_NAME
from baitwright.notebook.soundness import APPLICATION, HEAD, examine
from baitwright.notebook.steps import step_of
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.tables import metadata
from baitwright.notebook.where import Where, name_of
from baitwright.terms.errors import InputError
from tests.notebook.kitchen import DAY, HOUR, NOW, begin_long_ago, only_on_file, opened

STORES = Path(__file__).with_name("stores")


# --- opening ---------------------------------------------------------------------------------


def test_a_new_one_is_made_with_its_folder(tmp_path: Path) -> None:
    place = tmp_path / "deep" / "Mum's 100 % bait? #1.sqlite"
    made = open_notebook(place, now=NOW)
    with made.engine.connect() as connection:
        assert step_of(connection) == HEAD
        pragmas = [
            connection.execute(text(f"PRAGMA {name}")).scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys", "application_id")
        ]
    assert pragmas == ["wal", 2, 1, APPLICATION]
    made.close()
    assert examine(place) == ""


def test_the_steps_lead_to_the_tables_of_today(book: Notebook) -> None:
    with book.engine.connect() as connection:
        minded = {"compare_type": connection.dialect.name == "sqlite"}  # a server's words are text
        found = MigrationContext.configure(connection, opts=minded)
        assert compare_metadata(found, metadata) == []


@pytest.mark.parametrize("kept", sorted(STORES.glob("*.sql")), ids=lambda path: path.stem)
def test_a_notebook_of_every_step_opens_today(kept: Path, tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "notebook.sqlite")) as plain:
        plain.executescript(kept.read_text(encoding="utf-8"))
    made = opened(tmp_path)
    with made.reading() as page:
        assert [one.version for one in page.history("recipe", "Copper")] == [1, 2]
        assert page.lots("semolina") == {"S-1": 700_000}
        assert [one.version for one in page.all("recipe")] == [2]
        assert page.account("semolina") == book_of(page.book_lines()).items["semolina"]
    made.close()
    assert (tmp_path / "backups").exists() == (kept.stem != HEAD)


def test_there_is_a_kept_notebook_of_the_last_step() -> None:
    assert (STORES / f"{HEAD}.sql").exists()


@pytest.mark.parametrize(
    ("contents", "said"),
    [(b"Copper wafter, 3 eggs\n" * 100, "File is not a database"), (None, "another program")],
)
def test_what_is_no_notebook_is_left_alone(
    tmp_path: Path, contents: bytes | None, said: str
) -> None:
    place = tmp_path / "notebook.sqlite"
    if contents is None:
        with closing(sqlite3.connect(place)) as other:
            other.execute("CREATE TABLE catches (fish TEXT)")
    else:
        place.write_bytes(contents)
    before = place.read_bytes()
    with pytest.raises(InputError, match=said):
        opened(tmp_path)
    assert place.read_bytes() == before
    assert list(tmp_path.iterdir()) == [place]


def test_a_folder_is_no_notebook(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="It is a folder"):
        open_notebook(tmp_path, now=NOW)


def test_a_damaged_one_is_refused_with_a_way_out(tmp_path: Path) -> None:
    made = opened(tmp_path)
    with made.writing() as page:
        for at in range(300):
            page.write("recipe", f"{at}", {"text": "x" * 500}, seen=0, time=NOW)
    made.close()
    place = tmp_path / "notebook.sqlite"
    with closing(sqlite3.connect(place)) as plain:
        plain.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    contents = bytearray(place.read_bytes())
    contents[20_000:60_000] = os.urandom(40_000)
    place.write_bytes(contents)
    with pytest.raises(InputError, match=r"damaged|malformed"):
        opened(tmp_path)


def test_one_of_a_later_program_is_left_alone(book: Notebook) -> None:
    with book.engine.connect().execution_options(writes=True) as writer, writer.begin():
        writer.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    book.close()
    with pytest.raises(InputError, match=r"[Tt]ake the newer program"):
        open_notebook(book.place, now=NOW)


def test_an_older_one_is_copied_before_it_takes_a_step(place: Where, tmp_path: Path) -> None:
    begin_long_ago(place)
    book = open_notebook(place, now=NOW + DAY)
    with book.reading() as page:
        assert [one.name for one in page.all("recipe")] == ["Copper"]
    book.close()
    (copy,) = (tmp_path / "backups").iterdir()
    assert copy.name.startswith(f"{name_of(book.place)}-before-step-")
    assert examine(copy) == ""
    with closing(sqlite3.connect(copy)) as plain:
        assert plain.execute("SELECT version_num FROM alembic_version").fetchall() == [("0001",)]
        assert plain.execute("SELECT name FROM revisions").fetchall() == [("Copper",)]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_cannot_be_written_to(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(InputError, match="cannot be written to"):
        open_notebook(tmp_path / "deep" / "notebook.sqlite", now=NOW)


def test_a_file_where_a_folder_should_be(tmp_path: Path) -> None:
    (tmp_path / "deep").write_text("no folder")
    with pytest.raises(InputError, match="a folder that can be written to"):
        open_notebook(tmp_path / "deep" / "notebook.sqlite", now=NOW)


# --- a page ----------------------------------------------------------------------------------


def test_a_page_is_kept_whole_or_not_at_all(book: Notebook) -> None:
    with pytest.raises(ZeroDivisionError), book.writing() as page:
        page.write("recipe", "Copper", {"level": 1}, seen=0, time=NOW)
        raise ZeroDivisionError
    with book.reading() as page:
        assert page.all("recipe") == ()


@only_on_file
def test_no_room_on_the_disk_leaves_the_notebook_as_it_was(book: Notebook) -> None:
    with book.writing() as page:
        page.write("recipe", "Copper", {"level": 1}, seen=0, time=NOW)
    with book.engine.connect() as connection:
        pages = connection.execute(text("PRAGMA page_count")).scalar()
        connection.execute(text(f"PRAGMA max_page_count = {pages}"))
    full = pytest.raises(InputError, match=r"no room left on the disk\. Nothing was written")
    with full, book.writing() as page:
        page.write("recipe", "Copper", {"notes": "x" * 500_000}, seen=1, time=NOW)
    with book.reading() as page:
        assert [one.version for one in page.history("recipe", "Copper")] == [1]


@only_on_file
def test_a_notebook_that_may_only_be_read(book: Notebook) -> None:
    with book.engine.connect() as connection:
        connection.execute(text("PRAGMA query_only = ON"))
    shut = pytest.raises(InputError, match=r"cannot be written to\. Nothing was written")
    with shut, book.writing() as page:
        page.write("recipe", "Copper", {}, seen=0, time=NOW)


def test_a_second_writer_waits_and_then_is_told(
    book: Notebook, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(on_file, "_PATIENCE", 0.05)
    monkeypatch.setattr(on_server, "_SETTINGS", ("lock_timeout = '50ms'",))
    other = open_notebook(book.place, now=NOW)
    with book.writing() as page:
        page.write("recipe", "Copper", {}, seen=0, time=NOW)
        with pytest.raises(InputError, match="Another window is writing"), other.writing():
            pass
    other.close()


def test_every_version_stays(book: Notebook) -> None:
    with book.writing() as page:
        for seen, level in enumerate((1, 2, 3)):
            time = NOW + seen * HOUR
            page.write("recipe", "Copper", {"level": level}, seen=seen, time=time, reason="try")
        page.write("recipe", "Chalk", {"level": 9}, seen=0, time=NOW)
        page.write("mix", "Copper", {}, seen=0, time=NOW)
    with book.reading() as page:
        history = page.history("recipe", "Copper")
        assert [one.body for one in history] == [{"level": 1}, {"level": 2}, {"level": 3}]
        assert [one.time for one in history] == [NOW, NOW + HOUR, NOW + 2 * HOUR]
        assert page.latest("recipe", "Copper") == history[-1]
        assert [one.name for one in page.all("recipe")] == ["Chalk", "Copper"]
        assert page.latest("recipe", "Tin") is None


def test_words_sort_by_their_letters_numbers(book: Notebook) -> None:
    names = ["Alder", "Zander", "alder", "malt 10", "malt 9", "Öland"]
    with book.writing() as page:
        for name in reversed(names):
            page.write("lot", name, {"day": name}, seen=0, time=NOW)
    with book.reading() as page:
        assert [one.name for one in page.all("lot")] == names
        assert [one.name for one in page.last("lot", 9)] == names[::-1]


def test_one_who_reads_sees_one_moment(book: Notebook) -> None:
    with book.reading() as page:
        assert page.all("recipe") == ()
        with book.writing() as other:
            other.write("recipe", "Copper", {}, seen=0, time=NOW)
        assert page.all("recipe") == ()
    with book.reading() as page:
        assert len(page.all("recipe")) == 1


def test_what_was_taken_away_is_still_there(book: Notebook) -> None:
    with book.writing() as page:
        page.write("recipe", "Copper", {"level": 1}, seen=0, time=NOW)
        page.write("recipe", "Copper", None, seen=1, time=NOW)
        assert page.all("recipe") == ()
        assert page.undo("recipe", "Copper", time=NOW).body == {"level": 1}
        assert [one.version for one in page.all("recipe")] == [3]


def test_undoing_twice_is_where_one_was(book: Notebook) -> None:
    with book.writing() as page:
        for seen, level in enumerate((1, 2)):
            page.write("recipe", "Copper", {"level": level}, seen=seen, time=NOW)
        assert page.undo("recipe", "Copper", time=NOW).body == {"level": 1}
        assert page.undo("recipe", "Copper", time=NOW).body == {"level": 2}
        page.write("recipe", "Chalk", {}, seen=0, time=NOW)
        assert page.undo("recipe", "Chalk", time=NOW).body is None
        with pytest.raises(InputError, match="a record of the notebook"):
            page.undo("recipe", "Tin", time=NOW)


def test_whoever_read_an_older_version_is_told(book: Notebook) -> None:
    with book.writing() as page:
        page.write("recipe", "Copper", {"level": 1}, seen=0, time=NOW)
        for seen in (0, 2):
            with pytest.raises(ChangedMeanwhileError, match="read it again") as refused:
                page.write("recipe", "Copper", {"level": 2}, seen=seen, time=NOW)
            assert (refused.value.seen, refused.value.there) == (seen, 1)


def test_a_purge_leaves_no_word_and_says_so(book: Notebook) -> None:
    with book.writing() as page:
        page.write("buyer", "17", {"town": "Osierford"}, seen=0, time=NOW, reason="Osierford")
        page.write("buyer", "17", {"town": "Reedham"}, seen=1, time=NOW)
        assert page.purge("buyer", "17", time=NOW) == 2
        assert [(one.body, one.reason) for one in page.history("buyer", "17")] == [(None, "")] * 2
        with pytest.raises(InputError, match="a record of the notebook"):
            page.purge("buyer", "18", time=NOW)
    with book.engine.connect() as connection:
        stones = connection.execute(text("SELECT kind, name, versions FROM tombstones")).all()
    assert stones == [("buyer", "17", 2)]


def test_lists_follow_what_was_written(book: Notebook) -> None:
    days = {"1": "2026-11-01", "2": "2026-11-03", "3": "2026-11-02"}
    with book.writing() as page:
        for name, day in days.items():
            body = {"about": "Copper", "day": day, "notes": f"Fished {name} rods, 50 % blanks"}
            page.write("night", name, body, seen=0, time=NOW)
        page.write("night", "2", {"about": "Chalk", "day": "2026-11-04"}, seen=1, time=NOW)
        page.write("lot", "4", {"item": "semolina", "came": "2026-11-05"}, seen=0, time=NOW)
    with book.reading() as page:
        assert [one.name for one in page.last("night", 2)] == ["2", "3"]
        assert [one.name for one in page.last("night", 9, words="11-01 FISHED")] == ["1"]
        assert [one.name for one in page.last("night", 9, words="50 %")] == ["3", "1"]
        assert [one.name for one in page.all("night", about="Copper")] == ["1", "3"]
        assert [one.name for one in page.all("lot", about="semolina")] == ["4"]
    with book.writing() as page:
        page.write("night", "1", None, seen=1, time=NOW)
        page.purge("night", "3", time=NOW)
        assert [one.name for one in page.last("night", 9)] == ["2"]
        assert page.count("night") == 3
        assert page.undo("night", "1", time=NOW).body is not None
        assert [one.name for one in page.last("night", 9)] == ["2", "1"]


@pytest.mark.parametrize(
    ("name", "body", "said"),
    [
        (" ", {}, "it takes a name"),
        ("x" * (LONGEST_NAME + 1), {}, "got '201 characters'"),
        ("Copper", {"notes": "x" * LONGEST_BODY}, "characters at most"),
    ],
)
def test_what_is_no_record_is_refused(
    book: Notebook, name: str, body: dict[str, str], said: str
) -> None:
    with pytest.raises(InputError, match=said), book.writing() as page:
        page.write("recipe", name, body, seen=0, time=NOW)


def test_a_time_without_its_zone_is_our_fault(book: Notebook) -> None:
    with pytest.raises(ValueError, match="zone"), book.writing() as page:
        page.write("recipe", "Copper", {}, seen=0, time=NOW.replace(tzinfo=None))


# --- the shelf's book, and traces ------------------------------------------------------------


def test_the_book_comes_back_as_it_was_written(book: Notebook) -> None:
    lines = [
        Movement("semolina", "S-1", NOW, 2_000_000, Decimal("3.20"), Reason.BOUGHT),
        Movement("malt", "M-1", NOW, 500_000, Decimal("0.000001"), Reason.BOUGHT),
        Movement("semolina", "S-2", NOW + HOUR, 10**15, Decimal("7.123456"), Reason.BOUGHT),
    ]
    standing = book_of(lines)
    out = standing.out(Movement("semolina", "S-1", NOW, -900_000, Decimal(0), Reason.USED))
    lines.append(out)
    standing = standing.take(out)
    with book.writing() as page:
        page.post(lines)
        page.post([])
    with book.reading() as page:
        assert list(page.book_lines()) == lines
        assert [one.item for one in page.book_lines("malt")] == ["malt"]
        for item in ("semolina", "malt"):
            assert page.account(item) == standing.items[item]
        assert page.account("salt").amount == 0
        assert page.lots("semolina") == {"S-1": 1_100_000, "S-2": 10**15}
        assert Book(page.lots("semolina"), {}).lots["S-1"] == standing.lots["S-1"]


def test_what_went_into_what_is_written_once(book: Notebook) -> None:
    tub, batch = Place(Stop.MIX, "tub 1"), Place(Stop.BATCH, "batch 1")
    with book.writing() as page:
        page.link(Link(tub, batch))
        page.link(Link(tub, batch))
    with book.reading() as page:
        assert page.links() == (Link(tub, batch),)


def test_a_walk_along_the_links_is_the_chain_of_them_all(book: Notebook) -> None:
    made = Random(20261127)
    stops = list(Stop)
    with book.writing() as page:
        for _ in range(120):
            at = made.randrange(len(stops) - 1)
            into = made.randrange(at + 1, len(stops))
            names = (str(made.randrange(4)), str(made.randrange(4)))
            page.link(Link(Place(stops[at], names[0]), Place(stops[into], names[1])))
    with book.reading() as page:
        every = Chain(page.links())
        for start in {end for link in page.links() for end in (link.source, link.into)}:
            assert Chain(page.links_onward(start)).onward(start) == every.onward(start)
            assert Chain(page.links_back(start)).back(start) == every.back(start)


def test_what_is_spoken_for_is_let_go_again(book: Notebook) -> None:
    with book.writing() as page:
        page.reserve("batch 1", "semolina", {"S-1": 300, "S-2": 50}, time=NOW)
        page.reserve("batch 2", "semolina", {"S-1": 100}, time=NOW)
        page.reserve("batch 1", "malt", {"M-1": 7, "M-2": 0}, time=NOW)
        assert page.reserved("semolina") == {"S-1": 400, "S-2": 50}
        page.reserve("batch 1", "semolina", {"S-1": -300}, time=NOW)
        assert page.reserved("semolina") == {"S-1": 100, "S-2": 50}
        assert page.reserved_for("batch 1") == (("malt", "M-1", 7), ("semolina", "S-2", 50))
        assert page.reserved_for("batch 3") == ()


def test_a_person_is_known_by_a_code_and_can_be_erased(book: Notebook) -> None:
    with book.writing() as page:
        codes = [page.add_person({"name": name}, time=NOW) for name in ("Ash", "Birch")]
        assert codes == ["person 1", "person 2"]
        page.change_person("person 2", {"name": "Beech"}, time=NOW)
        page.erase_person("person 1", time=NOW)
        assert page.persons() == {"person 1": None, "person 2": {"name": "Beech"}}
        assert page.add_person({"name": "Cedar"}, time=NOW) == "person 3"
        with pytest.raises(InputError, match="a code of the notebook"):
            page.erase_person("person 4", time=NOW)


# --- two at once -----------------------------------------------------------------------------


def add_many(place: Where, own: str, count: int) -> None:
    """Count a shared record up, and write records of one's own."""
    book = open_notebook(place, now=NOW)
    done = 0
    while done < count:
        with book.reading() as page:
            latest = page.latest("count", "both")
        assert latest is not None
        assert latest.body is not None
        try:
            with book.writing() as page:
                page.write(
                    "count",
                    "both",
                    {"at": latest.body["at"] + 1},
                    seen=latest.version,
                    time=NOW,
                )
                page.write("own", f"{own} {done}", {}, seen=0, time=NOW)
        except ChangedMeanwhileError:
            continue
        done += 1
    book.close()


def test_two_programs_at_once_lose_nothing(book: Notebook) -> None:
    with book.writing() as page:
        page.write("count", "both", {"at": 0}, seen=0, time=NOW)
    context = get_context("spawn")
    writers = [context.Process(target=add_many, args=(book.place, own, 25)) for own in "ab"]
    for one in writers:
        one.start()
    for one in writers:
        one.join()
        assert one.exitcode == 0
    with book.reading() as page:
        latest = page.latest("count", "both")
        assert latest is not None
        assert (latest.version, latest.body) == (51, {"at": 50})
        assert len(page.all("own")) == 50
