"""Files that are no whole export: one message each, and the notebook stays as it was."""

from __future__ import annotations

import json
import stat
import tempfile
import warnings
from collections.abc import Callable, Iterator
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any
from zipfile import ZIP_BZIP2, ZIP_DEFLATED, ZipFile, ZipInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.notebook import archive_reading
from baitwright.notebook.attachments import Shelf, shelf_beside
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.copies.export_all import export_all
from baitwright.workshop.shelf.lots import Lot
from tests.notebook.kitchen import NOW
from tests.notebook.random_book import VALUES, everything
from tests.workshop.test_exchange import batch, exported, imported, notebook, photo, put, story

Members = dict[str, bytes]


@cache
def good() -> bytes:
    with tempfile.TemporaryDirectory() as folder, notebook(Path(folder)) as book:
        story(book)
        return exported(book).path.read_bytes()


@cache
def good_members() -> Members:
    with tempfile.TemporaryFile() as file:
        file.write(good())
        with ZipFile(file) as zipped:
            return {name: zipped.read(name) for name in zipped.namelist()}


def made(path: Path, members: Members, *, honest: bool = True) -> Path:
    """A zip of these members, with a manifest that fits them unless it is one of them."""
    if honest:
        told = json.loads(members["manifest.json"])
        told["members"] = {
            name: {"bytes": len(text), "sha256": sha256(text).hexdigest()}
            for name, text in members.items()
            if name != "manifest.json"
        }
        members = {**members, "manifest.json": json.dumps(told).encode()}
    with ZipFile(path, "w", ZIP_DEFLATED) as zipped:
        for name, text in members.items():
            zipped.writestr(name, text)
    return path


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    with notebook(tmp_path) as made_book:
        put(made_book, "night", "9", {"notes": "stays"})
        yield made_book


def refused(book: Notebook, path: Path, said: str) -> None:
    before = everything(book)
    with pytest.raises(InputError, match=said):
        imported(book, path)
    assert everything(book) == before
    assert not list(path.parent.glob("notebook-files*"))


def test_no_zip_at_all(book: Notebook, tmp_path: Path) -> None:
    refused(book, tmp_path / "none.zip", "a file that is there")
    refused(book, tmp_path, "a file that is there")
    for contents in (b"", b"PK", b"name = 'Copper'\n" * 1000):
        (tmp_path / "bad.zip").write_bytes(contents)
        refused(book, tmp_path / "bad.zip", "File is not a zip file. Nothing was imported")


def test_a_truncated_one(book: Notebook, tmp_path: Path) -> None:
    for share in (0.1, 0.5, 0.9, 0.99):
        (tmp_path / "bad.zip").write_bytes(good()[: int(len(good()) * share)])
        refused(book, tmp_path / "bad.zip", "a whole file of `baitwright export`")


def test_another_checksum(book: Notebook, tmp_path: Path) -> None:
    members = dict(good_members())
    members["notebook.json"] = members["notebook.json"].replace(b"blank", b"BLANK")
    path = made(tmp_path / "bad.zip", members, honest=False)
    refused(book, path, "notebook.json: the checksum is another one")


@pytest.mark.parametrize(
    "name",
    ["../evil.txt", "/etc/evil", "C:\\evil", "tables/../../x.csv", "files/x", "tables/", "a\\b"],
)
def test_names_that_lead_elsewhere(name: str, book: Notebook, tmp_path: Path) -> None:
    path = made(tmp_path / "bad.zip", {**good_members(), name: b"x"})
    refused(book, path, "is no member of an export")


def test_a_link(book: Notebook, tmp_path: Path) -> None:
    path = tmp_path / "bad.zip"
    with ZipFile(path, "w") as zipped:
        for name, text in good_members().items():
            info = ZipInfo(name)
            info.external_attr = (stat.S_IFLNK | 0o777) << 16 if name == "notebook.json" else 0
            zipped.writestr(info, text)
    refused(book, path, "notebook.json is no plain file")


def test_a_member_twice(book: Notebook, tmp_path: Path) -> None:
    path = made(tmp_path / "bad.zip", good_members())
    with ZipFile(path, "a") as zipped, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        zipped.writestr("notebook.json", b"{}")
    refused(book, path, "'notebook.json' is in it 2 times")


