"""Targets of what is brought into a notebook: after a refusal it is as it was, to the last row."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from decimal import Decimal
from functools import cache
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

from baitwright.ledger.movements import Movement, Reason
from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.backup import back_up, restore
from baitwright.notebook.plain_pages import follow, pages_beside
from baitwright.notebook.soundness import examine
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.bench.nights_home import take_home
from baitwright.workshop.copies.export_all import export_all
from baitwright.workshop.copies.import_all import Wish, import_all
from baitwright.workshop.copies.rebuild import rebuild
from tests.fuzzing.file_targets import folder
from tests.fuzzing.target import NOW, Target
from tests.notebook.random_book import blank, everything

PATCH = 5
"""Bytes of a change to a file: three of its place, one of what stands there, one how far."""


def filled(path: Path) -> Notebook:
    """A notebook with something in each kind of row."""
    path.write_bytes(blank())
    book = open_notebook(path, now=NOW)
    with book.writing() as page:
        page.write(
            "night", "2026-11-01/1", {"about": "Reed", "day": "2026-11-01"}, seen=0, time=NOW
        )
        page.post([Movement("malt", "m-1", NOW, 5, Decimal("2.50"), Reason.BOUGHT)])
        page.add_person({"name": "Ash"}, time=NOW)
    return book


@contextmanager
def fresh(name: str) -> Iterator[Notebook]:
    """A blank notebook of this process."""
    place = folder() / name
    place.mkdir(exist_ok=True)
    for old in place.glob("notebook.sqlite*"):
        old.unlink()
    (place / "notebook.sqlite").write_bytes(blank())
    book = open_notebook(place / "notebook.sqlite", now=NOW)
    try:
        yield book
    finally:
        book.close()


def whole_or_nothing(book: Notebook, deed: Callable[[], object]) -> None:
    """Do it; refused, the notebook is as it was; done, it is sound and can be read."""
    before = everything(book)
    try:
        deed()
    except InputError:
        assert everything(book) == before
        raise
    assert examine(book.place) == ""
    everything(book)


@cache
def exported() -> bytes:
    """The export of a filled notebook."""
    place = folder() / "source"
    place.mkdir()
    book = filled(place / "notebook.sqlite")
    made = export_all(book, place / "out.zip", files=shelf_beside(book.place), now=NOW).path
    book.close()
    return made.read_bytes()


def _import(data: bytes) -> None:
    with fresh("import") as book:
        path = folder() / "import" / "in.zip"
        path.write_bytes(data)
        files = shelf_beside(book.place)
        whole_or_nothing(book, lambda: import_all(book, path, files=files, wish=Wish(NOW)))


def _import_contents(data: bytes) -> None:
    """The same with a manifest that fits: what stands in ``notebook.json`` is all that is odd."""
    file = BytesIO()
    with ZipFile(BytesIO(exported())) as old, ZipFile(file, "w") as new:
        manifest = json.loads(old.read("manifest.json"))
        for name in manifest["members"]:
            told = data if name == "notebook.json" else old.read(name)
            manifest["members"][name] = {"bytes": len(told), "sha256": sha256(told).hexdigest()}
            new.writestr(name, told)
        new.writestr("manifest.json", json.dumps(manifest))
    _import(file.getvalue())


def _patched(whole: bytes, data: bytes) -> bytes:
    made = bytearray(whole)
    for at in range(0, len(data) - PATCH + 1, PATCH):
        place, value, far = int.from_bytes(data[at : at + 3]), data[at + 3], data[at + 4]
        start = place % len(made)
        for step in range(min(far % 64 + 1, len(made) - start)):
            made[start + step] = value
    return bytes(made)


@cache
def _copy() -> bytes:
    with fresh("copied") as book:
        return back_up(book.place, now=NOW).read_bytes()


def _restore(data: bytes) -> None:
    """A backup of which some bytes are others."""
    with fresh("restore") as book:
        path = folder() / "restore" / "copy.sqlite"
        path.write_bytes(_patched(_copy(), data))
        whole_or_nothing(book, lambda: restore(book.place, path, now=NOW))
    for made in (folder() / "restore").glob("*/*"):
        made.unlink()


@cache
def _pages() -> dict[str, str]:
    place = folder() / "paged"
    place.mkdir()
    book = filled(place / "notebook.sqlite")
    pages = pages_beside(book.place)
    follow(book, pages, now=NOW)
    book.close()
    return {
        path.relative_to(pages).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(pages.rglob("*.txt"))
    }


def _rebuild(data: bytes) -> None:
    """Pages of which one is another, with a checksum that fits; the first byte says which."""
    names = list(_pages())
    chosen = names[data[0] % len(names)] if data else names[0]
    text = data[1:].decode("utf-8", "replace").rpartition("sum = ")[0] or data[1:].decode(
        "utf-8", "replace"
    )
    sealed = f'{text}sum = "{sha256(text.encode()).hexdigest()}"\n'
    with fresh("rebuild") as book:
        pages = folder() / "rebuild" / "pages"
        for name, told in _pages().items():
            path = pages / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes((sealed if name == chosen else told).encode("utf-8"))
        whole_or_nothing(book, lambda: rebuild(book, pages, now=NOW))


def _page_seeds() -> tuple[bytes, ...]:
    return tuple(bytes([at]) + told.encode() for at, told in enumerate(_pages().values()))


def _nights(data: bytes) -> None:
    with fresh("nights") as book:
        text = data.decode("utf-8", "replace")
        whole_or_nothing(book, lambda: take_home(book, text, now=NOW))


NIGHTS = (
    b'{"kind": "baitwright nights", "nights": [{"id": "abcdefgh12345678", "fields": '
    b'{"day": "2026-11-21", "water": "Long Reedpool", "rod[1].bites": "1"}}]}'
)


def contents() -> bytes:
    """The ``notebook.json`` of an export."""
    with ZipFile(BytesIO(exported())) as zipped:
        return zipped.read("notebook.json")


TARGETS = (
    Target(
        "export.zip",
        _import,
        (
            "notebook/archive_reading:opened_archive",
            "notebook/archive_reading:_manifest",
        ),
        (exported(),),
    ),
    Target(
        "export contents",
        _import_contents,
        ("workshop/copies/known_bodies:refuse_misshapen", "notebook/json_rows:JsonRows"),
        (contents(),),
    ),
    Target(
        "backup",
        _restore,
        ("notebook/hidden:look",),
        (b"", b"\0\0\x10\x01\x01", b"\0\x30\x10\x01\x01"),
    ),
    Target(
        "plain pages",
        _rebuild,
        ("notebook/plain_reading:read_contents", "notebook/plain_text:_json"),
        _page_seeds(),
    ),
    Target("nights", _nights, ("workshop/bench/nights_home:_nights",), (NIGHTS,)),
)
