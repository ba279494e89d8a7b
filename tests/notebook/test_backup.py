"""Copies: made while others write, sound or none, few but old enough, and put back whole."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.notebook.backup import (
    ALL,
    WEEKS,
    back_up,
    restore,
    too_many,
)
from baitwright.notebook.copies import FOLDER, backups, made_at
from baitwright.notebook.soundness import examine
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.where import Where, name_of
from baitwright.terms.errors import InputError
from tests.notebook.kitchen import DAY, HOUR, NOW, only_on_file, opened
from tests.notebook.random_book import everything


@pytest.fixture
def book(book: Notebook) -> Notebook:
    with book.writing() as page:
        page.write("recipe", "Copper", {"level": 1}, seen=0, time=NOW)
    return book


def levels(place: Where) -> list[object]:
    found = open_notebook(place, now=NOW)
    with found.reading() as page:
        told = [one.body for one in page.history("recipe", "Copper")]
    found.close()
    return told


def change(book: Notebook, level: int) -> None:
    with book.writing() as page:
        page.write("recipe", "Copper", {"level": level}, seen=level - 1, time=NOW)


def test_a_copy_is_of_what_was_kept_when_it_was_made(book: Notebook, tmp_path: Path) -> None:
    with book.writing() as page:
        page.write("recipe", "Copper", {"level": 2}, seen=1, time=NOW)
        copy = back_up(book.place, now=NOW)  # while another is writing
    assert copy.parent == tmp_path / FOLDER
    assert examine(copy) == ""
    assert [path.name for path in copy.parent.iterdir()] == [copy.name]
    assert levels(copy) == [{"level": 1}]
    assert made_at(copy) == NOW


def test_no_notebook_no_copy(place: Where, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="a notebook that is there"):
        back_up(place, now=NOW)
    assert list(tmp_path.iterdir()) == []


def test_no_room_for_a_copy_leaves_no_half_of_one(
    book: Notebook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(self: object, into: Path) -> None:
        into.write_bytes(b"half a copy")
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr(type(book.keeper), "copy_to", full)
    with pytest.raises(InputError, match=r"disk is full\. The notebook is as it was"):
        back_up(book.place, now=NOW)
    assert list((tmp_path / FOLDER).iterdir()) == []


def test_what_is_put_back_is_the_copy_and_what_was_there_is_copied(book: Notebook) -> None:
    place = book.place
    copy = back_up(place, now=NOW)
    change(book, 2)
    replaced = restore(place, copy, now=NOW + HOUR).replaced
    assert replaced is not None
    assert levels(place) == [{"level": 1}]
    assert levels(replaced) == [{"level": 1}, {"level": 2}]
    restore(place, replaced, now=NOW + 2 * HOUR)
    assert levels(place) == [{"level": 1}, {"level": 2}]
    with book.reading() as page:  # whoever had it open reads what was put back
        assert len(page.history("recipe", "Copper")) == 2


@only_on_file
def test_a_lost_notebook_comes_back(book: Notebook, tmp_path: Path) -> None:
    place = tmp_path / "notebook.sqlite"
    copy = back_up(place, now=NOW)
    book.close()
    for path in tmp_path.glob("notebook.sqlite*"):
        path.unlink()
    assert restore(place, copy, now=NOW).replaced is None
    assert levels(place) == [{"level": 1}]


@pytest.mark.parametrize("contents", [b"", b"no copy at all" * 1000, None])
def test_what_is_no_copy_changes_nothing(
    book: Notebook, tmp_path: Path, contents: bytes | None
) -> None:
    bad = tmp_path / "bad.sqlite"
    if contents is not None:
        bad.write_bytes(contents)
    with pytest.raises(InputError, match="a backup of a notebook"):
        restore(book.place, bad, now=NOW)
    assert levels(book.place) == [{"level": 1}]
    assert backups(book.place) == ()


def copy_of(time: datetime) -> Path:
    return Path(f"notebook-{time.strftime('%Y-%m-%dT%H%M%S%fZ')}.sqlite")


@given(st.lists(st.integers(0, 200 * 24), max_size=60, unique=True))
def test_every_copy_of_a_week_is_kept_and_few_older_ones(hours: list[int]) -> None:
    copies = [copy_of(NOW - hour * HOUR) for hour in hours]
    gone = too_many(copies, now=NOW)
    kept = [copy for copy in copies if copy not in gone]
    recent = [copy for copy in copies if NOW - made_at(copy) <= ALL]
    assert set(recent) <= set(kept)
    assert len(kept) <= len(recent) + WEEKS
    assert too_many(kept, now=NOW) == ()


def test_a_copy_of_each_of_the_weeks_before() -> None:
    copies = [copy_of(NOW - at * DAY) for at in range(100)]
    gone = too_many(copies, now=NOW)
    kept = [made_at(copy) for copy in copies if copy not in gone]
    older = [time for time in kept if NOW - time > ALL]
    assert len(older) == WEEKS
    assert NOW - min(kept) >= timedelta(weeks=WEEKS - 1)  # the newest of the eighth week before


def test_a_copy_that_holds_less_puts_no_fuller_one_away(tmp_path: Path) -> None:
    made = opened(tmp_path)
    with made.writing() as page:
        page.write("recipe", "Copper", {"level": 1}, seen=0, time=NOW)
    made.close()
    place = tmp_path / "notebook.sqlite"
    full = back_up(place, now=NOW)
    for path in tmp_path.glob("notebook.sqlite*"):
        path.unlink()
    opened(tmp_path).close()
    back_up(place, now=NOW + HOUR)
    assert full not in too_many(backups(place), now=NOW + 2 * HOUR)


@only_on_file
@pytest.mark.parametrize("damage", ["overwritten", "cut", "empty", "words"])
def test_a_damaged_notebook_is_set_aside_and_the_copy_put_back(
    book: Notebook, tmp_path: Path, damage: str
) -> None:
    place = tmp_path / "notebook.sqlite"
    copy = back_up(place, now=NOW)
    book.close()
    contents = place.read_bytes()
    damaged = {
        "overwritten": contents[:4096] + b"\xff" * (len(contents) - 4096),
        "cut": contents[: len(contents) // 2],
        "empty": b"",
        "words": b"no notebook at all " * 500,
    }[damage]
    place.write_bytes(damaged)
    aside = restore(place, copy, now=NOW + HOUR).replaced
    assert aside is not None
    assert aside.read_bytes() == damaged
    assert levels(place) == [{"level": 1}]


def test_notebooks_in_one_folder_keep_their_copies_apart(tmp_path: Path) -> None:
    places = [
        tmp_path / name for name in ("notebook.sqlite", "notebook-winter.sqlite", "n[1].sqlite")
    ]
    for place in places:
        open_notebook(place, now=NOW).close()
        back_up(place, now=NOW)
    (tmp_path / FOLDER / "notebook-beforeZ.sqlite").write_text("a stranger")
    for place in places:
        (copy,) = backups(place)
        assert copy.stem.startswith(f"{place.stem}-2026")


def test_a_copy_made_before_a_restore_is_never_thinned_out(book: Notebook) -> None:
    place = book.place
    copy = back_up(place, now=NOW)
    change(book, 2)
    replaced = restore(place, copy, now=NOW + HOUR).replaced
    assert replaced is not None
    assert replaced not in backups(place)
    assert replaced not in too_many(backups(place), now=NOW + 400 * DAY)
    assert replaced.exists()


def test_half_copies_of_a_killed_program_are_swept_away(book: Notebook, tmp_path: Path) -> None:
    (tmp_path / FOLDER).mkdir()
    half = tmp_path / FOLDER / f"{name_of(book.place)}-2026-11-26T090000000000Z.part"
    half.write_bytes(b"half")
    back_up(book.place, now=NOW)
    assert not half.exists()


def test_a_copy_of_a_later_program_is_not_put_back(book: Notebook) -> None:
    copy = back_up(book.place, now=NOW)
    with sqlite3.connect(copy) as plain:
        plain.execute("UPDATE alembic_version SET version_num = '9999'")
    plain.close()
    with pytest.raises(InputError, match="It has taken step 9999"):
        restore(book.place, copy, now=NOW)


def test_putting_back_does_not_wait_for_ever(
    book: Notebook, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("baitwright.notebook.on_file._TRIES", 1)
    monkeypatch.setattr("baitwright.notebook.on_server._SETTINGS", ("lock_timeout = '50ms'",))
    copy = back_up(book.place, now=NOW)
    with book.writing() as page:
        page.write("recipe", "Chalk", {}, seen=0, time=NOW)
        with pytest.raises(InputError, match=r"[Aa]nother window is writing in it"):
            restore(book.place, copy, now=NOW)
    with book.reading() as page:
        assert [one.name for one in page.all("recipe")] == ["Chalk", "Copper"]


@pytest.mark.parametrize("column", ["reason", "body", "name"])
@only_on_file
def test_a_copy_with_damaged_words_is_refused(book: Notebook, tmp_path: Path, column: str) -> None:
    """Of bytes that are no letters in any encoding of ours."""
    with book.writing() as page:
        page.write("recipe", "Chalk", {}, seen=0, time=NOW)
    copy, before = back_up(tmp_path / "notebook.sqlite", now=NOW), everything(book)
    with closing(sqlite3.connect(copy)) as file, file:
        file.execute(f"UPDATE revisions SET {column} = CAST(x'80' AS TEXT) WHERE id = 1")
    with pytest.raises(InputError, match="backup of a notebook"):
        restore(book.place, copy, now=NOW + HOUR)
    assert everything(book) == before