def test_another_way_of_packing(book: Notebook, tmp_path: Path) -> None:
    path = tmp_path / "bad.zip"
    with ZipFile(path, "w", ZIP_BZIP2) as zipped:
        for name, text in good_members().items():
            zipped.writestr(name, text)
    refused(book, path, "packed in a way that is not read")


def test_members_that_the_manifest_does_not_know(book: Notebook, tmp_path: Path) -> None:
    without = {k: v for k, v in good_members().items() if k != "tables/links.csv"}
    refused(book, made(tmp_path / "bad.zip", without, honest=False), "other members than there are")
    without = {k: v for k, v in good_members().items() if k != "manifest.json"}
    refused(book, made(tmp_path / "bad.zip", without, honest=False), "no item named")


def test_a_file_under_another_checksum(book: Notebook, tmp_path: Path) -> None:
    path = made(tmp_path / "bad.zip", {**good_members(), f"files/{'0' * 64}": b"x"})
    refused(book, path, "not under its own checksum")


# --- bombs -----------------------------------------------------------------------------------


def test_what_would_fill_the_disk(book: Notebook, tmp_path: Path, monkeypatch: Any) -> None:
    monkeypatch.setattr(archive_reading, "FREE", 2**20)
    members = {**good_members(), "tables/x.csv": bytes(5 * 2**20)}
    refused(book, made(tmp_path / "bad.zip", members), "packed out it would be 5 MB")
    monkeypatch.setattr(archive_reading, "LARGEST", 1000)
    refused(book, made(tmp_path / "bad.zip", good_members()), "packed out it would be")


def test_too_many_members(book: Notebook, tmp_path: Path, monkeypatch: Any) -> None:
    monkeypatch.setattr(archive_reading, "MEMBERS", 3)
    refused(book, made(tmp_path / "bad.zip", good_members()), "9 members, 3 at most are read")


def test_a_list_of_members_without_end(book: Notebook, tmp_path: Path, monkeypatch: Any) -> None:
    monkeypatch.setattr(archive_reading, "_DIRECTORY", 70_000)
    members = {**good_members(), **{f"files/{at:064x}": b"" for at in range(1000)}}
    refused(book, made(tmp_path / "bad.zip", members), "its list of members is too long")


def test_a_member_that_lies_about_its_size(book: Notebook, tmp_path: Path) -> None:
    path = made(tmp_path / "bad.zip", {**good_members(), "tables/x.csv": b"\0" * 100_000})
    told = bytearray(path.read_bytes())
    at = told.rindex(b"tables/x.csv") - 46
    assert told[at : at + 4] == b"PK\1\2"
    told[at + 24 : at + 28] = (10).to_bytes(4, "little")
    path.write_bytes(told)
    refused(book, path, "tables/x.csv")


# --- honest zips of nonsense -----------------------------------------------------------------


def changed(path: Path, change: Callable[[Any], object], *, member: str = "notebook.json") -> Path:
    members = dict(good_members())
    told = json.loads(members[member])
    change(told)
    members[member] = json.dumps(told).encode()
    return made(path, members)


def test_every_row_with_what_nobody_can_see_is_named(book: Notebook, tmp_path: Path) -> None:
    def hide(told: Any) -> None:
        told["tables"]["people"][0]["body"] = {"name": "A\x07sh"}
        told["tables"]["revisions"][1]["body"]["\x1b"] = 1
        told["tables"]["revisions"][2].update(name="a\x7f", reason="\0")

    path = changed(tmp_path / "bad.zip", hide)
    with notebook(tmp_path, "empty") as empty:
        for one in (empty, book):
            refused(one, path, "3 rows with others")
            with pytest.raises(InputError) as error:
                imported(one, path)
            assert str(error.value).splitlines()[1:] == [
                "people 1, body: Character 2 is U+0007, which nobody can see.",
                "revisions 2, body: Character 1 is U+001B, which nobody can see.",
                "revisions 3, name: Character 2 is U+007F, which nobody can see.",
            ]


