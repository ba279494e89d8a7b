"""A purge names what goes, and leaves no byte of it in the folder."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from zipfile import ZipFile

import pytest

from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.attachments import checksum, shelf_beside
from baitwright.notebook.backup import back_up
from baitwright.notebook.copies import every_copy
from baitwright.notebook.merging import Keep
from baitwright.notebook.plain_pages import follow, pages_beside
from baitwright.notebook.soundness import examine
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import Server
from baitwright.terms.errors import InputError
from baitwright.workshop.copies import export_all
from baitwright.workshop.copies.exports_noted import export_noted, exports, note_export
from baitwright.workshop.copies.import_all import Wish, import_all
from baitwright.workshop.copies.purge import loss_of, purge
from baitwright.workshop.copies.purge_words import loss_text, purged_text
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.read_records import history, records
from baitwright.workshop.opening.notebook_care import put_back
from baitwright.workshop.records.people_book import people
from baitwright.workshop.records.record_forms import undo
from baitwright.workshop.shelf.lots import Lot
from tests.architecture.tree import ROOT
from tests.notebook.random_book import everything
from tests.workshop.records import NOW, person, write

STORES = ROOT / "tests" / "notebook" / "stores"
SURNAME = "Quillfeather"
LATER = NOW + timedelta(hours=1)


def told_of(folder: Path, words: str) -> list[str]:
    """Files below a folder that hold some words anywhere, logs and free pages too."""
    files = [path for path in folder.rglob("*") if path.is_file()]
    return sorted(path.name for path in files if words.encode() in path.read_bytes())


def exported(book: Notebook, path: Path) -> Path:
    return export_noted(book, path, files=shelf_beside(book.place), now=NOW).path


def test_no_byte_of_a_person_is_left(book: Notebook, tmp_path: Path) -> None:
    """Written, changed, copied, put before a step, exported, and a log still beside it."""
    code = person(book, f"name=Ada {SURNAME}", f"address={SURNAME} Lane\n" * 300)
    write(book, "question", "question=how much malt?", f"customer={code}", name="Malt")
    back_up(book.place, now=NOW)
    back_up(book.place, now=NOW, before="restore")
    person(book, f"name=A. {SURNAME}", "address=gone", name=code)
    for at in range(40):  # so that pages are split, and come free
        person(book, f"name=Other {at}", f"address={'x' * 90 * at} Lane")
    back_up(book.place, now=LATER)
    zipped = exported(book, tmp_path / "all.zip")
    assert len(told_of(tmp_path, SURNAME)) >= 4
    loss = loss_of(book, "person", code)
    assert (len(loss.copies), len(loss.exports)) == (3, 1)
    said = loss_text(loss)
    assert all(str(copy) in said for copy in (*loss.copies, zipped))
    assert told_of(tmp_path, SURNAME)  # nothing was done yet
    assert purge(book, loss, now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []
    assert people(book)[code] is None
    assert [examine(copy) for copy in every_copy(book.place)] == ["", "", ""]
    assert records(book, FORMS["question"])[0].body is not None
    with book.reading() as page:
        assert list(exports(page)) == []


def test_a_record_goes_with_all_its_versions(book: Notebook, tmp_path: Path) -> None:
    write(book, "complaint", "what=mould, says Quillfeather", name="Mould")
    back_up(book.place, now=NOW)
    write(book, "complaint", "what=mould, says nobody", name="Mould", reason=f"not {SURNAME}")
    write(book, "complaint", "what=too soft", name="Soft")
    loss = loss_of(book, "complaint", "Mould")
    assert loss.versions == 2
    assert purge(book, loss, now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []
    assert [one.name for one in records(book, FORMS["complaint"])] == ["Soft"]
    assert [one.body for one in history(book, FORMS["complaint"], "Mould")] == [None, None]
    undo(book, FORMS["complaint"], "Mould", now=LATER)
    assert told_of(tmp_path, SURNAME) == []
    with book.reading() as page:
        assert page.latest("complaint", "Soft") is not None
    for copy in every_copy(book.place):
        with closing(sqlite3.connect(copy)) as file:
            stones = file.execute("SELECT kind, name, versions FROM tombstones").fetchall()
        assert stones == [("complaint", "Mould", 1)]


def test_the_plans_of_a_recipe_go_with_it(book: Notebook, tmp_path: Path) -> None:
    """A plan keeps the recipe it was made of, whole."""
    with book.writing() as page:
        page.write("recipe", "Copper", {"toml": f"remark = '{SURNAME}'"}, seen=0, time=NOW)
        for batch, recipe in (("B1", "Copper"), ("B2", "Copper"), ("B3", "Brass")):
            page.write("batch", batch, {"about": recipe}, seen=0, time=NOW)
            request = {"recipe": SURNAME if recipe == "Copper" else "other"}
            page.write("plan", batch, {"about": recipe, "request": request}, seen=0, time=NOW)
            for kind in ("bench", "bench strip"):
                page.write(kind, batch, {"about": recipe, "told": request}, seen=0, time=NOW)
    back_up(book.place, now=NOW)
    loss = loss_of(book, "recipe", "Copper")
    assert loss.plans == ("B1", "B2")
    assert "the plan of batch B2" in loss_text(loss)
    assert purge(book, loss, now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []
    assert loss_of(book, "recipe", "Copper").plans == loss.plans  # if it is begun once more
    with book.reading() as page:
        for kind in ("plan", "bench", "bench strip"):
            assert [one.name for one in page.all(kind)] == ["B3"]
        assert len(page.all("batch")) == 3


def test_what_lies_in_free_pages_of_a_copy_goes_too(book: Notebook, tmp_path: Path) -> None:
    """Another program's copy, or an older one's, may not have wiped what was deleted in it."""
    code = person(book, "name=Nobody yet")
    copy = back_up(book.place, now=NOW)
    with closing(sqlite3.connect(copy, isolation_level=None)) as file:
        file.execute("PRAGMA secure_delete = OFF")
        file.execute("UPDATE people SET body = ?", (f"{SURNAME} " * 900,))
        file.execute("UPDATE people SET body = '{}'")
    assert told_of(tmp_path, SURNAME) == [copy.name]
    assert purge(book, loss_of(book, "person", code), now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []


def test_what_a_purge_cannot_reach_is_named(book: Notebook, tmp_path: Path) -> None:
    code = person(book, f"name=Ada {SURNAME}")
    (tmp_path / "letter.pdf").write_bytes(b"paper")
    write(book, "question", f"question=asks {SURNAME}", "files=letter.pdf", name="Malt")
    write(book, "night", "water=X", f"remark=with Ada {SURNAME}", name="Late")
    back_up(book.place, now=NOW)
    damaged = tmp_path / "backups" / "notebook-damaged-2026-11-27T090000000000Z.sqlite"
    damaged.write_bytes(f"{SURNAME} and no database".encode())
    log = damaged.with_name(f"{damaged.name}-wal")
    log.write_bytes(b"its log")
    half = tmp_path / "backups" / "notebook-2026-11-27T090000000000Z.part"
    half.write_bytes(SURNAME.encode())
    zipped = exported(book, tmp_path / "all.zip")
    zipped.write_text("something else")
    loss = loss_of(book, "person", code)
    assert set(loss.named_in) == {("night", "Late"), ("question", "Malt")}
    assert "night Late; purge or rewrite" in loss_text(loss)
    left = purge(book, loss, now=LATER)
    assert set(left) == {damaged, log, zipped}
    assert zipped.exists()
    assert not half.exists()
    said = purged_text(loss, left)
    assert all(str(path) in said for path in left)
    assert "letter.pdf; delete it yourself" in loss_text(loss_of(book, "question", "Malt"))


def test_words_of_the_book_and_of_traces_are_searched(book: Notebook) -> None:
    code = person(book, f"name=Ada {SURNAME}", "address=3 Alder Row,\nNetherby")
    write(book, "night", "water=X", "remark=near Netherby", name="Late")
    lent = Movement("malt", "1", NOW, -5, Decimal(0), Reason.USED, f"lent to {SURNAME}")
    supplied = Place(Stop.SUPPLIED, f"{SURNAME}'s mill S-1")
    with book.writing() as page:
        page.post([lent])
        page.link(Link(supplied, Place(Stop.INGREDIENT, "1")))
    said = loss_text(loss_of(book, "person", code))
    assert "stays: in the own words of night Late; purge or rewrite that too" in said
    assert "stays: in the own words of the shelf's book, entry 1, which stays whole" in said
    assert f"stays: in the own words of the trace of {supplied.name}, which stays whole" in said


def mentioned(book: Notebook) -> str:
    """A person who stands in the words of half the notebook; their code."""
    code = person(book, f"name=Ada {SURNAME}", "phone=01632 960001")
    write(book, "night", "water=X", f"remark=with Ada {SURNAME}, and {SURNAME}s", name="Late")
    write(book, "night", "water=Y", f"remark={SURNAME.upper()}'s swim", name="Late", reason="x")
    write(book, "question", f"question={SURNAME} asks", f"customer={code}", name="Malt")
    write(book, "ingredient", f"supplier={SURNAME}", name="Semolina")
    write(book, "tub", f"base={SURNAME} Special", name="Tub")
    lot = Lot("malt", "2026-11-27", supplier=SURNAME, supplier_lot="S-1").as_body()
    lent = Movement("malt", "1", NOW, -5, Decimal(0), Reason.USED, f"lent to  {SURNAME}")
    with book.writing() as page:
        toml = f"# as {SURNAME} likes it"
        page.write("recipe", f"{SURNAME} Special", {"toml": toml}, seen=0, time=NOW, reason=SURNAME)
        page.write("lot", "1", lot, seen=0, time=NOW)
        page.post([lent])
        page.link(Link(Place(Stop.SUPPLIED, f"{SURNAME} S-1"), Place(Stop.INGREDIENT, "1")))
    return code


def test_words_are_overwritten_once_they_were_told(book: Notebook, tmp_path: Path) -> None:
    code = mentioned(book)
    back_up(book.place, now=NOW)
    follow(book, pages_beside(book.place), now=NOW)
    aside = pages_beside(book.place).with_name("notebook-pages-until-2026-11-27T080000000000Z")
    shutil.copytree(pages_beside(book.place), aside)
    before = everything(book)
    assert f"overwritten by {code}: --overwrite SURNAME" in loss_text(loss_of(book, "person", code))
    loss = loss_of(book, "person", code, words=[SURNAME.lower(), f"Ada {SURNAME}"])
    assert everything(book) == before  # it was looked at, and taken back
    said = loss_text(loss)
    for line in (
        "night Late, remark: person 1's swim",
        "question Malt, question: person 1 asks",
        "ingredient Semolina, supplier: person 1",
        "lot 1, supplier: person 1",
        "recipe Quillfeather Special, reason of version 1: person 1",
        "the shelf's book, entry 1: lent to person 1",
        "the trace of person 1 S-1: person 1 S-1",
    ):
        assert f"  overwritten in {line}" in said.splitlines()
    assert set(loss.named_in) == {
        ("night", "Late"),  # where it is part of another word
        ("recipe", "Quillfeather Special"),  # a file to the letter
        ("tub", "Tub"),  # the name of that recipe
    }
    assert purge(book, loss, now=LATER) == {}
    found = history(book, FORMS["night"], "Late")
    told = [(one.body or {})["remark"] for one in found]
    assert told == [f"with Ada person 1, and {SURNAME}s", "person 1's swim"]
    with book.reading() as page:
        assert page.last("ingredient", 1)[0].name == "Semolina"
        assert [one.name for one in page.all("ingredient", about="person 1")] == ["Semolina"]
        assert page.places("S-1") == (Place(Stop.SUPPLIED, "person 1 S-1"),)
    rest = {"night": "Late", "recipe": "Quillfeather Special", "tub": "Tub"}
    for kind, name in rest.items():
        assert purge(book, loss_of(book, kind, name), now=LATER) == {}
    with closing(sqlite3.connect(every_copy(book.place)[0])) as copy:
        texts = [str(row) for row in copy.execute("SELECT body, reason FROM revisions")]
        assert any("person 1 asks" in text for text in texts)
        assert not any(SURNAME in text for text in texts)
    assert f"{SURNAME}s" not in str(everything(book))


def test_no_byte_of_overwritten_words_is_left(book: Notebook, tmp_path: Path) -> None:
    code = person(book, f"name=Ada {SURNAME}")
    for at in range(40):
        write(book, "night", f"water=W{'x' * at}", f"remark=with {SURNAME}", name=f"N{at}")
    lent = Movement("malt", "1", NOW, -5, Decimal(0), Reason.USED, f"lent to {SURNAME}")
    more = Movement("malt", "1", LATER, 5, Decimal(0), Reason.COUNTED)
    with book.writing() as page:
        page.post([lent])
        page.post([more])
    back_up(book.place, now=NOW)
    exported(book, tmp_path / "all.zip")
    pages = pages_beside(book.place)
    follow(book, pages, now=NOW)
    shutil.copytree(pages, tmp_path / "notebook-pages-until-2026-11-27T080000000000Z")
    loss = loss_of(book, "person", code, words=[SURNAME])
    assert loss.named_in == ()
    assert purge(book, loss, now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []
    assert "lent to person 1" in (pages / "movements" / "movements-00001.txt").read_text()
    assert follow(book, pages, now=LATER) == 0
    assert [examine(copy) for copy in every_copy(book.place)] == [""]
    again = loss_of(book, "person", code, words=[SURNAME])
    assert (again.changed, again.named_in) == ((), ())


def test_an_older_file_or_copy_does_not_bring_overwritten_words_back(
    book: Notebook, tmp_path: Path
) -> None:
    code = mentioned(book)
    old = export_all.export_all(
        book, tmp_path / "stick.zip", files=shelf_beside(book.place), now=NOW
    )
    stick = tmp_path / "stick.sqlite"
    shutil.copy(back_up(book.place, now=NOW), stick)
    purge(book, loss_of(book, "person", code, words=[SURNAME]), now=LATER)
    before = everything(book)
    wish = Wish(LATER, Keep.THEIRS)
    found = import_all(book, old.path, files=shelf_beside(book.place), wish=wish)
    assert found.is_done
    rest = [table for table, rows in everything(book).items() if rows != before[table]]
    assert rest == []
    done = put_back(book.place, stick, clock=lambda: LATER)
    assert set(done.purged) >= {code, "night Late", "question Malt", "words of the shelf's book"}
    after = everything(book)
    for table in ("movements", "links", "people", "newest"):
        assert after[table] == before[table]
    bodies = [
        (row["kind"], row["version"], row["body"], row["reason"]) for row in after["revisions"]
    ]
    assert bodies == [
        (row["kind"], row["version"], row["body"], row["reason"]) for row in before["revisions"]
    ]


@pytest.mark.parametrize("words", ["Ash", "person", 'a "b" c', "pers", "   ", "Quill\x07"])
def test_words_that_stand_anywhere_are_not_overwritten(book: Notebook, words: str) -> None:
    code = person(book, f"name=Ada {SURNAME}")
    with pytest.raises(InputError, match="whole words of 4 letters or more"):
        loss_of(book, "person", code, words=[words])


def test_a_record_is_purged_whole(book: Notebook) -> None:
    write(book, "question", "question=how much malt?", name="Malt")
    with pytest.raises(InputError, match="words of a person"):
        loss_of(book, "question", "Malt", words=[SURNAME])


def test_no_record_of_an_export_deletes_what_is_none(book: Notebook, tmp_path: Path) -> None:
    """A file from elsewhere may bring records of exports that tell any path and checksum."""
    (tmp_path / "mine.txt").write_text("mine")
    with ZipFile(tmp_path / "photos.zip", "w") as zipped:
        zipped.writestr("manifest.json", "{}")
    write(book, "question", "question=how much malt?", name="Malt")
    with book.writing() as page:
        for path in (tmp_path / "mine.txt", tmp_path / "photos.zip"):
            note_export(page, path, sha256=checksum(path), now=NOW)
    left = purge(book, loss_of(book, "question", "Malt"), now=LATER)
    assert set(left) == {tmp_path / "mine.txt", tmp_path / "photos.zip"}
    assert all(path.exists() for path in left)


def test_a_file_that_was_exported_into_twice_is_one(book: Notebook, tmp_path: Path) -> None:
    code = person(book, f"name=Ada {SURNAME}")
    for _ in range(2):
        zipped = exported(book, tmp_path / "all.zip")
    loss = loss_of(book, "person", code)
    assert [(one.path, len(one.names)) for one in loss.exports] == [(zipped, 2)]
    assert purge(book, loss, now=LATER) == {}
    assert not zipped.exists()
    assert loss_of(book, "person", code).exports == ()


@pytest.mark.parametrize("kind", ["person", "question"])
def test_others_of_the_shop_purge_their_own_copies(
    book: Notebook, tmp_path: Path, kind: str
) -> None:
    names = {"person": person(book, f"name=Ada {SURNAME}"), "question": "Malt"}
    write(book, "question", "question=how much malt?", name="Malt")
    shared = replace(book, place=Server("postgresql://shop.example/bait", tmp_path))
    others = "copies, pages and exports with others of the shop"
    assert others in loss_text(loss_of(shared, kind, names[kind]))
    assert others not in loss_text(loss_of(book, kind, names[kind]))


def test_an_export_on_a_stick_that_is_elsewhere_is_named(book: Notebook, tmp_path: Path) -> None:
    code = person(book, f"name=Ada {SURNAME}")
    stick = tmp_path / "stick"
    stick.mkdir()
    zipped = exported(book, stick / "all.zip")
    away = stick.rename(tmp_path / "in the drawer")
    loss = loss_of(book, "person", code)
    assert f"not in the export {zipped}, which is not there now" in loss_text(loss)
    assert list(purge(book, loss, now=LATER)) == [zipped]
    away.rename(stick)
    assert purge(book, loss_of(book, "person", code), now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []


def test_an_export_that_was_killed_is_found(
    book: Notebook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After the file is in its place, and before."""
    code = person(book, f"name=Ada {SURNAME}")
    put = Path.replace

    def killed(part: Path, into: Path) -> None:
        shutil.copy(part, part.with_name(".all.zip.1.part"))
        put(part, into)
        raise KeyboardInterrupt

    with monkeypatch.context() as once, pytest.raises(KeyboardInterrupt):
        once.setattr(Path, "replace", killed)
        exported(book, tmp_path / "all.zip")
    assert len(list(tmp_path.glob("*all.zip*"))) == 2
    assert purge(book, loss_of(book, "person", code), now=LATER) == {}
    assert list(tmp_path.glob("*all.zip*")) == []


