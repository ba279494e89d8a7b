"""A notebook that stays open while several look and write."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta
from pathlib import Path
from threading import Barrier, Event

import pytest

from baitwright.notebook.copies import backups
from baitwright.notebook.store import Notebook
from baitwright.workshop.opening import notebook_care
from baitwright.workshop.opening.standing import Standing
from tests.workshop.batching import NOW


def write(standing: Standing, name: str) -> None:
    with standing.writing() as book, book.writing() as page:
        page.write("night", name, {"water": "Long Reedpool"}, seen=0, time=NOW)


def test_of_several_who_are_the_first_of_a_day_one_copies(tmp_path: Path) -> None:
    place = tmp_path / "notebook.sqlite"
    first = Standing(place, clock=lambda: NOW)
    write(first, "before")
    first.close()
    later, together = Standing(place, clock=lambda: NOW + timedelta(days=2)), Barrier(5)

    def hand(who: int) -> None:
        together.wait()
        write(later, f"hand {who}")

    with ThreadPoolExecutor(5) as hands:
        list(hands.map(hand, range(5)))
    with later.looking() as book, book.reading() as page:
        assert page.count("night") == 6
    later.close()
    assert len(backups(place)) == 1


def test_the_plain_pages_follow_once_for_what_several_wrote(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, goes_on, followed = Event(), Event(), []

    def slow(book: Notebook, now: datetime) -> None:
        followed.append(book)
        begun.set()
        goes_on.wait(10)

    monkeypatch.setattr(notebook_care, "follow_pages", slow)
    standing = Standing(tmp_path / "notebook.sqlite", clock=lambda: NOW)
    write(standing, "first")
    assert begun.wait(10)
    for name in ("second", "third", "fourth"):
        write(standing, name)
    goes_on.set()
    standing.settle()
    assert len(followed) == 2
    standing.close()
