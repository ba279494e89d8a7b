"""Everything out of the notebook and into it again: equal, merged or refused, never half."""

from __future__ import annotations

import csv
import io
import json
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from decimal import Decimal
from hashlib import sha256
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest
from hypothesis import given, settings
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from baitwright.ledger.movements import Amount, Counted
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.attachments import forget_brought, shelf_beside
from baitwright.notebook.merging import TABLES, Fate, Keep
from baitwright.notebook.rows import told_tables
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.where import folder_of
from baitwright.workshop.checks import schema
from baitwright.workshop.copies.exchange_words import (
    exported_json,
    exported_text,
    imported_json,
    imported_text,
)
from baitwright.workshop.copies.export_all import Exported, export_all
from baitwright.workshop.copies.import_all import Imported, Wish, import_all
from baitwright.workshop.entries.stock_moves import Taking, take_out, undo_last
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.records.record_schema import RECORDS
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.lots import Lot, lots_named
from baitwright.workshop.traces.quarantine import quarantine, release
from tests.notebook.kitchen import DAY, HOUR, NOW
from tests.notebook.random_book import STEPS, Step, blank, everything, write_all
from tests.workshop.shelf import SCHEMAS

KG = 1_000_000


@contextmanager
def notebook(folder: Path, name: str = "notebook") -> Iterator[Notebook]:
    (folder / f"{name}.sqlite").write_bytes(blank())
    book = open_notebook(folder / f"{name}.sqlite", now=NOW)
    try:
        yield book
    finally:
        book.close()


def exported(book: Notebook, name: str = "out.zip") -> Exported:
    into = folder_of(book.place) / name
    return export_all(book, into, files=shelf_beside(book.place), now=NOW)


def imported(
    book: Notebook, path: Path, keep: Keep | None = None, *, dry: bool = False
) -> Imported:
    wish = Wish(NOW + DAY, keep, dry)
    return import_all(book, path, files=shelf_beside(book.place), wish=wish)


def put(book: Notebook, kind: str, name: str, body: Any, *, later: timedelta = HOUR) -> None:
    with book.writing() as page:
        latest = page.latest(kind, name)
        seen = 0 if latest is None else latest.version
        page.write(kind, name, body, seen=seen, time=NOW + later, reason="for a test")


def batch(**told: Any) -> dict[str, Any]:
    """The body of a batch that was planned."""
    made = {"about": "Copper", "day": "2026-11-27", "state": "planned", "recipe_version": 1}
    return {**made, "predicted": {}, "wishes": [], **told}


def story(book: Notebook) -> None:
    put(book, "night", "1", {"about": "Copper", "day": "2026-11-01", "notes": "=1+1"})
    put(book, "night", "1", {"about": "Copper", "day": "2026-11-01", "notes": "blank"})
    bring_in(book, Delivery("malt", Amount(KG, Counted.MILLIGRAMS), Decimal("2.50")), now=NOW)
    with book.writing() as page:
        page.add_person({"name": "Ash"}, time=NOW)
        page.link(Link(Place(Stop.MIX, "tub"), Place(Stop.BATCH, "b")))


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    with notebook(tmp_path) as made:
        story(made)
        yield made


# --- into an empty notebook ------------------------------------------------------------------


@given(STEPS)
def test_what_went_out_comes_in_as_it_was(steps: list[Step]) -> None:
    with tempfile.TemporaryDirectory() as folder, notebook(Path(folder)) as first:
        write_all(first, steps)
        one = exported(first, "one.zip")
        with notebook(Path(folder), "other") as second:
            assert imported(second, one.path).is_done
            assert everything(second) == everything(first)
            other = exported(second, "other.zip")
            again = imported(second, one.path)
            assert again.is_done
            assert again.merge is None or again.merge.is_nothing
            assert everything(second) == everything(first)
        assert one.path.read_bytes() == other.path.read_bytes()


def test_the_same_notebook_gives_the_same_bytes_but_for_the_time(book: Notebook) -> None:
    one = exported(book, "one.zip").path
    later = export_all(
        book, one.with_name("two.zip"), files=shelf_beside(book.place), now=NOW + DAY
    ).path
    contents = []
    for path in (one, later):
        with ZipFile(path) as zipped:
            contents.append({name: zipped.read(name) for name in zipped.namelist()})
    differing = [name for name in contents[0] if contents[0][name] != contents[1][name]]
    assert differing == ["manifest.json"]
    times = [json.loads(one["manifest.json"])["time"][:10] for one in contents]
    assert times == ["2026-11-27", "2026-11-28"]