def test_of_many_such_rows_the_first_are_named(book: Notebook, tmp_path: Path) -> None:
    def hide(told: Any) -> None:
        row = told["tables"]["tombstones"]
        stone = {"kind": "night", "name": "a\x07", "time": told["tables"]["people"][0]["time"]}
        row.extend({"id": at, **stone, "versions": 1} for at in range(1, 61))

    with pytest.raises(InputError, match="60 rows with others") as error:
        imported(book, changed(tmp_path / "bad.zip", hide))
    assert len(str(error.value).splitlines()) == 52
    assert str(error.value).endswith("and 10 more")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda told: told["tables"].update(spells=[{"id": 1}]), "table: got 'spells'"),
        (lambda told: told["tables"]["links"].append([]), "a row with its columns by name"),
        (lambda told: told["tables"]["links"][0].pop("id"), "links.id: got nothing"),
        (lambda told: told["tables"]["links"][0].update(more=1), "column of links: got 'more'"),
        (lambda told: told["tables"]["links"][0].update(id=True), "a whole number from 1"),
        (lambda told: told["tables"]["links"][0].update(id=2**40), "a whole number from 1"),
        (lambda told: told["tables"]["links"][0].update(into_stop="x"), "one of bag, batch"),
        (lambda told: told["tables"]["links"][0].update(source_name=3), "a text"),
        (lambda told: told["tables"]["movements"][0].update(amount=0), "rows that agree"),
        (lambda told: told["tables"]["movements"][0].update(amount=1.5), "a whole number"),
        (lambda told: told["tables"]["movements"][0].update(reason="magic"), "one of bought"),
        (lambda told: told["tables"]["movements"][0].update(time="today"), "a moment in UTC"),
        (
            lambda told: told["tables"]["movements"].extend(
                {**told["tables"]["movements"][0], "id": at, "amount": 10**18}
                for at in range(100, 110)
            ),
            "amount: got '1e[+]19 in all'",
        ),
        (lambda told: told["tables"]["revisions"][0].update(body="x"), "entries by name, or none"),
        (lambda told: told["tables"]["revisions"][0].update(body={"x": "\ud800"}), "entries of"),
        (lambda told: told["tables"]["revisions"][0].update(body={"x": "y" * 10**6}), "characters"),
        (lambda told: told["tables"]["revisions"][0].update(name=" "), "a text that is not blank"),
        (lambda told: told["tables"]["revisions"][0].update(version=9), "every version up to"),
        (lambda told: told["tables"]["revisions"][1].update(version=1), "rows that agree"),
        (
            lambda told: told["tables"]["revisions"][2].update(body={}),
            "the entries of such a record",
        ),
        (lambda told: told.update(version=2), "version 1. Take the newer program"),
        (lambda told: told.update(format="x"), "the format 'x'"),
        (lambda told: told.update(step="0001"), "step 0002, as its manifest"),
        (lambda told: told.pop("tables"), "no tables of a notebook"),
        (lambda told: told.update(tables=[]), "in place of"),
    ],
)
def test_rows_that_no_notebook_has(
    change: Callable[[Any], object], said: str, book: Notebook, tmp_path: Path
) -> None:
    refused(book, changed(tmp_path / "bad.zip", change), said)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda told: told.update(version=2), "version 1. Take the newer program"),
        (lambda told: told.update(version="1"), "no whole number"),
        (lambda told: told.update(step="0003"), "one up to step 0002. Take the newer program"),
        (lambda told: told.update(step=3), "is no text"),
        (lambda told: told.update(format="bundle"), "no manifest of an export"),
        (lambda told: told.pop("time"), "manifest.json: 'time'"),
    ],
)
def test_a_manifest_of_something_else(
    change: Callable[[Any], object], said: str, book: Notebook, tmp_path: Path
) -> None:
    refused(book, changed(tmp_path / "bad.zip", change, member="manifest.json"), said)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"\xff\xfe", "can't decode"),
        (b"[]", r"'\[' in place of '{'"),
        (b"{", "in place of a comma|Expecting"),
        (b'{"format": NaN', "is no number"),
        (b"[" * 100_000, "in place of"),
        (b'{"format": ' + b"[" * 100_000, "recursion"),
        (b'{"format": ' + b"9" * 10_000, "digits"),
        (b'{"format": "baitwright notebook", "format": 1}', "format twice"),
    ],
)
def test_no_json_at_all(text: bytes, said: str, book: Notebook, tmp_path: Path) -> None:
    members = {**good_members(), "notebook.json": text}
    refused(book, made(tmp_path / "bad.zip", members), said)


