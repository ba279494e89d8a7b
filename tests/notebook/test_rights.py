"""What a notebook holds is for its owner's eyes, in every file of it, and text is text."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import Where, folder_of
from baitwright.workshop.copies.exports_noted import export_to_hand
from baitwright.workshop.opening.notebook_care import Use, copy_now, open_at
from tests.faults.deeds import COME, DEEDS, LATER, furnish
from tests.notebook.kitchen import NOW

on_posix = pytest.mark.skipif(
    os.name == "nt", reason="on Windows the rights of the folder hold, which are not told by a mode"
)


@pytest.fixture
def lax() -> Iterator[None]:
    """An account whose new files all others may read."""
    before = os.umask(0o022)
    yield
    os.umask(before)


def open_to_others(home: Path) -> list[str]:
    """Files that another account could read: neither they nor a folder above keeps it out."""
    found = []
    for path in home.rglob("*"):
        above = [one for one in path.parents if home in one.parents]
        if path.is_file() and all(
            stat.S_IMODE(one.stat().st_mode) & 0o077 for one in (path, *above)
        ):
            found.append(path.relative_to(home).as_posix())
    return sorted(found)


@on_posix
def test_no_file_of_a_notebook_is_for_others(place: Where, lax: None) -> None:
    furnish(place)
    for name in ("attach a photo", "merge an export", "make a batch", "purge"):
        DEEDS[name].do(place)
    with open_at(place, Use.CHANGE, clock=lambda: LATER) as book:
        export_to_hand(book, files=shelf_beside(book.place), now=LATER)
        others = open_to_others(folder_of(place))
    copy_now(place, clock=lambda: LATER)
    others += open_to_others(folder_of(place))
    assert [name for name in others if not name.startswith(COME)] == []


@on_posix
def test_rights_that_a_maker_gave_stay(tmp_path: Path, lax: None) -> None:
    place = tmp_path / "notebook.sqlite"
    furnish(place)
    place.chmod(0o640)
    DEEDS["take a delivery in"].do(place)
    DEEDS["restore"].do(place)
    assert stat.S_IMODE(place.stat().st_mode) == 0o640


@pytest.mark.parametrize(
    "text",
    [
        "'; DROP TABLE revisions; --",
        '" OR ""="',
        "%s %(x)s :x ? $1",
        "\\'; DELETE FROM people",
        "$$",
    ],
)
def test_a_text_is_never_a_statement(book: Notebook, text: str) -> None:
    with book.writing() as page:
        page.write("night", text, {"notes": text}, seen=0, time=NOW, reason=text)
        code = page.add_person({"name": text}, time=NOW)
    with book.reading() as page:
        assert [one.name for one in page.all("night")] == [text]
        found = page.latest("night", text)
        assert found is not None
        assert (found.body, found.reason) == ({"notes": text}, text)
        assert page.persons()[code] == {"name": text}