@given(STEPS)
@settings(max_examples=15)
def test_the_json_is_as_published(steps: list[Step]) -> None:
    published = json.loads((SCHEMAS / schema.EXPORT).read_text(encoding="utf-8"))
    assert published == schema.schema_of_export(), "publish it: baitwright.workshop.checks.schema"
    with tempfile.TemporaryDirectory() as folder, notebook(Path(folder)) as book:
        write_all(book, steps)
        with ZipFile(exported(book).path) as zipped:
            told = json.loads(zipped.read("notebook.json"))
    Draft202012Validator.check_schema(published)
    # records that no form wrote; those that forms write have a test of their own
    anything = Resource.from_contents(
        {"$schema": schema.DIALECT, "$defs": {kind: {} for kind in FORMS}}
    )
    registry = Registry().with_resource(RECORDS, anything)
    validator = Draft202012Validator(published, registry=registry)
    validator.validate(told)
    told["tables"]["movements"] = [{"id": 1}]
    assert not validator.is_valid(told)


def test_every_member_is_named_with_its_checksum(book: Notebook) -> None:
    with ZipFile(exported(book).path) as zipped:
        told = json.loads(zipped.read("manifest.json"))
        sums = {
            name: {"bytes": len(zipped.read(name)), "sha256": sha256(zipped.read(name)).hexdigest()}
            for name in zipped.namelist()
            if name != "manifest.json"
        }
    assert told["members"] == sums
    assert (told["format"], told["version"]) == ("baitwright export", 1)


def test_tables_for_spreadsheets_run_no_formula(book: Notebook) -> None:
    put(book, "night", "=HYPERLINK(1)", {"notes": "-"})
    with ZipFile(exported(book).path) as zipped:
        text = zipped.read("tables/revisions.csv").decode()
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert [row["name"] for row in rows if row["kind"] == "night"] == ["1", "1", "'=HYPERLINK(1)"]
    assert json.loads(rows[0]["body"])["notes"] == "=1+1"


# --- attachments -----------------------------------------------------------------------------


def photo(book: Notebook, name: str, contents: bytes) -> dict[str, str]:
    (folder_of(book.place) / name).write_bytes(contents)
    return {"path": name, "sha256": sha256(contents).hexdigest()}


def test_attachments_go_along_and_what_is_missing_is_named(book: Notebook, tmp_path: Path) -> None:
    told = [photo(book, name, name.encode()) for name in ("there.jpg", "gone.jpg", "new.jpg")]
    put(book, "tub", "b", {"files": [*told, {"path": "there.jpg"}, 3]})
    put(book, "tub", "c", {"files": told[:1]})
    put(book, "tub", "d", {"files": "none"})
    (tmp_path / "gone.jpg").unlink()
    (tmp_path / "new.jpg").write_bytes(b"another")
    made = exported(book)
    assert (made.files, [one.path for one in made.missing]) == (1, ["gone.jpg", "new.jpg"])
    assert exported_json(made)["missing"][0] == told[1]
    assert "    gone.jpg" in exported_text(made).splitlines()
    (tmp_path / "there.jpg").unlink()
    (tmp_path / "far").mkdir()
    with notebook(tmp_path / "far") as other:
        assert imported(other, made.path).files == 1
        kept = tmp_path / "far" / "notebook-files" / told[0]["sha256"]
        assert kept.read_bytes() == b"there.jpg"
        assert exported(other).files == 1
        kept.unlink()
        assert imported(other, made.path).files == 1  # nothing else is new, but this was lost


def test_a_photo_that_came_goes_with_its_record(book: Notebook, tmp_path: Path) -> None:
    told = [photo(book, name, name.encode()) for name in ("one.jpg", "two.jpg")]
    put(book, "tub", "b", {"files": told})
    put(book, "tub", "c", {"files": told[:1]})
    with book.writing() as page:
        page.add_person({"name": "Ash", "files": [photo(book, "ash.jpg", b"ash")]}, time=NOW)
    path = exported(book).path
    (tmp_path / "far").mkdir()
    with notebook(tmp_path / "far") as other:
        assert imported(other, path).files == 3
        files = shelf_beside(other.place)
        with other.writing() as page:
            assert forget_brought(page.connection, files) == 0
            page.purge("tub", "b", time=NOW)
            page.erase_person("person 2", time=NOW)
            assert forget_brought(page.connection, files) == 2
        assert [one.name for one in files.brought.iterdir()] == [told[0]["sha256"]]
    with book.writing() as page:
        assert forget_brought(page.connection, shelf_beside(book.place)) == 0