def test_a_number_that_is_none(book: Notebook, tmp_path: Path) -> None:
    members = dict(good_members())
    members["notebook.json"] = members["notebook.json"].replace(b'"blank"', b"1e999")
    refused(book, made(tmp_path / "bad.zip", members), "JSON compliant")


def test_a_row_without_end(book: Notebook, tmp_path: Path) -> None:
    members = dict(good_members())
    row = b'"tables": {"links": [{"id": "' + b"x" * 9_000_000
    members["notebook.json"] = members["notebook.json"].split(b'"tables"')[0] + row
    refused(book, made(tmp_path / "bad.zip", members), "a row of more than 8000000 characters")


# --- by chance -------------------------------------------------------------------------------


@st.composite
def damaged(draw: st.DrawFn) -> bytes:
    told = bytearray(good())
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(told) - 1))
        how = draw(st.sampled_from(["set", "cut", "add", "end"]))
        if how == "set":
            told[at] = draw(st.integers(0, 255))
        elif how == "cut":
            del told[at : at + draw(st.integers(1, 50))]
        elif how == "add":
            told[at:at] = draw(st.binary(max_size=20))
        else:  # the list of members and its end are where a zip is believed most
            at = -draw(st.integers(1, min(900, len(told))))
            told[at] = draw(st.integers(0, 255))
        if not told:
            break
    return bytes(told)


def only_refused(contents: bytes | Members) -> None:
    """Whatever is in the file: it is refused, or it is as good as the first."""
    with tempfile.TemporaryDirectory() as folder, notebook(Path(folder)) as book:
        put(book, "night", "9", {"notes": "stays"})
        before, path = everything(book), Path(folder) / "bad.zip"
        if isinstance(contents, bytes):
            path.write_bytes(contents)
        else:
            made(path, contents)
        try:
            is_done = imported(book, path).is_done
        except InputError:
            is_done = False
        after = everything(book)
        if not is_done:
            assert after == before
        with book.reading() as page:  # what came in can be read again
            page.book_lines()
            page.links()
            page.persons()
            for kind in {row["kind"] for row in after["revisions"]}:
                page.all(kind)
        exported(book)


@pytest.mark.fuzz
@given(damaged())
@settings(max_examples=60)
def test_damage_is_refused(contents: bytes) -> None:
    only_refused(contents)


@pytest.mark.fuzz
@given(st.data())
@settings(max_examples=60)
def test_nonsense_under_an_honest_checksum_is_refused(data: st.DataObject) -> None:
    members = dict(good_members())
    told = json.loads(members["notebook.json"])
    for _ in range(data.draw(st.integers(1, 3))):
        name = data.draw(st.sampled_from(["links", "movements", "people", "revisions"]))
        rows = told["tables"][name]
        row = rows[data.draw(st.integers(0, len(rows) - 1))]
        if not isinstance(row, dict):
            continue
        row[data.draw(st.sampled_from(sorted(row)))] = data.draw(VALUES)
    members["notebook.json"] = json.dumps(told).encode()
    only_refused(members)


ORDER = {"about": "", "day": "2026-11-27", "cancelled": False, "entry": None, "sent_on": None}
MISSHAPEN = [
    ("batch", batch(state="baked")),
    ("batch", batch(wishes=[{"part": "eggs"}])),
    ("batch", batch(predicted=[1])),
    ("batch", batch(state="made", baits="many", entries=[1], actual={})),
    ("bag", {"about": "b", "day": "2026-11-27", "baits": 9, "kept": "attic", "entries": [1]}),
    ("packing", {"from": "b", "entries": "none"}),
    ("lot of kits", {"item": "kit", "kits": 1, "apart": [{"kits": 1}], "entries": [1]}),
    ("order", {}),
    ("order", {**ORDER, "lines": [], "aside": [], "back": [], "entry": "one"}),
    ("order", {**ORDER, "lines": [{"item": "malt"}], "aside": [], "back": []}),
    ("price", {"asked": "much", "vat": None, "wanted": None, "step": "0.01"}),
    ("price", {"asked": "Infinity", "vat": None, "wanted": None, "step": "0.01"}),
    ("kit", {"item": "kit", "parts": [["malt", "some", "milligrams"]]}),
    ("lot", Lot("malt", "2026-11-27", stop="attic").as_body()),
    ("export", {"path": "x.zip"}),
    ("analysis", {"per_100_g": {"water": "wet"}}),
]


