"""An older copy put back gives no code twice and brings nothing back that was purged."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.ledger.movements import Movement, Reason
from baitwright.notebook.backup import back_up, restore
from baitwright.notebook.purging import Gone, purge_copies
from baitwright.notebook.soundness import HEAD
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError
from tests.architecture.tree import ROOT
from tests.notebook.kitchen import HOUR, NOW
from tests.notebook.random_book import everything

STEP_1 = ROOT / "tests" / "notebook" / "stores" / "0001.sql"


def add(book: Notebook, *names: str) -> list[str]:
    with book.writing() as page:
        return [page.add_person({"name": name}, time=NOW) for name in names]


def night(book: Notebook, name: str, *, seen: int = 0, notes: str = "with Ash") -> None:
    when = NOW + timedelta(minutes=seen)
    with book.writing() as page:
        page.write("night", name, {"about": "Reed", "notes": notes}, seen=seen, time=when)


def kept_away(book: Notebook, tmp_path: Path) -> Path:
    """A copy on a stick, which no purge reaches."""
    made = tmp_path / "stick.sqlite"
    shutil.copy(back_up(book.place, now=NOW), made)
    return made


def holds(path: Path, words: str) -> bool:
    return words.encode() in path.read_bytes()


def test_a_code_given_after_the_copy_is_not_given_again(book: Notebook, tmp_path: Path) -> None:
    add(book, "Ash", "Birch")
    copy = kept_away(book, tmp_path)
    assert add(book, "Cedar", "Doe") == ["person 3", "person 4"]
    with book.writing() as page:
        page.erase_person("person 4", time=NOW)
    done = restore(book.place, copy, now=NOW + HOUR)
    assert done.purged == ()  # the copy never had them
    assert add(book, "Elm") == ["person 5"]
    with book.reading() as page:
        found = page.persons()
    assert found == {
        "person 1": {"name": "Ash"},
        "person 2": {"name": "Birch"},
        "person 3": {},
        "person 4": None,
        "person 5": {"name": "Elm"},
    }


def test_the_same_copy_twice_gives_no_code_twice(book: Notebook, tmp_path: Path) -> None:
    copy = kept_away(book, tmp_path)
    given = []
    for hours in range(1, 4):
        given += add(book, "Ash")
        restore(book.place, copy, now=NOW + hours * HOUR)
    assert given == ["person 1", "person 2", "person 3"]


def test_what_was_purged_is_purged_in_what_is_put_back(book: Notebook, tmp_path: Path) -> None:
    add(book, "Quillfeather", "Birch")
    night(book, "1", notes="with Quillfeather")
    night(book, "2")
    copy = kept_away(book, tmp_path)
    night(book, "1", seen=1, notes="alone")
    with book.writing() as page:
        page.erase_person("person 1", time=NOW)
        page.purge("night", "1", time=NOW)
    night(book, "1", seen=2, notes="new, and in no copy")
    book.keeper.wipe()
    done = restore(book.place, copy, now=NOW + HOUR)
    assert done.purged == ("person 1", "night 1")
    with book.reading() as page:
        assert page.persons() == {"person 1": None, "person 2": {"name": "Birch"}}
        assert [one.body for one in page.history("night", "1")] == [None, None]
        assert [one.name for one in page.all("night")] == ["2"]
    assert [(row["name"], row["versions"]) for row in everything(book)["tombstones"]] == [("1", 2)]
    assert holds(copy, "Quillfeather")  # the maker's own: it is named, and left
    if isinstance(book.place, Path):
        book.close()
        assert not any(holds(one, "Quillfeather") for one in tmp_path.glob("notebook.sqlite*"))
    assert list((tmp_path / "backups").glob("*.part*")) == []
    again = restore(book.place, copy, now=NOW + 2 * HOUR)
    assert again.purged == done.purged


def test_another_notebook_is_put_back_as_it_is(place: Where, tmp_path: Path) -> None:
    """It has a person 1 and a night 1 of its own; codes go on after both."""
    other = open_notebook(tmp_path / "other" / "notebook.sqlite", now=NOW)
    with other.writing() as page:
        page.write("night", "1", {"notes": "ours"}, seen=0, time=NOW + HOUR)
    add(other, "Fir")
    here = open_notebook(place, now=NOW)
    add(here, "Ash", "Birch")
    night(here, "1")
    with here.writing() as page:
        page.erase_person("person 1", time=NOW)
        page.purge("night", "1", time=NOW)
    assert restore(place, back_up(other.place, now=NOW), now=NOW + HOUR).purged == ()
    with here.reading() as page:
        assert page.persons() == {"person 1": {"name": "Fir"}, "person 2": {}}
        assert [one.body for one in page.all("night")] == [{"notes": "ours"}]
    assert add(here, "Gale") == ["person 3"]
    for one in (here, other):
        one.close()


def test_a_copy_of_an_older_step_carries_codes_too(book: Notebook, tmp_path: Path) -> None:
    add(book, "Ash")
    copy = tmp_path / "old.sqlite"
    with closing(sqlite3.connect(copy)) as file:
        file.executescript(STEP_1.read_text(encoding="utf-8"))
    restore(book.place, copy, now=NOW + HOUR)
    made = open_notebook(book.place, now=NOW + HOUR)
    assert add(made, "Birch") == ["person 2"]
    with made.reading() as page:
        assert page.latest("recipe", "Copper") is not None
    made.close()
    with closing(sqlite3.connect(copy)) as file:
        assert file.execute("SELECT version_num FROM alembic_version").fetchone() != (HEAD,)


@pytest.mark.parametrize("is_lost", [True, False])
def test_of_a_damaged_or_lost_notebook_the_copies_are_asked(
    tmp_path: Path, *, is_lost: bool
) -> None:
    place = tmp_path / "notebook.sqlite"
    book = open_notebook(place, now=NOW)
    add(book, "Ash")
    copy = kept_away(book, tmp_path)
    add(book, "Birch")
    back_up(place, now=NOW + HOUR)
    with book.writing() as page:
        page.erase_person("person 1", time=NOW)
    book.keeper.wipe()
    assert purge_copies(place, [Gone("person", "person 1", NOW)]) == {}
    book.close()
    place.unlink() if is_lost else place.write_bytes(b"no notebook at all" * 500)
    done = restore(place, copy, now=NOW + 2 * HOUR)
    assert (done.replaced is None) == is_lost
    assert done.purged == ("person 1",)
    book = open_notebook(place, now=NOW)
    assert add(book, "Cedar") == ["person 3"]
    book.close()


def test_rows_that_nobody_can_read_whole_are_not_put_back(book: Notebook, tmp_path: Path) -> None:
    """One message for each row of a copy that was written past the program."""
    add(book, "Ash")
    night(book, "1")
    copy = kept_away(book, tmp_path)
    with closing(sqlite3.connect(copy, isolation_level=None)) as file:
        file.execute("UPDATE people SET body = ?", ('{"name": "A\\u0007sh"}',))
        file.execute("UPDATE revisions SET reason = ?", ("be\x1bll",))
        file.execute("UPDATE newest SET about = ?", ("Re\x7fed",))
    before = everything(book)
    with pytest.raises(InputError, match="3 rows with others") as error:
        restore(book.place, copy, now=NOW + HOUR)
    said = str(error.value).splitlines()
    assert "people 1, body: Character 2 is U+0007, which nobody can see." in said
    assert "revisions 1, reason: Character 3 is U+001B, which nobody can see." in said
    assert everything(book) == before
    with book.writing() as page:  # and nothing holds the pen
        page.post([Movement("malt", "1", NOW, 1, Decimal(0), Reason.BOUGHT)])
