"""A notebook moves from file to server and back: by export and import, and by its plain pages."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.plain_pages import follow, pages_beside
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.where import Server, Where
from baitwright.workshop.copies.export_all import export_all
from baitwright.workshop.copies.import_all import Wish, import_all
from baitwright.workshop.copies.rebuild import rebuild
from tests.notebook.kitchen import DAY, HOUR, NOW
from tests.notebook.random_book import everything


@contextmanager
def opened(place: Where) -> Iterator[Notebook]:
    book = open_notebook(place, now=NOW)
    try:
        yield book
    finally:
        book.close()


@pytest.fixture
def far(place: Where, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Where]:
    """Another place of the same sort."""
    (tmp_path / "far").mkdir()
    if isinstance(place, Server):
        yield request.getfixturevalue("cluster").place(tmp_path / "far")
    else:
        yield tmp_path / "far" / "notebook.sqlite"


@pytest.fixture
def written(book: Notebook) -> Notebook:
    with book.writing() as page:
        for at in range(3):
            page.write("tub", f"Kürbis {at}", {"day": "2026-11-27"}, seen=0, time=NOW)
            page.post([Movement("eggs", f"lot {at}", NOW, at + 1, Decimal(at), Reason.BOUGHT)])
            page.link(Link(Place(Stop.MIX, "tub"), Place(Stop.BATCH, f"Kürbis {at}")))
            page.add_person({"name": "Ash"}, time=NOW)
        page.reserve("batch 1", "eggs", {"lot 1": 1}, time=NOW)
        page.purge("tub", "Kürbis 1", time=NOW)
        page.unlink(Place(Stop.BATCH, "Kürbis 0"))
    return book


def write_on(book: Notebook) -> None:
    """What comes next gets the next number, wherever the rows before came from."""
    with book.writing() as page:
        assert page.add_person({"name": "Birch"}, time=NOW + DAY) == "person 4"
        page.write("tub", "Kürbis 0", {"day": "2026-11-28"}, seen=1, time=NOW + DAY)
        page.post([Movement("eggs", "lot 0", NOW + DAY, 7, Decimal(7), Reason.BOUGHT)])
        page.link(Link(Place(Stop.MIX, "tub"), Place(Stop.BATCH, "Kürbis 3")))


def test_a_notebook_moves_by_export_and_import(
    written: Notebook, place: Where, far: Where, tmp_path: Path
) -> None:
    files, wish = shelf_beside(place), Wish(NOW + DAY)
    file = export_all(written, tmp_path / "all.zip", files=files, now=NOW).path
    for another in (far, tmp_path / "file.sqlite"):
        with opened(another) as other:
            assert import_all(other, file, files=files, wish=wish).is_done
            assert everything(other) == everything(written)
            write_on(other)
            last = export_all(other, file.with_name("last.zip"), files=files, now=NOW).path
    found = import_all(written, last, files=files, wish=wish)
    assert found.is_done
    assert found.backup is not None
    assert len(everything(written)["movements"]) == 4
    with written.writing() as page:
        assert page.add_person({"name": "Cedar"}, time=NOW) == "person 5"


def test_a_notebook_is_made_anew_from_pages_elsewhere(
    written: Notebook, place: Where, far: Where, tmp_path: Path
) -> None:
    folder = pages_beside(place)
    assert follow(written, folder, now=NOW) > 0
    write_on(written)
    assert follow(written, folder, now=NOW + HOUR) > 0
    for another in (far, tmp_path / "file.sqlite"):
        with opened(another) as other:
            rebuild(other, folder, now=NOW)
            assert everything(other) == everything(written)
            with other.writing() as page:
                assert page.add_person({"name": "Cedar"}, time=NOW) == "person 5"