@pytest.mark.parametrize(("kind", "body"), MISSHAPEN)
def test_a_record_that_could_not_be_read_again(
    kind: str, body: dict[str, Any], book: Notebook, tmp_path: Path
) -> None:
    def put_in(told: Any) -> None:
        rows = told["tables"]["revisions"]
        name = {"kind": kind, "name": "odd", "version": 1, "id": 1 + max(r["id"] for r in rows)}
        rows.append({**rows[0], **name, "body": body})

    refused(book, changed(tmp_path / "bad.zip", put_in), "the entries of such a record")


# --- the disk --------------------------------------------------------------------------------


def full(*_: object, **__: object) -> None:
    raise OSError(28, "No space left on device")


def test_an_export_that_finds_no_room_leaves_what_was_there(
    book: Notebook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = exported(book).path
    before, there = old.read_bytes(), sorted(tmp_path.iterdir())
    put(book, "night", "10", {"notes": "more"})
    for where in (
        "baitwright.workshop.copies.export_all.os.fsync",
        "baitwright.notebook.archive.ArchiveWriter.put",
    ):
        with monkeypatch.context() as no_room:
            no_room.setattr(where, full)
            with pytest.raises(InputError, match="No space left on device"):
                exported(book)
    with pytest.raises(InputError, match="a file that can be written"):
        export_all(book, tmp_path / "no" / "all.zip", files=shelf_beside(book.place), now=NOW)
    assert old.read_bytes() == before
    assert sorted(tmp_path.iterdir()) == there


def test_only_an_older_export_is_replaced(book: Notebook, tmp_path: Path) -> None:
    photos, cut = tmp_path / "photos.zip", exported(book, "cut.zip").path
    with ZipFile(photos, "w") as zipped:
        zipped.writestr("lake.jpg", b"lake")
    cut.write_bytes(cut.read_bytes()[:-1])
    for path in (photos, cut, tmp_path):
        with pytest.raises(InputError, match="a file that is not there yet"):
            exported(book, path.name if path.is_file() else ".")
    assert photos.exists()
    members = good_members() | {"notebook.json": b"damaged"}
    made(tmp_path / "old.zip", members, honest=False)
    assert exported(book, "old.zip").path.stat().st_size > 0


def test_an_import_that_finds_no_room_for_a_photo_brings_nothing(
    book: Notebook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with tempfile.TemporaryDirectory() as folder, notebook(Path(folder)) as other:
        told = [photo(other, name, name.encode()) for name in ("1.jpg", "2.jpg")]
        put(other, "tub", "b", {"files": told})
        file = exported(other).path
        before, bring = everything(book), Shelf.bring
        brought: list[Path] = []

        def one_only(shelf: Shelf, sha256: str, pieces: Iterator[bytes]) -> Path:
            if brought:
                full()
            brought.append(bring(shelf, sha256, pieces))
            return brought[0]

        monkeypatch.setattr(Shelf, "bring", one_only)
        with pytest.raises(InputError, match="room for the attachments"):
            imported(book, file)
        assert everything(book) == before
        assert len(brought) == 1
        assert not brought[0].exists()


# --- of an older program ---------------------------------------------------------------------


def test_an_export_of_an_older_step_takes_the_later_ones(book: Notebook, tmp_path: Path) -> None:
    tables = json.loads(good_members()["notebook.json"])["tables"]
    for name in ("people", "reservations"):  # which came with the second step
        del tables[name]
    told = {"format": "baitwright notebook", "version": 1, "step": "0001", "tables": tables}
    members = {**good_members(), "notebook.json": json.dumps(told).encode()}
    manifest = json.loads(members["manifest.json"]) | {"step": "0001"}
    path = made(tmp_path / "old.zip", {**members, "manifest.json": json.dumps(manifest).encode()})
    assert imported(book, path).is_done
    with book.reading() as page:
        assert [one.name for one in page.all("night")] == ["1", "9"]
        assert page.lots("malt") == {"2026-11-27/1": 1_000_000}
    told["tables"]["people"] = []
    told["tables"]["people"].append({"id": 1})
    members = {**members, "manifest.json": json.dumps(manifest).encode()}
    path = made(path, {**members, "notebook.json": json.dumps(told).encode()})
    refused(book, path, "table: got 'people'")