# --- into a filled one -----------------------------------------------------------------------


def test_a_file_of_ours_brings_nothing_new(book: Notebook) -> None:
    before = everything(book)
    found = imported(book, exported(book).path)
    assert found.merge is not None
    assert (found.is_done, found.merge.is_nothing, found.backup) == (True, True, None)
    assert everything(book) == before


def parted(book: Notebook, tmp_path: Path) -> Notebook:
    """Another notebook that was this one until now."""
    (tmp_path / "far").mkdir()
    (tmp_path / "far" / "notebook.sqlite").write_bytes(blank())
    other = open_notebook(tmp_path / "far" / "notebook.sqlite", now=NOW)
    imported(other, exported(book, "parting.zip").path)
    return other


def test_what_went_on_elsewhere_comes_in_with_its_history(book: Notebook, tmp_path: Path) -> None:
    other = parted(book, tmp_path)
    put(other, "night", "1", {"notes": "two fish"}, later=2 * HOUR)
    put(other, "night", "2", {"notes": "first"}, later=3 * HOUR)
    put(other, "night", "2", None, later=4 * HOUR)
    bring_in(other, Delivery("malt", Amount(5, Counted.MILLIGRAMS), Decimal(1)), now=NOW + HOUR)
    put(book, "night", "3", {"notes": "ours"})
    take_out(book, Taking("malt", Amount(KG // 2, Counted.MILLIGRAMS)), now=NOW + HOUR)
    with other.writing() as page:
        page.link(Link(Place(Stop.BATCH, "b"), Place(Stop.BAG, "c")))
        page.reserve("batch 1", "malt", {"2026-11-27/1": 7}, time=NOW)
        page.add_person({"name": "Birch"}, time=NOW)
    theirs = everything(other)
    found = imported(book, exported(other).path)
    assert found.merge is not None
    assert found.is_done
    assert found.backup is not None and "before-import" in found.backup.name
    fates = {(one.kind, one.name): one.fate for one in found.merge.records}
    assert fates[("night", "1")] is Fate.GOES_ON
    assert fates[("night", "2")] is Fate.NEW
    with book.reading() as page:
        nights = {name: page.history("night", name) for name in "123"}
        assert [len(one) for one in nights.values()] == [3, 2, 1]
        assert nights["1"][2].time == NOW + 2 * HOUR
        assert [one.name for one in page.all("night")] == ["1", "3"]
        assert page.lots("malt") == {"2026-11-27/1": KG // 2, "2026-11-27/2": 5}
        assert page.reserved("malt") == {"2026-11-27/1": 7}
        assert list(page.persons()) == ["person 1", "person 2"]
        assert len(page.links()) == 2
        assert page.entry_lines()[0].time == NOW + HOUR
    ours = everything(book)
    for name in ("revisions", "movements", "links", "people", "reservations"):
        bare = [{k: v for k, v in row.items() if k not in ("id", "entry")} for row in ours[name]]
        for row in theirs[name]:
            assert {k: v for k, v in row.items() if k not in ("id", "entry")} in bare
    again = imported(book, exported(other).path)
    assert again.merge is not None and again.merge.is_nothing
    other.close()


def test_what_is_about_files_of_one_machine_stays_there(book: Notebook, tmp_path: Path) -> None:
    other = parted(book, tmp_path)
    for which, path in ((book, "here.zip"), (other, "there.zip")):
        put(which, "export", "2026-11-27/1", {"path": path, "sha256": "0"})
    found = imported(book, exported(other).path)
    assert found.merge is not None
    assert found.merge.is_nothing
    with notebook(tmp_path, "fresh") as fresh:
        assert imported(fresh, exported(other).path).is_done
        assert everything(fresh) == everything(other)
    other.close()


def test_what_differs_waits_for_a_word(book: Notebook, tmp_path: Path) -> None:
    other = parted(book, tmp_path)
    put(other, "night", "1", {"notes": "theirs"})
    put(other, "night", "2", {"notes": "new"})
    put(book, "night", "1", {"notes": "mine"})
    before, path = everything(book), exported(other, "theirs.zip").path
    found = imported(book, path)
    assert not found.is_done
    assert found.merge is not None
    assert [(one.name, one.here, one.there) for one in found.merge.differing] == [("1", 3, 3)]
    assert "differs: night 1, version 3 here, 3 in the file" in imported_text(found)
    assert "--keep theirs" in imported_text(found)
    assert not imported(book, path, Keep.MINE, dry=True).is_done
    assert everything(book) == before
    assert imported(book, path, Keep.MINE).is_done
    with book.reading() as page:
        assert [one.body for one in page.all("night")] == [{"notes": "mine"}, {"notes": "new"}]
    assert imported(book, path, Keep.THEIRS).is_done
    with book.reading() as page:
        last = page.history("night", "1")[-1]
        assert (last.version, last.body, last.reason) == (
            4,
            {"notes": "theirs"},
            "as in theirs.zip",
        )
        assert page.history("night", "1")[2].body == {"notes": "mine"}
    other.close()


def test_what_was_purged_here_does_not_come_back(book: Notebook, tmp_path: Path) -> None:
    old = exported(book, "old.zip").path
    with book.writing() as page:
        page.purge("night", "1", time=NOW)
        page.erase_person("person 1", time=NOW)
    before = everything(book)
    found = imported(book, old)
    assert found.is_done
    assert everything(book) == before


def test_what_was_purged_there_is_not_purged_here_unasked(book: Notebook, tmp_path: Path) -> None:
    other = parted(book, tmp_path)
    with other.writing() as page:
        page.purge("night", "1", time=NOW)
        page.erase_person("person 1", time=NOW)
    path = exported(other).path
    found = imported(book, path)
    assert not found.is_done
    assert found.merge is not None
    assert found.merge.differing_people == ("person 1",)
    assert imported(book, path, Keep.THEIRS).is_done
    with book.reading() as page:
        assert page.all("night") == ()
        assert page.history("night", "1")[0].body is not None
        assert page.persons() == {"person 1": None}
    other.close()


def test_a_purged_record_that_is_new_here_brings_its_tombstone(tmp_path: Path) -> None:
    with notebook(tmp_path) as book, notebook(tmp_path, "other") as other:
        put(book, "night", "1", {"notes": "ours"})
        put(other, "night", "2", {"notes": "theirs"})
        with other.writing() as page:
            page.purge("night", "2", time=NOW)
        assert imported(book, exported(other).path).is_done
        stones = [(row["name"], row["versions"]) for row in everything(book)["tombstones"]]
        assert stones == [("2", 1)]


def delivered(book: Notebook, item: str, amount: Amount) -> None:
    bring_in(book, Delivery(item, amount, Decimal(1)), now=NOW + HOUR)


def hindered(book: Notebook, other: Notebook) -> str:
    before, path = everything(book), exported(other).path
    for keep in (None, *Keep):
        found = imported(book, path, keep)
        assert not found.is_done
    assert everything(book) == before
    assert "Nothing was imported." in imported_text(found)
    return " ".join(found.hindrances)


def test_two_lots_of_one_name_are_not_poured_together(tmp_path: Path) -> None:
    with notebook(tmp_path) as book, notebook(tmp_path, "other") as other:
        delivered(book, "malt", Amount(5, Counted.MILLIGRAMS))
        delivered(other, "semolina", Amount(7, Counted.MILLIGRAMS))
        said = "lot 2026-11-27/1 is one thing here and another in the file."
        assert said in hindered(book, other)


@pytest.mark.parametrize("is_aside_here", [True, False])
def test_what_was_made_of_a_lot_in_quarantine_is_set_aside(
    tmp_path: Path, *, is_aside_here: bool
) -> None:
    """Set aside in one notebook, while the other made something of it."""
    with notebook(tmp_path) as book:
        delivered(book, "malt", Amount(5, Counted.MILLIGRAMS))
        bags = Lot("baits", "2026-11-27", stop=Stop.BAG.value).as_body()
        if is_aside_here:
            put(book, "lot", "old", bags)
            with book.writing() as page:
                page.link(Link(Place(Stop.INGREDIENT, "2026-11-27/1"), Place(Stop.BAG, "old")))
        other = parted(book, tmp_path)
        aside, makes = (book, other) if is_aside_here else (other, book)
        for name in ("b", "c"):
            put(makes, "lot", name, bags)
        with makes.writing() as page:
            made, bag = Place(Stop.BATCH, "b"), Place(Stop.BAG, "c")
            page.link(Link(Place(Stop.INGREDIENT, "2026-11-27/1"), made), Link(made, bag))
        quarantine(aside, "2026-11-27/1", "musty", now=NOW + DAY)
        if is_aside_here:
            release(aside, "old", "was older malt", now=NOW + DAY)
        assert imported(book, exported(other).path).is_done
        with book.reading() as page:
            found = dict(lots_named(page, ["2026-11-27/1", "b", "c", "old"]))
        assert [found[name].why for name in ("2026-11-27/1", "b", "c")] == ["musty"] * 3
        assert not is_aside_here or not found["old"].quarantined
        other.close()


def test_an_item_counted_otherwise_is_not_added_up(tmp_path: Path) -> None:
    with notebook(tmp_path) as book, notebook(tmp_path, "other") as other:
        delivered(book, "malt", Amount(5, Counted.MILLIGRAMS))
        delivered(other, "malt", Amount(5, Counted.PIECES))
        assert "malt is counted in mg here and in pieces in the file." in hindered(book, other)


def test_the_last_kilo_is_not_taken_twice(tmp_path: Path) -> None:
    with notebook(tmp_path) as book:
        delivered(book, "malt", Amount(KG, Counted.MILLIGRAMS))
        other = parted(book, tmp_path)
        for one, hours in ((book, 2), (other, 3)):
            all_of_it = Taking("malt", Amount(KG, Counted.MILLIGRAMS))
            take_out(one, all_of_it, now=NOW + hours * HOUR)
        assert "more together than it held" in hindered(book, other)
        other.close()


def test_no_trace_goes_round_in_a_circle(tmp_path: Path) -> None:
    with notebook(tmp_path) as book, notebook(tmp_path, "other") as other:
        one, two = Place(Stop.MIX, "a"), Place(Stop.BATCH, "b")
        for which, link in ((book, Link(one, two)), (other, Link(two, one))):
            with which.writing() as page:
                page.link(link)
        assert "round in a circle" in hindered(book, other)


def test_an_entry_mentioned_by_its_number_is_mentioned_by_its_new_one(tmp_path: Path) -> None:
    with notebook(tmp_path) as book:
        delivered(book, "malt", Amount(9, Counted.MILLIGRAMS))
        other = parted(book, tmp_path)
        take_out(book, Taking("malt", Amount(1, Counted.MILLIGRAMS)), now=NOW + DAY)
        take_out(other, Taking("malt", Amount(2, Counted.MILLIGRAMS)), now=NOW + 2 * DAY)
        body = {"entries": [2], "back": [{"entry": 2, "kits": 2}], "first": {"entry": 1}}
        put(other, "tub", "b", {**body, "entry": None})
        path = exported(other).path
        for _ in range(2):
            assert imported(book, path).is_done
            with book.reading() as page:
                (tub,) = page.all("tub")
                assert tub.body == {
                    "entries": [3],
                    "back": [{"entry": 3, "kits": 2}],
                    "first": {"entry": 1},
                    "entry": None,
                }
                assert [one.amount for one in page.entry_lines(3)] == [-2]
                assert page.entry_lines(4) == ()
        other.close()


def test_what_undoes_an_entry_stays_next_to_it(tmp_path: Path) -> None:
    with notebook(tmp_path) as book:
        delivered(book, "malt", Amount(9, Counted.MILLIGRAMS))
        other = parted(book, tmp_path)
        undo_last(other, now=NOW + 2 * DAY)
        same = exported(other, "same.zip").path
        take_out(book, Taking("malt", Amount(1, Counted.MILLIGRAMS)), now=NOW + DAY)
        assert "after which others came here" in hindered(book, other)
        other.close()
        with notebook(tmp_path, "third") as third:
            assert imported(third, same).is_done


def test_what_was_let_go_twice_is_not_less_than_nothing(tmp_path: Path) -> None:
    with notebook(tmp_path) as book:
        with book.writing() as page:
            page.reserve("batch 1", "malt", {"m": 7}, time=NOW)
        other = parted(book, tmp_path)
        for which, hours in ((book, 1), (other, 2)):
            with which.writing() as page:
                page.reserve("batch 1", "malt", {"m": -7}, time=NOW + hours * HOUR)
        assert hindered(book, other) == "Both let go of the malt that was kept for batch 1."
        other.close()


def test_links_are_those_of_the_notebook_in_which_a_thing_went_on(tmp_path: Path) -> None:
    tub, made = Place(Stop.MIX, "tub"), Place(Stop.BATCH, "1")
    with notebook(tmp_path) as book:
        put(book, "batch", "1", batch())
        with book.writing() as page:
            page.link(Link(tub, made))
        old = exported(book, "old.zip").path
        other = parted(book, tmp_path)
        put(other, "batch", "1", batch(day="2026-11-28"), later=2 * HOUR)
        with other.writing() as page:
            page.unlink(made)
        assert imported(book, exported(other).path).is_done
        with book.reading() as page:
            assert page.links() == ()
        assert imported(book, old).is_done  # what was taken back since does not come again
        with book.reading() as page:
            assert page.links() == ()
        other.close()


def test_a_batch_made_to_another_recipe_is_not_that_of_ours(tmp_path: Path) -> None:
    with notebook(tmp_path) as book:
        put(book, "recipe", "Copper", {"toml": "x = 1"})
        other = parted(book, tmp_path)
        put(book, "recipe", "Copper", {"toml": "x = 2"})
        put(other, "recipe", "Copper", {"toml": "x = 3"})
        put(other, "batch", "b", batch())
        assert imported(book, exported(other).path, Keep.MINE, dry=True).hindrances == ()
        put(other, "batch", "c", batch(recipe_version=2))
        said = "batch c was made to a Copper that is not the one here."
        assert hindered(book, other) == said
        other.close()


def test_a_code_that_means_somebody_else_is_no_choice(tmp_path: Path) -> None:
    with notebook(tmp_path) as book, notebook(tmp_path, "other") as other:
        for which, name in ((book, "Ash"), (other, "Birch")):
            with which.writing() as page:
                page.add_person({"name": name}, time=NOW)
        assert hindered(book, other) == "person 1 is somebody else here."


def test_what_is_new_of_somebody_known_is_a_choice(tmp_path: Path) -> None:
    with notebook(tmp_path) as book:
        with book.writing() as page:
            page.add_person({"name": "Ash"}, time=NOW)
        other = parted(book, tmp_path)
        with other.writing() as page:
            page.change_person("person 1", {"name": "Ash", "town": "Elm"}, time=NOW)
        path = exported(other).path
        assert "differs: person 1" in imported_text(imported(book, path))
        assert imported(book, path, Keep.THEIRS).is_done
        with book.reading() as page:
            assert page.persons()["person 1"] == {"name": "Ash", "town": "Elm"}
        other.close()


def test_a_code_of_which_nothing_is_told_is_filled_in_by_who_knows(tmp_path: Path) -> None:
    """After an older copy was put back, the newer notebook's export brings its people again."""
    with notebook(tmp_path) as book, notebook(tmp_path, "other") as other:
        for told in ({}, {}, {"name": "Cedar"}):
            with book.writing() as page:
                page.add_person(told, time=NOW)
        for told in ({"name": "Ash"}, {"name": "Birch"}, {}):
            with other.writing() as page:
                page.add_person(told, time=NOW)
        with other.writing() as page:
            page.erase_person("person 2", time=NOW)
        found = imported(book, exported(other).path)
        assert found.is_done
        assert "0 links, 2 people" in imported_text(found)
        known = {"person 1": {"name": "Ash"}, "person 2": None, "person 3": {"name": "Cedar"}}
        with book.reading() as page:
            assert page.persons() == known
        assert imported(other, exported(book).path).is_done
        with other.reading() as page:
            assert page.persons() == known


def test_every_table_is_known_to_the_merge() -> None:
    assert {table.name for table in TABLES} == {table.name for table in told_tables()}


@given(STEPS, STEPS, STEPS)
@settings(max_examples=15)
def test_merging_loses_nothing_and_ends(
    first: list[Step], here: list[Step], there: list[Step]
) -> None:
    with tempfile.TemporaryDirectory() as folder, notebook(Path(folder)) as book:
        write_all(book, first)
        other = parted(book, Path(folder))
        write_all(book, here, start=NOW + DAY)
        write_all(other, there, start=NOW + 2 * DAY)
        before, path = everything(book), exported(other).path
        try:
            found = imported(book, path, Keep.THEIRS)
        finally:
            other.close()
        after = everything(book)
        for name in ("revisions", "movements", "links", "reservations", "tombstones"):
            assert after[name][: len(before[name])] == before[name]
        if found.is_done:
            again = imported(book, path, Keep.MINE)
            assert again.merge is None or not again.merge.entries
            assert json.dumps(imported_json(found))
        else:
            assert after == before