def test_an_export_killed_in_its_middle_is_found(
    book: Notebook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At a path where nothing was ever exported, before a byte of it was whole."""
    code = person(book, f"name=Ada {SURNAME}")
    half = tmp_path / f".all.zip.{os.getpid()}.part"

    def killed(*_: object) -> str:
        with book.reading() as page:
            (noted,) = exports(page)
        assert (noted.path, noted.is_begun_only, half.exists()) == (
            tmp_path / "all.zip",
            True,
            True,
        )
        raise KeyboardInterrupt

    with monkeypatch.context() as once, pytest.raises(KeyboardInterrupt):
        once.setattr(export_all, "data_package", killed)
        once.setattr(Path, "unlink", lambda path, **_: None)
        exported(book, tmp_path / "all.zip")
    assert half.exists()
    loss = loss_of(book, "person", code)
    assert f"halves of the export {tmp_path / 'all.zip'}, which was never finished" in loss_text(
        loss
    )
    assert purge(book, loss, now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []
    assert not half.exists()
    assert loss_of(book, "person", code).exports == ()


def test_an_export_that_was_refused_leaves_no_note(book: Notebook, tmp_path: Path) -> None:
    code = person(book, f"name=Ada {SURNAME}")
    (tmp_path / "photos.zip").write_text("photos")
    with pytest.raises(InputError, match="no export, and stays"):
        exported(book, tmp_path / "photos.zip")
    assert loss_of(book, "person", code).exports == ()
    assert (tmp_path / "photos.zip").read_text() == "photos"


def test_the_plain_pages_are_written_anew(book: Notebook, tmp_path: Path) -> None:
    code = person(book, f"name=Ada {SURNAME}")
    pages = pages_beside(book.place)
    follow(book, pages, now=NOW)
    assert told_of(pages, SURNAME) != []
    loss = loss_of(book, "person", code)
    assert loss.pages == (pages,)
    assert str(pages) in loss_text(loss)
    assert purge(book, loss, now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []


def test_pages_cut_short_or_set_aside_are_reached_too(book: Notebook, tmp_path: Path) -> None:
    """No pages stand: they were set aside, or a killed program left only halves."""
    code = person(book, f"name=Ada {SURNAME}")
    pages = pages_beside(book.place)
    follow(book, pages, now=NOW)
    half = tmp_path / "notebook-pages.ab12.part" / "notebook-pages"
    half.mkdir(parents=True)
    shutil.copy(pages / "people.txt", half)
    shutil.copy(pages / "people.txt", pages / ".people.txt.part")
    aside = pages.rename(tmp_path / "notebook-pages-until-2026-11-27T090000000000Z")
    loss = loss_of(book, "person", code)
    assert loss.pages == (aside, half.parent)
    assert purge(book, loss, now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []
    assert not half.parent.exists()
    assert not pages.exists()


def test_an_open_window_is_told_and_the_purge_ends_once_it_is_closed(book: Notebook) -> None:
    code = person(book, f"name=Ada {SURNAME}")
    loss = loss_of(book, "person", code)
    with closing(sqlite3.connect(book.place, isolation_level=None)) as other:
        other.execute("BEGIN")
        other.execute("SELECT count(*) FROM people").fetchone()
        with pytest.raises(InputError, match="nobody else has open"):
            purge(book, loss, now=LATER)
    purge(book, loss_of(book, "person", code), now=LATER)
    assert told_of(book.place.parent, SURNAME) == []


@pytest.mark.parametrize("kept", sorted(STORES.glob("*.sql")), ids=lambda path: path.stem)
def test_a_copy_of_an_older_notebook_is_purged_as_it_is(
    book: Notebook, tmp_path: Path, kept: Path
) -> None:
    (tmp_path / "backups").mkdir()
    copy = tmp_path / "backups" / "notebook-before-step-2026-11-27T080000000000Z.sqlite"
    with closing(sqlite3.connect(copy)) as file:
        file.executescript(kept.read_text(encoding="utf-8"))
    with book.writing() as page:
        page.write("recipe", "Copper", {"toml": ""}, seen=0, time=NOW)
    code = person(book, f"name=Ada {SURNAME}")
    for kind, name in (("recipe", "Copper"), ("person", code)):
        assert purge(book, loss_of(book, kind, name), now=LATER) == {}
    with closing(sqlite3.connect(copy)) as file:
        bodies = file.execute("SELECT body FROM revisions WHERE name = 'Copper'").fetchall()
        (step,) = file.execute("SELECT version_num FROM alembic_version").fetchone()
    assert (bodies, step) == ([(None,), (None,)], kept.stem)
    assert examine(copy) == ""


@pytest.mark.parametrize(
    ("kind", "name", "said"),
    [
        ("lot", "1", "stays whole"),
        ("night", "None", "none yet"),
        ("person", "5", "nobody yet"),
        ("person", "Ada", "nobody yet|a person's code"),
    ],
)
def test_what_cannot_be_purged(book: Notebook, kind: str, name: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        loss_of(book, kind, name)
